//! What is chosen: values of facets, names, an order.

use std::collections::BTreeMap;

use super::facet::Facet;
use super::order::ListOrder;

/// What is chosen. The same as words of an address, whoever wrote that.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct HitChoice {
    /// The values that a hit may have, by facet; any where none is named.
    pub values: BTreeMap<Facet, Vec<String>>,
    /// What is in the name of a player; anything if it is empty.
    pub player: String,
    /// What is in the names of the players or the event, or in the offer; anything if it is empty.
    pub text: String,
    /// The order.
    pub order: ListOrder,
}

/// The word for what is in a player's name.
pub(super) const PLAYER: &str = "player";
/// The word for what is in any name.
pub(super) const TEXT: &str = "text";
/// The word for the order.
pub(super) const ORDER: &str = "order";
/// The most values of a choice, and the most letters of each: addresses are written by anybody.
const MOST_VALUES: usize = 64;
const MOST_LETTERS: usize = 100;

impl HitChoice {
    /// Takes what is chosen from the words of an address; what is none of its words is passed over.
    #[must_use]
    pub fn of_words<'w>(words: impl IntoIterator<Item = (&'w str, &'w str)>) -> HitChoice {
        let mut choice = HitChoice::default();
        let said = words.into_iter().filter(|(_, value)| !value.trim().is_empty());
        for (word, value) in said.take(MOST_VALUES) {
            let value: String = value.trim().chars().take(MOST_LETTERS).collect();
            match (word, Facet::of_word(word)) {
                (_, Some(facet)) => choice.add(facet, value),
                (PLAYER, _) => choice.player = value,
                (TEXT, _) => choice.text = value,
                (ORDER, _) => choice.order = ListOrder::of_word(&value).unwrap_or_default(),
                _ => {}
            }
        }
        choice
    }

    fn add(&mut self, facet: Facet, value: String) {
        let values = self.values.entry(facet).or_default();
        if !values.contains(&value) {
            values.push(value);
        }
    }

    /// Its words: the same choice whatever the order in which it was made.
    #[must_use]
    pub fn words(&self) -> Vec<(&'static str, String)> {
        let mut words = Vec::new();
        for (facet, values) in &self.values {
            let mut values = values.clone();
            values.sort();
            words.extend(values.into_iter().map(|value| (facet.word(), value)));
        }
        let texts = [(PLAYER, &self.player), (TEXT, &self.text)];
        let texts = texts.into_iter().filter(|(_, text)| !text.is_empty());
        words.extend(texts.map(|(word, text)| (word, text.clone())));
        if self.order != ListOrder::default() {
            words.push((ORDER, self.order.word().to_owned()));
        }
        words
    }

    /// The values that are chosen, each with its facet.
    pub fn chosen(&self) -> impl Iterator<Item = (Facet, &str)> {
        let values = self.values.iter();
        values.flat_map(|(facet, values)| values.iter().map(move |value| (*facet, &**value)))
    }

    /// Whether a value is chosen.
    #[must_use]
    pub fn has(&self, facet: Facet, value: &str) -> bool {
        self.values.get(&facet).is_some_and(|values| values.iter().any(|known| known == value))
    }

    /// The same with a value more or, if it was chosen, without it.
    #[must_use]
    pub fn with_or_without(&self, facet: Facet, value: &str) -> HitChoice {
        let mut other = self.clone();
        if self.has(facet, value) {
            let values = other.values.entry(facet).or_default();
            values.retain(|known| known != value);
            if values.is_empty() {
                other.values.remove(&facet);
            }
        } else {
            other.add(facet, value.to_owned());
        }
        other
    }

    /// The same with this as the only value of its facet.
    #[must_use]
    pub fn only(&self, facet: Facet, value: &str) -> HitChoice {
        let mut other = self.clone();
        other.values.insert(facet, vec![value.to_owned()]);
        other
    }

    /// Whether all hits are left.
    #[must_use]
    pub fn is_everything(&self) -> bool {
        HitChoice { order: ListOrder::default(), ..self.clone() } == HitChoice::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_choice_is_the_same_after_its_words_were_read_again() {
        let words = [
            ("kind", "sham"),
            ("motif", "queen-lift"),
            ("kind", "real"),
            ("kind", "real"),
            ("player", " Alder "),
            ("order", "newest"),
            ("colour", "blue"),
            ("text", ""),
        ];
        let choice = HitChoice::of_words(words);
        assert_eq!(choice.values[&Facet::Kind], ["sham", "real"]);
        assert_eq!((&*choice.player, choice.order), ("Alder", ListOrder::Newest));
        let written = choice.words();
        let again = HitChoice::of_words(written.iter().map(|(word, value)| (*word, &**value)));
        assert_eq!(again.words(), written);
        let without =
            choice.with_or_without(Facet::Kind, "sham").with_or_without(Facet::Kind, "real");
        assert!(!without.values.contains_key(&Facet::Kind));
    }
}
