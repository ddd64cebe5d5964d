//! What an engine makes of an offer, with a second look where little decides.

use crate::engine::{Engine, EngineFault, Evaluated, OfferMade};
use crate::hits::hangs_on_little;

/// How many times as many positions the second look has.
pub(super) const TIMES: u32 = 4;

/// Asks about an offer; and once more, with [`TIMES`] times as many positions, if a few points more or less would
/// make another verdict.
///
/// # Errors
///
/// If one of the positions could not be evaluated.
pub(super) fn looked_at(
    offer: &OfferMade,
    engine: &mut Engine<'_>,
) -> Result<Evaluated, EngineFault> {
    let said = offer.evaluate(engine)?;
    match hangs_on_little(said.points_before(), said.after.points) {
        true => offer.clone().searched_longer(TIMES).evaluate(engine),
        false => Ok(said),
    }
}
