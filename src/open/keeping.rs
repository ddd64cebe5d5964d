//! Whether a hit is kept for a lesson, and what it takes to keep or drop it.

use std::collections::{BTreeMap, BTreeSet};

use minijinja::{Value, context};

use super::opened::Opened;
use crate::desk::Desk;
use crate::finding::{Facet, FoundHit};
use crate::plan::{CoursePlan, GameSource};

/// What a plan keeps, by the ids of hits.
pub(super) struct Keeping {
    state: String,
    kept: BTreeSet<String>,
    /// The classes that had a hit as an exercise.
    had: BTreeMap<String, Vec<String>>,
}

impl Keeping {
    /// What the plan keeps; nothing if there is no plan that can be edited.
    pub(super) fn of(opened: &Opened) -> Option<Keeping> {
        let now = Desk::open(opened.plan.as_deref()?).and_then(|desk| desk.look()).ok()?;
        let plan = now.plan.ok()?;
        let state = now.state.to_string();
        Some(Keeping { state, kept: kept(&plan), had: had(&plan) })
    }

    /// What a row of a list says of it; only offers that were made can be kept.
    pub(super) fn row(&self, hit: &FoundHit<'_>, back: &str) -> Value {
        if hit.value(Facet::Course) == Some("overlooked") {
            return Value::default();
        }
        context! {
            state => &self.state,
            back,
            query => hit.query,
            is_kept => self.kept.contains(&hit.id),
            had => self.had.get(&hit.id),
        }
    }
}

fn kept(plan: &CoursePlan) -> BTreeSet<String> {
    let games = plan.lessons.iter().flat_map(|lesson| lesson.games.iter().flatten());
    let id = |source: &GameSource| match source {
        GameSource::Hit(id) => Some(id.clone()),
        GameSource::File(..) => None,
    };
    games.filter_map(|game| id(&game.source.value)).collect()
}

fn had(plan: &CoursePlan) -> BTreeMap<String, Vec<String>> {
    let mut had: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for given in &plan.given {
        for exercise in &given.exercises {
            let classes = had.entry(exercise.id.value.clone()).or_default();
            if !classes.contains(&given.class) {
                classes.push(given.class.clone());
            }
        }
    }
    had
}
