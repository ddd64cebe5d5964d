//! Whether runs can be joined, and in which order.
//!
//! Invariant: runs that agree were asked the same of different games, and are all there are.

use std::collections::{BTreeSet, HashMap};
use std::path::PathBuf;

use super::disagreement::{Disagreement, JoinError};
use crate::hits::Run;
use crate::tables::{EndOfRun, PART_OPTION, PartRun, RunFile, SourceRun, TableTrouble};

/// The runs, if they can be joined: parts by their numbers, whole runs in the order given.
pub(super) fn agreed(mut runs: Vec<Run>) -> Result<Vec<Run>, JoinError> {
    refuse_twice(&runs)?;
    runs.iter().try_for_each(check_alone)?;
    if let [first, others @ ..] = &runs[..] {
        others.iter().try_for_each(|other| check_terms(first, other))?;
    }
    if runs.iter().all(|run| run.manifest.part.is_none()) {
        check_sources_apart(&runs)?;
    } else {
        refuse_mixed(&runs)?;
        runs.sort_by_key(|run| number(run).0);
        check_parts(&runs)?;
    }
    Ok(runs)
}

/// What a run is called: its folder, as it was named.
pub(super) fn name(run: &Run) -> String {
    run.path.display().to_string()
}

/// Which part a run is, of how many.
fn number(run: &Run) -> (u32, u32) {
    run.manifest.part.as_ref().map_or((1, 1), |part| (part.number, part.of))
}

fn refuse_twice(runs: &[Run]) -> Result<(), JoinError> {
    let mut known: Vec<(PathBuf, &Run)> = Vec::new();
    for run in runs {
        let path = run.real_path()?;
        if let Some((_, first)) = known.iter().find(|(known, _)| *known == path) {
            let (first, again) = (name(first), name(run));
            return Err(Disagreement::Twice { first, again }.into());
        }
        known.push((path, run));
    }
    Ok(())
}

/// Fails if a run can't be joined with any other.
fn check_alone(run: &Run) -> Result<(), JoinError> {
    let manifest = &run.manifest;
    if manifest.hecatomb != env!("CARGO_PKG_VERSION") {
        let (run, version) = (name(run), manifest.hecatomb.clone());
        return Err(Disagreement::OtherVersion { run, version }.into());
    }
    if manifest.ended == EndOfRun::Interrupted {
        return Err(Disagreement::CutShort(name(run)).into());
    }
    if manifest.options.0.contains_key("limit") {
        return Err(Disagreement::Limited(name(run)).into());
    }
    let is_odd = |part: &PartRun| {
        let count = manifest.sources.len();
        part.marks.len() != count || part.from.source > count || part.to.source > count
    };
    if manifest.part.as_ref().is_some_and(is_odd) {
        let message = "the manifest names a share that its sources do not have";
        return Err(TableTrouble::of_file(&run.path, message).into());
    }
    Ok(())
}

/// Fails if two runs were not asked the same.
fn check_terms(run: &Run, another: &Run) -> Result<(), Disagreement> {
    let (one, other) = (name(run), name(another));
    if let Some(difference) = difference_of_queries(run, another) {
        return Err(Disagreement::OtherQueries { one, other, difference });
    }
    let (then, now) = (&run.manifest.options.0, &another.manifest.options.0);
    let options: BTreeSet<&String> = then.keys().chain(now.keys()).collect();
    let mut options = options.into_iter().filter(|option| *option != PART_OPTION);
    match options.find(|option| then.get(*option) != now.get(*option)) {
        Some(option) => {
            let option = option.replace('_', "-");
            Err(Disagreement::OtherOption { one, other, option })
        }
        None => Ok(()),
    }
}

/// In what the queries of two runs differ.
fn difference_of_queries(one: &Run, other: &Run) -> Option<String> {
    let (first, second) = (&one.manifest, &other.manifest);
    let names = |run: &RunFile| -> BTreeSet<String> {
        run.queries.iter().map(|query| query.name.clone()).collect()
    };
    let lacks = |run: &Run, names: &BTreeSet<String>, others: &BTreeSet<String>| {
        let query = names.difference(others).next()?;
        Some(format!("`{}` does not look for `{query}`", name(run)))
    };
    let (ones, others) = (names(first), names(second));
    let changed = || {
        let mut pairs = first.queries.iter().zip(&second.queries);
        let (query, _) = pairs.find(|(a, b)| a.name == b.name && a.sha256 != b.sha256)?;
        Some(format!("`{}` is not the same query", query.name))
    };
    let other_order = || {
        let order = |run: &'_ RunFile| run.queries.iter().map(|it| it.name.clone()).collect();
        let (one, other): (Vec<String>, Vec<String>) = (order(first), order(second));
        (one != other).then(|| "they are in another order".to_owned())
    };
    lacks(other, &ones, &others)
        .or_else(|| lacks(one, &others, &ones))
        .or_else(other_order)
        .or_else(changed)
}

fn check_sources_apart(runs: &[Run]) -> Result<(), Disagreement> {
    let mut known = HashMap::new();
    for run in runs {
        for source in &run.manifest.sources {
            if let Some(one) = known.insert(&source.name, run).filter(|one| *one != run) {
                let (source_name, one, other) = (source.name.clone(), name(one), name(run));
                return Err(Disagreement::CommonSource { source_name, one, other });
            }
        }
    }
    Ok(())
}

fn refuse_mixed(runs: &[Run]) -> Result<(), Disagreement> {
    let find = |is_part: bool| runs.iter().find(|run| run.manifest.part.is_some() == is_part);
    match (find(true), find(false)) {
        (Some(part), Some(whole)) => {
            Err(Disagreement::Mixed { part: name(part), whole: name(whole) })
        }
        _ => Ok(()),
    }
}

/// Fails unless these, which stand by their numbers, are all parts of one collection, and meet.
fn check_parts(runs: &[Run]) -> Result<(), Disagreement> {
    let of = number(&runs[0]).1;
    if let Some(other) = runs.iter().find(|run| number(run).1 != of) {
        let (one, other_of) = (name(&runs[0]), number(other).1);
        let (other, one_of) = (name(other), of);
        return Err(Disagreement::OtherNumber { one, one_of, other, other_of });
    }
    for pair in runs.windows(2) {
        if number(&pair[0]) == number(&pair[1]) {
            let (first, again, number) = (name(&pair[0]), name(&pair[1]), number(&pair[0]).0);
            return Err(Disagreement::PartTwice { number, of, first, again });
        }
        check_same_sources(&pair[0], &pair[1])?;
    }
    refuse_gaps(runs, of)?;
    let is_apart = |pair: &&[Run]| {
        let [one, other] = [&pair[0], &pair[1]].map(|run| run.manifest.part.as_ref());
        one.map(|part| part.to) != other.map(|part| part.from)
    };
    match runs.windows(2).find(is_apart) {
        Some(pair) => Err(Disagreement::Apart { one: name(&pair[0]), other: name(&pair[1]) }),
        None => Ok(()),
    }
}

fn check_same_sources(one: &Run, other: &Run) -> Result<(), Disagreement> {
    let (first, second) = (&one.manifest.sources, &other.manifest.sources);
    let lacks = |run: &Run, sources: &[SourceRun], others: &[SourceRun]| {
        let names: BTreeSet<&String> = others.iter().map(|source| &source.name).collect();
        let source = sources.iter().find(|source| !names.contains(&source.name))?;
        Some(format!("`{}` does not read `{}`", name(run), source.name))
    };
    let other_order = || {
        let is_same = first.iter().map(|it| &it.name).eq(second.iter().map(|it| &it.name));
        (!is_same).then(|| "their sources are in another order".to_owned())
    };
    let difference = lacks(other, first, second).or_else(|| lacks(one, second, first));
    if let Some(difference) = difference.or_else(other_order) {
        let (one, other) = (name(one), name(other));
        return Err(Disagreement::OtherSources { one, other, difference });
    }
    let marks = |run: &Run| run.manifest.part.clone().map(|part| part.marks).unwrap_or_default();
    let marks = marks(one).into_iter().zip(marks(other));
    let mut pairs = first.iter().zip(second).zip(marks);
    match pairs.find(|((a, b), (mark, other))| a.size != b.size || mark != other) {
        Some(((source, _), _)) => Err(Disagreement::ChangedSource {
            source_name: source.name.clone(),
            one: name(one),
            other: name(other),
        }),
        None => Ok(()),
    }
}

/// Fails if one of this many parts is missing.
fn refuse_gaps(runs: &[Run], of: u32) -> Result<(), Disagreement> {
    let there: BTreeSet<u32> = runs.iter().map(|run| number(run).0).collect();
    let missing: Vec<String> =
        (1..=of).filter(|number| !there.contains(number)).map(|it| it.to_string()).collect();
    Err(Disagreement::Missing(match &missing[..] {
        [] => return Ok(()),
        [one] => format!("part {one} of {of} is missing"),
        [others @ .., last] => {
            format!("parts {} and {last} of {of} are missing", others.join(", "))
        }
    }))
}
