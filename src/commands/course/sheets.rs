//! The sheets of a plan, and what its classes were given.

use std::path::Path;

use shakmaty::fen::Fen;
use shakmaty::{Board, Color, EnPassantMode};

use super::planned::PlanFile;
use crate::advice::WithHint;
use crate::board::read_setup;
use crate::commands::examiners::Examiners;
use crate::commands::exercises::{SheetWishes, made_sheet, motifs, none_passed, tell_shortage};
use crate::commands::output;
use crate::commands::runs::Mined;
use crate::desk::{Desk, Edit, SheetGiven};
use crate::hits::{Collector, query_in};
use crate::pages::{ExerciseFormat, ListedSheet, SheetOfExercises, Telling};
use crate::plan::{Audience, CoursePlan, Given, Planned, PlannedSheet, SheetExercise, SheetWanted};
use crate::teaching::{
    Candidates, Exercise, ExercisePool, GivenPositions, MOST_CANDIDATES, Sides, Unjudged,
};
use crate::terminal::{Bar, Terminal};

/// Positions that a class was given, without those of one sheet.
///
/// # Errors
///
/// If one of them is no position.
pub(in crate::commands) fn given_to(
    plan: &CoursePlan,
    class: &str,
    except: Option<&str>,
) -> anyhow::Result<GivenPositions> {
    let of_class = plan.given.iter().filter(|given| given.class == class);
    let others = of_class.filter(|given| except != Some(&*given.sheet));
    let position = |text: &Planned<String>| {
        let fen = &text.value;
        let setup = read_setup(fen)
            .map_err(|fault| anyhow::anyhow!("`{fen}` in the plan is not a position: {fault}"))?;
        anyhow::Ok((setup.board, setup.turn))
    };
    let positions: Vec<(Board, Color)> =
        others.flat_map(|given| &given.positions).map(position).collect::<anyhow::Result<_>>()?;
    Ok(GivenPositions::of(positions.iter().map(|(men, turn)| (men, *turn))))
}

/// Notes in a plan's file that a class was given these exercises. The file must be as it was read; whoever edits it
/// at the desk waits meanwhile.
///
/// # Errors
///
/// If it was changed meanwhile, or can't be written.
pub(in crate::commands) fn note_given(
    file: &mut PlanFile,
    class: &str,
    sheet: &str,
    exercises: &[Exercise],
) -> anyhow::Result<()> {
    let path = file.path.display();
    let desk = match file.text.is_empty() && !file.path.exists() {
        true => Desk::begin(&file.path, "")?,
        false => Desk::open(&file.path)?,
    };
    let seen = desk.look()?;
    if seen.text != file.text {
        let error =
            anyhow::anyhow!("`{path}` was changed meanwhile, so `{sheet}` is not noted in it");
        return Err(error.hint("run the same again"));
    }
    let mut named: Vec<_> = exercises.iter().map(|one| (one.kind, one.hit.id.clone())).collect();
    named.dedup();
    let given = SheetGiven {
        class: class.to_owned(),
        sheet: sheet.to_owned(),
        on: chrono::Local::now().date_naive().to_string(),
        exercises: named,
        positions: exercises.iter().map(position_given).collect(),
    };
    let what = format!("{sheet} given to {class}");
    let changed = desk.change(&seen.state, &[Edit::Give(given)], &what)?;
    file.text = changed.now.text;
    file.plan =
        changed.now.plan.map_err(|problems| anyhow::anyhow!("{}", problems.render(false)))?;
    Ok(())
}

/// The position of an exercise as a plan has it.
pub(in crate::commands) fn position_given(exercise: &Exercise) -> String {
    Fen::from_position(&exercise.start, EnPassantMode::Legal).to_string()
}

/// Writes the pages of each sheet of a plan; those that a class has not had yet are noted in the plan.
pub(super) fn write_sheets(
    file: &mut PlanFile,
    telling: &Telling,
    mined: &Mined,
    examiners: &mut Examiners<'_>,
    folder: &Path,
    terminal: Terminal,
) -> anyhow::Result<Vec<ListedSheet>> {
    let mut listed = Vec::new();
    for sheet in file.plan.sheets.clone() {
        let name = &sheet.name.value;
        let known = given_before(&file.plan, &sheet).cloned();
        let exercises = exercises_of(file, &sheet, mined, examiners, terminal)?;
        if exercises.is_empty() {
            continue;
        }
        write_pages(&sheet, &exercises, telling, mined, folder, terminal)?;
        if let (Some(class), None) = (&sheet.class, known) {
            note_given(file, class, name, &exercises)?;
        }
        listed.push(ListedSheet::of(&sheet, exercises.len()));
    }
    Ok(listed)
}

/// What the class of a sheet was given of it.
fn given_before<'p>(plan: &'p CoursePlan, sheet: &PlannedSheet) -> Option<&'p Given> {
    plan.given_to(sheet.class.as_deref()?, &sheet.name.value)
}

/// The exercises of a sheet: those that its class was given, those that it names, or those that the program chooses.
///
/// # Errors
///
/// If the runs can't be read or were not judged.
pub(in crate::commands) fn exercises_of(
    file: &PlanFile,
    sheet: &PlannedSheet,
    mined: &Mined,
    examiners: &mut Examiners<'_>,
    terminal: Terminal,
) -> anyhow::Result<Vec<Exercise>> {
    let name = &sheet.name.value;
    match (given_before(&file.plan, sheet), &sheet.wanted) {
        (Some(given), _) => {
            let mut exercises = named(file, &given.exercises, mined, examiners, terminal)?;
            // One offer can make several exercises, and the class had some of them.
            exercises.retain(|exercise| {
                given.positions.iter().any(|it| it.value == position_given(exercise))
            });
            Ok(exercises)
        }
        (None, SheetWanted::These(exercises)) => named(file, exercises, mined, examiners, terminal),
        (None, SheetWanted::Quotas { .. }) => {
            let wishes = wishes(sheet, &file.plan)?;
            let made = made_sheet(&wishes, mined, examiners, terminal)?;
            if made.exercises.is_empty() {
                terminal.note(format!("no sheet `{name}`: {}", none_passed(&made)));
            }
            tell_shortage(&made, Some(name), terminal);
            Ok(made.exercises)
        }
    }
}

/// A page or file of a sheet with these exercises.
///
/// # Errors
///
/// If the runs can't be read.
pub(in crate::commands) fn sheet_text(
    sheet: &PlannedSheet,
    exercises: &[Exercise],
    telling: &Telling,
    mined: &Mined,
    (audience, format): (Audience, ExerciseFormat),
) -> anyhow::Result<Vec<u8>> {
    let names = exercises.iter().map(|exercise| &*exercise.hit.query);
    let motifs = motifs(names, mined, telling.words)?;
    let page = SheetOfExercises {
        title: sheet.title.as_deref(),
        exercises,
        motifs: &motifs,
        telling,
        audience,
        layout: sheet.layout,
    };
    Ok(page.written(format)?)
}

/// The pages of one sheet.
fn write_pages(
    sheet: &PlannedSheet,
    exercises: &[Exercise],
    telling: &Telling,
    mined: &Mined,
    folder: &Path,
    terminal: Terminal,
) -> anyhow::Result<()> {
    let text = |audience, format| sheet_text(sheet, exercises, telling, mined, (audience, format));
    for &audience in &sheet.audiences {
        let page = text(audience, ExerciseFormat::Html)?;
        output::write(&folder.join(sheet.file(audience)), &page, terminal)?;
        if let Some(file) = sheet.pdf_file(audience) {
            let pdf = text(audience, ExerciseFormat::Pdf)?;
            output::write(&folder.join(file), &pdf, terminal)?;
        }
    }
    if let Some(file) = sheet.projector_file() {
        let text = text(Audience::Both, ExerciseFormat::Projector)?;
        output::write(&folder.join(file), &text, terminal)?;
    }
    Ok(())
}

/// What a sheet with quotas is to be.
fn wishes(sheet: &PlannedSheet, plan: &CoursePlan) -> anyhow::Result<SheetWishes> {
    let SheetWanted::Quotas { quotas, levels, motifs, chapters, seed } = &sheet.wanted else {
        anyhow::bail!("a sheet that names its exercises has no quotas");
    };
    let given = match &sheet.class {
        Some(class) => given_to(plan, class, Some(&sheet.name.value))?,
        None => GivenPositions::default(),
    };
    Ok(SheetWishes {
        quotas: quotas.clone(),
        levels: *levels,
        queries: motifs.iter().map(|motif| motif.value.clone()).collect(),
        chapters: chapters.clone(),
        sides: Sides::Both,
        seed: *seed,
        given,
    })
}

/// The exercises that are named, in their order; those that can't be made are told.
fn named(
    file: &PlanFile,
    wanted: &[SheetExercise],
    mined: &Mined,
    examiners: &mut Examiners<'_>,
    terminal: Terminal,
) -> anyhow::Result<Vec<Exercise>> {
    let mut exercises = Vec::new();
    for SheetExercise { kind, id } in wanted {
        let of_id = |known: &&str| query_in(&id.value) == Some(known);
        let query = mined.runs.queries().into_iter().find(of_id).map(str::to_owned);
        let candidates = Candidates::new(*kind, Sides::Both, Unjudged::LeftOut, 1, MOST_CANDIDATES);
        let mut candidates = candidates.only(&id.value);
        if let Some(query) = query {
            let mut collectors: [&mut dyn Collector; 1] = [&mut candidates];
            mined.pass(&query, &mut collectors)?;
        }
        let made = examiners.choose(ExercisePool::given(*kind, candidates), &Bar::hidden())?;
        if made.exercises.is_empty() {
            file.tell(id, "no such exercise can be made now", terminal);
        }
        exercises.extend(made.exercises);
    }
    Ok(exercises)
}
