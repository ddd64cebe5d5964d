//! A query made ready to run: its sentences turned to each colour and wing, and moved to each file.

use shakmaty::{Bitboard, Color, Role};

use super::condition::{Amount, Condition, Fact, Kinds, MenFact, Moment, Relation};
use super::file::Query;
use super::sentence::{MoveSentence, Wings};
use super::shift::Shift;
use super::terms::Side;
use crate::board::{Men, View, Wing};

/// A query ready to run.
#[derive(Clone, Debug)]
pub struct Pattern {
    /// What it was made from.
    pub query: Query,
    /// The query as seen from each side of the board it is looked for on, White's first, the wing as
    /// written first, in each the files as written first.
    pub lenses: Vec<Lens>,
}

/// A query turned to one colour, wing and file: all its squares are squares of the board.
#[derive(Clone, Debug)]
pub struct Lens {
    /// The colour and wing.
    pub view: View,
    /// What the letters of the query stand for, if not for the files as written.
    pub shift: Option<Shift>,
    /// The offer.
    pub offer: MoveSentence,
    /// What must hold just before it, the quickest to check first.
    pub when: Vec<Condition>,
    /// What must hold just after it, the quickest to check first.
    pub after: Vec<Condition>,
    /// The squares on one of which the defender's king must stand just before it, as far as `when`
    /// says so at a glance.
    pub king_squares: Bitboard,
    /// Men of which one must stand on one of the squares just before it, by `when`.
    pub stand: Vec<(Color, Men, Bitboard)>,
    /// The follow-ups, in the query's order.
    pub follow_ups: Vec<MoveSentence>,
    /// The factors, in the query's order.
    pub factors: Vec<Condition>,
    /// Which positions the factors are about.
    pub moments: Vec<Moment>,
}

impl Pattern {
    /// Turns a query to both colours and to the wings and files it asks for.
    #[must_use]
    pub fn new(query: Query) -> Pattern {
        let wings: &[Wing] = match query.wings {
            Wings::AsWritten => &[Wing::Written],
            Wings::Both => &[Wing::Written, Wing::Mirrored],
        };
        let shifts = query.shifts();
        let lenses = Color::ALL
            .into_iter()
            .flat_map(|attacker| wings.iter().map(move |&wing| View { attacker, wing }))
            .flat_map(|view| shifts.iter().map(move |&by| (view, by)))
            .map(|(view, by)| Lens::new(&query, view, by))
            .collect();
        Pattern { query, lenses }
    }
}

impl Lens {
    fn new(query: &Query, view: View, by: i8) -> Lens {
        let of_move = |sentence: &MoveSentence| sentence.shifted(by).turned(view);
        let of_condition = |condition: &Condition| condition.shifted(by).turned(view);
        let turned = |conditions: &[Condition]| {
            let mut turned: Vec<Condition> = conditions.iter().map(of_condition).collect();
            turned.sort_by_key(effort);
            turned
        };
        let when = turned(&query.when);
        Lens {
            view,
            shift: query.shift(by, view.wing),
            offer: of_move(&query.offer),
            king_squares: king_squares(&when),
            stand: when.iter().flat_map(|condition| stand(condition, view)).collect(),
            when,
            after: turned(&query.after),
            follow_ups: query
                .follow_ups
                .iter()
                .map(|follow_up| of_move(&follow_up.sentence))
                .collect(),
            factors: query.factors.iter().map(|factor| of_condition(&factor.condition)).collect(),
            moments: query.factors.iter().map(|factor| factor.moment).collect(),
        }
    }
}

/// How long it takes to check a condition, as a rank.
fn effort(condition: &Condition) -> u8 {
    condition.facts().map(effort_of).max().unwrap_or(0)
}

fn effort_of(fact: &Fact) -> u8 {
    let Fact::Men(fact) = fact else { return 1 };
    match fact.relation {
        _ if fact.past != Men::NONE => 4,
        Relation::On => 0,
        Relation::PinnedOn => 1,
        Relation::Guards | Relation::BearsOn => 2,
        Relation::Reaches => 3,
        Relation::EnPriseOn => 4,
    }
}

/// Where the defender's king may stand if all these conditions hold.
fn king_squares(when: &[Condition]) -> Bitboard {
    let of_facts = |facts: &Vec<Fact>| {
        facts.iter().fold(Bitboard::FULL, |all, fact| all & king_squares_of(fact))
    };
    let of_condition = |condition: &Condition| {
        condition.alternatives.iter().fold(Bitboard::EMPTY, |all, facts| all | of_facts(facts))
    };
    when.iter().fold(Bitboard::FULL, |all, condition| all & of_condition(condition))
}

/// Where the defender's king may stand if a fact holds.
fn king_squares_of(fact: &Fact) -> Bitboard {
    match fact {
        Fact::Men(fact) if fact.side == Side::Defender && stands(fact) => {
            let is_king = fact.kinds == Kinds::of(Men::of(Role::King));
            if is_king { fact.squares.named() } else { Bitboard::FULL }
        }
        _ => Bitboard::FULL,
    }
}

/// Whether a fact says that some man stands on a square that it names.
fn stands(fact: &MenFact) -> bool {
    fact.relation.is_standing()
        && matches!(fact.amount, Amount::AtLeast(1..))
        && !fact.squares.move_with_king()
}

/// The men of which one must stand on one of the squares if a condition holds, as far as it says so at a
/// glance.
fn stand(condition: &Condition, view: View) -> Vec<(Color, Men, Bitboard)> {
    let [facts] = &condition.alternatives[..] else { return Vec::new() };
    let stand = |fact: &Fact| match fact {
        Fact::Men(fact) if stands(fact) => {
            Some((fact.side.color(view.attacker), fact.kinds.widest(), fact.squares.named()))
        }
        _ => None,
    };
    facts.iter().filter_map(stand).collect()
}
