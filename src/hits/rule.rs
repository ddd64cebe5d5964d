//! When an offer is called sound: the one rule, and its thresholds.

use super::verdict::{Sound, Verdict};
use crate::engine::Points;

/// An offer that throws away this much or more against the best that could be had is not sound.
pub const LOSS: Points = Points::of(10);
/// An offer that throws away less is sound if so much is left, and holds if not.
pub const SOUND_FROM: Points = Points::of(60);
/// A position in which less could be had is lost anyway.
pub const LOST_UNDER: Points = Points::of(25);

/// By how much an engine that searches for longer often differs.
const LITTLE: Points = Points::of(3);

/// The least that a count must gain on the position before the offer to be believed, in pawns.
const LEAST_GAIN: i32 = 1;
/// The least that the attacker must be up where such a count ends. Winning a pawn while a rook down is not
/// sound.
const LEAST_LEAD: i32 = 2;

/// What expected points say: of the best that could be had, and of the offer.
pub(super) fn of_points(before: Points, after: Points) -> Sound {
    if before < LOST_UNDER {
        Sound::LastTry
    } else if before.over(after) >= LOSS {
        Sound::No
    } else if after >= SOUND_FROM {
        Sound::Yes
    } else {
        Sound::Holds
    }
}

/// Whether the verdict would be another if each of these were a few points more or less.
#[must_use]
pub fn hangs_on_little(before: Points, after: Points) -> bool {
    let around = |points: Points| [points.over(LITTLE), points.and(LITTLE)];
    let mut verdicts = around(before).into_iter().flat_map(|before| {
        around(after).into_iter().map(move |after| of_points(before.max(after), after))
    });
    let said = of_points(before, after);
    verdicts.any(|other| other != said)
}

/// What a count of material says by itself, if the attacker had this balance before the offer.
///
/// Material is not worth: only counts are believed that an engine with 300,000 positions for each answer
/// signs in nine cases of ten. The help (`verdicts`) has the figures.
pub(super) fn of_count(verdict: Verdict, balance_before: i32) -> Sound {
    match verdict {
        Verdict::Gains(gain) if gain >= LEAST_GAIN && balance_before + gain >= LEAST_LEAD => {
            Sound::Yes
        }
        _ => Sound::Open,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rule_is_as_the_help_states_it() {
        for (before, after, sound) in [
            (100, 100, Sound::Yes),
            (69, 60, Sound::Yes),
            (70, 60, Sound::No),
            (69, 59, Sound::No),
            (68, 59, Sound::Holds),
            (50, 50, Sound::Holds),
            (25, 16, Sound::Holds),
            (25, 15, Sound::No),
            (24, 24, Sound::LastTry),
            (24, 0, Sound::LastTry),
        ] {
            let found = of_points(Points::of(before), Points::of(after));
            assert_eq!(found, sound, "{before} {after}");
        }
    }

    #[test]
    fn verdict_hangs_on_little_near_a_threshold_only() {
        for (before, after, hangs) in [
            (100, 100, false),
            // Near the least that is sound, or the most that may be thrown away.
            (62, 62, true),
            (58, 58, true),
            (64, 64, false),
            (80, 72, true),
            (80, 70, true),
            (80, 63, false),
            // Near the least that is not lost anyway.
            (27, 27, true),
            (23, 23, true),
            (21, 0, false),
        ] {
            let found = hangs_on_little(Points::of(before), Points::of(after));
            assert_eq!(found, hangs, "{before} {after}");
        }
    }

    #[test]
    fn count_speaks_only_for_material_that_is_up_in_the_end() {
        assert_eq!(of_count(Verdict::Gains(2), 0), Sound::Yes);
        assert_eq!(of_count(Verdict::Gains(1), 1), Sound::Yes);
        for (verdict, before) in [
            (Verdict::Gains(1), -5),
            (Verdict::Gains(1), 0),
            (Verdict::Level, 0),
            (Verdict::Down(3), 9),
            (Verdict::Open, 0),
        ] {
            assert_eq!(of_count(verdict, before), Sound::Open, "{verdict} {before}");
        }
    }
}
