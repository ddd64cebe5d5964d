//! A position in the attacker's view, and how men stand in it.

use cozy_chess::{Board, File, Piece, Rank, Square};

use super::rules::worth;
use super::view::Camp::{self, Attacker, Defender};
use super::view::Turn;

/// A position in the attacker's view: who stands where.
#[derive(Clone)]
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

    pub(super) fn at(&self, square: Square) -> Option<(Camp, Piece)> {
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

    /// Whether the man on `from` attacks `target`, also through own men that move along the same line.
    pub(super) fn bears_from(&self, from: Square, target: Square) -> bool {
        let Some((camp, piece)) = self.at(from) else { return false };
        let passes = |&(files, ranks): &Way| {
            let mover = if files == 0 || ranks == 0 { Piece::Rook } else { Piece::Bishop };
            let moves_so = |kind| kind == mover || kind == Piece::Queen;
            let mut here = from.try_offset(files, ranks).filter(|_| moves_so(piece));
            while let Some(square) = here.filter(|&square| square != target) {
                let is_open =
                    self.at(square).is_none_or(|(whose, kind)| whose == camp && moves_so(kind));
                here = square.try_offset(files, ranks).filter(|_| is_open);
            }
            here == Some(target)
        };
        self.attacks(from, target) || ALL_WAYS.iter().any(passes)
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

/// Words of the language beyond `on`, `guards`, `bears on` and `reaches`.
impl Scene {
    /// Where a camp's men of these kinds stand.
    pub(super) fn men(&self, camp: Camp, kinds: &[Piece]) -> Vec<Square> {
        let is_one = |(whose, piece)| whose == camp && kinds.contains(&piece);
        Square::ALL.into_iter().filter(|&square| self.at(square).is_some_and(is_one)).collect()
    }

    /// `past`: the scene without a camp's men of these kinds, the one on `but` aside.
    pub(super) fn past(&self, camp: Camp, kinds: &[Piece], but: Square) -> Self {
        let mut scene = self.clone();
        for square in self.men(camp, kinds).into_iter().filter(|&square| square != but) {
            scene.men[square.file() as usize][square.rank() as usize] = None;
        }
        scene
    }

    /// `passed pawn`: the pawns with no pawn of the other camp ahead on their file or the next.
    pub(super) fn passed_pawns(&self, camp: Camp) -> Vec<Square> {
        let others = self.men(camp.other(), &[Piece::Pawn]);
        let stops = |pawn: Square, other: &Square| {
            let ahead = match camp {
                Attacker => other.rank() > pawn.rank(),
                Defender => other.rank() < pawn.rank(),
            };
            ahead && (other.file() as usize).abs_diff(pawn.file() as usize) <= 1
        };
        let mut pawns = self.men(camp, &[Piece::Pawn]);
        pawns.retain(|&pawn| !others.iter().any(|other| stops(pawn, other)));
        pawns
    }

    /// `ahead by`: the attacker's material less the defender's.
    pub(super) fn lead(&self) -> i32 {
        let count = |camp| -> i32 {
            Piece::ALL.iter().map(|&kind| worth(kind) * self.men(camp, &[kind]).len() as i32).sum()
        };
        count(Attacker) - count(Defender)
    }

    /// `pinned on`: whether the man alone stands between its king and a man that would give check.
    pub(super) fn is_pinned(&self, square: Square) -> bool {
        let Some((camp, _)) = self.at(square) else { return false };
        let mut without = self.clone();
        without.men[square.file() as usize][square.rank() as usize] = None;
        let kings = self.men(camp, &[Piece::King]);
        let lines = [Piece::Bishop, Piece::Rook, Piece::Queen];
        kings.into_iter().any(|king| {
            self.men(camp.other(), &lines).into_iter().any(|line| {
                without.attacks(line, king) && !self.attacks(line, king) && king != square
            })
        })
    }

    /// Whether the man on the square moves along the line to the other.
    pub(super) fn moves_along(&self, square: Square, other: Square) -> bool {
        let is_straight = square.file() == other.file() || square.rank() == other.rank();
        let mover = if is_straight { Piece::Rook } else { Piece::Bishop };
        self.at(square).is_some_and(|(_, kind)| kind == mover || kind == Piece::Queen)
    }

    /// `in front of the king`: the defender's king has these squares before it.
    pub(super) fn before_the_king(&self) -> Vec<Square> {
        let kings = self.men(Defender, &[Piece::King]);
        let before = [(-1, -1), (0, -1), (1, -1)];
        kings
            .iter()
            .flat_map(|king| before.iter().filter_map(|&(file, rank)| king.try_offset(file, rank)))
            .collect()
    }

    /// `the king's file`
    pub(super) fn file_of_the_king(&self) -> Option<File> {
        self.men(Defender, &[Piece::King]).first().map(|king| king.file())
    }

    /// `the king's rank`
    pub(super) fn rank_of_the_king(&self) -> Option<Rank> {
        self.men(Defender, &[Piece::King]).first().map(|king| king.rank())
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
    let white = Scene::new(&board, Turn { attacker: Color::White, mirrored: false, by: 0 });
    assert!(!white.reaches(Attacker, Piece::Queen, &[Square::H5]));
    assert_eq!(white.guards(Attacker, &[Piece::Queen], Square::E2), 1);
    assert!(!white.reaches(Attacker, Piece::Queen, &[Square::E2]));
    assert_eq!(white.guards(Attacker, &Piece::ALL, Square::G5), 1);
    assert_eq!(white.guards(Defender, &Piece::ALL, Square::G5), 1);
    assert_eq!(white.guards(Attacker, &Piece::ALL, Square::G6), 1);
    assert_eq!(white.guards(Attacker, &[Piece::Bishop], Square::D3), 1);
    let black = Scene::new(&board, Turn { attacker: Color::Black, mirrored: true, by: 0 });
    // The same men: f6 is now c3, g5 is b4 and e8 is d1.
    assert!(black.on(Attacker, Piece::Pawn, &[Square::C3]));
    assert_eq!(black.guards(Attacker, &[Piece::Pawn], Square::B4), 1);
    assert_eq!(black.guards(Attacker, &[Piece::Rook], Square::D7), 1);
    assert_eq!(black.guards(Attacker, &[Piece::Rook], Square::D8), 0);
}
