//! A move as it stands in the movetext, and what its text tells at a glance: which man goes where.

use shakmaty::{Color, File, Rank, Role, Square};

/// A move of the main line as it stands in the movetext.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct MoveToken {
    /// Where it starts, in bytes of the movetext.
    pub start: u32,
    /// Its length in bytes, without a suffix such as `!?`.
    pub length: u16,
}

/// Which man goes where, as far as a move's text says it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct MoveKind {
    /// The man that moves.
    pub role: Role,
    /// Whether it captures.
    pub is_capture: bool,
    /// The square it goes to; for castling, the king's.
    pub to: Square,
}

impl MoveToken {
    /// The text of the move.
    #[must_use]
    pub fn text<'a>(&self, movetext: &'a [u8]) -> &'a [u8] {
        &movetext[self.start as usize..][..usize::from(self.length)]
    }
}

impl MoveKind {
    /// Tells the kind of a move from its text and the colour of its mover. `None` if it is not SAN.
    #[must_use]
    #[inline]
    pub fn of(san: &[u8], mover: Color) -> Option<MoveKind> {
        let role = ROLES[usize::from(*san.first()?)]?;
        if role == Role::King && matches!(san[0], b'O' | b'0') {
            if !san.starts_with(b"O-O") && !san.starts_with(b"0-0") {
                return None;
            }
            let file = if is_castling_long(san) { File::C } else { File::G };
            let to = Square::from_coords(file, mover.fold_wb(Rank::First, Rank::Eighth));
            return Some(MoveKind { role, is_capture: false, to });
        }
        // After the square stand only a promotion and marks, which hold no digit.
        let rank_at = san.iter().rposition(u8::is_ascii_digit)?;
        let [.., file, rank] = &san[..=rank_at] else { return None };
        let (file, rank) = (file.wrapping_sub(b'a'), rank.wrapping_sub(b'1'));
        if file > 7 || rank > 7 {
            return None;
        }
        let to = Square::new(u32::from(8 * rank + file));
        let is_capture = rank_at >= 2 && san[rank_at - 2] == b'x';
        Some(MoveKind { role, is_capture, to })
    }
}

/// The man that a move's first byte stands for.
const ROLES: [Option<Role>; 256] = {
    let mut roles = [None; 256];
    let mut file = b'a';
    while file <= b'h' {
        roles[file as usize] = Some(Role::Pawn);
        file += 1;
    }
    roles[b'N' as usize] = Some(Role::Knight);
    roles[b'B' as usize] = Some(Role::Bishop);
    roles[b'R' as usize] = Some(Role::Rook);
    roles[b'Q' as usize] = Some(Role::Queen);
    roles[b'K' as usize] = Some(Role::King);
    roles[b'O' as usize] = Some(Role::King);
    roles[b'0' as usize] = Some(Role::King);
    roles
};

fn is_castling_long(san: &[u8]) -> bool {
    san.starts_with(b"O-O-O") || san.starts_with(b"0-0-0")
}
