//! `hecatomb completions` and `hecatomb manual`: what a shell and `man` want to know of the program.

use std::fs;
use std::path::PathBuf;

use anyhow::Context;
use clap::{Args, CommandFactory};
use clap_complete::Shell;

use super::{Cli, Ending, help, output};
use crate::terminal::Terminal;

/// Write command-line completions for a shell
///
/// Put them where your shell looks for them, and the Tab key completes commands and options.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb completions bash -o hecatomb.bash")]
pub(super) struct CompletionsOptions {
    /// The shell
    shell: Shell,

    /// Write to this file; - is standard output
    #[arg(short, long = "out", value_name = "FILE", default_value = "-")]
    out: PathBuf,
}

/// Write manual pages for the commands and topics
///
/// The commands go into section 1 and the topics into section 7, each in a folder of its own, where `man`
/// looks for them.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb manual -o ~/.local/share/man")]
pub(super) struct ManualOptions {
    /// Write to this folder, as man1/ and man7/
    #[arg(short, long = "out", value_name = "DIR", default_value = ".")]
    out: PathBuf,
}

/// Writes the completions.
pub(super) fn completions(
    options: &CompletionsOptions,
    terminal: Terminal,
) -> anyhow::Result<Ending> {
    let mut text = Vec::new();
    let mut command = Cli::command();
    clap_complete::generate(options.shell, &mut command, env!("CARGO_PKG_NAME"), &mut text);
    output::write(&options.out, &String::from_utf8(text)?, terminal)?;
    Ok(Ending::Done)
}

/// Writes the pages.
pub(super) fn manual(options: &ManualOptions) -> anyhow::Result<Ending> {
    let [commands, topics] = ["man1", "man7"].map(|section| options.out.join(section));
    fs::create_dir_all(&commands)
        .and_then(|()| fs::create_dir_all(&topics))
        .and_then(|()| clap_mangen::generate_to(Cli::command(), &commands))
        .and_then(|()| help::write_pages(&topics))
        .with_context(|| format!("can't write the pages to `{}`", options.out.display()))?;
    Ok(Ending::Done)
}
