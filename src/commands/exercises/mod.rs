//! `hecatomb exercises`: judged hits in, a sheet of exercises out.

mod excluded;
mod making;
mod motifs;
mod options;
mod wishes;

use super::course::{PlanFile, given_to, note_given};
use super::{Ending, output, show_problems};
use crate::advice::WithHint;
use crate::pages::{ExerciseFormat, NO_PDF, SheetOfExercises};
use crate::statistics::{counted, grouped};
use crate::terminal::Terminal;
use crate::toml_files::FileProblems;

use making::Filled;
pub(super) use making::{SheetMade, made_sheet};
pub(super) use motifs::motifs;
pub(super) use options::ExercisesOptions;
pub(super) use wishes::SheetWishes;

/// Runs the command.
pub(super) fn exercises(options: &ExercisesOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    expect_built(options.format())?;
    output::expect_place(&options.out)?;
    expect_unedited(options)?;
    let mut class = match class_of(options)? {
        Some(Err(problems)) => {
            show_problems(terminal, &[problems]);
            return Ok(Ending::Failed);
        }
        Some(Ok(class)) => Some(class),
        None => None,
    };
    let given = class.as_ref().map(|(class, file)| given_to(&file.plan, class, None));
    let wishes = options.wishes(&given.transpose()?.unwrap_or_default())?;
    let mined = options.teaching.mined()?;
    let program = options.teaching.program();
    let mut examiners = options.teaching.examiners(program.as_ref())?;
    let made = made_sheet(&wishes, &mined, &mut examiners, terminal)?;
    let plan = class.as_ref().and_then(|(_, file)| file.plan.language);
    let words = options.language.or(plan);
    let pieces = class.as_ref().and_then(|(_, file)| file.plan.pieces);
    let telling = examiners.telling(words, options.pieces.or(pieces, words), &mined);
    let ended = examiners.end(terminal);
    if made.exercises.is_empty() {
        ended?;
        anyhow::bail!("could not make any: {}", none_passed(&made));
    }
    let names = made.exercises.iter().map(|exercise| &*exercise.hit.query);
    let motifs = motifs(names, &mined, words)?;
    let sheet = SheetOfExercises {
        title: options.title.as_deref(),
        exercises: &made.exercises,
        motifs: &motifs,
        telling: &telling,
        audience: options.audience,
        layout: options.layout(),
    };
    output::write(&options.out, &sheet.written(options.format())?, terminal)?;
    if let Some((class, file)) = &mut class {
        note_given(file, class, &sheet_name(options), &made.exercises)?;
    }
    tell(&made, terminal);
    mined.tell_left_out(terminal);
    // An engine that answered nothing made the sheet poorer than it would be, and may be at fault itself.
    ended.map(|()| Ending::Done)
}

/// Fails if something would be written over that somebody may have edited.
fn expect_unedited(options: &ExercisesOptions) -> anyhow::Result<()> {
    match options.format() {
        _ if options.replace => Ok(()),
        ExerciseFormat::Html | ExerciseFormat::Projector | ExerciseFormat::Pdf => {
            output::expect_untouched(&options.out)
        }
        _ => output::expect_free(&options.out),
    }
}

/// Fails if this program was built without a format; asked before what takes long.
pub(super) fn expect_built(format: ExerciseFormat) -> anyhow::Result<()> {
    if format.is_built() {
        return Ok(());
    }
    let error = anyhow::anyhow!(NO_PDF);
    Err(error.hint("build it with `cargo install --path . --features pdf`, or print the page"))
}

/// The class that is named, and the plan in which stands what it had; one that is not there yet is empty.
fn class_of(
    options: &ExercisesOptions,
) -> anyhow::Result<Option<Result<(&str, PlanFile), FileProblems>>> {
    let Some((class, path)) = options.class.as_deref().zip(options.plan.as_deref()) else {
        return Ok(None);
    };
    output::expect_place(path)?;
    let file = if path.exists() { PlanFile::read(path)? } else { Ok(PlanFile::empty(path)) };
    Ok(Some(file.map(|file| (class, file))))
}

/// What a sheet is called in a plan: its title, or its file.
fn sheet_name(options: &ExercisesOptions) -> String {
    let file = || Some(options.out.file_stem()?.to_string_lossy().into_owned());
    options.title.clone().or_else(file).unwrap_or_default()
}

/// Why there is no exercise at all.
pub(super) fn none_passed(made: &SheetMade) -> String {
    let why = |filled: &Filled| {
        let candidates = counted(filled.candidates, "candidate");
        format!("none of {candidates} passed{}", left_out(filled))
    };
    match &made.filled[..] {
        [one] => why(one),
        several => {
            let each = several.iter().map(|it| format!("{}: {}", it.quota.kind.word(), why(it)));
            each.collect::<Vec<_>>().join("; ")
        }
    }
}

/// Says what was written, and where it is less than what was asked for, why.
fn tell(made: &SheetMade, terminal: Terminal) {
    let all = made.exercises.len();
    let white = made.exercises.iter().filter(|exercise| exercise.side().is_white()).count();
    let what = counted(all as u64, "exercise");
    terminal.note(format!("{what}: White to move in {white}, Black in {}", all - white));
    tell_shortage(made, None, terminal);
}

/// Says where a sheet has less than what was asked for, and why.
pub(super) fn tell_shortage(made: &SheetMade, sheet: Option<&str>, terminal: Terminal) {
    let is_mixed = made.filled.len() > 1;
    let sheet = sheet.map(|sheet| format!("`{sheet}`: ")).unwrap_or_default();
    for filled in &made.filled {
        let wanted = usize::from(filled.quota.count);
        if filled.made < wanted {
            let of = if is_mixed {
                format!(" of `{}`", filled.quota.kind.word())
            } else {
                String::new()
            };
            let (candidates, left_out) =
                (counted(filled.candidates, "candidate"), left_out(filled));
            let only = filled.made;
            terminal.note(format!(
                "{sheet}could not make {wanted}{of}: only {only} of {candidates} passed{left_out}"
            ));
        }
    }
}

/// Why positions made no exercise.
fn left_out(filled: &Filled) -> String {
    let reasons = filled.left_out.iter();
    let reasons: Vec<String> = reasons
        .map(|(flaw, times)| format!("{} {}", grouped(*times as u64), flaw.in_words()))
        .collect();
    match &reasons[..] {
        [] => String::new(),
        reasons => format!("; left out: {}", reasons.join(", ")),
    }
}
