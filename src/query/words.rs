//! A sentence cut into words with their places, and the vocabulary from which a wrong word may be
//! corrected.

use chumsky::span::SimpleSpan;

/// A word and where it stands, in bytes from the start of the sentence.
pub(super) type Word<'a> = (&'a str, SimpleSpan);

/// Cuts a sentence at white space.
pub(super) fn split(sentence: &str) -> Vec<Word<'_>> {
    sentence
        .split_ascii_whitespace()
        .map(|word| {
            let start = word.as_ptr() as usize - sentence.as_ptr() as usize;
            (word, SimpleSpan::from(start..start + word.len()))
        })
        .collect()
}

/// The candidate that is closest to `word`, if one is close enough to be what was meant: at most one
/// edit in three letters.
#[must_use]
pub(super) fn nearest<'a>(
    word: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let word = word.to_lowercase();
    candidates
        .into_iter()
        .map(|candidate| (strsim::osa_distance(&word, candidate), candidate))
        .filter(|(distance, candidate)| distance * 3 <= candidate.len().max(word.len()))
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, candidate)| candidate)
}

/// A hint at the candidate that is closest to `word`, if one is close enough to be what was meant.
#[must_use]
pub fn suggestion<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(word, candidates).map(|near| format!("did you mean `{near}`?"))
}
