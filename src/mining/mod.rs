//! Queries over games: gates, replay, matching, hits, and the ordered pipeline that runs them.
//!
//! Invariant: only the pipeline and its readers know threads; a block is mined alone and gives the same report
//! whoever mines it.

mod base;
mod block;
mod block_size;
mod candidate;
mod cutting;
mod doubt;
mod duplicates;
mod evaluation;
mod expected_score;
mod game_id;
mod game_info;
mod gates;
mod hit;
mod holding;
mod lens_sets;
mod matcher;
mod offer_record;
mod overlooked;
mod patient;
mod pipeline;
mod plan;
mod prospects;
mod read_ahead;
mod rehearsal;
mod report;
mod roster;
mod selection;
mod sequel;
mod shortfall;
mod source_reader;
mod stages;
mod trail;
mod watch;
mod waypoint;

pub use base::{BaseCount, BaseKind, BaseRates};
pub use block::{Miner, Scrutiny};
pub use doubt::Doubt;
pub use duplicates::{Identity, Remembered, SeenBefore, SeenGames};
pub use evaluation::Evaluation;
pub use expected_score::expected_score;
pub use game_id::{GameId, MovesHash, NotAHash, NotAnId};
pub use game_info::{GameInfo, GameText, MOST_OF_VALUE};
pub use hit::Hit;
pub use holding::holds;
pub use matcher::fits;
pub use offer_record::{OfferCourse, OfferRecord, Overlooked, Played};
pub use pipeline::{MinedBlock, RunError, Sink, Stopped, run};
pub use plan::{Plan, SourceFailure};
pub use rehearsal::{Miss, offer_in, rehearse};
pub use report::{BlockReport, MinedGame};
pub use selection::Selection;
pub use sequel::shows_required;
pub use stages::{Stage, Times};
pub use watch::Watch;
pub use waypoint::{Landmark, Progress, Waypoint};
