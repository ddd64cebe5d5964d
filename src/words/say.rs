//! What is said.

use fluent_bundle::types::FluentNumber;
use fluent_bundle::{FluentArgs, FluentValue};
use shakmaty::Color;

use super::catalogue::catalogue;
use super::figures::figures;
use super::language::Language;

/// The words of a language.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Words {
    language: Language,
    /// Whether every message stands between marks.
    are_marked: bool,
}

impl Words {
    /// English ones.
    pub const ENGLISH: Words = Words::of(Language::English);

    /// Those of a language.
    #[must_use]
    pub const fn of(language: Language) -> Words {
        Words { language, are_marked: false }
    }

    /// The same, each message between the marks `⟦` and `⟧`: what stands outside them on a page is in no catalogue.
    #[must_use]
    pub const fn marked(language: Language) -> Words {
        Words { language, are_marked: true }
    }

    /// The language.
    #[must_use]
    pub const fn language(self) -> Language {
        self.language
    }

    /// A message that has no values. An attribute of a message is named with a full stop: `exercise-find.asks`.
    #[must_use]
    pub fn say(self, name: &str) -> String {
        self.tell(name, [])
    }

    /// A message with its values by name.
    #[must_use]
    pub fn tell<'v, const N: usize>(
        self,
        name: &str,
        values: [(&'v str, FluentValue<'v>); N],
    ) -> String {
        self.tell_all(name, values)
    }

    /// The same, however many values there are.
    pub(crate) fn tell_all<'v>(
        self,
        name: &str,
        values: impl IntoIterator<Item = (&'v str, FluentValue<'v>)>,
    ) -> String {
        let values: FluentArgs<'v> = values.into_iter().collect();
        let own = said(self.language, name, &values);
        // A message that is missing is a failing test; a reader is better served by the source.
        let text = own.or_else(|| said(Language::English, name, &values));
        debug_assert!(text.is_some(), "there is no message `{name}`");
        let text = text.unwrap_or_else(|| name.to_owned());
        if self.are_marked { format!("⟦{text}⟧") } else { text }
    }

    /// Whether there is such a message.
    #[must_use]
    pub fn has(self, name: &str) -> bool {
        catalogue(self.language).has_message(name)
    }

    /// A whole number.
    #[must_use]
    pub fn number(self, number: u64) -> String {
        figures(self.language, number as f64, 0)
    }

    /// A number with one decimal.
    #[must_use]
    pub fn tenths(self, number: f64) -> String {
        figures(self.language, number, 1)
    }

    /// Things as one speaks: `a1`, `a1 and f1`, `a1, c1 and f1`.
    #[must_use]
    pub fn list(self, things: &[String]) -> String {
        match things {
            [] => String::new(),
            [one] => one.clone(),
            [first @ .., last] => self
                .tell("list", [("first", first.join(", ").into()), ("last", last.as_str().into())]),
        }
    }
}

/// A message, if a language has it.
fn said(language: Language, name: &str, values: &FluentArgs<'_>) -> Option<String> {
    let catalogue = catalogue(language);
    let (name, attribute) = match name.split_once('.') {
        Some((name, attribute)) => (name, Some(attribute)),
        None => (name, None),
    };
    let message = catalogue.get_message(name)?;
    let pattern = match attribute {
        Some(attribute) => message.get_attribute(attribute)?.value(),
        None => message.value()?,
    };
    let mut faults = Vec::new();
    let text = catalogue.format_pattern(pattern, Some(values), &mut faults);
    debug_assert!(faults.is_empty(), "`{name}` in {}: {faults:?}", language.code());
    Some(text.into_owned())
}

/// The name of a side in messages.
#[must_use]
pub fn of_side(side: Color) -> FluentValue<'static> {
    FluentValue::from(side.fold_wb("white", "black"))
}

/// A choice in messages.
#[must_use]
pub fn yes_or_no(is_so: bool) -> FluentValue<'static> {
    FluentValue::from(if is_so { "yes" } else { "no" })
}

/// A number with one decimal.
#[must_use]
pub fn decimal(value: f64) -> FluentValue<'static> {
    let mut number = FluentNumber::from(value);
    number.options.minimum_fraction_digits = Some(1);
    FluentValue::Number(number)
}
