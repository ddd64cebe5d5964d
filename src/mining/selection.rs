//! Which games of a collection are mined at all.

use crate::collection::{DateBound, Rating, Tags, TimeControl, may_lie_between};

/// What a game's tags must say for it to be mined.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Selection {
    /// Both players are rated at least this.
    pub min_rating: Option<Rating>,
    /// Both players are rated at most this.
    pub max_rating: Option<Rating>,
    /// It may have been played on this day or later.
    pub played_from: Option<DateBound>,
    /// It may have been played on this day or earlier.
    pub played_to: Option<DateBound>,
    /// Its time control is one of these; empty for any.
    pub time_controls: Vec<TimeControl>,
}

impl Selection {
    /// Whether a game with these tags is mined.
    #[must_use]
    pub fn accepts(&self, tags: &Tags<'_>) -> bool {
        self.accepts_ratings(tags) && self.accepts_date(tags) && self.accepts_time_control(tags)
    }

    fn accepts_ratings(&self, tags: &Tags<'_>) -> bool {
        if self.min_rating.is_none() && self.max_rating.is_none() {
            return true;
        }
        [tags.white_elo(), tags.black_elo()].into_iter().all(|rating| {
            rating.is_some_and(|rating| {
                self.min_rating.is_none_or(|min| rating >= min)
                    && self.max_rating.is_none_or(|max| rating <= max)
            })
        })
    }

    fn accepts_date(&self, tags: &Tags<'_>) -> bool {
        (self.played_from.is_none() && self.played_to.is_none())
            || may_lie_between(tags.value(b"Date"), self.played_from, self.played_to)
    }

    fn accepts_time_control(&self, tags: &Tags<'_>) -> bool {
        self.time_controls.is_empty()
            || TimeControl::of_tag(tags.value(b"TimeControl"))
                .is_some_and(|category| self.time_controls.contains(&category))
    }
}
