//! `hecatomb queries`: what can be looked for, and whether a query file is right.

mod proof;
mod show;

use clap::{Args, Subcommand};

use super::engine_options::EngineOptions;
use super::{Ending, show_problems};
use crate::mining::{Miss, rehearse};
use crate::query::{Library, Pattern, Query};
use crate::terminal::{Align, Terminal, in_columns};
use crate::visible::visible_lines;

use proof::Proofs;

/// List, show and check queries
///
/// `hecatomb help query-files` says how to write one.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb queries check my-query.toml")]
pub(super) struct QueriesOptions {
    #[command(subcommand)]
    action: Action,
}

#[derive(Subcommand, Debug)]
enum Action {
    /// List the built-in queries, special forms indented below their motif
    #[command(after_help = "Example: hecatomb queries list")]
    List,

    /// Show how a query is understood, with a board that marks its squares
    #[command(after_help = "Example: hecatomb queries show bishop-takes-h7")]
    Show {
        /// A built-in query or a query file
        #[arg(value_name = "NAME|FILE")]
        name: String,
    },

    /// Check query files and try them on their own examples
    ///
    /// Shows every problem in every file and where it is. Without a file, checks the built-in queries.
    #[command(after_help = "Example: hecatomb queries check my-query.toml other.toml")]
    Check {
        /// Query files, or names of built-in queries
        #[arg(value_name = "FILE")]
        files: Vec<String>,

        /// Also prove the verdicts that the examples state
        ///
        /// With --engine, the engine decides those that are no mates.
        #[arg(long)]
        verify: bool,

        #[command(flatten)]
        engine: EngineOptions,
    },
}

/// Runs the command.
pub(super) fn queries(options: &QueriesOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    match &options.action {
        Action::List => list(terminal),
        Action::Show { name } => show(name, terminal),
        Action::Check { files, verify, engine } => {
            let program = engine.program();
            let mut proofs = verify.then(|| Proofs::new(program.as_ref())).transpose()?;
            check(files, proofs.as_mut(), terminal)
        }
    }
}

/// Reads queries, or shows what is wrong with them.
fn read(library: Library, terminal: Terminal) -> Option<Vec<Query>> {
    library.queries().map_err(|troubles| show_problems(terminal, &troubles)).ok()
}

fn list(terminal: Terminal) -> anyhow::Result<Ending> {
    let mut library = Library::new();
    library.add_built_in();
    let Some(queries) = read(library, terminal) else {
        return Ok(Ending::Failed);
    };
    let mut rows = vec![["chapter", "name", "title"].map(str::to_owned)];
    for query in queries {
        let indent = if query.form_of.is_some() { "  " } else { "" };
        let name = format!("{indent}{}", query.name);
        rows.push([query.chapter.word().to_owned(), name, query.title]);
        if !query.also_called.is_empty() {
            let names = format!("  also called {}", query.also_called.join(", "));
            rows.push([String::new(), String::new(), names]);
        }
    }
    let rows: Vec<Vec<String>> = rows.into_iter().map(Vec::from).collect();
    terminal.print(&in_columns(&[Align::Left; 3], &rows))?;
    Ok(Ending::Done)
}

fn check(
    files: &[String],
    mut proofs: Option<&mut Proofs<'_>>,
    terminal: Terminal,
) -> anyhow::Result<Ending> {
    let mut library = Library::new();
    if files.is_empty() {
        library.add_built_in();
    }
    files.iter().for_each(|file| library.add(file));
    let Some(queries) = read(library, terminal) else {
        return Ok(Ending::Failed);
    };
    let mut ending = Ending::Done;
    let mut text = String::new();
    note_slips(&queries, terminal);
    for query in queries {
        let (name, examples) = (query.name.clone(), query.examples.len());
        let pattern = Pattern::new(query);
        let misses = rehearse(&pattern);
        for Miss { file_line, line, expected, reason } in &misses {
            let problem = if *expected { "no offer was found in" } else { "an offer was found in" };
            terminal.error(format!(
                "`{name}`, example on line {file_line}: {problem} `{line}`: {reason}"
            ));
            ending = Ending::Failed;
        }
        let wrong = match &mut proofs {
            Some(proofs) => proofs.wrong_verdicts(&pattern)?,
            None => Vec::new(),
        };
        for problem in &wrong {
            terminal.error(format!("`{name}`, {problem}"));
            ending = Ending::Failed;
        }
        if misses.is_empty() && wrong.is_empty() {
            let examples =
                if examples == 1 { "1 example".to_owned() } else { format!("{examples} examples") };
            text += &format!("{name}: understood, {examples} passed\n");
        }
    }
    terminal.print(&text)?;
    Ok(ending)
}

fn show(name: &str, terminal: Terminal) -> anyhow::Result<Ending> {
    let mut library = Library::new();
    library.add(name);
    let Some(queries) = read(library, terminal) else {
        return Ok(Ending::Failed);
    };
    let width = terminal.width();
    let shown: Vec<String> = queries.iter().map(|query| show::describe(query, width)).collect();
    terminal.print(&visible_lines(&shown.join("\n")))?;
    note_slips(&queries, terminal);
    Ok(Ending::Done)
}

/// Notes the offers that are told from the wrong side of the board.
fn note_slips(queries: &[Query], terminal: Terminal) {
    for (query, slip) in queries.iter().filter_map(|query| Some((query, query.slip()?))) {
        terminal.note_with_hint(
            format!(
                "`{}`: the offer `{}` takes on the attacker's own side of the board: squares are told \
                 as if White attacked, Black's offers as well",
                query.name, slip.written
            ),
            format!("if Black's offer there is meant, write `{}`", slip.meant),
        );
    }
}
