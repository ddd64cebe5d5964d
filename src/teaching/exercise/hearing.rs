//! A position before an engine: what it says is asked once.

use std::collections::HashMap;

use shakmaty::{Chess, Color, Move, Position, Role};

use super::moves::{is_material, is_to_mate};
use super::upshot::Upshot;
use crate::board::played;
use crate::engine::{EngineEvaluation, Points};
use crate::hits::{LOSS, Verdict};
use crate::verdict::{Budget, LONGEST_MATE, Prover};

/// Positions that our own search may look at to prove a mate that an engine announces.
const MATE_NODES: u64 = 40_000;
/// The longest line that is shown, in plies.
const LONGEST_LINE: usize = 10;
/// A line goes on for this many plies, whatever stands on the board.
const LEAST_LINE: usize = 4;

/// What is worth less than this, in points, is worth the same.
const NOTHING_MUCH: Points = Points::of(2);

/// How long a position is looked at.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Look {
    /// As long as the engine is given for each answer.
    Plain,
    /// Longer: at the lines that are printed.
    Closer,
    /// Much longer: at what the whole exercise hangs on.
    Closest,
}

impl Look {
    /// How many times as many positions are searched.
    #[must_use]
    pub const fn times(self) -> u32 {
        match self {
            Look::Plain => 1,
            Look::Closer => 2,
            Look::Closest => 8,
        }
    }
}

/// Whoever answers about a candidate, and what was answered. `ask` tells what a position is worth to its side to
/// move if some first moves may not be played; nothing if no other is left.
pub(super) struct Hearing<A> {
    ask: A,
    known: HashMap<(Chess, Vec<Move>), (Look, Option<EngineEvaluation>)>,
    look: Look,
    prover: Prover,
    /// How many positions were looked at for it.
    pub(super) nodes: u64,
}

/// Who attacks, and who is right in a line.
#[derive(Clone, Copy)]
pub(super) struct Parties {
    pub(super) attacker: Color,
    pub(super) right: Color,
}

/// A line that an engine expects, as far as it holds, and what it comes to for the attacker.
pub(super) struct ExpectedLine {
    pub(super) moves: Vec<Move>,
    pub(super) comes_to: Upshot,
}

impl ExpectedLine {
    /// Whether it shows something: that side moves twice in it, or mates.
    pub(super) fn shows(&self, start: &Chess, right: Color) -> bool {
        let least = if start.turn() == right { 3 } else { 4 };
        self.comes_to.is_mate() || self.moves.len() >= least
    }
}

impl<F, A> Hearing<A>
where
    A: FnMut(&Chess, &[Move], Look) -> Result<Option<EngineEvaluation>, F>,
{
    pub(super) fn new(ask: A) -> Hearing<A> {
        const ENTRIES: usize = 1 << 12;
        let (known, prover) = (HashMap::new(), Prover::with_entries(ENTRIES));
        Hearing { ask, known, look: Look::Plain, prover, nodes: 0 }
    }

    /// From now on every position is looked at for so long, whatever was said of it at a shorter look.
    pub(super) fn take(&mut self, look: Look) {
        self.look = look;
    }

    /// What is said of the best move of a position, some moves excepted; nothing if no other is left.
    pub(super) fn best(
        &mut self,
        pos: &Chess,
        without: &[Move],
    ) -> Result<Option<EngineEvaluation>, F> {
        let key = (pos.clone(), without.to_vec());
        if let Some((look, known)) = self.known.get(&key)
            && *look >= self.look
        {
            return Ok(known.clone());
        }
        let said = match EngineEvaluation::of_the_end(pos) {
            Some(end) => Some(end),
            None => (self.ask)(pos, without, self.look)?,
        };
        self.nodes += said.as_ref().and_then(|said| said.nodes).unwrap_or(0);
        self.known.insert(key, (self.look, said.clone()));
        Ok(said)
    }

    /// What a position is worth to the side that has just moved there.
    pub(super) fn worth(&mut self, after: &Chess) -> Result<Points, F> {
        let said = self.best(after, &[])?;
        Ok(said.map_or(Points::HALF, |said| said.points.for_the_other_side()))
    }

    /// What is expected after a move, the move included, to show that one side is right: up to a move of that side after
    /// which nothing is being exchanged, and only as far as nobody throws anything away. Every move is the best that is
    /// found in its own position.
    pub(super) fn expected(
        &mut self,
        start: &Chess,
        m: Move,
        parties: Parties,
    ) -> Result<ExpectedLine, F> {
        if let Some(mate) = self.mate(start, m, parties.attacker)? {
            return Ok(mate);
        }
        let own = self.worth(&played(start, m))?;
        let of_attacker = |pos: &Chess, points: Points| {
            if pos.turn() == parties.attacker { points } else { points.for_the_other_side() }
        };
        let first = of_attacker(start, own);
        let (mut pos, mut moves) = (played(start, m), vec![m]);
        let mut passed = vec![start.clone(), pos.clone()];
        while let Some(next) = self.onward(&pos, &passed)? {
            let is_still = pos.turn() != parties.right && !pos.is_check() && !is_material(next);
            if moves.len() == LONGEST_LINE || (moves.len() >= LEAST_LINE && is_still) {
                break;
            }
            let next = self.queened(&pos, next)?;
            let after = played(&pos, next);
            let worth = of_attacker(&pos, self.worth(&after)?);
            if first.over(worth).max(worth.over(first)) >= LOSS {
                break;
            }
            moves.push(next);
            passed.push(after.clone());
            pos = after;
        }
        // What the other side does last shows nothing.
        if pos.turn() == parties.right && moves.len() > 1 {
            moves.pop();
        }
        Ok(ExpectedLine { moves, comes_to: Upshot::Judged(first) })
    }

    /// The best move of a position that goes back to none of these, if there is one: a line that goes round in circles
    /// shows nothing.
    fn onward(&mut self, pos: &Chess, passed: &[Chess]) -> Result<Option<Move>, F> {
        let best = self.best(pos, &[])?.and_then(|said| said.best);
        let goes_back = |m: &Move| passed.contains(&played(pos, *m));
        if !best.as_ref().is_some_and(goes_back) {
            return Ok(best);
        }
        let back: Vec<Move> = pos.legal_moves().into_iter().filter(goes_back).collect();
        Ok(self.best(pos, &back)?.and_then(|said| said.best))
    }

    /// How many moves of a line keep for one side what that side has after the first, and lose no more for the other
    /// than it must; and what that is. Nothing of a line that mates, which is proved.
    pub(super) fn how_much_holds(
        &mut self,
        start: &Chess,
        line: &[Move],
        comes_to: Upshot,
        right: Color,
    ) -> Result<Option<(usize, Points)>, F> {
        if comes_to.is_mate() {
            return Ok(None);
        }
        let mut pos = start.clone();
        let mut first: Option<Points> = None;
        for (index, &m) in line.iter().enumerate() {
            let is_right = pos.turn() == right;
            pos.play_unchecked(m);
            let worth = self.worth(&pos)?;
            let worth = if is_right { worth } else { worth.for_the_other_side() };
            let has_changed = first.is_some_and(|first| {
                let (more, less) = if is_right { (first, worth) } else { (worth, first) };
                more.over(less) >= LOSS
            });
            if let Some(first) = first.filter(|_| has_changed) {
                return Ok(Some((index, first)));
            }
            // What is lost in small steps is lost all the same.
            first = first.or(Some(worth));
        }
        Ok(first.map(|first| (line.len(), first)))
    }

    /// A promotion to a queen in place of one to a rook or bishop that is worth no more: nobody should have to wonder why.
    fn queened(&mut self, pos: &Chess, m: Move) -> Result<Move, F> {
        let Move::Normal { role, from, capture, to, promotion: Some(Role::Rook | Role::Bishop) } =
            m
        else {
            return Ok(m);
        };
        let queen = Move::Normal { role, from, capture, to, promotion: Some(Role::Queen) };
        let (own, other) = (self.worth(&played(pos, queen))?, self.worth(&played(pos, m))?);
        Ok(if other.over(own) < NOTHING_MUCH { queen } else { m })
    }

    /// The mate that a move allows, if the engine announces one and it is proved.
    fn mate(&mut self, start: &Chess, m: Move, attacker: Color) -> Result<Option<ExpectedLine>, F> {
        let after = played(start, m);
        if self.worth(&after)? > Points::NONE {
            return Ok(None);
        }
        let mut budget = Budget::of(MATE_NODES);
        let mate = self.prover.mate(&after, LONGEST_MATE, &mut budget);
        self.nodes += budget.used();
        let Some(mate) = mate else { return Ok(None) };
        let moves = [&[m], &mate.line[..]].concat();
        let is_attackers = after.turn() == attacker;
        let of = if is_attackers { Verdict::Mates } else { Verdict::Mated };
        let comes_to = of(mate.moves).into();
        Ok(is_to_mate(start, &moves).then_some(ExpectedLine { moves, comes_to }))
    }
}

#[cfg(test)]
mod tests {
    use shakmaty::Square;

    use super::*;
    use crate::board::{Replay, legal_move, read_position};
    use crate::engine::{Bound, Score};

    /// To whom every position that goes on is lost for the side to move.
    #[expect(clippy::unnecessary_wraps, reason = "it answers as an engine does")]
    fn lost(_: &Chess, _: &[Move], _: Look) -> Result<Option<EngineEvaluation>, ()> {
        let (score, bound, points) = (Score::Mated(3), Bound::Exact, Points::NONE);
        let (best, line) = (None, Vec::new());
        Ok(Some(EngineEvaluation { score, bound, points, best, line, depth: None, nodes: None }))
    }

    // Positions are invented.

    /// To whom White has 70 points before the black king stands on c8, and 40 then.
    #[expect(clippy::unnecessary_wraps, reason = "it answers as an engine does")]
    fn wavering(pos: &Chess, _: &[Move], _: Look) -> Result<Option<EngineEvaluation>, ()> {
        let is_late = pos.board().king_of(Color::Black) == Some(Square::C8);
        let white = Points::of(if is_late { 40 } else { 70 });
        let points = if pos.turn().is_white() { white } else { white.for_the_other_side() };
        let (score, bound, best, line) = (Score::Centipawns(0), Bound::Exact, None, Vec::new());
        Ok(Some(EngineEvaluation { score, bound, points, best, line, depth: None, nodes: None }))
    }

    #[test]
    fn a_line_holds_up_to_the_move_that_throws_something_away() {
        let start = read_position("k7/8/8/8/8/8/8/K6R w - - 0 1").expect("the position is legal");
        let line = Replay::read(&start, "Rh7 Kb8 Rg7 Kc8 Rh7").expect("the moves are legal").moves;
        let held = |line: &[Move], right| {
            let judged = Upshot::Judged(Points::HALF);
            Hearing::new(wavering).how_much_holds(&start, line, judged, right)
        };
        // What Black gains by the fourth move is found out when White moves on.
        let (most, least) = (Points::of(70), Points::of(30));
        assert_eq!(held(&line[..3], Color::White), Ok(Some((3, most))));
        assert_eq!(held(&line, Color::White), Ok(Some((4, most))));
        assert_eq!(held(&line, Color::Black), Ok(Some((4, least))));
    }

    /// To whom both sides are equal, and who likes to go to two squares only.
    #[expect(clippy::unnecessary_wraps, reason = "it answers as an engine does")]
    fn circling(pos: &Chess, without: &[Move], _: Look) -> Result<Option<EngineEvaluation>, ()> {
        let mut moves = pos.legal_moves();
        moves.retain(|m| !without.contains(m));
        let is_its_way = |m: &Move| [Square::E8, Square::H5].contains(&m.to());
        let best = moves.into_iter().max_by_key(is_its_way);
        let (score, bound, points) = (Score::Centipawns(0), Bound::Exact, Points::HALF);
        let said = |m| EngineEvaluation {
            score,
            bound,
            points,
            best: Some(m),
            line: Vec::new(),
            depth: None,
            nodes: None,
        };
        Ok(best.map(said))
    }

    #[test]
    fn no_position_of_a_line_comes_again() {
        let start =
            read_position("6k1/6p1/8/7Q/8/8/8/K7 w - - 0 1").expect("the position is legal");
        let check = legal_move(&start, "Qe8+").expect("the move is legal");
        let parties = Parties { attacker: Color::White, right: Color::White };
        let line = Hearing::new(circling).expected(&start, check, parties);
        let replay = Replay::of(&start, &line.expect("it answers").moves);
        assert_eq!(replay.moves.len(), 3);
        for (index, pos) in replay.positions.iter().enumerate() {
            assert!(!replay.positions[..index].contains(pos), "{:?}", replay.moves);
        }
    }

    #[test]
    fn pawn_becomes_a_rook_only_where_a_queen_is_worth_less() {
        for (fen, shown) in
            [("8/2P5/8/8/8/k7/8/2K5 w - - 0 1", "c8=Q"), ("8/k1P5/2K5/8/8/8/8/8 w - - 0 1", "c8=R")]
        {
            let pos = read_position(fen).expect("the position is legal");
            let rook = legal_move(&pos, "c8=R").expect("the move is legal");
            let shown = legal_move(&pos, shown).expect("the move is legal");
            assert_eq!(Hearing::new(lost).queened(&pos, rook), Ok(shown), "{fen}");
        }
    }
}
