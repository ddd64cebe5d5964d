//! Positions and moves from text.

use shakmaty::fen::Fen;
use shakmaty::san::San;
use shakmaty::{CastlingMode, Chess, Color, Move, Piece, Position, Role, Setup, Square};

/// The position of a FEN.
pub(crate) fn position(fen: &str) -> Chess {
    let fen: Fen = fen.parse().unwrap();
    fen.into_position(CastlingMode::Standard).unwrap()
}

/// The move of a SAN.
pub(crate) fn written(pos: &Chess, san: &str) -> Move {
    let san: San = san.trim_end_matches(['+', '#']).parse().unwrap();
    san.to_move(pos).unwrap_or_else(|error| panic!("{san}: {error}"))
}

/// The position after some moves.
pub(crate) fn after(pos: &Chess, line: &str) -> Chess {
    let mut pos = pos.clone();
    for san in line.split_whitespace() {
        let m = written(&pos, san);
        pos.play_unchecked(m);
    }
    pos
}

/// Moves as SAN without check marks; each must be legal.
pub(crate) fn line_of(pos: &Chess, line: &[Move]) -> String {
    let mut pos = pos.clone();
    let mut words = Vec::new();
    for &m in line {
        assert!(pos.is_legal(m), "illegal move in a line: {m} after {words:?}");
        words.push(San::from_move(&pos, m).to_string());
        pos.play_unchecked(m);
    }
    words.join(" ")
}

/// Numbers that look random and are the same every time (SplitMix64; Steele, Lea and Flood, "Fast
/// splittable pseudorandom number generators", OOPSLA 2014).
pub(crate) struct Chance(u64);

impl Chance {
    pub(crate) fn new(seed: u64) -> Chance {
        Chance(seed)
    }

    /// A number below `limit`.
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % limit as u64).unwrap()
    }
}

/// A position some random moves from the start, with a limited number of men.
pub(crate) fn random_position(chance: &mut Chance, most_men: usize) -> Chess {
    loop {
        let mut pos = Chess::default();
        while !pos.is_game_over() {
            if pos.board().occupied().count() <= most_men {
                return pos;
            }
            let moves = pos.legal_moves();
            let captures = pos.capture_moves();
            let choice = if captures.is_empty() { &moves } else { &captures };
            pos.play_unchecked(choice[chance.below(choice.len())]);
        }
    }
}

/// A legal position with strong attackers to move and few defenders, thrown on the board at random.
pub(crate) fn random_attack(chance: &mut Chance) -> Chess {
    use Color::{Black, White};
    use Role::{Bishop, King, Knight, Pawn, Queen, Rook};
    let attackers = [King, Queen, Rook, Knight].map(|role| Piece { color: White, role });
    let defenders = [King, Rook, Bishop, Pawn].map(|role| Piece { color: Black, role });
    loop {
        let mut setup = Setup::empty();
        for piece in attackers.into_iter().chain(defenders) {
            let square = u32::try_from(chance.below(64)).unwrap();
            setup.board.set_piece_at(Square::new(square), piece);
        }
        if let Ok(pos) = setup.position(CastlingMode::Standard) {
            return pos;
        }
    }
}
