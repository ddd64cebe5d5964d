//! Text made safe for XML.

/// Text as it may stand in an element or an attribute: five signs written out, what XML 1.0 forbids
/// (section 2.2) replaced.
pub(super) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\t' | '\n' | '\r' => safe.push(' '),
            '\u{fffe}' | '\u{ffff}' => safe.push('\u{fffd}'),
            letter if letter.is_control() => safe.push('\u{fffd}'),
            letter => safe.push(letter),
        }
    }
    safe
}
