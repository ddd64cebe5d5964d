//! How numbers are written for people.

/// A whole number with commas between groups of three digits.
#[must_use]
pub fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// A number of things whose plural ends in s: `1 game`, `1,000 games`.
#[must_use]
pub fn counted(number: u64, thing: &str) -> String {
    let plural = if number == 1 { "" } else { "s" };
    format!("{} {thing}{plural}", grouped(number))
}

/// A share in per cent with one decimal, without the sign: `61.5`.
#[must_use]
pub fn percent(share: f64) -> String {
    format!("{:.1}", 100.0 * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn groups_are_of_three_digits() {
        let cases = [(0, "0"), (999, "999"), (1000, "1,000"), (1_234_567, "1,234,567")];
        for (number, text) in cases {
            assert_eq!(grouped(number), text);
        }
    }
}
