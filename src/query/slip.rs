//! Sentences that say something, but hardly what was meant.

use shakmaty::{Bitboard, Rank, Role};

use super::condition::{Amount, Fact, Kinds, MenFact, Relation};
use super::file::Query;
use super::sentence::Act;
use super::terms::Side;
use crate::board::Men;

/// An offer that is told as Black's would stand on the board, and so as one at the attacker's own end of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Slip {
    /// The sentence as written.
    pub written: String,
    /// The sentence in the attacker's view.
    pub meant: String,
}

impl Query {
    /// The slip in the offer, if there is one: it captures on squares of the attacker's own first three
    /// ranks, and no fact of a king shows that these are meant. What a king captures there, and what is told
    /// by whole ranks, such as a pawn about to queen, is meant.
    #[must_use]
    pub fn slip(&self) -> Option<Slip> {
        let (act, squares) = self.offer.aim?;
        let is_by_letter = squares.files().next().is_some() && !squares.move_with_king();
        let is_slip = matches!(act, Act::Takes(_))
            && self.offer.men != Men::of(Role::King)
            && is_by_letter
            && squares.named().is_subset(own_end())
            && !self.says_which_way_it_plays();
        is_slip.then(|| Slip {
            written: self.offer_text.clone(),
            meant: seen_from_the_other_end(&self.offer_text),
        })
    }

    /// Whether a fact places a king at its own end of the board.
    fn says_which_way_it_plays(&self) -> bool {
        let factors = self.factors.iter().map(|factor| &factor.condition);
        let conditions = self.when.iter().chain(&self.after).chain(factors);
        conditions.flat_map(|condition| condition.facts()).any(is_king_at_home)
    }
}

/// The first three ranks in the attacker's view.
fn own_end() -> Bitboard {
    Bitboard::from(Rank::First) | Rank::Second | Rank::Third
}

fn is_king_at_home(fact: &Fact) -> bool {
    let Fact::Men(MenFact { amount: Amount::AtLeast(_), side, kinds, relation, squares, .. }) =
        fact
    else {
        return false;
    };
    let home = match side {
        Side::Attacker => own_end(),
        Side::Defender => own_end().flip_vertical(),
    };
    *relation == Relation::On
        && *kinds == Kinds::of(Men::of(Role::King))
        && !squares.named().is_empty()
        && squares.named().is_subset(home)
}

/// A sentence with its ranks counted from the other side.
fn seen_from_the_other_end(sentence: &str) -> String {
    const ORDINALS: [&str; 8] = ["1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th"];
    let word = |word: &str| match (word.as_bytes(), ORDINALS.iter().position(|it| *it == word)) {
        (_, Some(rank)) => ORDINALS[7 - rank].to_owned(),
        ([file @ b'a'..=b'h', rank @ b'1'..=b'8'], None) => {
            format!("{}{}", char::from(*file), char::from(b'1' + b'8' - rank))
        }
        _ => word.to_owned(),
    };
    sentence.split_whitespace().map(word).collect::<Vec<_>>().join(" ")
}
