//! The commands: their options, and the stages each wires together.

mod consultation;
mod course;
mod diagram;
mod engine_options;
mod examiners;
mod exercises;
mod games;
mod help;
mod help_files;
mod join;
mod lesson;
mod mine;
mod open;
mod output;
mod plan;
mod queries;
mod runs;
mod second_look;
mod shared_options;
mod tally;
mod teaching_options;
mod verify;

use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, Ordering};

use anyhow::Context;
use clap::error::ErrorKind;
use clap::{CommandFactory, Parser, Subcommand};

use crate::advice::WithHint;
use crate::hits::PassTrouble;
use crate::query::meant;
use crate::tables::TableTrouble;
use crate::terminal::{OutputClosed, Terminal};
use crate::toml_files::FileProblems;
use crate::visible::{is_hidden, visible_lines};

/// Mines chess game collections for sacrifices
///
/// Finds every offer that fits a query, with what it cost, what the reply was, what followed and how the
/// game ended, and writes a table for each query.
#[derive(Parser, Debug)]
#[command(
    name = "hecatomb",
    version,
    max_term_width = 80,
    subcommand_required = true,
    arg_required_else_help = true,
    disable_help_subcommand = true,
    after_help = format!(
        "{}\nExample: hecatomb mine games.pgn.zst --query knight-follow-up --out hits",
        help::topics_listed()
    )
)]
pub struct Cli {
    /// Show nothing but results and errors
    #[arg(long, global = true)]
    quiet: bool,

    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand, Debug)]
enum Command {
    Mine(mine::MineOptions),
    Join(join::JoinOptions),
    Verify(verify::VerifyOptions),
    Tally(tally::TallyOptions),
    Lesson(lesson::LessonOptions),
    Plan(plan::PlanOptions),
    Course(course::CourseOptions),
    Open(open::OpenOptions),
    Games(games::GamesOptions),
    Exercises(exercises::ExercisesOptions),
    Diagram(diagram::DiagramOptions),
    Queries(queries::QueriesOptions),
    Completions(help_files::CompletionsOptions),
    Manual(help_files::ManualOptions),
    Help(help::HelpOptions),
}

/// How a command ended, other than by an error.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ending {
    /// Everything was done.
    Done,
    /// Something went wrong and was reported already.
    Failed,
    /// It was interrupted, and what it had is safe.
    Interrupted,
}

impl Cli {
    /// The same, or what is wrong with its options taken together.
    fn without_contradiction(self) -> Result<Cli, clap::Error> {
        let contradiction = match &self.command {
            Command::Help(options) => options.contradiction(),
            Command::Mine(options) => options.contradiction(),
            Command::Verify(options) => options.contradiction(),
            Command::Tally(options) => options.contradiction(),
            Command::Lesson(options) => options.contradiction(),
            Command::Plan(options) => options.contradiction(),
            Command::Course(options) => options.contradiction(),
            Command::Open(options) => options.contradiction(),
            Command::Games(options) => options.contradiction(),
            Command::Exercises(options) => options.contradiction(),
            _ => None,
        };
        match contradiction {
            Some(message) => Err(Cli::command().error(ErrorKind::ArgumentConflict, message)),
            None => self.with_help_as_option(),
        }
    }

    /// The same, or if help on a command is asked for, what its option answers.
    fn with_help_as_option(self) -> Result<Cli, clap::Error> {
        match &self.command {
            Command::Help(options) => options.as_option().map_or(Ok(self), Cli::try_parse_from),
            _ => Ok(self),
        }
    }
}

/// Runs the program with these arguments, the first being its own name.
#[must_use]
pub fn main(arguments: impl IntoIterator<Item = std::ffi::OsString>) -> ExitCode {
    let arguments: Vec<std::ffi::OsString> = arguments.into_iter().collect();
    let cli = match Cli::try_parse_from(&arguments).and_then(Cli::without_contradiction) {
        Ok(cli) => cli,
        Err(error) => return shown(&error, &arguments),
    };
    let terminal = Terminal::new(cli.quiet);
    let ended = match cli.command {
        Command::Mine(options) => mine::mine(&options, terminal),
        Command::Join(options) => join::join_runs(&options, terminal),
        Command::Verify(options) => verify::verify(&options, terminal),
        Command::Tally(options) => tally::tally(&options, terminal),
        Command::Lesson(options) => lesson::lesson(&options, terminal),
        Command::Plan(options) => plan::plan(&options, terminal),
        Command::Course(options) => course::course(&options, terminal),
        Command::Open(options) => open::open(&options, terminal),
        Command::Games(options) => games::games(&options, terminal),
        Command::Exercises(options) => exercises::exercises(&options, terminal),
        Command::Diagram(options) => diagram::diagram(&options, terminal),
        Command::Queries(options) => queries::queries(&options, terminal),
        Command::Completions(options) => help_files::completions(&options, terminal),
        Command::Manual(options) => help_files::manual(&options, terminal),
        Command::Help(options) => help::help(&options, terminal),
    };
    match ended {
        Ok(Ending::Done) => ExitCode::SUCCESS,
        Ok(Ending::Failed) => ExitCode::from(1),
        Ok(Ending::Interrupted) => ExitCode::from(130),
        Err(error) if error.is::<OutputClosed>() => ExitCode::SUCCESS,
        Err(error) => {
            terminal.failure(&with_way_on(error));
            ExitCode::from(1)
        }
    }
}

/// Shows the help, or what is wrong with the command line.
fn shown(error: &clap::Error, arguments: &[std::ffi::OsString]) -> ExitCode {
    let is_wild = |word: &std::ffi::OsString| word.to_string_lossy().chars().any(is_hidden);
    if error.use_stderr() && arguments.iter().any(is_wild) {
        // It may quote what would do something to the terminal, and so goes without colours.
        Terminal::new(false).report(visible_lines(&error.to_string()).trim_end());
        return ExitCode::from(2);
    }
    match error.print() {
        // Talk that can't be said changes nothing.
        _ if error.use_stderr() => ExitCode::from(2),
        // A help text that nobody reads any more is no failure.
        Err(fault) if fault.kind() != std::io::ErrorKind::BrokenPipe => ExitCode::from(1),
        _ => ExitCode::SUCCESS,
    }
}

/// The way on where a table is not as it should be, and nothing else is known.
const AGAIN: &str = "mine again with --replace, or verify again if it is a table of verdicts";

/// The same error, with what the user can do if it is one of tables.
fn with_way_on(error: anyhow::Error) -> anyhow::Error {
    let hint = error.chain().find_map(|cause| {
        let of_table = || cause.downcast_ref::<TableTrouble>()?.hint.map(str::to_owned);
        cause.downcast_ref::<PassTrouble>().and_then(runs::way_on).or_else(of_table)
    });
    let is_of_table = error.chain().any(|cause| {
        cause.is::<TableTrouble>() || matches!(cause.downcast_ref(), Some(PassTrouble::Table(_)))
    });
    // What is wrong in a table was changed since it was written, or it is of another version.
    let again = is_of_table.then(|| AGAIN.to_owned());
    error.hint_if(hint.or(again))
}

/// Shows all problems of all query files.
fn show_problems(terminal: Terminal, troubles: &[FileProblems]) {
    for trouble in troubles {
        terminal.report(trouble.render(terminal.has_colour()));
        terminal.report("");
    }
}

/// The names that were asked for, or all of them.
fn chosen_queries<'n>(asked: &'n [String], all: &[&'n str]) -> anyhow::Result<Vec<&'n str>> {
    if asked.is_empty() {
        return Ok(all.to_vec());
    }
    for name in asked {
        if !all.contains(&&**name) {
            let error = anyhow::anyhow!("there are no hits of a query `{name}`");
            return Err(error.hint_if(meant(name, all.iter().copied())));
        }
    }
    Ok(asked.iter().map(String::as_str).collect())
}

/// A flag that an interrupt sets; a second interrupt ends the program at once.
fn stop_on_interrupt() -> anyhow::Result<&'static AtomicBool> {
    static STOP: AtomicBool = AtomicBool::new(false);
    let handler = || {
        if STOP.swap(true, Ordering::Relaxed) {
            #[expect(
                clippy::exit,
                reason = "the user asked twice, and the first way out is blocked"
            )]
            std::process::exit(130);
        }
    };
    ctrlc::set_handler(handler).context("can't listen for interrupts")?;
    Ok(&STOP)
}
