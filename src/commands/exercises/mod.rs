//! `hecatomb exercises`: judged hits in, a sheet of exercises out.

mod motifs;
mod options;

use super::examiners::Examiners;
use super::runs::Runs;
use super::{Ending, output};
use crate::statistics::{counted, grouped};
use crate::teaching::{Candidates, Class, MOST_CANDIDATES, Pool, SheetChoice, SheetOfExercises};
use crate::terminal::{Bar, Terminal};

pub(super) use options::ExercisesOptions;

/// Runs the command.
pub(super) fn exercises(options: &ExercisesOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    output::expect_place(&options.out)?;
    let runs = Runs::open(&options.runs)?;
    let queries = motifs::queries(options, &runs)?;
    let candidates = candidates(options, &queries, &runs, terminal)?;
    let drawn = candidates.len() as u64;
    let mut examiners = Examiners::new(options.threads.count(), options.proof.effort());
    let pool = Pool::new(options.task(), options.count.into(), options.level(), candidates);
    let bar = Bar::counting(terminal, pool.needed() as u64);
    let choice = examiners.choose(pool, &bar)?;
    bar.end();
    anyhow::ensure!(
        !choice.exercises.is_empty(),
        "there is no such exercise in these tables; looked at: {}{}",
        counted(drawn, "position"),
        left_out(&choice)
    );
    let names = choice.exercises.iter().map(|exercise| &*exercise.query);
    let motifs = motifs::motifs(names, &runs)?;
    let task = options.task();
    let sheet = SheetOfExercises {
        task,
        title: options.title.as_deref().unwrap_or(task.title()),
        exercises: &choice.exercises,
        motifs: &motifs,
    };
    output::write(&options.out, &sheet.written(options.format())?, terminal)?;
    tell(options, &choice, drawn, terminal);
    Ok(Ending::Done)
}

/// Draws candidates from the judged hits of queries.
fn candidates(
    options: &ExercisesOptions,
    queries: &[String],
    runs: &Runs,
    terminal: Terminal,
) -> anyhow::Result<Candidates> {
    let mut candidates = Candidates::new(options.task(), options.seed, MOST_CANDIDATES);
    let (mut unjudged, mut are_any_judged) = (Vec::new(), false);
    let has_side = |class: Class| options.has_side(class.is_white);
    for query in queries {
        runs.each_table(query, |mut table| {
            if candidates.add_table(query, &mut table, has_side)? {
                are_any_judged = true;
            } else if !table.columns().is_empty() && !unjudged.contains(&&**query) {
                unjudged.push(query);
            }
            Ok(())
        })?;
    }
    let folders = options.runs.iter().map(|path| path.display().to_string());
    let hint =
        format!("hint: make them with `hecatomb verify {}`", folders.collect::<Vec<_>>().join(" "));
    anyhow::ensure!(
        are_any_judged || unjudged.is_empty(),
        "there are no verdicts on the hits of {}\n{hint}",
        named(&unjudged)
    );
    if !unjudged.is_empty() {
        terminal.note(format!("left out, without verdicts: {}\n{hint}", unjudged.join(", ")));
    }
    Ok(candidates)
}

fn named(queries: &[&str]) -> String {
    match queries {
        [one] => format!("`{one}`"),
        many => format!("these {} queries", many.len()),
    }
}

/// Says what was written, and why it is less than what was asked for.
fn tell(options: &ExercisesOptions, choice: &SheetChoice, drawn: u64, terminal: Terminal) {
    let (made, wanted) = (choice.exercises.len(), usize::from(options.count));
    let white = choice.exercises.iter().filter(|exercise| exercise.side().is_white()).count();
    let what = counted(made as u64, "exercise");
    terminal.note(format!("{what}: White to move in {white}, Black in {}", made - white));
    if made < wanted {
        let (positions, left_out) = (counted(drawn, "position"), left_out(choice));
        terminal.note(format!("{wanted} were asked for, and {positions} made no more{left_out}"));
    }
}

/// What became of the positions that made no exercise.
fn left_out(choice: &SheetChoice) -> String {
    let reasons = choice.left_out.iter();
    let reasons: Vec<String> = reasons
        .map(|(flaw, times)| format!("{} {}", grouped(*times as u64), flaw.in_words()))
        .collect();
    match &reasons[..] {
        [] => String::new(),
        reasons => format!("; left out: {}", reasons.join(", ")),
    }
}
