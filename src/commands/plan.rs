//! `hecatomb plan`: tables of hits in, a first plan of a course out.

use std::path::PathBuf;

use clap::Args;

use super::lesson::{findings, queries_of};
use super::shared_options::LanguageOption;
use super::teaching_options::TeachingOptions;
use super::{Ending, output};
use crate::advice::WithHint;
use crate::desk::Desk;
use crate::pages::in_plan;
use crate::plan::written;
use crate::statistics::{Outcomes, counted};
use crate::teaching::LessonWishes;
use crate::terminal::{Bar, Terminal};

/// Write a first plan of a course, to be edited
///
/// The plan names a lesson for each motif with offers that give something up, and in each the games and exercises that the
/// program would choose; beside each entry stands what it is. Keep, move, delete and add what you like, write your own
/// words into it, and make the course with `hecatomb course --plan`. `hecatomb help plans` says what a plan can hold.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb plan hecatomb-out -o course.toml")]
pub(super) struct PlanOptions {
    /// Plan lessons on these motifs only; may be repeated
    #[arg(long, value_name = "NAME|FILE")]
    query: Vec<String>,

    /// Write to this file; - is standard output
    #[arg(short, long = "out", value_name = "FILE", default_value = "course.toml")]
    out: PathBuf,

    #[command(flatten)]
    language: LanguageOption,

    /// Write over a plan that is there; earlier changes of it can no longer be undone
    #[arg(long)]
    replace: bool,

    #[command(flatten)]
    teaching: TeachingOptions,
}

impl PlanOptions {
    /// What is wrong with the options taken together.
    pub(super) fn contradiction(&self) -> Option<&'static str> {
        self.teaching.contradiction()
    }
}

/// Runs the command.
pub(super) fn plan(options: &PlanOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    output::expect_place(&options.out)?;
    if options.out.is_file() && !options.replace {
        let error = anyhow::anyhow!("`{}` is there already", options.out.display());
        return Err(error.hint("name another file with -o, or write over it with --replace"));
    }
    let mined = options.teaching.mined()?;
    let Some(queries) = queries_of(&options.query, &mined, terminal)? else {
        return Ok(Ending::Failed);
    };
    let program = options.teaching.program();
    let mut examiners = options.teaching.examiners(program.as_ref())?;
    let words = options.language.or(None);
    let games = Outcomes::games(&mined.base.all());
    let bar = Bar::counting(terminal, queries.len() as u64);
    let mut lessons = Vec::new();
    for query in &queries {
        if mined.runs.queries().contains(&&*query.name) {
            let wishes = LessonWishes::default();
            let found = findings(query, &wishes, &mined, &mut examiners, &Bar::hidden())?;
            if found.tally.summary.given_up > 0 {
                lessons.push(in_plan(query, &found, games, words));
            }
        }
        bar.advance(1);
    }
    bar.end();
    anyhow::ensure!(!lessons.is_empty(), "no offer in these tables gives anything up");
    let text = written(&words.say("course-title"), words.language(), &lessons);
    Desk::anew(&options.out, || output::write(&options.out, &text, terminal))?;
    let count = counted(lessons.len() as u64, "lesson");
    terminal.note(format!("a plan of {count} in {}", options.out.display()));
    mined.tell_left_out(terminal);
    examiners.end(terminal).map(|()| Ending::Done)
}
