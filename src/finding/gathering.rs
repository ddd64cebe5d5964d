//! Hits taken from the tables as they pass by, and put together into [`FoundHits`].

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, OnceLock};

use super::facet::{Facet, UNKNOWN, known_value, open_value};
use super::found::{FoundHits, NO_EXPECTED};
use super::names::GatheredNames;
use super::order::ListOrder;
use crate::hits::{CellTrouble, Collector, HitPlace, JudgedHit, Layout, NoColumn, Wanted};
use crate::query::Chapter;
use crate::teaching::how_little_it_teaches;

/// What must be known of a query to gather its hits.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MotifTold {
    /// Its name.
    pub name: String,
    /// The man it is about, if the query is known here.
    pub chapter: Option<Chapter>,
}

/// Hits of one query, or of several, that are being gathered.
#[derive(Debug)]
pub struct Gathering {
    /// The query whose hits pass by.
    motif: MotifTold,
    found: FoundHits,
    names: GatheredNames,
    /// For each facet the codes of words, and of the numbers that stand for words.
    codes: [BTreeMap<String, u16>; Facet::ALL.len()],
    numbers: [BTreeMap<u16, u16>; Facet::ALL.len()],
    /// Counts the hits as they pass by.
    seen: Arc<AtomicU64>,
}

impl Gathering {
    /// None so far of this query.
    #[must_use]
    pub fn of(motif: MotifTold) -> Gathering {
        let mut gathering = Gathering {
            motif,
            found: FoundHits::none(),
            names: GatheredNames::default(),
            codes: Facet::ALL.map(|_| BTreeMap::new()),
            numbers: Facet::ALL.map(|_| BTreeMap::new()),
            seen: Arc::default(),
        };
        for facet in Facet::ALL {
            gathering.code(facet, UNKNOWN);
            for value in facet.values() {
                gathering.code(facet, value);
            }
        }
        gathering
    }

    /// The same, which counts the hits here as they pass by.
    #[must_use]
    pub fn counting_in(self, seen: Arc<AtomicU64>) -> Gathering {
        Gathering { seen, ..self }
    }

    /// How many there are so far.
    #[must_use]
    pub fn len(&self) -> usize {
        self.found.len()
    }

    /// Whether there is none so far.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// All of them, to which none is added any more, in every order.
    #[must_use]
    pub fn ended(self) -> FoundHits {
        let mut found = FoundHits { names: self.names.ended(), ..self.found };
        found.shrink();
        for order in ListOrder::ALL {
            let _ = found.in_order(order);
        }
        found
    }

    fn code(&mut self, facet: Facet, word: &str) -> u16 {
        let codes = &mut self.codes[facet as usize];
        if let Some(&code) = codes.get(word) {
            return code;
        }
        let words = &mut self.found.words[facet as usize];
        // More values than this no facet has; what comes after them is not told apart.
        let Ok(code) = u16::try_from(words.len()) else { return 0 };
        words.push(word.to_owned());
        codes.insert(word.to_owned(), code);
        code
    }

    fn code_of_hit(&mut self, facet: Facet, hit: &JudgedHit) -> u16 {
        match facet {
            Facet::Motif => {
                let name = std::mem::take(&mut self.motif.name);
                let code = self.code(facet, &name);
                self.motif.name = name;
                code
            }
            Facet::Chapter => self.code(facet, self.motif.chapter.map_or(UNKNOWN, Chapter::word)),
            Facet::King | Facet::Year | Facet::Level => match open_value(facet, hit) {
                None => self.code(facet, UNKNOWN),
                Some((number, word)) => match self.numbers[facet as usize].get(&number) {
                    Some(&code) => code,
                    None => {
                        let code = self.code(facet, &word);
                        self.numbers[facet as usize].insert(number, code);
                        code
                    }
                },
            },
            _ => self.code(facet, known_value(facet, hit)),
        }
    }

    /// Adds those of another gathering after these.
    pub fn join(&mut self, part: Gathering) {
        let names = self.names.take_in(&part.names.ended());
        let there = part.found;
        for facet in Facet::ALL {
            let words = &there.words[facet as usize];
            let codes: Vec<u16> = words.iter().map(|word| self.code(facet, word)).collect();
            let of_part = there.codes[facet as usize].iter().map(|&code| codes[usize::from(code)]);
            self.found.codes[facet as usize].extend(of_part);
        }
        let here = &mut self.found;
        let before = here.game.len() as u32;
        here.marks.extend(there.marks.iter().map(|&(place, mark)| (before + place, mark)));
        let renamed = |numbers: Vec<u32>| numbers.into_iter().map(|number| names[number as usize]);
        here.san.extend(renamed(there.san));
        here.white.extend(renamed(there.white));
        here.black.extend(renamed(there.black));
        here.event.extend(renamed(there.event));
        here.game.extend(there.game);
        here.ply.extend(there.ply);
        here.move_number.extend(there.move_number);
        here.days.extend(there.days);
        here.moves_left.extend(there.moves_left);
        here.cost.extend(there.cost);
        here.rating.extend(there.rating);
        here.expected.extend(there.expected);
        here.mates.extend(there.mates);
        here.teaching.extend(there.teaching);
    }
}

/// Of no query: to be joined by others.
impl Default for Gathering {
    fn default() -> Gathering {
        Gathering::of(MotifTold { name: UNKNOWN.to_owned(), chapter: None })
    }
}

impl FoundHits {
    /// None.
    fn none() -> FoundHits {
        FoundHits {
            codes: Facet::ALL.map(|_| Vec::new()),
            words: Facet::ALL.map(|_| Vec::new()),
            game: Vec::new(),
            ply: Vec::new(),
            move_number: Vec::new(),
            san: Vec::new(),
            white: Vec::new(),
            black: Vec::new(),
            event: Vec::new(),
            days: Vec::new(),
            moves_left: Vec::new(),
            cost: Vec::new(),
            rating: Vec::new(),
            expected: Vec::new(),
            mates: Vec::new(),
            teaching: Vec::new(),
            marks: Vec::new(),
            names: GatheredNames::default().ended(),
            in_order: std::array::from_fn(|_| OnceLock::new()),
        }
    }

    /// Gives back the room that nothing stands in.
    fn shrink(&mut self) {
        self.codes.iter_mut().for_each(Vec::shrink_to_fit);
        self.game.shrink_to_fit();
        for numbers in
            [&mut self.san, &mut self.white, &mut self.black, &mut self.event, &mut self.days]
        {
            numbers.shrink_to_fit();
        }
        for numbers in
            [&mut self.ply, &mut self.move_number, &mut self.moves_left, &mut self.rating]
        {
            numbers.shrink_to_fit();
        }
        for numbers in [&mut self.cost, &mut self.expected, &mut self.teaching] {
            numbers.shrink_to_fit();
        }
        self.mates.shrink_to_fit();
        self.marks.shrink_to_fit();
    }
}

impl Collector for Gathering {
    fn begin(&mut self, _: &Layout) -> Result<Wanted, NoColumn> {
        Ok(Wanted::everything())
    }

    fn comes_from(&mut self, place: Option<HitPlace>) {
        // The first of a run, and then one in this many.
        let now = self.found.len();
        let is_due = self.found.marks.last().is_none_or(|(marked, mark)| {
            let is_other = place.is_some_and(|place| !place.is_in_run_of(*mark));
            is_other || now - *marked as usize >= FoundHits::MARK_EVERY
        });
        if let Some(place) = place.filter(|_| is_due)
            && let Ok(now) = u32::try_from(now)
        {
            self.found.marks.push((now, place));
        }
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        for facet in Facet::ALL {
            let code = self.code_of_hit(facet, hit);
            self.found.codes[facet as usize].push(code);
        }
        let found = &mut self.found;
        found.game.push(hit.game.id);
        found.ply.push(at_most(hit.offer.ply));
        found.move_number.push(at_most(hit.offer.move_number));
        found.san.push(self.names.number(&hit.offer.san));
        found.white.push(self.names.number(&hit.game.white));
        found.black.push(self.names.number(&hit.game.black));
        found.event.push(self.names.number(&hit.game.event));
        found.days.push(days(&hit.game.date));
        found.moves_left.push(at_most(hit.moves_left()));
        found.cost.push(u8::try_from(hit.offer.cost.max(0)).unwrap_or(u8::MAX));
        found.rating.push(hit.game.weaker_rating());
        found.expected.push(hit.expected().unwrap_or(NO_EXPECTED));
        found.mates.push(hit.gives_mate());
        found.teaching.push(how_little_it_teaches(hit));
        self.seen.fetch_add(1, Ordering::Relaxed);
        Ok(())
    }
}

fn at_most(number: impl TryInto<u16>) -> u16 {
    number.try_into().unwrap_or(u16::MAX)
}

/// A date as a number that grows with it: what is not known of it comes first.
fn days(tag: &str) -> u32 {
    let mut parts = tag.split('.').map(|part| part.parse::<u32>().unwrap_or(0));
    let mut next = |most: u32| parts.next().unwrap_or(0).min(most);
    let (year, month, day) = (next(9999), next(12), next(31));
    year * 10_000 + month * 100 + day
}
