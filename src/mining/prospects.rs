//! What the movetext tells of the moves after an offer: whether those that a query requires can still come.
//!
//! Most motifs without squares are known by what comes after them: the rook that goes to and fro, the king
//! that is driven out, stalemate. Men, squares and captures of those moves stand in the movetext.
//!
//! Invariant: what can't come by the movetext does not come on the board.

use shakmaty::Color;

use super::watch::window_end;
use crate::collection::MoveKind;
use crate::query::{
    Check, Lens, LensId, MOVE_KINDS, MoveSentence, Pattern, Requirement, Window, move_kind,
    move_kinds,
};

/// What the lenses of a run require of the moves after an offer.
#[derive(Debug)]
pub(super) struct Expectations {
    /// For each pattern and lens, what must come: of each list of rows one, and of a row every move.
    of_lenses: Vec<Vec<Vec<Rows>>>,
    /// For each kind of move, the numbers of the awaited moves that it may be.
    numbers: Vec<Vec<usize>>,
    /// The same of a move after which the game is over.
    last_numbers: Vec<Vec<usize>>,
    /// The moves that are awaited, each once for an attacker, whatever their windows.
    awaited: Vec<(MoveSentence, Color)>,
}

type Rows = Vec<Vec<Awaited>>;

/// A follow-up that must come.
#[derive(Clone, Copy, Debug)]
struct Awaited {
    /// Its number among all that are awaited.
    number: usize,
    /// How many plies after the offer it is at most.
    latest: usize,
}

impl Expectations {
    pub(super) fn of(patterns: &[Pattern]) -> Expectations {
        let mut all = Expectations {
            of_lenses: Vec::new(),
            numbers: vec![Vec::new(); MOVE_KINDS],
            last_numbers: vec![Vec::new(); MOVE_KINDS],
            awaited: Vec::new(),
        };
        for pattern in patterns {
            let of_lens = |lens: &Lens| all.required(pattern, lens);
            let of_lenses = pattern.lenses.iter().map(of_lens).collect();
            all.of_lenses.push(of_lenses);
        }
        all
    }

    /// Whether a lens requires something to come.
    pub(super) fn demand(&self, id: LensId) -> bool {
        !self.of_lenses[id.query][id.lens].is_empty()
    }

    /// What a lens of a pattern requires to come.
    fn required(&mut self, pattern: &Pattern, lens: &Lens) -> Vec<Rows> {
        let rows = pattern.query.requires.iter().filter_map(|(_, required)| match required {
            Requirement::Comes(rows) => Some(rows),
            Requirement::StaysAway(_) => None,
        });
        let mut awaited = |&follow_up: &usize| self.awaited(&lens.follow_ups[follow_up], lens);
        let mut row = |row: &Vec<usize>| row.iter().map(&mut awaited).collect();
        rows.map(|rows| rows.iter().map(&mut row).collect()).collect()
    }

    fn awaited(&mut self, follow_up: &MoveSentence, lens: &Lens) -> Awaited {
        let attacker = lens.view.attacker;
        let one = (MoveSentence { window: Window::Anytime, ..follow_up.clone() }, attacker);
        let number = self.awaited.iter().position(|known| *known == one).unwrap_or_else(|| {
            let number = self.awaited.len();
            let ends_game = matches!(follow_up.check, Some(Check::Mate | Check::Stalemate));
            let numbers = if ends_game { &mut self.last_numbers } else { &mut self.numbers };
            move_kinds(follow_up, attacker).for_each(|kind| numbers[kind].push(number));
            self.awaited.push(one);
            number
        });
        Awaited { number, latest: window_end(follow_up, 0).saturating_sub(1) }
    }
}

/// What is still to come in a game, which is walked through from its end.
pub(super) struct Prospects<'g> {
    expectations: &'g Expectations,
    /// Where each awaited move may come next, if it may.
    next: Vec<Option<usize>>,
}

impl<'g> Prospects<'g> {
    /// At the end of a game.
    pub(super) fn new(expectations: &'g Expectations) -> Prospects<'g> {
        Prospects { expectations, next: vec![None; expectations.awaited.len()] }
    }

    /// Walks past the move at an index, of which the text tells the kind or not.
    pub(super) fn pass(
        &mut self,
        index: usize,
        kind: Option<MoveKind>,
        mover: Color,
        is_last: bool,
    ) {
        let Some(MoveKind { role, is_capture, to }) = kind else {
            self.next.fill(Some(index));
            return;
        };
        let Expectations { numbers, last_numbers, .. } = self.expectations;
        let kind = move_kind(mover, is_capture, role, to);
        let last: &[usize] = if is_last { &last_numbers[kind] } else { &[] };
        for &number in numbers[kind].iter().chain(last) {
            self.next[number] = Some(index);
        }
    }

    /// Whether all that a lens requires may come after the move at an index. Never wrongly no.
    pub(super) fn allow(&self, id: LensId, index: usize) -> bool {
        let may_come =
            |one: &Awaited| self.next[one.number].is_some_and(|next| next - index <= one.latest);
        self.expectations.of_lenses[id.query][id.lens]
            .iter()
            .all(|rows| rows.iter().any(|row| row.iter().all(may_come)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::query::Query;

    /// The indices of the moves after which all may come that a query requires, White attacking.
    fn hopeful(follow_up: &str, moves: &str) -> Vec<usize> {
        let source = format!(
            "title = \"t\"\nchapter = \"any\"\noffer = \"any man to any square\"\n\
             requires = [\"it\"]\n[follow-ups]\nit = \"{follow_up}\"\n"
        );
        let patterns = [Pattern::new(Query::read("q", "q.toml", &source).expect("a query"))];
        let expectations = Expectations::of(&patterns);
        let mut prospects = Prospects::new(&expectations);
        let moves: Vec<&str> = moves.split(' ').collect();
        let mut hopeful = Vec::new();
        for (index, san) in moves.iter().enumerate().rev() {
            let mover = if index % 2 == 0 { Color::White } else { Color::Black };
            if mover == Color::White && prospects.allow(LensId { query: 0, lens: 0 }, index) {
                hopeful.insert(0, index);
            }
            let kind = MoveKind::of(san.as_bytes(), mover);
            prospects.pass(index, kind, mover, index + 1 == moves.len());
        }
        hopeful
    }

    #[test]
    fn only_moves_in_whose_window_a_required_move_is_written_are_hopeful() {
        let moves = "e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 dxc6 O-O Bd6";
        assert_eq!(hopeful("bishop takes on any square within 1 moves", moves), [4]);
        assert_eq!(hopeful("bishop takes on any square within 2 moves", moves), [2, 4]);
        assert_eq!(hopeful("bishop takes on any square", moves), [0, 2, 4]);
        assert_eq!(hopeful("bishop moves to c6", moves), [0; 0]);
        assert_eq!(hopeful("king to g1 within 1 moves", moves), [6]);
        assert_eq!(hopeful("defender pawn takes on c6 at once", moves), [6]);
        assert_eq!(hopeful("defender pawn takes on c6 within 2 moves", moves), [4, 6]);
        assert_eq!(hopeful("defender bishop takes on any square", moves), [0; 0]);
    }

    #[test]
    fn mate_can_only_be_the_last_move_and_what_is_no_move_may_be_any() {
        let moves = "f3 e5 g4 Qh4";
        assert_eq!(hopeful("defender any man with mate within 1 moves", moves), [2]);
        assert_eq!(hopeful("any man with mate", moves), [0; 0]);
        assert_eq!(hopeful("knight takes on h8 within 1 moves", "f3 e5 ?? Qh4"), [0]);
    }
}
