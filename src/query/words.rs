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
