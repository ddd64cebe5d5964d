//! Queries over games: gates, replay, matching, hits, and the ordered pipeline that runs them.
//!
//! Invariant: only the pipeline knows threads; a block is mined by itself and gives the same report
//! whoever mines it.

mod base;
mod block;
mod candidate;
mod duplicates;
mod evaluation;
mod gates;
mod hit;
mod matcher;
mod overlooked;
mod pace;
mod pipeline;
mod rehearsal;
mod replay;
mod selection;
mod trail;

pub use base::{BaseCount, BaseKind, BaseRates};
pub use block::{BlockReport, MinedGame, Miner, Scrutiny};
pub use duplicates::{MovesHash, SeenGames};
pub use evaluation::Evaluation;
pub use gates::Gates;
pub use hit::{Course, GameInfo, Hit, OfferRecord, Overlooked, Played};
pub use matcher::{Watch, fits, holds};
pub use pipeline::{Plan, Progress, Sink, SourceFailure, Stopped, run};
pub use rehearsal::{Miss, offer_in, rehearse};
pub use replay::Replay;
pub use selection::Selection;
