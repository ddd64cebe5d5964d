//! `hecatomb help`: what the options of a command mean, or a topic of the reference.

mod document;
mod page;
mod text;

use std::fmt::Write as _;

use clap::{Args, CommandFactory};

use super::{Cli, Ending};
use crate::advice::suggestion;
use crate::hits::dictionary;
use crate::tables::{Column, Meaning};
use crate::terminal::Terminal;
use document::blocks;

/// A part of the reference.
#[derive(Debug)]
pub(super) struct Topic {
    /// What it is asked for by.
    name: &'static str,
    /// Its text, in the part of Markdown that [`document`] knows. The first line is the title.
    source: &'static str,
}

/// All topics. None has the name of a command.
const TOPICS: &[Topic] = &[
    Topic { name: "mining", source: include_str!("topics/mining.md") },
    Topic { name: "parts", source: include_str!("topics/parts.md") },
    Topic { name: "columns", source: include_str!("topics/columns.md") },
    Topic { name: "tables", source: include_str!("topics/tables.md") },
    Topic { name: "kinds", source: include_str!("topics/kinds.md") },
    Topic { name: "verdicts", source: include_str!("topics/verdicts.md") },
    Topic { name: "clusters", source: include_str!("topics/clusters.md") },
    Topic { name: "statistics", source: include_str!("topics/statistics.md") },
    Topic { name: "lessons", source: include_str!("topics/lessons.md") },
    Topic { name: "plans", source: include_str!("topics/plans.md") },
    Topic { name: "sheets", source: include_str!("topics/sheets.md") },
    Topic { name: "query-files", source: include_str!("topics/query-files.md") },
];

impl Topic {
    fn title(&self) -> &'static str {
        self.source.lines().next().unwrap_or_default().trim_start_matches("# ")
    }

    fn page_name(&self) -> String {
        format!("{}-{}", env!("CARGO_PKG_NAME"), self.name)
    }
}

/// Explain a command or a topic
///
/// Without a name it lists all commands and topics.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb help columns")]
pub(super) struct HelpOptions {
    /// A command or a topic
    #[arg(value_name = "COMMAND|TOPIC", value_parser = subject)]
    subject: Option<Subject>,

    /// A command of that command
    #[arg(value_name = "COMMAND", hide = true)]
    part: Option<String>,

    /// The columns as a table, for other programs (`help columns` only)
    #[arg(long, value_name = "FORMAT", requires = "subject")]
    format: Option<DictionaryFormat>,
}

/// How the dictionary of the tables' columns is written.
#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
enum DictionaryFormat {
    /// Comma-separated values, a row for each column.
    Csv,
}

/// What help is asked for on.
#[derive(Clone, Debug)]
enum Subject {
    Command(String),
    Topic(&'static Topic),
}

/// The command or topic of a name.
fn subject(name: &str) -> Result<Subject, String> {
    if let Some(topic) = TOPICS.iter().find(|topic| topic.name == name) {
        return Ok(Subject::Topic(topic));
    }
    let program = Cli::command();
    if program.find_subcommand(name).is_some() {
        return Ok(Subject::Command(name.to_owned()));
    }
    let commands = program.get_subcommands().map(clap::Command::get_name);
    let meant = suggestion(name, commands.chain(TOPICS.iter().map(|topic| topic.name)));
    let meant = meant.map_or_else(String::new, |meant| format!("; {meant}"));
    Err(format!("there is no such command or topic{meant}"))
}

impl HelpOptions {
    /// What is wrong with these options taken together.
    pub(super) fn contradiction(&self) -> Option<&'static str> {
        let lists_columns =
            matches!(&self.subject, Some(Subject::Topic(topic)) if topic.name == "columns");
        (self.format.is_some() && !lists_columns)
            .then_some("`--format` goes with `help columns` alone")
    }

    /// The arguments that show the same help by an option; `None` for a topic.
    pub(super) fn as_option(&self) -> Option<Vec<String>> {
        let command = match &self.subject {
            None => None,
            Some(Subject::Command(name)) => Some(name.clone()),
            Some(Subject::Topic(_)) => return None,
        };
        let words = [command, self.part.clone(), Some("--help".to_owned())];
        let program = env!("CARGO_PKG_NAME").to_owned();
        Some(std::iter::once(program).chain(words.into_iter().flatten()).collect())
    }
}

/// Shows a topic.
pub(super) fn help(options: &HelpOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let Some(Subject::Topic(topic)) = &options.subject else { return Ok(Ending::Done) };
    if let Some(DictionaryFormat::Csv) = options.format {
        terminal.print(&dictionary_as_csv()?)?;
    } else {
        terminal.print(&text::text(&blocks(topic.source), terminal.width()))?;
    }
    Ok(Ending::Done)
}

/// The columns of the tables, a row for each.
fn dictionary_as_csv() -> anyhow::Result<String> {
    let mut table = csv::Writer::from_writer(Vec::new());
    table.write_record(["table", "column", "type", "unit", "meaning", "blank"])?;
    for (name, Column { name: column, kind, meaning }) in dictionary() {
        let Meaning { unit, meaning, blank } = &meaning;
        table.write_record([name, &column, kind.word(), unit, meaning, blank])?;
    }
    Ok(String::from_utf8(table.into_inner()?)?)
}

/// The topics with their titles, as the help of the program lists them.
pub(super) fn topics_listed() -> String {
    let mut list = "Topics (hecatomb help TOPIC):\n".to_owned();
    let width = TOPICS.iter().map(|topic| topic.name.len()).max().unwrap_or(0);
    for topic in TOPICS {
        let _ = writeln!(list, "  {:<width$}  {}", topic.name, topic.title());
    }
    list
}

/// A manual page for each topic with the name of its file.
pub(super) fn pages() -> Vec<(String, String)> {
    let file = |topic: &Topic| format!("{}.{}", topic.page_name(), page::SECTION);
    TOPICS.iter().map(|topic| (file(topic), page::page(topic))).collect()
}
