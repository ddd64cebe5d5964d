//! Plots of a query: its score by rating, the worth of its factors, its frequency by year.

use plotters::coord::Shift;
use plotters::prelude::*;

use crate::commands::runs::{Group, Runs};
use crate::statistics::{Difference, Interval, KeyValue, Outcomes, SMALLEST_SAMPLE, share};

type Area<'p> = DrawingArea<SVGBackend<'p>, Shift>;

/// A value with its interval, in hundredths.
struct Measured {
    value: f64,
    ends: Interval,
}

/// The size of each plot, in pixels.
const SIZE: (u32, u32) = (720, 320);

const INK: RGBColor = RGBColor(34, 34, 34);
const PALE: RGBColor = RGBColor(200, 200, 200);
const FONT: &str = "serif";

/// An SVG with the plots of a query.
pub(super) fn picture(query: &str, runs: &Runs) -> anyhow::Result<String> {
    let by_band = runs.groups(query, &["rating".to_owned()])?;
    let by_year = runs.groups(query, &["year".to_owned()])?;
    let effects = runs.factors(query)?.effects();
    let factors: Vec<(String, Measured)> = effects
        .iter()
        .filter_map(|effect| Some((effect.name.clone(), gain(effect.difference?))))
        .collect();
    let mut text = String::new();
    {
        let root = SVGBackend::with_string(&mut text, (SIZE.0, 3 * SIZE.1)).into_drawing_area();
        root.fill(&WHITE)?;
        let areas = root.split_evenly((3, 1));
        scores(&areas[0], query, &known(&by_band, score))?;
        gains(&areas[1], &factors)?;
        frequencies(&areas[2], &frequency_by_year(&by_year, runs))?;
        root.present()?;
    }
    Ok(text)
}

fn hundredths(ends: Interval) -> Interval {
    Interval { lower: 100.0 * ends.lower, upper: 100.0 * ends.upper }
}

fn score(outcomes: &Outcomes) -> Option<Measured> {
    let is_enough = outcomes.decided() >= SMALLEST_SAMPLE;
    let (score, ends) = (outcomes.score()?, outcomes.interval()?);
    is_enough.then(|| Measured { value: 100.0 * score, ends: hundredths(ends) })
}

fn gain(difference: Difference) -> Measured {
    Measured { value: 100.0 * difference.value, ends: hundredths(difference.interval) }
}

/// The groups whose number and figure are known.
fn known<T>(groups: &[Group], figure: impl Fn(&Outcomes) -> Option<T>) -> Vec<(i64, T)> {
    let known = groups.iter().filter_map(|group| match group.values[..] {
        [KeyValue::Number(number)] => Some((number, figure(group.tally.outcomes())?)),
        _ => None,
    });
    known.collect()
}

/// For each year with games the hits in 10,000 of them.
fn frequency_by_year(groups: &[Group], runs: &Runs) -> Vec<(i64, f64)> {
    let hits = |year: i64| {
        let group = groups.iter().find(|group| group.values == [KeyValue::Number(year)]);
        group.map_or(0, |group| group.tally.summary.hits)
    };
    let years = runs.base.games_by_year().into_iter();
    years
        .filter_map(|(year, games)| Some((year?, share(hits(year?), games)?)))
        .map(|(year, share)| (year, 1e4 * share))
        .collect()
}

fn scores(area: &Area<'_>, query: &str, bands: &[(i64, Measured)]) -> anyhow::Result<()> {
    let title = format!("{query}: the attacker's score by mean rating, with 95 % intervals");
    let (Some((first, _)), Some((last, _))) = (bands.first(), bands.last()) else {
        return nothing(area, &title);
    };
    let mut chart = ChartBuilder::on(area)
        .caption(title, (FONT, 17))
        .margin(14)
        .x_label_area_size(40)
        .y_label_area_size(56)
        .build_cartesian_2d(first - 100..last + 300, 0.0..100.0)?;
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(PALE)
        .axis_style(INK)
        .label_style((FONT, 13))
        .x_desc("rating, bands of 200 points")
        .y_desc("score %")
        .draw()?;
    chart.draw_series(bands.iter().map(|(band, score)| {
        let middle = band + 100;
        ErrorBar::new_vertical(
            middle,
            score.ends.lower,
            score.value,
            score.ends.upper,
            INK.filled(),
            10,
        )
    }))?;
    Ok(())
}

fn gains(area: &Area<'_>, factors: &[(String, Measured)]) -> anyhow::Result<()> {
    let title = "Score with a factor less the score without it, with 95 % intervals";
    if factors.is_empty() {
        return nothing(area, title);
    }
    let widest = factors
        .iter()
        .flat_map(|(_, gain)| [gain.ends.lower.abs(), gain.ends.upper.abs()])
        .fold(5.0, f64::max);
    let count = factors.len() as f64;
    let mut chart = ChartBuilder::on(area)
        .caption(title, (FONT, 17))
        .margin(14)
        .x_label_area_size(40)
        .y_label_area_size(150)
        .build_cartesian_2d(-1.1 * widest..1.1 * widest, count - 0.5..-0.5)?;
    let name = |at: &f64| {
        let index = at.round();
        let is_whole = (at - index).abs() < 1e-6 && index >= 0.0;
        let found = factors.get(index as usize).filter(|_| is_whole);
        found.map_or_else(String::new, |(name, _)| name.clone())
    };
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(PALE)
        .axis_style(INK)
        .label_style((FONT, 13))
        .x_desc("points in a hundred")
        .y_labels(factors.len() + 1)
        .y_label_formatter(&name)
        .disable_y_mesh()
        .draw()?;
    chart.draw_series(LineSeries::new([(0.0, count - 0.5), (0.0, -0.5)], INK))?;
    chart.draw_series(factors.iter().enumerate().map(|(index, (_, gain))| {
        let at = index as f64;
        ErrorBar::new_horizontal(at, gain.ends.lower, gain.value, gain.ends.upper, INK.filled(), 10)
    }))?;
    Ok(())
}

fn frequencies(area: &Area<'_>, years: &[(i64, f64)]) -> anyhow::Result<()> {
    let title = "Hits in 10,000 games by year";
    let (Some((first, _)), Some((last, _))) = (years.first(), years.last()) else {
        return nothing(area, title);
    };
    let most = years.iter().map(|(_, frequency)| *frequency).fold(1.0, f64::max);
    let mut chart = ChartBuilder::on(area)
        .caption(title, (FONT, 17))
        .margin(14)
        .x_label_area_size(40)
        .y_label_area_size(56)
        .build_cartesian_2d(*first as f64 - 0.7..*last as f64 + 0.7, 0.0..1.1 * most)?;
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(PALE)
        .axis_style(INK)
        .label_style((FONT, 13))
        .x_labels(years.len().min(12))
        .x_label_formatter(&|year| {
            if year.fract() == 0.0 { format!("{year}") } else { String::new() }
        })
        .disable_x_mesh()
        .x_desc("year")
        .draw()?;
    chart.draw_series(years.iter().map(|&(year, frequency)| {
        let year = year as f64;
        Rectangle::new([(year - 0.35, 0.0), (year + 0.35, frequency)], INK.mix(0.6).filled())
    }))?;
    Ok(())
}

/// A plot of which too little is known.
fn nothing(area: &Area<'_>, title: &str) -> anyhow::Result<()> {
    area.draw(&Text::new(title.to_owned(), (20, 20), (FONT, 17).into_font().color(&INK)))?;
    let reason = "too few games to say anything";
    area.draw(&Text::new(reason.to_owned(), (20, 60), (FONT, 14).into_font().color(&INK)))?;
    Ok(())
}
