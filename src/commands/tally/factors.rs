//! What the factors of queries are worth, as tables, and what is to be believed of them, in sentences.

use std::collections::BTreeSet;

use super::measures::score;
use crate::commands::runs::Mined;
use crate::statistics::{
    Difference, FactorEffect, FactorGroups, Interval, KeyValue, Outcomes, SMALLEST_SAMPLE,
    Standing, WithinStrata, adjust_together, counted, grouped, percent,
};
use crate::terminal::{Figure, Sheet, SheetColumn};

/// A query, what the hits of a group have in common, and what the factors are worth there.
struct WeighedGroup {
    query: String,
    values: Vec<KeyValue>,
    effects: Vec<FactorEffect>,
}

/// A table for each query, and for each group of its hits `by` some columns; p-values are corrected for all
/// factors together. `with_constant` says whether the tables show the factors that never vary.
pub(super) fn sheets(
    queries: &[&str],
    mined: &Mined,
    by: &[String],
    with_constant: bool,
) -> anyhow::Result<Vec<Sheet>> {
    let mut all = Vec::new();
    for &query in queries {
        let mut factors = FactorGroups::by(by);
        mined.pass(query, &mut [&mut factors])?;
        let groups = factors.effects().into_iter();
        all.extend(groups.map(|(values, effects)| WeighedGroup {
            query: query.to_owned(),
            values,
            effects,
        }));
    }
    adjust_together(all.iter_mut().flat_map(|group| &mut group.effects));
    let corrected = corrected_for(&all);
    Ok(all.iter().map(|group| sheet(group, by, &corrected, with_constant)).collect())
}

/// How many factors the p-values are corrected for.
fn corrected_for(all: &[WeighedGroup]) -> String {
    let tested = |group: &&WeighedGroup| {
        group.effects.iter().filter(|effect| effect.adjusted_p.is_some()).count()
    };
    let factors = counted(all.iter().map(|group| tested(&group)).sum::<usize>() as u64, "factor");
    let weighed: Vec<&WeighedGroup> = all.iter().filter(|group| tested(group) > 0).collect();
    let queries: BTreeSet<&str> = weighed.iter().map(|group| &*group.query).collect();
    match (queries.len(), weighed.len()) {
        (_, 0 | 1) => format!("p corrected for {factors}"),
        (1, groups) => format!("p corrected for {factors} of {groups} groups"),
        (queries, groups) if queries == groups => {
            format!("p corrected for {factors} of {queries} queries")
        }
        (queries, groups) => {
            format!("p corrected for {factors} of {groups} groups of {queries} queries")
        }
    }
}

/// What the factors of a group are worth.
fn sheet(group: &WeighedGroup, by: &[String], corrected: &str, with_constant: bool) -> Sheet {
    let WeighedGroup { query, values, effects } = group;
    let shown = effects.iter().filter(|effect| with_constant || effect.always().is_none());
    let common = by.iter().zip(values).map(|(name, value)| format!(", {name} {value}"));
    let mut columns = columns();
    columns.splice(1..1, by.iter().map(SheetColumn::in_title));
    let row = |effect| {
        let mut row = row(query, effect);
        row.splice(1..1, values.iter().map(|value| Figure::Text(value.to_string())));
        row
    };
    Sheet {
        title: format!("{query}{}", common.collect::<String>()),
        columns,
        rows: shown.map(row).collect(),
        note: note(effects, corrected),
    }
}

fn columns() -> Vec<SheetColumn> {
    vec![
        SheetColumn::in_title("query"),
        SheetColumn::kept("factor", "factor"),
        SheetColumn::kept("with_games", "with"),
        SheetColumn::kept("with_score", "score %"),
        SheetColumn::kept("without_games", "without"),
        SheetColumn::kept("without_score", "score %"),
        SheetColumn::kept("difference", "gain"),
        SheetColumn::spared(1, "difference_lower", "from"),
        SheetColumn::spared(1, "difference_upper", "to"),
        SheetColumn::spared(6, "p_alone", "p alone"),
        SheetColumn::spared(2, "adjusted_p", "p"),
        SheetColumn::spared(3, "within_balance", "like balance"),
        SheetColumn::spared(3, "within_balance_p", "p"),
        SheetColumn::spared(4, "odds_ratio", "odds"),
        SheetColumn::spared(5, "odds_ratio_lower", "from"),
        SheetColumn::spared(5, "odds_ratio_upper", "to"),
    ]
}

fn row(query: &str, effect: &FactorEffect) -> Vec<Figure> {
    let of_difference =
        |part: fn(Difference) -> f64| Figure::of(effect.difference.map(part), Figure::Gain);
    let p = |p: Option<f64>| Figure::of(p, |p| Figure::Number(p, 3));
    let odds = |odds: Option<f64>| Figure::of(odds, |odds| Figure::Number(odds, 2));
    let ends = effect.odds_ratio.map(|odds| odds.interval());
    vec![
        Figure::Text(query.to_owned()),
        Figure::Text(effect.name.clone()),
        Figure::Count(effect.with.decided()),
        score(&effect.with),
        Figure::Count(effect.without.decided()),
        score(&effect.without),
        of_difference(|difference| difference.value),
        of_difference(|difference| difference.interval.lower),
        of_difference(|difference| difference.interval.upper),
        p(effect.difference.map(|difference| difference.p)),
        p(effect.adjusted_p),
        Figure::of(effect.within_balance, |within| Figure::Gain(within.value)),
        p(effect.within_balance_p),
        odds(effect.odds_ratio.map(|odds| odds.ratio())),
        odds(ends.map(|ends| ends.lower)),
        odds(ends.map(|ends| ends.upper)),
    ]
}

/// What is to be believed of the factors, a line for each thing that must be said.
fn note(effects: &[FactorEffect], corrected: &str) -> String {
    let of_standing = |standing: Standing, says: &str| {
        let named = effects.iter().filter(|effect| effect.standing() == standing);
        let named: Vec<String> = named.map(gains).collect();
        (!named.is_empty()).then(|| format!("{says}: {}.", named.join(", ")))
    };
    let lines = [
        Some(strongest(effects, corrected)),
        of_standing(Standing::Explained, "The balance before explains it"),
        of_standing(
            Standing::Unsettled,
            "It may be the balance before that counts, too few games are of like balance",
        ),
        of_standing(Standing::Hidden, "The balance before hides it"),
        constant(effects),
    ];
    lines.into_iter().flatten().collect::<Vec<_>>().join("\n")
}

/// A factor with its gain over all offers and that at like balance before.
fn gains(effect: &FactorEffect) -> String {
    let points = |value: f64| format!("{:+.1}", 100.0 * value);
    let all = effect.difference.map_or_else(String::new, |difference| points(difference.value));
    let left = |within: WithinStrata| format!(", at like balance {}", points(within.value));
    let left = effect.within_balance.map_or_else(String::new, left);
    format!("`{}` ({all}{left})", effect.name)
}

/// The factors that never vary.
fn constant(effects: &[FactorEffect]) -> Option<String> {
    let named = |always: bool, says: &str| {
        let named = effects.iter().filter(|effect| effect.always() == Some(always));
        let named: Vec<String> = named.map(|effect| format!("`{}`", effect.name)).collect();
        (!named.is_empty()).then(|| format!("{says}: {}", named.join(", ")))
    };
    match (named(true, "Always true here"), named(false, "never true")) {
        (None, None) => None,
        (Some(always), None) => Some(format!("{always}.")),
        (None, Some(never)) => Some(format!("{}.", never.replacen("never", "Never", 1))),
        (Some(always), Some(never)) => Some(format!("{always}; {never}.")),
    }
}

/// What the strongest rule of thumb is worth that the balance before does not explain, in a sentence.
fn strongest(effects: &[FactorEffect], corrected: &str) -> String {
    let of = |standing| effects.iter().find(|effect| effect.standing() == standing);
    let told = of(Standing::Holds).or_else(|| of(Standing::Unsettled));
    let told = told.and_then(|effect| Some((effect, effect.difference?)));
    let Some((effect, difference)) = told else { return none(effects, corrected) };
    let score = |outcomes: &Outcomes| outcomes.score().map_or_else(String::new, percent);
    let Interval { lower, upper } = difference.interval;
    let (more, least, most) =
        if difference.value < 0.0 { ("fewer", -upper, -lower) } else { ("more", lower, upper) };
    format!(
        "Strongest factor: `{}`. With it the attacker scored {} % in {} games, without it {} % in {}: \
         {} percentage points {more} ({} to {}; {corrected}).",
        effect.name,
        score(&effect.with),
        grouped(effect.with.decided()),
        score(&effect.without),
        grouped(effect.without.decided()),
        percent(difference.value.abs()),
        percent(least),
        percent(most),
    )
}

/// Why no factor is named.
fn none(effects: &[FactorEffect], corrected: &str) -> String {
    if effects.iter().all(|effect| effect.difference.is_none()) {
        return format!(
            "Too few games to weigh factors: each needs {SMALLEST_SAMPLE} games with it and \
             {SMALLEST_SAMPLE} without."
        );
    }
    if effects.iter().any(FactorEffect::is_sure) {
        return format!(
            "No factor makes a difference here that the balance before does not explain ({corrected})."
        );
    }
    format!(
        "No factor makes a difference here that chance alone would make less than one time in twenty \
         ({corrected})."
    )
}
