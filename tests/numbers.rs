//! Intervals and expected scores against published values.

use hecatomb::collection::{band, expected_score};
use hecatomb::statistics::{Outcomes, wilson};
use proptest::prelude::*;

/// The lower ends of the rating differences for which FIDE expects .51, .52, ... 1.00 of the higher
/// rated player. Source: FIDE Rating Regulations, table 8.1.2, as printed at
/// chess.sainfo.ru/ratingtext.html (table 8.1b) and handbook.fide.com/chapter/B022022; above 391 from
/// memory.
const LOWER_ENDS: [u16; 50] = [
    4, 11, 18, 26, 33, 40, 47, 54, 62, 69, 77, 84, 92, 99, 107, 114, 122, 130, 138, 146, 154, 163,
    171, 180, 189, 198, 207, 216, 226, 236, 246, 257, 268, 279, 291, 303, 316, 329, 345, 358, 375,
    392, 412, 433, 457, 485, 518, 560, 620, 736,
];

#[test]
fn expected_score_follows_the_table_of_fide() {
    let mut expected = 50;
    for difference in 0..=800 {
        expected += u8::from(LOWER_ENDS.contains(&difference));
        assert_eq!(expected_score(1500 + difference, 1500), expected, "{difference}");
        assert_eq!(expected_score(1500, 1500 + difference), 100 - expected, "{difference}");
    }
    assert_eq!(expected, 100);
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

/// Wilson's interval at 95 %. The first four are of R. G. Newcombe, Statistics in Medicine 17 (1998)
/// 857-872, table I, method 3 (four digits there); all digits computed with scipy 1.17.1.
const WILSON: [(u64, u64, f64, f64); 14] = [
    (81, 263, 0.255_288_519_9, 0.366_209_577_0),
    (15, 148, 0.062_386_399_5, 0.160_487_241_7),
    (0, 20, 0.0, 0.161_125_158_1),
    (1, 29, 0.006_113_214_3, 0.171_755_218_8),
    (7, 50, 0.069_508_334_3, 0.261_861_937_1),
    (23, 60, 0.270_882_723_7, 0.509_824_041_8),
    (18, 72, 0.164_390_512_3, 0.360_935_074_0),
    (0, 1, 0.0, 0.793_450_685_6),
    (1, 1, 0.206_549_314_4, 1.0),
    (1, 2, 0.094_531_205_7, 0.905_468_794_3),
    (10, 10, 0.722_467_200_1, 1.0),
    (5, 10, 0.236_593_090_5, 0.763_406_909_5),
    (50, 100, 0.403_831_530_4, 0.596_168_469_6),
    (999_999, 1_000_000, 0.999_994_335_1, 0.999_999_823_5),
];

#[test]
fn wilson_interval_has_the_published_values() {
    for (successes, trials, lower, upper) in WILSON {
        let interval = wilson(successes, trials).unwrap();
        assert!((interval.lower - lower).abs() < 1e-9, "{successes}/{trials}: {interval:?}");
        assert!((interval.upper - upper).abs() < 1e-9, "{successes}/{trials}: {interval:?}");
    }
    assert_eq!(wilson(0, 20).unwrap().lower, 0.0);
    assert_eq!(wilson(10, 10).unwrap().upper, 1.0);
    assert_eq!(wilson(0, 0), None);
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
            prop_assert_eq!(decisive.interval(), wilson(wins, wins + losses));
        }
    }
}
