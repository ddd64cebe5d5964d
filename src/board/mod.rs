//! Chess that the move generator lacks: the attacker's view, exchange values, what an offer leaves to be
//! taken, the ledger, facts of a position, lines, and playing written moves fast.
//!
//! Invariant: nothing here knows files, threads or queries; every function looks at a position and
//! answers.

mod exchange;
mod facts;
mod fen;
mod kind;
mod ledger;
mod letters;
mod line;
mod men;
mod offer;
mod touched;
mod view;
mod written;

pub use exchange::{best_capture, exchange, gain, pawns};
pub use facts::{
    attacked, bearing, en_prise, guarding, passed_pawns, passing_square, pinned, pushes, reaching,
    screens, sees_through, without,
};
pub use fen::{FenFault, Mended, read_position, read_setup, read_start};
pub use kind::{MaterialCourse, SacrificeKind, settled_after};
pub use ledger::{Ledger, balance};
pub use letters::PieceLetters;
pub use line::{PrintedMove, Replay, line_in_print, line_in_san, played, played_out};
pub use men::{Men, word_of};
pub use offer::{
    Offered, accepting, at_risk, cost, exposed, hanging, is_lost_anyway, may_cost_more_than,
    uncovered,
};
pub use view::{View, Wing, captures_on, destination};
pub use written::{
    MoveFault, fitting, has_safe_king, legal_move, move_fault, play_san, read_move, read_san,
    written,
};
