//! What the verdicts promise.

// Positions and moves from text, and random ones.
pub(crate) mod boards;
// Offers are judged as they deserve.
mod judging;
// Forced mates have the published distances and key moves.
mod mates;
// Perpetual checks are found, and near misses are not.
mod perpetuals;
// The plain material search is plain minimax, only faster; the quick one is deeper.
mod weighing;
