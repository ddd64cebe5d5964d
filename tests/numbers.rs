//! Intervals, odds ratios, p-values and expected scores against published values.
//!
//! Where a digit is said to be computed, it was computed with scipy 1.17.1 or statsmodels.

// The table of expected scores.
mod expected;
// Intervals of a share, of a score, and of differences.
mod intervals;
// Odds ratios, pooled ones, and p-values of many tests.
mod odds;
// Scores compared within strata.
mod within;

use hecatomb::collection::band;
use hecatomb::mining::expected_score;
use hecatomb::statistics::Outcomes;
use proptest::prelude::*;

/// Fails unless `seen` is `published` to half a unit of its last digit, of which there are `digits`
/// after the point.
#[track_caller]
fn assert_prints(seen: f64, published: f64, digits: i32) {
    let tolerance = 0.500_001 * 10.0_f64.powi(-digits);
    assert!((seen - published).abs() <= tolerance, "{seen} is not {published}");
}

#[test]
fn expected_score_is_near_the_normal_distribution_it_is_made_from() {
    // FIDE handbook B02, 9.1: the table is derived from the normal distribution; sigma is 2000/7. It
    // differs from the rounded value at 54, 343, 344, 358, 392 and 620 only.
    use statrs::distribution::{ContinuousCDF, Normal};
    let normal = Normal::new(0.0, 2000.0 / 7.0).unwrap();
    let differing: Vec<u16> = (0..=735)
        .filter(|&difference| {
            let rounded = (100.0 * normal.cdf(f64::from(difference))).round();
            rounded != f64::from(expected_score(1500 + difference, 1500))
        })
        .collect();
    assert_eq!(differing, [54, 343, 344, 358, 392, 620]);
}

#[test]
fn bands_are_of_200_points_of_the_mean() {
    assert_eq!(band(Some(2000), Some(1800)), Some(1800));
    assert_eq!(band(Some(2000), Some(2000)), Some(2000));
    assert_eq!(band(Some(2399), Some(2400)), Some(2200));
    assert_eq!(band(None, Some(2000)), None);
}

fn outcomes(wins: u64, draws: u64, losses: u64) -> Outcomes {
    Outcomes { wins, draws, losses, open: 0 }
}

#[test]
fn score_interval_solves_its_equation() {
    // At each end the score seen is z standard errors away: (s - m)^2 = z^2 (m(1 - m) - d/4) / n.
    const Z: f64 = 1.959_963_984_540_054;
    for (wins, draws, losses) in [(40, 30, 30), (55, 25, 20), (3, 4, 3), (413, 373, 324)] {
        let outcomes = outcomes(wins, draws, losses);
        let (score, ends) = (outcomes.score().unwrap(), outcomes.interval().unwrap());
        let n = outcomes.decided() as f64;
        for mean in [ends.lower, ends.upper] {
            let variance = mean * (1.0 - mean) - draws as f64 / n / 4.0;
            let distance = (score - mean).powi(2) - Z.powi(2) * variance / n;
            assert!(distance.abs() < 1e-12, "{wins}/{draws}/{losses}: {distance}");
        }
    }
}

#[test]
fn score_interval_of_many_games_is_near_the_normal_one() {
    // 413 wins, 373 draws, 324 losses: normal interval 0.5162386 to 0.5639416 (computed with scipy).
    let ends = outcomes(413, 373, 324).interval().unwrap();
    assert!((ends.lower - 0.516_238_6).abs() < 5e-4 && (ends.upper - 0.563_941_6).abs() < 5e-4);
}

proptest! {
    #[test]
    fn score_interval_holds_the_score_and_is_wilson_without_draws(
        wins in 0_u64..200, draws in 0_u64..200, losses in 0_u64..200,
    ) {
        prop_assume!(wins + draws + losses > 0);
        let outcomes = outcomes(wins, draws, losses);
        let (score, ends) = (outcomes.score().unwrap(), outcomes.interval().unwrap());
        prop_assert!(0.0 <= ends.lower && ends.lower <= score + 1e-12);
        prop_assert!(score <= ends.upper + 1e-12 && ends.upper <= 1.0);
        let decisive = Outcomes { draws: 0, ..outcomes };
        if decisive.decided() > 0 {
            // Wilson's formula in the form of his paper.
            const Z2: f64 = 1.959_963_984_540_054 * 1.959_963_984_540_054;
            let (n, p) = ((wins + losses) as f64, wins as f64 / (wins + losses) as f64);
            let half = (Z2 * (p * (1.0 - p) + Z2 / (4.0 * n)) / n).sqrt() / (1.0 + Z2 / n);
            let centre = (p + Z2 / (2.0 * n)) / (1.0 + Z2 / n);
            let ends = decisive.interval().unwrap();
            prop_assert!((ends.lower - (centre - half).max(0.0)).abs() < 1e-12);
            prop_assert!((ends.upper - (centre + half).min(1.0)).abs() < 1e-12);
        }
    }
}
