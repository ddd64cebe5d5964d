//! Numbers: what a run found, and how sure that is.
//!
//! Every interval is at 95 % confidence and every p-value is two sided.
//!
//! Invariant: nothing here knows games; it counts what the tables say.

// How numbers are written for people.
mod numbers;
// Counts as real numbers, and how they are spread.
mod counts;
// Intervals of a share and of a score.
mod interval;
// Wins, draws and losses.
mod outcome;
// What no motif names.
mod unnamed;
// p-values.
mod significance;
// Two shares or two scores compared.
mod difference;
// Scores against what the ratings predict.
mod ratings;
// A table of two rows and two columns, and its odds ratio.
mod odds;
// Several such tables taken together.
mod strata;
// Scores compared within strata.
mod within;
// Many tests at a time.
mod multiple;
// Bands of the balance before an offer.
mod balance;

// All games that were mined.
mod base;
// The tally of a query's hits.
mod tally;
// The same, group by group.
mod grouping;
// How they went by what they are worth.
mod worth;
// How they went by kind of sacrifice.
mod by_kind;
// What each rule of thumb is worth.
mod factors;
// The same, group by group.
mod factor_groups;
// Chances that nobody took.
mod missed;
// What was played after the offer.
mod continuations;

pub use balance::BalanceBand;
pub use base::Base;
pub use by_kind::ByKind;
pub use continuations::{Branch, Continuations, ModelGame};
pub use counts::Spread;
pub use difference::{Difference, difference_of_scores};
pub use factor_groups::{FactorGroups, MOST_FACTOR_GROUPS};
pub use factors::{FactorEffect, Factors, Standing, adjust_together};
pub use grouping::{Group, Groups, KeyValue, MOST_GROUPS};
pub use interval::Interval;
pub use missed::{MOST_MISSED, MissedChance, MissedChances};
pub use multiple::adjusted;
pub use numbers::{counted, grouped, percent};
pub use odds::{OddsRatio, Trials, TwoByTwo};
pub use outcome::{Outcomes, SMALLEST_SAMPLE, Summary};
pub use ratings::AgainstRatings;
pub use strata::pooled_odds_ratio;
pub use tally::{Tally, share};
pub use unnamed::{MOST_NAMED_OFFERS, Manner, NamedOffers, Unnamed, UnnamedGroup, UnnamedKey};
pub use within::{WithAndWithout, WithinStrata, difference_within};
pub use worth::ByWorth;
