//! Which exercises make up a sheet: candidates are proved until there are enough of each class to choose
//! from, no two of them alike, and then exercises are taken in turn so that each adds what the ones before
//! it lack.
//!
//! Invariant: batches do not depend on how fast they are proved, so neither does the sheet; a sheet is short
//! only if there was no candidate left.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Exercise;
use super::candidate::{Candidate, Class};
use super::candidates::Candidates;
use super::flaw::Flaw;
use super::given::GivenPositions;
use super::grade::{Level, Levels};
use super::kind::ExerciseKind;
use super::likeness::Likeness;
use crate::collection::GameNumber;
use crate::teaching::variety::Variety;

/// How many candidates are proved at a time.
const BATCH: usize = 16;

/// Candidates to be proved, and the exercises that came of those that were.
#[derive(Debug)]
pub struct ExercisePool {
    kind: ExerciseKind,
    wanted: usize,
    levels: Levels,
    queues: BTreeMap<Class, std::vec::IntoIter<Candidate>>,
    proved: BTreeMap<Class, usize>,
    groups: Vec<OfferExercises>,
    /// Those that are shown next to the sheet.
    shown: Vec<OfferExercises>,
    given: GivenPositions,
    left_out: BTreeMap<Flaw, usize>,
    /// Whether all that can be made are wanted, whatever they are like.
    is_given: bool,
}

/// The exercises of one offer.
#[derive(Debug)]
struct OfferExercises {
    class: Class,
    exercises: Vec<Exercise>,
    likenesses: Vec<Likeness>,
}

/// The exercises of a sheet, the easiest first, and how many positions were left out for which reason.
#[derive(Debug)]
pub struct SheetChoice {
    /// The exercises.
    pub exercises: Vec<Exercise>,
    /// How many positions were looked at and left out, by the reason.
    pub left_out: BTreeMap<Flaw, usize>,
}

impl ExercisePool {
    /// A pool for `wanted` exercises, of these levels.
    #[must_use]
    pub fn new(
        kind: ExerciseKind,
        wanted: usize,
        levels: Levels,
        candidates: Candidates,
    ) -> ExercisePool {
        let queues = candidates.into_queues().into_iter();
        ExercisePool {
            kind,
            wanted,
            levels,
            queues: queues.map(|(class, queue)| (class, queue.into_iter())).collect(),
            proved: BTreeMap::new(),
            groups: Vec::new(),
            shown: Vec::new(),
            given: GivenPositions::default(),
            left_out: BTreeMap::new(),
            is_given: false,
        }
    }

    /// A pool of candidates that a teacher named: all are wanted.
    #[must_use]
    pub fn given(kind: ExerciseKind, candidates: Candidates) -> ExercisePool {
        ExercisePool {
            is_given: true,
            ..ExercisePool::new(kind, usize::MAX / 4, Levels::ALL, candidates)
        }
    }

    /// The same, if these exercises are shown next to it: none is from their games or like them.
    #[must_use]
    pub fn beside(self, shown: &[Exercise]) -> ExercisePool {
        let group = |one: &Exercise| {
            let class = Class { is_sound: one.works, is_white: one.side().is_white() };
            OfferExercises::new(class, vec![one.clone()])
        };
        ExercisePool { shown: shown.iter().map(group).collect(), ..self }
    }

    /// The same without any of these positions.
    #[must_use]
    pub fn without(self, given: GivenPositions) -> ExercisePool {
        ExercisePool { given, ..self }
    }

    /// What is asked.
    #[must_use]
    pub fn kind(&self) -> ExerciseKind {
        self.kind
    }

    /// The candidates to be proved next; none if there is enough to choose from, or nothing left.
    #[must_use]
    pub fn next_batch(&mut self) -> Vec<Candidate> {
        let hungry: Vec<Class> =
            self.queues.keys().copied().filter(|class| self.is_hungry(*class)).collect();
        let mut batch = Vec::new();
        loop {
            let before = batch.len();
            for class in &hungry {
                if batch.len() < BATCH
                    && let Some(candidate) = self.queues.get_mut(class).and_then(Iterator::next)
                {
                    batch.push(candidate);
                }
            }
            if batch.len() == before {
                return batch;
            }
        }
    }

    /// Whether more of a class is needed: there must be half as many again to choose from as are wanted,
    /// and as many for White as for Black.
    fn is_hungry(&self, class: Class) -> bool {
        let halves = if self.kind.has_halves() { 2 } else { 1 };
        let needed = self.needed().div_ceil(halves);
        let of = |class: Class| self.proved.get(&class).copied().unwrap_or(0);
        of(class) + of(class.of_other_side()) < needed || of(class) < needed / 2
    }

    /// How many exercises are proved before some are chosen.
    #[must_use]
    pub fn needed(&self) -> usize {
        (3 * self.wanted).div_ceil(2) + 2
    }

    /// How many are proved.
    #[must_use]
    pub fn proved(&self) -> usize {
        self.proved.values().sum()
    }

    /// Adds what came of a candidate.
    pub fn add(&mut self, candidate: &Candidate, examined: Result<Vec<Exercise>, Flaw>) {
        let mut exercises = match examined {
            Ok(exercises) => exercises,
            Err(flaw) => return self.leave_out(flaw),
        };
        exercises.retain(|exercise| self.levels.have(exercise.level));
        if exercises.is_empty() {
            return self.leave_out(Flaw::Level);
        }
        exercises.retain(|exercise| !self.given.have(exercise));
        if exercises.is_empty() {
            return self.leave_out(Flaw::Given);
        }
        let group = OfferExercises::new(candidate.class, exercises);
        let mut others = self.shown.iter().chain(&self.groups);
        if let Some(flaw) = others.find_map(|known| group.flaw_beside(known)) {
            return self.leave_out(flaw);
        }
        *self.proved.entry(group.class).or_default() += group.exercises.len();
        self.groups.push(group);
    }

    fn leave_out(&mut self, flaw: Flaw) {
        *self.left_out.entry(flaw).or_default() += 1;
    }

    /// Chooses the exercises of the sheet.
    #[must_use]
    pub fn choose(mut self) -> SheetChoice {
        let mut taken = TakenExercises::default();
        let mut groups = std::mem::take(&mut self.groups);
        while taken.exercises < self.wanted {
            let weights = groups.iter().map(|group| taken.weight(group, self.kind));
            let Some((_, next)) = weights.zip(0..).min() else { break };
            let mut group = groups.remove(next);
            group.shorten(self.wanted - taken.exercises);
            taken.add(group);
        }
        if !groups.is_empty() {
            *self.left_out.entry(Flaw::Spare).or_default() += groups.len();
        }
        if self.kind.has_halves() && !self.is_given {
            let dropped = taken.halve();
            if dropped > 0 {
                *self.left_out.entry(Flaw::Half).or_default() += dropped;
            }
        }
        SheetChoice { exercises: taken.in_order(), left_out: self.left_out }
    }
}

impl OfferExercises {
    fn new(class: Class, exercises: Vec<Exercise>) -> OfferExercises {
        let likenesses = exercises.iter().map(Likeness::of).collect();
        OfferExercises { class, exercises, likenesses }
    }

    fn shorten(&mut self, most: usize) {
        self.exercises.truncate(most);
        self.likenesses.truncate(most);
    }

    /// Why both can't be on one sheet, if they can't.
    fn flaw_beside(&self, known: &OfferExercises) -> Option<Flaw> {
        if known.game() == self.game() {
            return Some(Flaw::SameGame);
        }
        let is_known = |one: &Likeness| known.likenesses.iter().any(|other| other.is_like(one));
        self.likenesses.iter().any(is_known).then_some(Flaw::Alike)
    }

    /// Where their game is.
    fn game(&self) -> (&str, GameNumber) {
        let hit = &self.exercises[0].hit;
        (&hit.source, hit.game.number)
    }

    /// What is to be varied.
    fn traits(&self) -> Vec<ExerciseTrait> {
        let first = &self.exercises[0];
        let game = &first.hit.game;
        let known = |text: &String| Some(text.clone()).filter(|text| !text.is_empty());
        let of_game = [
            known(&game.eco).map(ExerciseTrait::Opening),
            known(&game.white).map(ExerciseTrait::White),
            known(&game.black).map(ExerciseTrait::Black),
        ];
        let own =
            [ExerciseTrait::Level(first.level), ExerciseTrait::Query(first.hit.query.clone())];
        own.into_iter().chain(of_game.into_iter().flatten()).collect()
    }
}

/// What is to be varied.
#[derive(PartialEq, Eq, PartialOrd, Ord, Debug)]
enum ExerciseTrait {
    Level(Level),
    Query(Arc<str>),
    Opening(String),
    White(String),
    Black(String),
}

/// The groups that were taken, and how often each trait was.
#[derive(Default)]
struct TakenExercises {
    groups: Vec<OfferExercises>,
    exercises: usize,
    by_class: BTreeMap<Class, usize>,
    /// Of each level, how many that work and how many that do not.
    by_level: BTreeMap<Level, [usize; 2]>,
    variety: Variety<ExerciseTrait>,
}

impl TakenExercises {
    /// The lesser, the more a group adds: first of its half, then of its colour, then of its half among those of its
    /// level, which would tell the answer, and then of the rest. Among equals a position with only one correct move
    /// goes first.
    fn weight(&self, group: &OfferExercises, kind: ExerciseKind) -> (usize, usize, usize, usize) {
        let of = |class: Class| self.by_class.get(&class).copied().unwrap_or(0);
        let class = group.class;
        let half = if kind.has_halves() { of(class) + of(class.of_other_side()) } else { 0 };
        let [own, other] = self.halves_of(group);
        let level = if kind.has_halves() { own.saturating_sub(other) } else { 0 };
        let also: usize = group.exercises.iter().map(|exercise| exercise.also.len()).sum();
        let times = self.variety.times(group.traits());
        (half, of(class), level, times + also)
    }

    /// How many of the level of a group are of its half, and of the other.
    fn halves_of(&self, group: &OfferExercises) -> [usize; 2] {
        let of_level = self.by_level.get(&group.exercises[0].level).copied().unwrap_or_default();
        let own = usize::from(group.class.is_sound);
        [of_level[own], of_level[1 - own]]
    }

    fn add(&mut self, group: OfferExercises) {
        self.exercises += group.exercises.len();
        *self.by_class.entry(group.class).or_default() += group.exercises.len();
        let of_level = self.by_level.entry(group.exercises[0].level).or_default();
        of_level[usize::from(group.class.is_sound)] += group.exercises.len();
        self.variety.add(group.traits());
        self.groups.push(group);
    }

    /// Drops what was taken last of the greater half, until the halves are the same within one. How many
    /// were dropped.
    fn halve(&mut self) -> usize {
        let mut dropped = 0;
        loop {
            let sound = self.groups.iter().filter(|group| group.class.is_sound).count();
            let rest = self.groups.len() - sound;
            if sound.abs_diff(rest) <= 1 {
                return dropped;
            }
            let is_too_many = |group: &OfferExercises| group.class.is_sound == (sound > rest);
            let Some(last) = self.groups.iter().rposition(is_too_many) else { return dropped };
            self.groups.remove(last);
            dropped += 1;
        }
    }

    /// The easiest first, those of one offer together, otherwise in random order.
    fn in_order(mut self) -> Vec<Exercise> {
        self.groups.sort_by_key(|group| {
            let first = &group.exercises[0];
            // Candidates are drawn from the lowest lot on, and more of those that fail than of those that work; so the
            // order of their lots would tell which is which.
            (group.exercises.iter().map(|one| one.level).min(), first.lot.reverse_bits())
        });
        self.groups.into_iter().flat_map(|group| group.exercises).collect()
    }
}
