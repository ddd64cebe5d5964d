//! A judged hit that may become an exercise.

use std::sync::Arc;

use sha2::{Digest, Sha256};
use shakmaty::{Chess, Color, Move, Position};

use super::kind::ExerciseKind;
use super::short_fit::{ends_in_mate, looks_fit};
use super::worth::{CLEAR, MISTAKE, worth};
use crate::engine::Points;
use crate::hits::{CellTrouble, JudgedHit, LOST_UNDER, Sound, Verdict, VerdictRecord};

/// An offer that its verdict makes fit for a kind of exercise.
#[derive(Clone, Debug)]
pub struct Candidate {
    /// The hit.
    pub hit: Arc<JudgedHit>,
    /// The position before the offer.
    pub before: Chess,
    /// The offer, a legal move.
    pub offer: Move,
    /// What it is balanced by.
    pub class: Class,
    /// Its lot: a pseudo-random number.
    pub lot: u64,
}

/// What exercises are balanced by.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Class {
    /// Whether the offer works, by the table, where that is asked; else true.
    pub is_sound: bool,
    /// Whether White is to move where the pupil is asked.
    pub is_white: bool,
}

impl Class {
    /// The same with the other side to move.
    #[must_use]
    pub fn of_other_side(self) -> Class {
        Class { is_white: !self.is_white, ..self }
    }

    /// What a hit with a verdict is for a kind; nothing if it does not fit, by that verdict. Whether it does
    /// indeed is for the proof to say.
    pub(super) fn judged(
        hit: &JudgedHit,
        record: &VerdictRecord,
        kind: ExerciseKind,
    ) -> Option<Class> {
        if !hit.is_sacrifice() {
            return None;
        }
        if kind.is_short() {
            return Class::short(hit, record, kind);
        }
        let overall = worth(record.verdict);
        // What an engine or the game's comments deny is not asked.
        let is_denied = record.worth.said().is_some_and(|said| said != Sound::Yes);
        // A chance that nobody took is a model only if it beats what was played; whether it works can be asked of any.
        let is_shown = hit.is_played() || hit.is_missed_chance();
        let is_sound = overall.is_some_and(|worth| worth >= CLEAR) && !is_denied && is_shown;
        let is_best = record.is_best == Some(true);
        let against = |verdict: Option<Verdict>| verdict.and_then(worth);
        let wins_if_accepted = against(record.if_accepted).is_some_and(|worth| worth >= CLEAR);
        let works = record.sound() == Sound::Yes;
        let fits = match kind {
            ExerciseKind::Find => (is_sound && is_best) || (is_shown && is_only(record)),
            ExerciseKind::Judge => works || fails(record),
            ExerciseKind::Continue => {
                (is_sound && wins_if_accepted) || (is_shown && is_said_to_work(record))
            }
            ExerciseKind::Defend => {
                let may_decline = record.if_declined.is_some() && record.sound() != Sound::Yes;
                let left = against(record.if_declined);
                let is_not_to_be_taken =
                    wins_if_accepted && may_decline && left.is_none_or(|worth| worth < CLEAR);
                is_not_to_be_taken || may_be_defended(record)
            }
            _ => return None,
        };
        let is_white = (hit.view.attacker == Color::White) != (kind == ExerciseKind::Defend);
        // Only where half must fail does it matter what works.
        let is_sound = works || kind != ExerciseKind::Judge;
        fits.then_some(Class { is_sound, is_white })
    }

    /// What a hit with a verdict is for a short kind; nothing if it does not look fit.
    fn short(hit: &JudgedHit, record: &VerdictRecord, kind: ExerciseKind) -> Option<Class> {
        let is_defenders = matches!(kind, ExerciseKind::Reply | ExerciseKind::King);
        let is_white = (hit.view.attacker == Color::White) != is_defenders;
        let is_sound = kind != ExerciseKind::Check || ends_in_mate(&hit.offer.line);
        looks_fit(hit, record, kind).then_some(Class { is_sound, is_white })
    }

    /// What a hit is that nobody judged, for a kind that asks for an attacker's move: fit if it is a
    /// sacrifice that was made in a game that the attacker won.
    pub(super) fn unjudged(hit: &JudgedHit) -> Option<Class> {
        let class = Class { is_sound: true, is_white: hit.view.attacker == Color::White };
        let is_won = hit.half_points() == Some(2);
        (is_won && hit.is_played() && hit.is_sacrifice()).then_some(class)
    }
}

/// Whether an offer is known to fail clearly: it is mated, or throws away what makes a mistake. A count alone never
/// says so.
fn fails(record: &VerdictRecord) -> bool {
    let is_mated = matches!(record.verdict, Verdict::Mated(_));
    let is_mistake = record.worth.loss().is_some_and(|loss| loss >= MISTAKE);
    record.sound() == Sound::No && (is_mated || is_mistake)
}

/// Whether an engine or the game's comments say that an offer works.
fn is_said_to_work(record: &VerdictRecord) -> bool {
    record.worth.said() == Some(Sound::Yes)
}

/// Whether they say that it does, and that every other move is a mistake.
fn is_only(record: &VerdictRecord) -> bool {
    let ahead = record.worth.after.zip(record.worth.best).map(|(after, best)| after.over(best));
    is_said_to_work(record) && ahead.is_some_and(|ahead| ahead >= MISTAKE)
}

/// Whether an engine or the game's comments leave the defender something to be found.
fn may_be_defended(record: &VerdictRecord) -> bool {
    let left = record.worth.after.map(Points::for_the_other_side);
    record.worth.said().is_some() && left.is_some_and(|left| left >= LOST_UNDER)
}

/// The lot of a hit: its offer, whatever query found it, as a pseudo-random number. Each seed counts the
/// same numbers from another place, as far from those of the seeds before as can be, so that it begins
/// with other offers. Of offers that fail those have the lower numbers that somebody made: they are known to
/// tempt.
pub(super) fn lot(hit: &JudgedHit, class: Class, seed: u64) -> u64 {
    /// The golden section of all numbers: its multiples are spread evenly.
    const APART: u64 = 0x9E37_79B9_7F4A_7C15;
    let mut hash = Sha256::new();
    // A game is the same under any name of its file, and at any place in it.
    let (game, ply) = (hit.game.id.to_string(), hit.offer.ply.to_string());
    for text in [&game, &ply, &hit.offer.san] {
        hash.update(text);
        hash.update([0]);
    }
    let mut first = [0; 8];
    first.copy_from_slice(&hash.finalize()[..8]);
    let begins = seed.wrapping_sub(1).wrapping_mul(APART);
    let is_late = !class.is_sound && !hit.is_played();
    (u64::from_be_bytes(first).wrapping_sub(begins) >> 1) | (u64::from(is_late) << 63)
}

impl Candidate {
    /// Reads the position and the offer of a hit.
    pub(super) fn of(hit: &JudgedHit, class: Class, lot: u64) -> Result<Candidate, CellTrouble> {
        let before = hit.position()?;
        let offer = hit.offer_in(&before)?;
        Ok(Candidate { hit: Arc::new(hit.clone()), before, offer, class, lot })
    }

    /// Who offers.
    #[must_use]
    pub fn attacker(&self) -> Color {
        self.before.turn()
    }
}
