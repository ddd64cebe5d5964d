//! Texts that come again and again, such as names of players, each held once.

use std::collections::HashMap;

/// Texts by number. The empty one is always there, as number 0.
#[derive(Clone, Debug)]
pub(super) struct HeldNames {
    text: String,
    /// Where each begins; its end is where the next begins.
    begins: Vec<u32>,
}

/// HeldNames that are being gathered.
#[derive(Debug)]
pub(super) struct GatheredNames {
    names: HeldNames,
    known: HashMap<Box<str>, u32>,
}

impl HeldNames {
    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.begins.len()
    }

    /// The text of a number.
    pub(super) fn get(&self, number: u32) -> &str {
        let at = number as usize;
        let begin = self.begins[at] as usize;
        let end = self.begins.get(at + 1).map_or(self.text.len(), |&end| end as usize);
        &self.text[begin..end]
    }

    /// For each text whether it fits.
    pub(super) fn that(&self, fits: impl Fn(&str) -> bool) -> Vec<bool> {
        (0..self.len()).map(|number| fits(self.get(number as u32))).collect()
    }

    /// The bytes it holds.
    pub(super) fn bytes(&self) -> usize {
        self.text.capacity() + 4 * self.begins.capacity()
    }
}

impl Default for GatheredNames {
    fn default() -> GatheredNames {
        let names = HeldNames { text: String::new(), begins: vec![0] };
        GatheredNames { names, known: HashMap::from([("".into(), 0)]) }
    }
}

impl GatheredNames {
    /// The number of a text.
    pub(super) fn number(&mut self, text: &str) -> u32 {
        if let Some(&known) = self.known.get(text) {
            return known;
        }
        let Ok(begin) = u32::try_from(self.names.text.len()) else { return 0 };
        let number = self.names.begins.len() as u32;
        self.names.begins.push(begin);
        self.names.text.push_str(text);
        self.known.insert(text.into(), number);
        number
    }

    /// The names, to which none is added any more.
    pub(super) fn ended(mut self) -> HeldNames {
        self.names.text.shrink_to_fit();
        self.names.begins.shrink_to_fit();
        self.names
    }

    /// Takes in those of another gathering: the number here for each number there.
    pub(super) fn take_in(&mut self, others: &HeldNames) -> Vec<u32> {
        (0..others.len()).map(|number| self.number(others.get(number as u32))).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_held_once_and_found_by_its_number() {
        let mut gathered = GatheredNames::default();
        let numbers = ["Birch", "", "Alder", "Birch"].map(|name| gathered.number(name));
        assert_eq!(numbers, [1, 0, 2, 1]);
        let names = gathered.ended();
        assert_eq!((names.get(0), names.get(1), names.get(2)), ("", "Birch", "Alder"));
        assert_eq!(names.that(|name| name.starts_with('A')), [false, false, true]);
    }
}
