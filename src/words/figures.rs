//! How numbers are written, by CLDR's number symbols (from memory): 1,000.5 in English, 1.000,5 in German, 1000,5 and
//! 10.000 in Spanish, where four digits stay together, 1 000,5 in French with a narrow blank.

use super::language::Language;

/// What stands between groups of three digits, from how many digits on, and before decimals.
const fn signs(language: Language) -> (&'static str, usize, char) {
    match language {
        Language::English => (",", 4, '.'),
        Language::German => (".", 4, ','),
        Language::Spanish => (".", 5, ','),
        Language::French => ("\u{202f}", 4, ','),
    }
}

/// A number with this many decimals.
pub(super) fn figures(language: Language, value: f64, decimals: usize) -> String {
    let (between, least, point) = signs(language);
    let plain = format!("{:.decimals$}", value.abs());
    let (whole, rest) = plain.split_once('.').unwrap_or((&plain, ""));
    let mut text = String::from(if value < 0.0 { "\u{2212}" } else { "" });
    for (index, digit) in whole.chars().enumerate() {
        let is_between = index > 0 && (whole.len() - index).is_multiple_of(3);
        if is_between && whole.len() >= least {
            text.push_str(between);
        }
        text.push(digit);
    }
    if !rest.is_empty() {
        text.push(point);
        text.push_str(rest);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_as_the_language_writes_them() {
        let of = |value, decimals| Language::ALL.map(|one| figures(one, value, decimals));
        assert_eq!(of(999.0, 0), ["999"; 4]);
        assert_eq!(of(1000.0, 0), ["1,000", "1.000", "1000", "1\u{202f}000"]);
        assert_eq!(
            of(1234567.0, 0),
            ["1,234,567", "1.234.567", "1.234.567", "1\u{202f}234\u{202f}567"]
        );
        assert_eq!(of(45.24, 1), ["45.2", "45,2", "45,2", "45,2"]);
        assert_eq!(of(-5.0, 0), ["\u{2212}5"; 4]);
    }
}
