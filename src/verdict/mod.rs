//! What an offer is worth against best play, and no more than was proved.
//!
//! Three searches, each with its own kind of evidence, and a judge that asks them in turn:
//!
//! ```text
//! offer ──> forced mate? ──> endless checks? ──> material after best play ──> settled? ──> verdict
//!            (Prover)          (perpetual)              (Weigher)            (Unrest)     (Judge)
//! ```
//!
//! The first two prove what they say; the third counts, and only where the fight is over.
//!
//! Effort is counted in nodes (positions looked at), never in seconds, so that a verdict is the same on
//! every machine.
//!
//! Invariant: nothing here knows files, threads, clocks or chance.

// How much a search may still do.
mod budget;
// Positions as numbers, for the tables.
mod key;
// A table of fixed size.
mod table;
// Which moves may give check, seen without playing them.
mod checks;
// What the mate search remembers.
mod proof_table;
// What the mate search is asked, and of which position.
mod question;
// The end of a mate.
mod last_moves;
// The mate search: a mate within N moves, yes or no.
mod proof;
// Shortest mates, their key moves and lines.
mod mate;
// A proof played out against every defence.
mod replay;
// Checks and the positions they lead to.
mod web;
// Perpetual check.
mod perpetual;
// Values of the material search.
mod value;
// The order in which the material search tries moves.
mod order;
// What the material search works on.
mod weighed;
// The captures at its end.
mod quiescence;
// One material search.
mod material_search;
// Material after best play.
mod material;
// Whether an attack is still on.
mod attack;
// Whether the fight is over.
mod settled;
// What is said about an offer.
mod judgement;
// Which kind of sacrifice it is.
mod forced;
// The three searches put together.
mod judge;
// What a count of material proves.
mod counting;
// Draws by force.
mod drawing;
// What could have been played instead.
mod better;
// How much an offer promises at a glance.
mod promise;
// Judgements in the words of tables.
mod rows;

pub use budget::Budget;
pub use judge::{Effort, Judge, LEAST_DEPTH, LONGEST_MATE};
pub use judgement::{Better, Judgement, Outcome};
pub use mate::{Distance, Mate, Prover};
pub use material::{Weigher, Weighing};
pub use perpetual::{Checks, Perpetual, perpetual};
pub use promise::Scout;
pub use question::{MateAnswer, Width};
pub use value::WeighedScore;
