//! How text that is not ours is shown: the one rule for names, titles, file names and sentences that come from
//! outside and reach a terminal or a diagnosis.
//!
//! Letters of any script, their accents and all other signs that leave a mark stay as they are. What moves the
//! cursor, changes colours, turns the direction of writing or can't be seen at all is shown by its code.

use std::borrow::Cow;

/// Whether a character leaves no mark, or does something else to a terminal than that: control and format
/// characters, bidirectional marks, blanks other than the space, zero-width and unassigned characters.
///
/// The standard library knows the categories of Unicode and escapes what can't be printed. It passes over a
/// few characters that are letters or marks by category and yet invisible: Default_Ignorable_Code_Point in
/// the Unicode Character Database (DerivedCoreProperties.txt; the list is from memory).
#[must_use]
pub fn is_hidden(c: char) -> bool {
    match c {
        ' '..='~' => false,
        '\u{34F}'
        | '\u{115F}'..='\u{1160}'
        | '\u{17B4}'..='\u{17B5}'
        | '\u{180B}'..='\u{180F}'
        | '\u{3164}'
        | '\u{FE00}'..='\u{FE0F}'
        | '\u{FFA0}'
        | '\u{E0100}'..='\u{E01EF}' => true,
        // A mark that stands on a letter is escaped only at the start of a text.
        _ => {
            let mut after_a_letter = [0; 5];
            after_a_letter[0] = b'a';
            let length = 1 + c.encode_utf8(&mut after_a_letter[1..]).len();
            let text = std::str::from_utf8(&after_a_letter[..length]).unwrap_or_default();
            text.escape_debug().nth(1) == Some('\\')
        }
    }
}

/// A text on one line, its hidden characters shown by their codes: `\n`, `\t`, `\u{1b}`.
#[must_use]
pub fn visible(text: &str) -> Cow<'_, str> {
    shown_by(text, is_hidden)
}

/// The same, but for the ends of lines, which stay.
#[must_use]
pub fn visible_lines(text: &str) -> Cow<'_, str> {
    shown_by(text, |c| c != '\n' && is_hidden(c))
}

/// The name of a hidden character as tables of Unicode have it: `U+200B`.
#[must_use]
pub fn code_of(c: char) -> String {
    format!("U+{:04X}", u32::from(c))
}

/// A text in which some characters are shown by their codes.
fn shown_by(text: &str, is_hidden: impl Fn(char) -> bool) -> Cow<'_, str> {
    if !text.contains(&is_hidden) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            _ if !is_hidden(c) => shown.push(c),
            '\n' => shown.push_str("\\n"),
            '\r' => shown.push_str("\\r"),
            '\t' => shown.push_str("\\t"),
            _ => shown.extend(c.escape_unicode()),
        }
    }
    Cow::Owned(shown)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_and_accents_of_any_script_stay() {
        for name in [
            "Ågren, Zoë",
            "Zoe\u{308} Ren\u{e9}",
            "Ёлка",
            "שלום",
            "سلام",
            "桜井",
            "हिन्दी",
            "ไทย",
            "½ – “x” …",
            "a\\b 'c' \"d\"",
            "♞",
        ] {
            assert_eq!(visible(name), name);
        }
    }

    #[test]
    fn what_leaves_no_mark_is_shown_by_its_code() {
        for (text, shown) in [
            ("\u{1b}[31mred", "\\u{1b}[31mred"),
            ("a\nb\tc\r", "a\\nb\\tc\\r"),
            ("\u{9b}2J \u{7f}", "\\u{9b}2J \\u{7f}"),
            ("a\u{202e}b\u{2066}c\u{200f}\u{61c}", "a\\u{202e}b\\u{2066}c\\u{200f}\\u{61c}"),
            ("a\u{200b}b\u{200d}c\u{feff}\u{2060}", "a\\u{200b}b\\u{200d}c\\u{feff}\\u{2060}"),
            ("a\u{a0}b\u{ad}\u{2028}", "a\\u{a0}b\\u{ad}\\u{2028}"),
            ("a\u{34f}\u{3164}\u{fe0f}", "a\\u{34f}\\u{3164}\\u{fe0f}"),
        ] {
            assert_eq!(visible(text), shown);
        }
        assert_eq!(visible_lines("a\n\u{1b}b"), "a\n\\u{1b}b");
        assert_eq!(code_of('\u{200b}'), "U+200B");
    }
}
