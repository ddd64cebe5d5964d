//! The kinds of sacrifice, as the trade tells them apart.
//!
//! Source of the words sham and real: R. Spielmann, *The Art of Sacrifice in Chess*, 1935: a sham sacrifice
//! brings mate or the material back by force within a time that can be foreseen, a real one does not.

use shakmaty::{Chess, Color, Move};

use super::{Offered, is_lost_anyway};

/// How many moves the attacker has after the acceptance to give mate or to make the material good, if the
/// offer is to count as sham.
const SHAM_MOVES: usize = 4;

/// What kind of sacrifice an offer is.
#[derive(Clone, Copy, PartialEq, Eq, Debug, PartialOrd, Ord, clap::ValueEnum)]
pub enum SacrificeKind {
    /// Nothing is given up.
    Free,
    /// What is given up was lost anyway.
    Desperado,
    /// It was accepted, and within four moves came mate, a win or the material back.
    Sham,
    /// It was accepted, and the attacker was still down after that.
    Real,
    /// It was not accepted.
    Declined,
}

impl SacrificeKind {
    /// Every kind.
    pub const ALL: [SacrificeKind; 5] = [
        SacrificeKind::Free,
        SacrificeKind::Desperado,
        SacrificeKind::Sham,
        SacrificeKind::Real,
        SacrificeKind::Declined,
    ];

    /// The word for it in tables and options.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            SacrificeKind::Free => "free",
            SacrificeKind::Desperado => "desperado",
            SacrificeKind::Sham => "sham",
            SacrificeKind::Real => "real",
            SacrificeKind::Declined => "declined",
        }
    }

    /// The kind that a word stands for.
    #[must_use]
    pub fn of_word(word: &str) -> Option<SacrificeKind> {
        SacrificeKind::ALL.into_iter().find(|kind| kind.word() == word)
    }

    /// What can be told as soon as the offer is made, whatever comes of it: free and desperado.
    #[must_use]
    pub fn at_once(pos: &Chess, offer: Move, offered: &Offered) -> Option<SacrificeKind> {
        if offered.cost == 0 {
            Some(SacrificeKind::Free)
        } else if is_lost_anyway(pos, offer, offered.cost) {
            Some(SacrificeKind::Desperado)
        } else {
            None
        }
    }

    /// What came of an offer that gives something up and was accepted.
    #[must_use]
    pub fn of_accepted(course: &MaterialCourse<'_>) -> SacrificeKind {
        if course.is_made_good(SHAM_MOVES) { SacrificeKind::Sham } else { SacrificeKind::Real }
    }

    /// The same if the game may go on after what is known of it; `None` if that ends too soon to tell.
    #[must_use]
    pub fn of_part(course: &MaterialCourse<'_>) -> Option<SacrificeKind> {
        let kind = SacrificeKind::of_accepted(course);
        let is_known = kind == SacrificeKind::Sham || course.lasts(SHAM_MOVES);
        is_known.then_some(kind)
    }
}

/// How a game went after an offer.
#[derive(Clone, Copy, Debug)]
pub struct MaterialCourse<'g> {
    /// White's material less Black's in each position of the game, in pawns.
    pub balances: &'g [i32],
    /// The index of the position in which the offer was made.
    pub offer: usize,
    /// Who made it.
    pub attacker: Color,
    /// Whether the attacker won the game, by mate or by its result.
    pub is_won: bool,
}

impl MaterialCourse<'_> {
    /// Whether the attacker made the material good or won within this many moves after the reply to the
    /// offer: in a position after an answer of the defender, or in the last one of the game.
    #[must_use]
    pub fn is_made_good(&self, moves: usize) -> bool {
        let (start, last) = (self.balances[self.offer], self.balances.len() - 1);
        let is_level = |index: usize| {
            let gained = self.balances[index] - start;
            self.attacker.fold_wb(gained, -gained) >= 0
        };
        let ends_by_then = last <= last_answer(self.offer, moves);
        settled_after(self.offer, last, moves).any(is_level) || (ends_by_then && self.is_won)
    }

    /// Whether this many moves after the reply to the offer are known, with their answers.
    fn lasts(&self, moves: usize) -> bool {
        self.balances.len() > last_answer(self.offer, moves)
    }
}

/// The index of the position after the defender's answer to the last of this many moves after the reply to
/// an offer.
fn last_answer(offer: usize, moves: usize) -> usize {
    offer + 2 + 2 * moves
}

/// The indices of the positions that tell whether material is made good within this many moves after the
/// reply to an offer: after each of the defender's answers to them, and the last one of the game if that
/// comes before.
pub fn settled_after(offer: usize, last: usize, moves: usize) -> impl Iterator<Item = usize> {
    let end = last_answer(offer, moves);
    (offer + 4..=last.min(end)).step_by(2).chain((last <= end).then_some(last))
}
