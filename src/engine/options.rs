//! Options: what the user sets, and what a program offers.

use std::str::FromStr;

/// An option to set, `NAME=VALUE`, or `NAME` alone for one that has no value.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct EngineOption {
    /// Its name; the case of letters does not matter.
    pub name: String,
    /// Its value, which may be empty; `None` if it has none.
    pub value: Option<String>,
}

/// Why a text is not an option.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
pub enum BadOption {
    /// There is no name.
    #[error("an engine option needs a name before the `=`")]
    NoName,
    /// A line end or another control character would change what the program is told.
    #[error("an engine option can't contain control characters")]
    ControlCharacter,
}

impl std::fmt::Display for EngineOption {
    /// As the user sets it.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.value {
            Some(value) => write!(f, "{}={value}", self.name),
            None => f.write_str(&self.name),
        }
    }
}

impl FromStr for EngineOption {
    type Err = BadOption;

    fn from_str(text: &str) -> Result<EngineOption, BadOption> {
        if text.chars().any(char::is_control) {
            return Err(BadOption::ControlCharacter);
        }
        let (name, value) = match text.split_once('=') {
            None => (text, None),
            Some((name, value)) => (name, Some(value.trim().to_owned())),
        };
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        if name.is_empty() { Err(BadOption::NoName) } else { Ok(EngineOption { name, value }) }
    }
}

/// An option that a program offers.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OfferedOption {
    /// Its name.
    pub name: String,
    /// What its value may be.
    pub kind: OptionKind,
}

/// What the value of an option may be.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum OptionKind {
    /// `true` or `false`.
    Check,
    /// A whole number.
    Spin {
        /// The least.
        least: i64,
        /// The greatest.
        most: i64,
    },
    /// One of these.
    Combo(Vec<String>),
    /// It has none.
    Button,
    /// Any text.
    String,
}

impl OptionKind {
    /// Whether a value is allowed. Programs silently ignore a wrong one.
    #[must_use]
    pub fn allows(&self, value: Option<&str>) -> bool {
        match (self, value) {
            (OptionKind::Button, value) => value.is_none(),
            (_, None) => false,
            (OptionKind::Check, Some(value)) => value == "true" || value == "false",
            (OptionKind::Spin { least, most }, Some(value)) => {
                value.parse().is_ok_and(|value| (*least..=*most).contains(&value))
            }
            (OptionKind::Combo(choices), Some(value)) => {
                choices.iter().any(|choice| choice.eq_ignore_ascii_case(value))
            }
            (OptionKind::String, Some(_)) => true,
        }
    }
}

/// The offered option of this name.
#[must_use]
pub(super) fn find<'o>(offered: &'o [OfferedOption], name: &str) -> Option<&'o OfferedOption> {
    offered.iter().find(|option| option.name.eq_ignore_ascii_case(name))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;

    fn option(name: &str, value: Option<&str>) -> EngineOption {
        EngineOption { name: name.to_owned(), value: value.map(str::to_owned) }
    }

    #[test]
    fn options_are_read() {
        for (text, expected) in [
            ("Hash=64", Ok(option("Hash", Some("64")))),
            (" Clear  Hash", Ok(option("Clear Hash", None))),
            ("Path=a=b c", Ok(option("Path", Some("a=b c")))),
            ("Path=", Ok(option("Path", Some("")))),
            ("=5", Err(BadOption::NoName)),
            ("", Err(BadOption::NoName)),
            ("Hash=1\nquit", Err(BadOption::ControlCharacter)),
        ] {
            assert_eq!(text.parse::<EngineOption>(), expected, "{text:?}");
        }
    }

    #[test]
    fn values_must_be_of_the_kind() {
        let spin = OptionKind::Spin { least: 1, most: 16 };
        let combo = OptionKind::Combo(vec!["Solid".to_owned(), "Very Risky".to_owned()]);
        for (kind, value, allowed) in [
            (&OptionKind::Check, Some("true"), true),
            (&OptionKind::Check, Some("yes"), false),
            (&spin, Some("16"), true),
            (&spin, Some("17"), false),
            (&spin, Some("many"), false),
            (&spin, None, false),
            (&combo, Some("very risky"), true),
            (&combo, Some("risky"), false),
            (&OptionKind::Button, None, true),
            (&OptionKind::Button, Some("x"), false),
            (&OptionKind::String, Some(""), true),
        ] {
            assert_eq!(kind.allows(value), allowed, "{kind:?} {value:?}");
        }
    }

    #[test]
    fn names_are_found_in_any_case() {
        let offered = "option name Clear Hash type button";
        let super::super::protocol::Said::Offers(offered) =
            super::super::protocol::read(offered.as_bytes())
        else {
            panic!()
        };
        let offered = [offered];
        assert_eq!(find(&offered, "clear hash").unwrap().kind, OptionKind::Button);
        assert_eq!(find(&offered, "hash"), None);
    }
}
