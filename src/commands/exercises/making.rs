//! The making of a sheet: wishes in, exercises out.
//!
//! Invariant: nothing here knows the command line, or how a sheet is written.

use std::collections::BTreeMap;

use super::motifs;
use super::wishes::SheetWishes;
use crate::advice::WithHint;
use crate::commands::examiners::Examiners;
use crate::commands::runs::Mined;
use crate::hits::Collector;
use crate::teaching::{
    Candidates, Exercise, ExercisePool, Flaw, MOST_CANDIDATES, Quota, Unjudged, sheet_order,
};
use crate::terminal::{Bar, Terminal};

/// The exercises of a sheet, and how far each quota was filled.
pub(in crate::commands) struct SheetMade {
    /// The exercises, the easiest first.
    pub(in crate::commands) exercises: Vec<Exercise>,
    /// The quotas in their order.
    pub(in crate::commands) filled: Vec<Filled>,
}

/// How far a quota was filled.
pub(in crate::commands) struct Filled {
    /// What was wanted.
    pub(in crate::commands) quota: Quota,
    /// How many offers might have made an exercise.
    pub(in crate::commands) candidates: u64,
    /// How many exercises there are.
    pub(in crate::commands) made: usize,
    /// How many candidates were looked at and left out, by the reason.
    pub(in crate::commands) left_out: BTreeMap<Flaw, usize>,
}

/// Makes the exercises of a sheet: draws candidates of every kind in one pass, and lets each quota choose, the one with
/// the fewest candidates first. No game serves twice, and no two exercises are alike, whatever their kinds.
///
/// # Errors
///
/// If the runs can't be read, have no such query, or were not judged.
pub(in crate::commands) fn made_sheet(
    wishes: &SheetWishes,
    mined: &Mined,
    examiners: &mut Examiners<'_>,
    terminal: Terminal,
) -> anyhow::Result<SheetMade> {
    let drawn = drawn(wishes, mined, terminal)?;
    let mut in_turn: Vec<_> = wishes.quotas.iter().copied().zip(drawn).enumerate().collect();
    in_turn.sort_by_key(|(_, (_, candidates))| candidates.count());
    let mut chosen: Vec<Option<(Filled, Vec<Exercise>)>> = Vec::new();
    chosen.resize_with(wishes.quotas.len(), || None);
    let mut shown: Vec<Exercise> = Vec::new();
    for (place, (quota, candidates)) in in_turn {
        let count = candidates.count() as u64;
        let pool = ExercisePool::new(quota.kind, quota.count.into(), wishes.levels, candidates);
        let pool = pool.beside(&shown).without(wishes.given.clone());
        let bar = Bar::counting(terminal, pool.needed() as u64);
        let choice = examiners.choose(pool, &bar)?;
        bar.end();
        shown.extend(choice.exercises.iter().cloned());
        let (made, left_out) = (choice.exercises.len(), choice.left_out);
        let filled = Filled { quota, candidates: count, made, left_out };
        chosen[place] = Some((filled, choice.exercises));
    }
    let (filled, exercises) = chosen.into_iter().flatten().unzip();
    Ok(SheetMade { exercises: sheet_order(exercises), filled })
}

/// Draws candidates for each quota from the judged hits of the queries.
fn drawn(
    wishes: &SheetWishes,
    mined: &Mined,
    terminal: Terminal,
) -> anyhow::Result<Vec<Candidates>> {
    let queries = motifs::queries(wishes, mined)?;
    let SheetWishes { sides, seed, .. } = *wishes;
    let of = |quota: &Quota| {
        Candidates::new(quota.kind, sides, Unjudged::LeftOut, seed, MOST_CANDIDATES)
    };
    let mut drawn: Vec<Candidates> = wishes.quotas.iter().map(of).collect();
    let (mut unjudged, mut are_any_judged) = (Vec::new(), false);
    for query in &queries {
        let mut collectors: Vec<&mut dyn Collector> =
            drawn.iter_mut().map(|candidates| candidates as &mut dyn Collector).collect();
        mined.pass(query, &mut collectors)?;
        // They all met the same hits.
        let met: Vec<_> = drawn.iter_mut().map(Candidates::met).collect();
        are_any_judged |= met.iter().any(|met| met.judged);
        if met.iter().any(|met| met.unjudged) {
            unjudged.push(&**query);
        }
    }
    tell_unjudged(&unjudged, are_any_judged, mined, terminal)?;
    Ok(drawn)
}

/// Says which queries have no verdicts.
///
/// # Errors
///
/// If none has any.
fn tell_unjudged(
    unjudged: &[&str],
    are_any_judged: bool,
    mined: &Mined,
    terminal: Terminal,
) -> anyhow::Result<()> {
    if unjudged.is_empty() {
        return Ok(());
    }
    let hint = format!("run `hecatomb verify {}` first", mined.folders().join(" "));
    if !are_any_judged {
        let unjudged = named(unjudged);
        return Err(anyhow::anyhow!("there are no verdicts on the hits of {unjudged}").hint(hint));
    }
    let unjudged = unjudged.join(", ");
    terminal.note_with_hint(format!("left out, without verdicts: {unjudged}"), hint);
    Ok(())
}

fn named(queries: &[&str]) -> String {
    match queries {
        [one] => format!("`{one}`"),
        many => format!("these {} queries", many.len()),
    }
}
