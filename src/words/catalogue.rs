//! The files of words, read once each.
//!
//! Besides what Fluent has, messages may ask two functions. `WORD($number)` is a small number as a word, by the
//! messages `number-0`, `number-1` and so on; one without such a message stays in figures. `FORM($thing, as: "role")` is
//! the message that is called as the value of `$thing`, or its form for a role in the sentence, by an attribute: how a
//! word is declined is so told by its language alone.

use std::sync::OnceLock;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use unic_langid::LanguageIdentifier;

use super::figures::figures;
use super::language::Language;

/// The messages of a language.
pub(super) type Catalogue = FluentBundle<FluentResource>;

/// The catalogue of a language.
pub(super) fn catalogue(language: Language) -> &'static Catalogue {
    static READ: [OnceLock<Catalogue>; 4] = [const { OnceLock::new() }; 4];
    READ[language as usize].get_or_init(|| read(language))
}

fn read(language: Language) -> Catalogue {
    let code: LanguageIdentifier = language.code().parse().unwrap_or_default();
    let mut bundle = FluentBundle::new_concurrent(vec![code]);
    // Marks of direction are for texts that mix scripts.
    bundle.set_use_isolating(false);
    let written: for<'v, 'm> fn(&'v FluentValue<'_>, &'m _) -> Option<String> = match language {
        Language::English => |value, _| number(Language::English, value),
        Language::German => |value, _| number(Language::German, value),
        Language::Spanish => |value, _| number(Language::Spanish, value),
        Language::French => |value, _| number(Language::French, value),
    };
    bundle.set_formatter(Some(written));
    // They fail only on a name that is taken.
    let _ = bundle.add_function("WORD", move |asked, _| word(language, asked));
    let _ = bundle.add_function("FORM", move |asked, more| form(language, asked, more));
    // What can't be read is left out, and a test reads every file.
    let messages = FluentResource::try_new(language.catalogue().to_owned());
    let _ = bundle.add_resource(messages.unwrap_or_else(|(readable, _)| readable));
    bundle
}

/// A number as it is written.
fn number(language: Language, value: &FluentValue<'_>) -> Option<String> {
    let FluentValue::Number(number) = value else { return None };
    let decimals = number.options.minimum_fraction_digits.unwrap_or(0);
    Some(figures(language, number.value, decimals))
}

fn word(language: Language, asked: &[FluentValue<'_>]) -> FluentValue<'static> {
    let Some(FluentValue::Number(number)) = asked.first() else { return FluentValue::Error };
    let plain = || figures(language, number.value, 0);
    let word = plain_text(language, &format!("number-{}", number.value), None);
    FluentValue::from(word.unwrap_or_else(plain))
}

fn form(
    language: Language,
    asked: &[FluentValue<'_>],
    more: &FluentArgs<'_>,
) -> FluentValue<'static> {
    let Some(FluentValue::String(name)) = asked.first() else { return FluentValue::Error };
    let role = match more.get("as") {
        Some(FluentValue::String(role)) => Some(&**role),
        _ => None,
    };
    let text = role.and_then(|role| plain_text(language, name, Some(role)));
    let text = text.or_else(|| plain_text(language, name, None));
    text.map_or(FluentValue::Error, FluentValue::from)
}

/// A message without values, or one of its attributes.
fn plain_text(language: Language, name: &str, attribute: Option<&str>) -> Option<String> {
    let catalogue = catalogue(language);
    let message = catalogue.get_message(name)?;
    let pattern = match attribute {
        Some(attribute) => message.get_attribute(attribute)?.value(),
        None => message.value()?,
    };
    let text = catalogue.format_pattern(pattern, None, &mut Vec::new());
    Some(text.into_owned())
}
