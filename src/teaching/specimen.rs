//! A game in which the offer was made, with all that a lesson says about it.

use std::cmp::Reverse;

use shakmaty::{Color, Square};

use super::proved::best_play;
use super::steps::{Step, Steps};
use crate::board::SacrificeKind;
use crate::collection::Rating;
use crate::hits::{CellTrouble, Evidence, JudgedHit, Sound};

/// A sacrifice that was made, from a game with a result.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Specimen {
    /// The hit.
    pub hit: JudgedHit,
    /// The position before the offer, and the moves from it on.
    pub steps: Steps,
    /// The best reply and best play after it, if the offer was verified.
    pub best_play: Vec<Step>,
    /// What it is chosen by.
    pub traits: Traits,
}

/// What an offer has in common with others.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Traits {
    /// Whether the attacker won.
    pub is_won: bool,
    /// Whether the result is what the offer deserved.
    pub bearing: Bearing,
    /// Whether White offers.
    pub is_white: bool,
    /// Whether it was accepted, if it was answered.
    pub is_accepted: Option<bool>,
    /// Its kind, as the game went.
    pub kind: Option<SacrificeKind>,
    /// The answer, and where the king goes if it took; in the attacker's view.
    pub branch: String,
    /// The rating band.
    pub level: Option<Rating>,
}

/// What the result of a game agrees with.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Bearing {
    /// The verdict on the offer: it is sound and was won, holds and was drawn, or is not sound and was
    /// not won.
    Verdict,
    /// No verdict, but the course of the game: a win in which the attacker gives mate, has the material back or, after
    /// a real sacrifice, never needs it; or a failure in which it is not made good.
    Moves,
    /// Neither, or there are too few moves to learn from.
    Nothing,
}

/// Of two offers with the same traits the lesser rank is shown first: it teaches more; the weaker player is rated
/// higher; the game ends sooner.
pub(super) type ModelRank = (usize, Reverse<Rating>, u64);

/// The plies below which a line shows next to nothing.
const ENOUGH: usize = 5;
/// The plies of a line in a table of hits.
const SHOWN: usize = 20;

impl Traits {
    /// The traits of a hit; nothing if it is no sacrifice that was made, or its game has no result.
    pub(super) fn of(hit: &JudgedHit) -> Option<Traits> {
        let half_points = hit.half_points().filter(|_| hit.is_played() && hit.is_sacrifice())?;
        Some(Traits { bearing: bearing(hit, half_points), ..Traits::of_any(hit) })
    }

    /// The traits of a hit, whatever its result has to do with it.
    fn of_any(hit: &JudgedHit) -> Traits {
        Traits {
            is_won: hit.half_points() == Some(2),
            bearing: Bearing::Nothing,
            is_white: hit.view.attacker == Color::White,
            is_accepted: hit.is_accepted(),
            kind: hit.offer.kind,
            branch: branch(hit),
            level: hit.band(),
        }
    }
}

/// The rank of a hit among those with the same traits.
pub(super) fn rank(hit: &JudgedHit) -> ModelRank {
    (clouded(hit), Reverse(hit.game.weaker_rating()), hit.moves_left())
}

/// How much clouds what a game is to teach: the less, the better. The weights are our choice, set by reading the games
/// they choose.
pub(super) fn clouded(hit: &JudgedHit) -> usize {
    let answer = match hit.is_accepted() {
        Some(true) => 0,
        Some(false) | None => 4,
    };
    let evidence = match hit.verdict.as_ref().and_then(|verdict| verdict.worth.evidence) {
        Some(Evidence::Proved) => 0,
        Some(Evidence::Judged | Evidence::FromGame) => 1,
        Some(Evidence::Counted) => 2,
        None => 3,
    };
    let point = match (hit.gives_mate(), hit.king_goes.is_some()) {
        _ if !is_made_good(hit) => 2,
        (true, _) => 0,
        (false, true) => 1,
        (false, false) => 2,
    };
    let length = match hit.moves_left() {
        0..=8 => 0,
        9..=15 => 1,
        16..=25 => 2,
        _ => 3,
    };
    answer + evidence + point + length
}

/// How little a hit teaches by itself: the less, the more. What clouds it counts as in a choice of model games; whatever
/// its result does not agree with comes after the others, and what is no sacrifice that was made last of all.
#[must_use]
pub fn how_little_it_teaches(hit: &JudgedHit) -> u8 {
    const NOT_WON: usize = 4;
    const WITHOUT_BEARING: usize = 30;
    const NO_SACRIFICE: usize = 100;
    let Some(traits) = Traits::of(hit) else { return NO_SACRIFICE as u8 };
    let bearing = match traits.bearing {
        Bearing::Verdict => 0,
        Bearing::Moves => 1,
        Bearing::Nothing => WITHOUT_BEARING,
    };
    let failure = if traits.is_won { 0 } else { NOT_WON };
    u8::try_from(clouded(hit) + bearing + failure).unwrap_or(u8::MAX)
}

fn bearing(hit: &JudgedHit, half_points: u8) -> Bearing {
    let sound = hit.verdict.as_ref().map_or(Sound::Open, |verdict| verdict.sound());
    let by_verdict = match sound {
        Sound::Yes => Some(half_points == 2),
        Sound::Holds => Some(half_points == 1),
        Sound::No => Some(half_points < 2),
        Sound::LastTry | Sound::Open => None,
    };
    let is_long_enough = hit.offer.line.split_ascii_whitespace().count() >= ENOUGH;
    match by_verdict {
        _ if !is_long_enough => Bearing::Nothing,
        Some(true) => Bearing::Verdict,
        None if (half_points == 2) == (is_made_good(hit) || is_real_and_won(hit)) => Bearing::Moves,
        Some(false) | None => Bearing::Nothing,
    }
}

/// Whether the attacker gives mate or has their material back within the moves that are shown.
fn is_made_good(hit: &JudgedHit) -> bool {
    let end = hit.offer.ply + SHOWN;
    hit.gives_mate() && hit.game.plies < end || recovered(hit).is_some_and(|ply| ply < end)
}

/// Whether the attacker won without the material, which no count shows.
fn is_real_and_won(hit: &JudgedHit) -> bool {
    hit.offer.kind == Some(SacrificeKind::Real) && hit.half_points() == Some(2)
}

fn recovered(hit: &JudgedHit) -> Option<usize> {
    hit.offer.played().and_then(|played| played.ledger.recovered)
}

fn branch(hit: &JudgedHit) -> String {
    let reply = hit.offer.played().and_then(|played| played.reply.as_deref()).unwrap_or_default();
    let reply = hit.view.turn_san(reply.trim_end_matches(['+', '#']));
    let king_goes = hit.king_goes.map_or_else(String::new, |square| square.to_string());
    format!("{reply} {king_goes}").trim().to_owned()
}

impl Specimen {
    /// Plays out the moves of a hit, whatever it gives up and however its game ended.
    ///
    /// # Errors
    ///
    /// If its moves, or those of best play, can't be made.
    pub fn of_any(hit: &JudgedHit) -> Result<Specimen, CellTrouble> {
        Specimen::of(hit, Traits::of_any(hit))
    }

    /// Plays out the moves of a hit with these traits.
    pub(super) fn of(hit: &JudgedHit, traits: Traits) -> Result<Specimen, CellTrouble> {
        let steps = Steps::of(&hit.offer.fen, &hit.offer.line).map_err(JudgedHit::line_trouble)?;
        Ok(Specimen { best_play: best_play(hit)?, hit: hit.clone(), steps, traits })
    }

    /// The ply at which the deficit was made good.
    #[must_use]
    pub fn recovered(&self) -> Option<usize> {
        recovered(&self.hit)
    }

    /// Where the king went that took; on the board, not in the attacker's view.
    #[must_use]
    pub fn king_goes(&self) -> Option<Square> {
        self.hit.king_goes.map(|square| self.hit.view.turn(square))
    }

    /// Whether the deficit is made good within the moves that are shown.
    #[must_use]
    pub fn is_recovered_soon(&self) -> bool {
        self.recovered().is_some_and(|ply| ply < self.hit.offer.ply + SHOWN)
    }

    /// The men in the attacker's view, as in a FEN: the same for two positions that differ only in
    /// colour or wing.
    #[must_use]
    pub fn likeness(&self) -> String {
        self.hit.view.turn_board(self.steps.start.board.clone()).board_fen().to_string()
    }
}
