//! The words of addresses: what is chosen, and which page of the list.

use std::fmt::Write as _;

use crate::finding::HitChoice;

/// A word of an address and what it is followed by.
pub type AddressWords = Vec<(String, String)>;

/// What is chosen by the words of an address.
#[must_use]
pub fn choice_of(words: &[(String, String)]) -> HitChoice {
    HitChoice::of_words(words.iter().map(|(word, value)| (&**word, &**value)))
}

/// The value of a word, if it is there.
#[must_use]
pub fn value<'w>(words: &'w [(String, String)], word: &str) -> Option<&'w str> {
    words.iter().find(|(known, _)| known == word).map(|(_, value)| &**value)
}

/// An address with a choice and more words.
#[must_use]
pub fn address(page: &str, more: &[(&str, &str)], choice: &HitChoice) -> String {
    let chosen = choice.words();
    let chosen = chosen.iter().map(|(word, value)| (*word, &**value));
    let mut address = page.to_owned();
    for (index, (word, value)) in more.iter().copied().chain(chosen).enumerate() {
        address.push(if index == 0 { '?' } else { '&' });
        address += word;
        address.push('=');
        write_encoded(&mut address, value);
    }
    address
}

/// Writes a value with everything but letters and digits of ASCII by its code (RFC 3986, 2.1).
fn write_encoded(address: &mut String, value: &str) {
    for byte in value.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' | b'.' => {
                address.push(byte.into());
            }
            _ => {
                let _ = write!(address, "%{byte:02X}");
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_holds_whatever_is_chosen() {
        let choice = HitChoice::of_words([("player", "Øst & Co"), ("kind", "sham")]);
        let written = address("/", &[("page", "2")], &choice);
        assert_eq!(written, "/?page=2&kind=sham&player=%C3%98st%20%26%20Co");
    }
}
