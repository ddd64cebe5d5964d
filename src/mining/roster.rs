//! All the lenses of a run, and which of them a move is an offer for.
//!
//! Most of what they ask is the same: many take the same moves, want a check or none, a piece given up, a queen
//! that hangs. So each question is put once for a move and answered for all the lenses that ask it.

use shakmaty::{Chess, Color, Move, Position, Role, Square};

use super::holding::holds;
use super::lens_sets::{
    LensSets, insert, is_empty, keep, meet, members, no_lenses, retain, strike,
};
use super::matcher::{GameStep, comes_off, is_meant};
use crate::board::{Men, View, destination};
use crate::query::{
    Act, Check, Condition, Lens, LensId, MOVE_KINDS, MoveSentence, Pattern, move_kind, move_kinds,
};

/// The lenses of some patterns, numbered in their order.
#[derive(Debug)]
pub(super) struct Roster<'p> {
    members: Vec<Member<'p>>,
    /// All of them.
    everyone: Vec<u64>,
    /// For each kind of move, the lenses whose offer it may be.
    by_move: LensSets,
    /// For each attacker and square of the defender's king, the lenses of that attacker for which it may stand there.
    by_king: LensSets,
    /// The lenses of which more can be seen in the movetext than the move and the king.
    tell_more: Vec<u64>,
    /// Those that want a check, of whatever kind.
    want_check: Vec<u64>,
    /// Those that want none.
    want_no_check: Vec<u64>,
    /// For each man that may be given up and what it costs, the lenses that want that or name no price.
    paid: LensSets,
    /// Those that want something given up.
    want_price: Vec<u64>,
    /// The conditions, each once for an attacker, with a view in which it is told.
    conditions: Vec<(&'p Condition, View)>,
}

/// A lens with what it asks.
#[derive(Debug)]
pub(super) struct Member<'p> {
    pub(super) id: LensId,
    pub(super) lens: &'p Lens,
    /// What must hold before the offer and after it, by the numbers of the conditions.
    when: Vec<usize>,
    after: Vec<usize>,
}

/// The most that one man can cost, in pawns: a queen that is taken by a pawn which becomes another.
const MOST_COST: i32 = 9 + 8;

impl<'p> Roster<'p> {
    pub(super) fn of(patterns: &'p [Pattern]) -> Roster<'p> {
        let count = patterns.iter().map(|pattern| pattern.lenses.len()).sum();
        let none = || no_lenses(count);
        let mut roster = Roster {
            members: Vec::with_capacity(count),
            everyone: none(),
            by_move: LensSets::new(MOVE_KINDS, count),
            by_king: LensSets::new(2 * 64, count),
            tell_more: none(),
            want_check: none(),
            want_no_check: none(),
            paid: LensSets::new(6 * (MOST_COST as usize + 1), count),
            want_price: none(),
            conditions: Vec::new(),
        };
        for (query, pattern) in patterns.iter().enumerate() {
            for (lens, seen) in pattern.lenses.iter().enumerate() {
                roster.add(LensId { query, lens }, seen);
            }
        }
        roster
    }

    fn add(&mut self, id: LensId, lens: &'p Lens) {
        let (number, attacker) = (self.members.len(), lens.view.attacker);
        insert(&mut self.everyone, number);
        move_kinds(&lens.offer, attacker)
            .for_each(|kind| insert(self.by_move.row_mut(kind), number));
        for king in lens.king_squares {
            insert(self.by_king.row_mut(king_row(attacker, king)), number);
        }
        if tells_more(lens) {
            insert(&mut self.tell_more, number);
        }
        match lens.offer.check {
            Some(Check::Without | Check::Stalemate) => insert(&mut self.want_no_check, number),
            Some(_) => insert(&mut self.want_check, number),
            None => {}
        }
        self.add_price(number, &lens.offer);
        let mut numbers = |conditions: &'p [Condition]| {
            conditions.iter().map(|asked| self.number(asked, lens.view)).collect()
        };
        let (when, after) = (numbers(&lens.when), numbers(&lens.after));
        self.members.push(Member { id, lens, when, after });
    }

    fn add_price(&mut self, number: usize, offer: &MoveSentence) {
        let wanted = offer.giving_up.filter(|range| range.least > 0);
        let men = offer.offering.filter(|_| wanted.is_some()).unwrap_or(Men::ANY);
        if wanted.is_some() {
            insert(&mut self.want_price, number);
        }
        for man in men.roles() {
            for cost in 0..=MOST_COST {
                if wanted.is_none_or(|range| range.contains(cost)) {
                    insert(self.paid.row_mut(price_row(man, cost)), number);
                }
            }
        }
    }

    /// The number of a condition. The wing has no part in it, since its squares are those of the board.
    fn number(&mut self, asked: &'p Condition, view: View) -> usize {
        let is_same =
            |(known, seen): &(&Condition, View)| *known == asked && seen.attacker == view.attacker;
        self.conditions.iter().position(is_same).unwrap_or_else(|| {
            self.conditions.push((asked, view));
            self.conditions.len() - 1
        })
    }

    /// How many lenses there are.
    pub(super) fn len(&self) -> usize {
        self.members.len()
    }

    #[inline]
    pub(super) fn member(&self, number: usize) -> &Member<'p> {
        &self.members[number]
    }

    /// The lenses whose offer a move of this kind may be.
    #[inline]
    pub(super) fn meaning(&self, mover: Color, is_capture: bool, role: Role, to: Square) -> &[u64] {
        self.by_move.row(move_kind(mover, is_capture, role, to))
    }

    /// The lenses of an attacker for which the defender's king may stand on a square.
    #[inline]
    pub(super) fn with_king(&self, attacker: Color, king: Square) -> &[u64] {
        self.by_king.row(king_row(attacker, king))
    }

    /// The lenses of which more can be seen in the movetext than the move and the king.
    pub(super) fn tell_more(&self) -> &[u64] {
        &self.tell_more
    }

    /// An inquiry for the lenses of this roster.
    pub(super) fn inquiry(&self) -> Inquiry {
        let nothing = Answers { now: 0, told: vec![(0, false); self.conditions.len()] };
        Inquiry { before: nothing.clone(), after: nothing, lenses: no_lenses(self.len()) }
    }

    /// Asks all lenses that may mean a move by its kind.
    pub(super) fn ask_all(&self, step: &GameStep<'_>, inquiry: &mut Inquiry) {
        let (mover, m) = (step.before.turn(), step.m);
        inquiry.ask(self.meaning(mover, m.is_capture(), m.role(), destination(m)));
    }

    /// Leaves those of the lenses of which a move is an offer, as far as that is told when it is played.
    pub(super) fn find_offers(&self, step: &GameStep<'_>, inquiry: &mut Inquiry) {
        self.strike_other_prices(step, inquiry);
        if !inquiry.is_over() {
            inquiry.turn();
            self.strike_unready(step.before, step.m, inquiry);
            self.strike_unfit(step, inquiry);
        }
    }

    /// Strikes the lenses that want another check or price than a move has.
    pub(super) fn strike_other_prices(&self, step: &GameStep<'_>, inquiry: &mut Inquiry) {
        let lenses = &mut inquiry.lenses;
        let is_check = step.after.is_check();
        strike(lenses, if is_check { &self.want_no_check } else { &self.want_check });
        if !meet(lenses, &self.want_price) {
            return;
        }
        if step.may_give_up(1, Men::ANY) {
            keep(lenses, self.paid.row(price_row(step.offered().man, step.offered().cost)));
        } else {
            strike(lenses, &self.want_price);
        }
    }

    /// Strikes the lenses that do not mean a move, or whose conditions do not hold before it.
    pub(super) fn strike_unready(&self, pos: &Chess, m: Move, inquiry: &mut Inquiry) {
        let Inquiry { before, lenses, .. } = inquiry;
        retain(lenses, &self.everyone, |number| {
            let Member { lens, when, .. } = &self.members[number];
            is_meant(&lens.offer, lens.view, pos, m) && self.all_hold(when, pos, before)
        });
    }

    /// Strikes the lenses of which a move that is ready does not come off, or leaves another position than they want.
    pub(super) fn strike_unfit(&self, step: &GameStep<'_>, inquiry: &mut Inquiry) {
        let Inquiry { after, lenses, .. } = inquiry;
        after.turn();
        retain(lenses, &self.everyone, |number| {
            let Member { lens, after: conditions, .. } = &self.members[number];
            comes_off(&lens.offer, step) && self.all_hold(conditions, step.after, after)
        });
    }

    fn all_hold(&self, conditions: &[usize], pos: &Chess, told: &mut Answers) -> bool {
        conditions.iter().all(|&number| {
            let (asked, view) = self.conditions[number];
            told.once(number, || holds(asked, view, pos))
        })
    }
}

/// Which lenses are left for a move, and what is told of the positions around it. It serves for one move after
/// the other.
#[derive(Debug)]
pub(super) struct Inquiry {
    before: Answers,
    after: Answers,
    lenses: Vec<u64>,
}

impl Inquiry {
    /// Turns to another position before a move.
    pub(super) fn turn(&mut self) {
        self.before.turn();
    }

    /// Asks some lenses.
    pub(super) fn ask(&mut self, lenses: &[u64]) {
        self.lenses.copy_from_slice(lenses);
    }

    /// Leaves only those of the lenses that are among these too.
    pub(super) fn keep(&mut self, lenses: &[u64]) {
        keep(&mut self.lenses, lenses);
    }

    /// Whether no lens is left.
    pub(super) fn is_over(&self) -> bool {
        is_empty(&self.lenses)
    }

    /// The lenses that are left, by their numbers, in the order of the patterns.
    pub(super) fn left(&self) -> impl Iterator<Item = usize> {
        members(&self.lenses)
    }
}

/// Which conditions hold in a position, as far as that was asked.
#[derive(Clone, Debug)]
struct Answers {
    /// The number of the position.
    now: u32,
    /// For each condition in which position it was told last, and what.
    told: Vec<(u32, bool)>,
}

impl Answers {
    /// Turns to another position, of which nothing is told.
    fn turn(&mut self) {
        self.now = self.now.wrapping_add(1);
        if self.now == 0 {
            self.told.fill((0, false));
            self.now = 1;
        }
    }

    /// What is told of a condition, or else is found out now.
    fn once(&mut self, condition: usize, find_out: impl FnOnce() -> bool) -> bool {
        let told = &mut self.told[condition];
        if told.0 != self.now {
            *told = (self.now, find_out());
        }
        told.1
    }
}

fn price_row(man: Role, cost: i32) -> usize {
    6 * cost.min(MOST_COST) as usize + man as usize - 1
}

fn king_row(attacker: Color, king: Square) -> usize {
    64 * attacker as usize + usize::from(king)
}

/// Whether the movetext may tell more of a lens's offer than that a move is of its kind, and where the king stands.
fn tells_more(lens: &Lens) -> bool {
    let takes_some = matches!(lens.offer.aim, Some((Act::Takes(men), _)) if men != Men::ANY);
    let moves_with_king = lens.offer.aim.is_some_and(|(_, squares)| squares.move_with_king());
    takes_some || moves_with_king || !lens.stand.is_empty()
}
