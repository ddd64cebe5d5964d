//! `hecatomb help`: what the options of a command mean, or a topic of the reference.

mod document;
mod page;
mod text;

use std::fmt::Write as _;

use clap::{Args, CommandFactory};

use super::{Cli, Ending};
use crate::advice::suggestion;
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
const TOPICS: [Topic; 10] = [
    Topic { name: "mining", source: include_str!("topics/mining.md") },
    Topic { name: "parts", source: include_str!("topics/parts.md") },
    Topic { name: "columns", source: include_str!("topics/columns.md") },
    Topic { name: "kinds", source: include_str!("topics/kinds.md") },
    Topic { name: "verdicts", source: include_str!("topics/verdicts.md") },
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
    if let Some(Subject::Topic(topic)) = options.subject {
        terminal.print(&text::text(&blocks(topic.source), terminal.width()))?;
    }
    Ok(Ending::Done)
}

/// The topics with their titles, as the help of the program lists them.
pub(super) fn topics_listed() -> String {
    let mut list = "Topics (hecatomb help TOPIC):\n".to_owned();
    let width = TOPICS.iter().map(|topic| topic.name.len()).max().unwrap_or(0);
    for topic in &TOPICS {
        let _ = writeln!(list, "  {:<width$}  {}", topic.name, topic.title());
    }
    list
}

/// A manual page for each topic with the name of its file.
pub(super) fn pages() -> Vec<(String, String)> {
    let file = |topic: &Topic| format!("{}.{}", topic.page_name(), page::SECTION);
    TOPICS.iter().map(|topic| (file(topic), page::page(topic))).collect()
}
