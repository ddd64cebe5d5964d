//! `hecatomb exercises`: judged hits in, a sheet of exercises out.

mod motifs;
mod options;

use super::examiners::Examiners;
use super::runs::Mined;
use super::{Ending, output};
use crate::advice::WithHint;
use crate::pages::SheetOfExercises;
use crate::statistics::{counted, grouped};
use crate::teaching::{Candidates, ExercisePool, MOST_CANDIDATES, SheetChoice, Unjudged};
use crate::terminal::{Bar, Terminal};

pub(super) use options::ExercisesOptions;

/// Runs the command.
pub(super) fn exercises(options: &ExercisesOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    output::expect_place(&options.out)?;
    let mined = Mined::open(&options.runs, &options.edited, &options.sacrifices)?;
    let queries = motifs::queries(options, &mined)?;
    let candidates = candidates(options, &queries, &mined, terminal)?;
    let drawn = candidates.count() as u64;
    let program = options.engine.program();
    let (threads, effort) = (options.threads.count(), options.proof.effort());
    let mut examiners = Examiners::new(threads, effort, program.as_ref())?;
    let pool = ExercisePool::new(options.kind, options.count.into(), options.level(), candidates);
    let bar = Bar::counting(terminal, pool.needed() as u64);
    let choice = examiners.choose(pool, &bar)?;
    bar.end();
    let rests_on = examiners.rests_on().to_owned();
    let ended = examiners.end(terminal);
    if choice.exercises.is_empty() {
        ended?;
        anyhow::bail!(
            "could not make any: none of {} passed{}",
            counted(drawn, "candidate"),
            left_out(&choice)
        );
    }
    let names = choice.exercises.iter().map(|exercise| &*exercise.hit.query);
    let motifs = motifs::motifs(names, &mined)?;
    let kind = options.kind;
    let sheet = SheetOfExercises {
        kind,
        title: options.title.as_deref().unwrap_or(kind.title()),
        exercises: &choice.exercises,
        motifs: &motifs,
        rests_on: &rests_on,
        caution: mined.remarks(),
    };
    output::write(&options.out, &sheet.written(options.format())?, terminal)?;
    tell(options, &choice, drawn, terminal);
    mined.tell_left_out(terminal);
    // An engine that answered nothing made the sheet poorer than it would be, and may be at fault itself.
    ended.map(|()| Ending::Done)
}

/// Draws candidates from the judged hits of queries.
fn candidates(
    options: &ExercisesOptions,
    queries: &[String],
    mined: &Mined,
    terminal: Terminal,
) -> anyhow::Result<Candidates> {
    let (kind, sides) = (options.kind, options.side);
    let mut candidates =
        Candidates::new(kind, sides, Unjudged::LeftOut, options.seed, MOST_CANDIDATES);
    let (mut unjudged, mut are_any_judged) = (Vec::new(), false);
    for query in queries {
        mined.pass(query, &mut [&mut candidates])?;
        let met = candidates.met();
        are_any_judged |= met.judged;
        if met.unjudged {
            unjudged.push(&**query);
        }
    }
    let folders = options.runs.iter().map(|path| path.display().to_string());
    let hint = format!("run `hecatomb verify {}` first", folders.collect::<Vec<_>>().join(" "));
    if !are_any_judged && !unjudged.is_empty() {
        let unjudged = named(&unjudged);
        return Err(anyhow::anyhow!("there are no verdicts on the hits of {unjudged}").hint(hint));
    }
    if !unjudged.is_empty() {
        let unjudged = unjudged.join(", ");
        terminal.note_with_hint(format!("left out, without verdicts: {unjudged}"), hint);
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
        let (candidates, left_out) = (counted(drawn, "candidate"), left_out(choice));
        terminal
            .note(format!("could not make {wanted}: only {made} of {candidates} passed{left_out}"));
    }
}

/// Why positions made no exercise.
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
