//! What is left of all hits by a choice: which, in which order, and how many any other choice would leave.

use super::choice::HitChoice;
use super::facet::{ACCEPTED, DECLINED, DRAWN, Facet, LOST, PLAYED, UNKNOWN, WON};
use super::found::{FoundHits, NO_EXPECTED};
use super::names::HeldNames;
use super::order::ListOrder;
use crate::board::SacrificeKind;
use crate::statistics::{AgainstRatings, Outcomes};

/// What is left of all hits by a choice.
#[derive(Debug)]
pub struct Sifted<'f> {
    found: &'f FoundHits,
    order: ListOrder,
    /// For each hit why it is left out: [`LEFT`] if it is not.
    why: Vec<u8>,
    left: usize,
}

/// A hit is left.
const LEFT: u8 = u8::MAX;
/// A hit is left out for more than one reason, or for one that is no facet.
const OUT: u8 = u8::MAX - 1;

/// How many hits a value of a facet has, besides all that is chosen of other facets.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ValueCount<'f> {
    /// The value.
    pub value: &'f str,
    /// How many hits have it.
    pub hits: usize,
}

/// How some hits went. All but the first number is about offers that were made and give something up.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct HowTheyWent {
    /// The hits.
    pub hits: u64,
    /// The offers that were made and give something up.
    pub given_up: u64,
    /// Those of them that were accepted.
    pub accepted: u64,
    /// Those of them that were declined.
    pub declined: u64,
    /// How their games ended.
    pub outcomes: Outcomes,
    /// The same where both ratings are known.
    pub rated: AgainstRatings,
    /// The games that the attacker ended with mate.
    pub mates: u64,
}

impl FoundHits {
    /// What is left by a choice.
    #[must_use]
    pub fn sifted(&self, choice: &HitChoice) -> Sifted<'_> {
        let mut why = vec![LEFT; self.len()];
        for (&facet, values) in &choice.values {
            let words = self.words[facet as usize].iter();
            let fits: Vec<bool> = words.map(|word| values.contains(word)).collect();
            for (why, &code) in why.iter_mut().zip(&self.codes[facet as usize]) {
                if !fits[usize::from(code)] {
                    *why = if *why == LEFT { facet as u8 } else { OUT };
                }
            }
        }
        if let Some(fits) = fitting(&self.names, &choice.player) {
            let players = self.white.iter().zip(&self.black);
            strike(
                &mut why,
                players.map(|(&white, &black)| has(&fits, white) || has(&fits, black)),
            );
        }
        if let Some(fits) = fitting(&self.names, &choice.text) {
            let texts = self.white.iter().zip(&self.black).zip(self.event.iter().zip(&self.san));
            let any = |((white, black), (event, san)): ((&u32, &u32), (&u32, &u32))| {
                [white, black, event, san].into_iter().any(|&number| has(&fits, number))
            };
            strike(&mut why, texts.map(any));
        }
        let left = why.iter().filter(|&&why| why == LEFT).count();
        Sifted { found: self, order: choice.order, why, left }
    }
}

/// Which names have a text in them, if there is one; capital or small letters are the same.
fn fitting(names: &HeldNames, text: &str) -> Option<Vec<bool>> {
    let text = text.to_lowercase();
    (!text.is_empty()).then(|| names.that(|name| name.to_lowercase().contains(&text)))
}

fn has(fits: &[bool], number: u32) -> bool {
    fits[number as usize]
}

fn strike(why: &mut [u8], fits: impl Iterator<Item = bool>) {
    for (why, fits) in why.iter_mut().zip(fits) {
        if !fits {
            *why = OUT;
        }
    }
}

impl<'f> Sifted<'f> {
    /// How many are left.
    #[must_use]
    pub fn len(&self) -> usize {
        self.left
    }

    /// Whether none is left.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.left == 0
    }

    /// The places of those that are left, in order.
    pub fn places(&self) -> impl Iterator<Item = usize> + '_ {
        let ordered = self.found.in_order(self.order).iter().map(|&place| place as usize);
        ordered.filter(|&place| self.why[place] == LEFT)
    }

    /// The place before and the place after a hit among those that are left, and which of them it is, from 1.
    #[must_use]
    pub fn around(&self, place: usize) -> Option<(usize, Option<usize>, Option<usize>)> {
        let (mut before, mut places) = (None, self.places().zip(1..));
        while let Some((here, number)) = places.next() {
            if here == place {
                return Some((number, before, places.next().map(|(after, _)| after)));
            }
            before = Some(here);
        }
        None
    }

    /// For each value of a facet how many hits would be left if it alone were chosen of this facet, in a fixed order.
    #[must_use]
    pub fn counts(&self, facet: Facet) -> Vec<ValueCount<'f>> {
        let words = &self.found.words[facet as usize];
        let mut counts = vec![0; words.len()];
        for (&why, &code) in self.why.iter().zip(&self.found.codes[facet as usize]) {
            counts[usize::from(code)] += usize::from(why == LEFT || why == facet as u8);
        }
        let counted = words.iter().zip(counts);
        let mut counts: Vec<ValueCount<'_>> =
            counted.map(|(value, hits)| ValueCount { value, hits }).collect();
        in_their_order(facet, &mut counts);
        counts
    }

    /// How those that are left went.
    #[must_use]
    pub fn how_they_went(&self) -> HowTheyWent {
        let all = self.found.codes[Facet::Motif as usize].iter().map(|_| 0);
        self.went(1, all).pop().unwrap_or_default()
    }

    /// The same for each value of a facet.
    #[must_use]
    pub fn how_they_went_by(&self, facet: Facet) -> Vec<(ValueCount<'f>, HowTheyWent)> {
        let words = &self.found.words[facet as usize];
        let codes = self.found.codes[facet as usize].iter().map(|&code| usize::from(code));
        let went = self.went(words.len(), codes);
        let mut counts: Vec<ValueCount<'_>> =
            words.iter().map(|value| ValueCount { value, hits: 0 }).collect();
        in_their_order(facet, &mut counts);
        let of = |value: &str| words.iter().position(|word| word == value);
        let told = counts.into_iter().filter_map(|count| {
            let went = went[of(count.value)?];
            Some((ValueCount { hits: went.hits as usize, ..count }, went))
        });
        told.filter(|(_, went)| went.hits > 0).collect()
    }

    fn went(&self, groups: usize, group: impl Iterator<Item = usize>) -> Vec<HowTheyWent> {
        let told = CountedCodes::of(self.found);
        let mut all = vec![HowTheyWent::default(); groups];
        for (place, (&why, group)) in self.why.iter().zip(group).enumerate() {
            if why == LEFT {
                told.add(place, &mut all[group]);
            }
        }
        all
    }
}

/// The codes of what is counted.
struct CountedCodes<'f> {
    found: &'f FoundHits,
    played: u16,
    free: u16,
    replies: [u16; 2],
    results: [u16; 3],
}

impl<'f> CountedCodes<'f> {
    fn of(found: &'f FoundHits) -> CountedCodes<'f> {
        let code = |facet: Facet, word: &str| {
            let place = found.words[facet as usize].iter().position(|known| known == word);
            place.and_then(|place| u16::try_from(place).ok()).unwrap_or(u16::MAX)
        };
        CountedCodes {
            found,
            played: code(Facet::Course, PLAYED),
            free: code(Facet::Kind, SacrificeKind::Free.word()),
            replies: [ACCEPTED, DECLINED].map(|word| code(Facet::Reply, word)),
            results: [LOST, DRAWN, WON].map(|word| code(Facet::Result, word)),
        }
    }

    fn add(&self, place: usize, to: &mut HowTheyWent) {
        let found = self.found;
        let code = |facet: Facet| found.codes[facet as usize][place];
        to.hits += 1;
        if code(Facet::Course) != self.played || found.cost[place] == 0 {
            return;
        }
        debug_assert!(code(Facet::Kind) != self.free);
        to.given_up += 1;
        let [accepted, declined] = self.replies;
        to.accepted += u64::from(code(Facet::Reply) == accepted);
        to.declined += u64::from(code(Facet::Reply) == declined);
        let result = code(Facet::Result);
        let halves = self.results.iter().position(|&known| known == result);
        let halves = halves.and_then(|halves| u8::try_from(halves).ok());
        to.outcomes.add(halves);
        let Some(halves) = halves else { return };
        to.mates += u64::from(found.mates[place]);
        if found.expected[place] != NO_EXPECTED {
            to.rated.add(halves, found.expected[place]);
        }
    }
}

/// Values that are numbers by number, the others as they are known, what is unknown last.
fn in_their_order(facet: Facet, counts: &mut [ValueCount<'_>]) {
    let known = facet.values();
    let place = |value: &str| known.iter().position(|&word| word == value).unwrap_or(known.len());
    let number = |value: &str| value.parse::<u32>().unwrap_or(0);
    counts.sort_by(|a, b| {
        let key = |value| (value == UNKNOWN, place(value), number(value));
        key(a.value).cmp(&key(b.value)).then_with(|| a.value.cmp(b.value))
    });
}
