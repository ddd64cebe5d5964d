//! A position in the attacker's view, and how men stand in it.

use cozy_chess::{Board, Piece, Square};

use super::view::Camp::{self, Attacker, Defender};
use super::view::Turn;

/// The position just before the offer in the attacker's view: who stands where.
pub(super) struct Scene {
    men: [[Option<(Camp, Piece)>; 8]; 8],
}

/// A step of one square: files to the right, ranks up.
type Way = (i8, i8);

const STRAIGHT: [Way; 4] = [(1, 0), (-1, 0), (0, 1), (0, -1)];
const SLANTING: [Way; 4] = [(1, 1), (1, -1), (-1, 1), (-1, -1)];
const ALL_WAYS: [Way; 8] = [(1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1)];
const JUMPS: [Way; 8] = [(1, 2), (2, 1), (2, -1), (1, -2), (-1, -2), (-2, -1), (-2, 1), (-1, 2)];

impl Scene {
    pub(super) fn new(board: &Board, turn: Turn) -> Self {
        let mut scene = Self { men: [[None; 8]; 8] };
        for square in board.occupied() {
            let seen = turn.view(square);
            let camp = board.color_on(square).map(|color| turn.camp(color));
            scene.men[seen.file() as usize][seen.rank() as usize] =
                camp.zip(board.piece_on(square));
        }
        scene
    }

    fn at(&self, square: Square) -> Option<(Camp, Piece)> {
        self.men[square.file() as usize][square.rank() as usize]
    }

    /// Whether such a man stands on one of the squares.
    pub(super) fn on(&self, camp: Camp, piece: Piece, squares: &[Square]) -> bool {
        squares.iter().any(|&square| self.at(square) == Some((camp, piece)))
    }

    /// Whether the man on `from` attacks `target`: pins aside, and whatever stands there.
    pub(super) fn attacks(&self, from: Square, target: Square) -> bool {
        match self.at(from) {
            None => false,
            Some((Attacker, Piece::Pawn)) => touches(from, target, &[(1, 1), (-1, 1)]),
            Some((Defender, Piece::Pawn)) => touches(from, target, &[(1, -1), (-1, -1)]),
            Some((_, Piece::Knight)) => touches(from, target, &JUMPS),
            Some((_, Piece::King)) => touches(from, target, &ALL_WAYS),
            Some((_, Piece::Bishop)) => self.sees(from, target, &SLANTING),
            Some((_, Piece::Rook)) => self.sees(from, target, &STRAIGHT),
            Some((_, Piece::Queen)) => self.sees(from, target, &ALL_WAYS),
        }
    }

    /// Whether a line runs from `from` to `target` with nothing between.
    fn sees(&self, from: Square, target: Square, ways: &[Way]) -> bool {
        ways.iter().any(|&(files, ranks)| {
            let mut here = from.try_offset(files, ranks);
            while let Some(square) = here {
                if square == target {
                    return true;
                }
                if self.at(square).is_some() {
                    return false;
                }
                here = square.try_offset(files, ranks);
            }
            false
        })
    }

    /// How many men of these kinds attack the square.
    pub(super) fn guards(&self, camp: Camp, kinds: &[Piece], target: Square) -> usize {
        Square::ALL
            .into_iter()
            .filter(|&from| {
                self.at(from).is_some_and(|(whose, piece)| whose == camp && kinds.contains(&piece))
                    && self.attacks(from, target)
            })
            .count()
    }

    /// How many men attack the square, also from behind own men that move along the same line.
    pub(super) fn bears(&self, camp: Camp, target: Square) -> usize {
        let along = |(files, ranks): Way| {
            let mover = if files == 0 || ranks == 0 { Piece::Rook } else { Piece::Bishop };
            let mut count = 0;
            let mut here = target.try_offset(files, ranks);
            while let Some(square) = here {
                match self.at(square) {
                    None => {}
                    Some((whose, piece))
                        if whose == camp && (piece == mover || piece == Piece::Queen) =>
                    {
                        count += 1;
                    }
                    Some(_) => break,
                }
                here = square.try_offset(files, ranks);
            }
            count
        };
        let steppers = self.guards(camp, &[Piece::Pawn, Piece::Knight, Piece::King], target);
        steppers + ALL_WAYS.into_iter().map(along).sum::<usize>()
    }

    /// Whether a piece (no pawn) of this kind can go to one of the squares, checks and pins aside.
    pub(super) fn reaches(&self, camp: Camp, piece: Piece, targets: &[Square]) -> bool {
        targets.iter().any(|&target| {
            let own = self.at(target).is_some_and(|(whose, _)| whose == camp);
            !own && self.guards(camp, &[piece], target) > 0
        })
    }
}

fn touches(from: Square, target: Square, ways: &[Way]) -> bool {
    ways.iter().any(|&(files, ranks)| from.try_offset(files, ranks) == Some(target))
}

/// What "guards" and "reaches" mean: own men are guarded but not reached, men in between shut a line,
/// pawns guard slantwise and towards the other camp, and a pinned man guards all the same.
#[test]
fn guarding_and_reaching_differ() {
    use cozy_chess::Color;

    let fen = "4r1k1/6p1/5p2/7P/8/5N2/4B1P1/3QK3 w - - 0 1";
    let board = Board::from_fen(fen, false).unwrap_or_else(|error| panic!("{fen}: {error}"));
    let white = Scene::new(&board, Turn { attacker: Color::White, mirrored: false });
    assert!(!white.reaches(Attacker, Piece::Queen, &[Square::H5]));
    assert_eq!(white.guards(Attacker, &[Piece::Queen], Square::E2), 1);
    assert!(!white.reaches(Attacker, Piece::Queen, &[Square::E2]));
    assert_eq!(white.guards(Attacker, &Piece::ALL, Square::G5), 1);
    assert_eq!(white.guards(Defender, &Piece::ALL, Square::G5), 1);
    assert_eq!(white.guards(Attacker, &Piece::ALL, Square::G6), 1);
    assert_eq!(white.guards(Attacker, &[Piece::Bishop], Square::D3), 1);
    let black = Scene::new(&board, Turn { attacker: Color::Black, mirrored: true });
    // The same men: f6 is now c3, g5 is b4 and e8 is d1.
    assert!(black.on(Attacker, Piece::Pawn, &[Square::C3]));
    assert_eq!(black.guards(Attacker, &[Piece::Pawn], Square::B4), 1);
    assert_eq!(black.guards(Attacker, &[Piece::Rook], Square::D7), 1);
    assert_eq!(black.guards(Attacker, &[Piece::Rook], Square::D8), 0);
}
