//! Secrets that nobody can guess: numbers from the system's source of randomness.

/// A secret.
#[derive(Clone)]
pub(super) struct Secret(String);

/// The bytes of a secret: as many as nobody can try.
const LENGTH: usize = 32;

impl Secret {
    /// A new one.
    ///
    /// # Errors
    ///
    /// If the system has no randomness to give.
    pub(super) fn new() -> Result<Secret, getrandom::Error> {
        let mut bytes = [0; LENGTH];
        getrandom::fill(&mut bytes)?;
        Ok(Secret(bytes.iter().map(|byte| format!("{byte:02x}")).collect()))
    }

    /// What is told to those who may know it.
    #[must_use]
    pub(super) fn told(&self) -> &str {
        &self.0
    }

    /// Whether somebody knows it. How long that takes does not tell where a guess is wrong.
    #[must_use]
    pub(super) fn is(&self, guess: &str) -> bool {
        let differing = self.0.bytes().zip(guess.bytes()).fold(0, |all, (a, b)| all | (a ^ b));
        guess.len() == self.0.len() && differing == 0
    }
}

/// So that it does not get into a message.
impl std::fmt::Debug for Secret {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Secret")
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;

    #[test]
    fn secrets_differ_and_only_the_whole_is_it() {
        let (one, other) = (Secret::new().unwrap(), Secret::new().unwrap());
        assert!(one.is(one.told()) && !one.is(other.told()));
        assert!(!one.is("") && !one.is(&one.told()[1..]) && !one.is(&format!("{}0", one.told())));
        assert_eq!(one.told().len(), 64);
        assert_eq!(format!("{one:?}"), "Secret");
    }
}
