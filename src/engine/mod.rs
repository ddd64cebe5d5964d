//! Other programs' judgement: a client for any program that speaks UCI.
//!
//! ```text
//! items ──> Team ─> Engine ──> Process ──> the program
//!                 (dialogue)   (pipes)          │
//!           answers in order <── Evaluation <───┘
//! ```
//!
//! Effort is counted in positions searched, never in seconds. The clock only serves to notice a
//! program that hangs.
//!
//! Source: the UCI protocol, an open standard.
//!
//! Invariant: whatever a program does costs only the positions that it was asked about; none outlives
//! its [`Engine`].

// What a position is worth.
mod score;
// What that is in points.
mod points;
// Options, set and offered.
mod options;
// What a program says.
mod protocol;
// What it is asked.
mod question;
// What it is told.
mod command;
// What can go wrong with it.
mod fault;
// What it makes of a position.
mod evaluation;
// Which program, and how long it may take.
mod program;
// Processes and all they started.
pub(crate) mod group;
// A running program and its pipes.
mod process;
// The dialogue with it.
mod dialogue;
// An offer before and after.
mod offer;
// Several at work.
mod team;

pub use command::EngineCommand;
pub use dialogue::Engine;
pub use evaluation::EngineEvaluation;
pub use fault::EngineFault;
pub use offer::{Evaluated, OfferMade};
pub use options::{BadOption, EngineOption, OfferedOption, OptionKind};
pub use points::{Chances, Points};
pub use process::{LONGEST_LINE, MOST_OUTPUT};
pub use program::{Patience, Program};
pub use protocol::{Answer, Info, Said, read};
pub use question::Question;
pub use score::{Bound, Score};
pub use team::Team;
