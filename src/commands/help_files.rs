//! `hecatomb completions` and `hecatomb manual`: what a shell and `man` want to know of the program.

use std::path::PathBuf;

use anyhow::Context;
use clap::{Args, CommandFactory};
use clap_complete::Shell;

use super::{Cli, Ending, output};
use crate::terminal::Terminal;

/// Write the completions of a shell
///
/// Put them where your shell looks for them, and the Tab key knows commands and options.
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb completions bash -o hecatomb.bash")]
pub(super) struct CompletionsOptions {
    /// The shell
    shell: Shell,

    /// Write to this file; - is standard output
    #[arg(short, long = "out", value_name = "FILE", default_value = "-")]
    out: PathBuf,
}

/// Write the manual pages, one a command
#[derive(Args, Debug)]
#[command(after_help = "Example: hecatomb manual -o ~/.local/share/man/man1")]
pub(super) struct ManualOptions {
    /// Write to this folder
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
    let folder = &options.out;
    std::fs::create_dir_all(folder)
        .and_then(|()| clap_mangen::generate_to(Cli::command(), folder))
        .with_context(|| format!("can't write the pages to `{}`", folder.display()))?;
    Ok(Ending::Done)
}
