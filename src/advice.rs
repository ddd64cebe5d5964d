//! Errors that come with advice, which the terminal prints on a line of its own.

/// An error with advice on what to do about it.
#[derive(Debug)]
struct Advised {
    error: anyhow::Error,
    hint: String,
}

impl std::fmt::Display for Advised {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:#}", self.error)
    }
}

impl std::error::Error for Advised {}

/// Errors to which advice can be added.
pub trait WithHint: Sized {
    /// The same error, with advice on what to do about it.
    fn hint(self, hint: impl Into<String>) -> anyhow::Error;

    /// The same error, with advice if there is any.
    fn hint_if(self, hint: Option<String>) -> anyhow::Error;
}

impl<E: Into<anyhow::Error>> WithHint for E {
    fn hint(self, hint: impl Into<String>) -> anyhow::Error {
        Advised { error: self.into(), hint: hint.into() }.into()
    }

    fn hint_if(self, hint: Option<String>) -> anyhow::Error {
        match hint {
            Some(hint) => self.hint(hint),
            None => self.into(),
        }
    }
}

/// The advice that comes with an error, or with what caused it.
#[must_use]
pub fn hint_of(error: &anyhow::Error) -> Option<&str> {
    let advised = error.chain().find_map(|cause| cause.downcast_ref::<Advised>())?;
    Some(&advised.hint)
}

/// The candidate that is closest to `word`, if one is close enough to be what was meant: at most one
/// edit in three letters.
#[must_use]
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
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

#[cfg(test)]
mod tests {
    use anyhow::{Context, anyhow};

    use super::*;

    #[test]
    fn advice_is_kept_apart_from_the_whole_message() {
        let cause = std::io::Error::other("the disk is full");
        let error = anyhow::Error::new(cause).context("can't write").hint("make room");
        let outer = Err::<(), _>(error).context("stopped").expect_err("it is one");
        assert_eq!(format!("{outer:#}"), "stopped: can't write: the disk is full");
        assert_eq!(hint_of(&outer), Some("make room"));
        assert_eq!(hint_of(&anyhow!("else").hint_if(None)), None);
    }
}
