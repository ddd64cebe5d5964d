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
pub(super) fn manual(options: &ManualOptions, terminal: Terminal) -> anyhow::Result<Ending> {
    let pages = [("man1", command_pages()?), ("man7", help::pages())];
    let unwritable = || format!("can't write the pages to `{}`", options.out.display());
    for (section, pages) in pages {
        let folder = output::make_folder(&options.out, section).with_context(unwritable)?;
        for (name, page) in pages {
            output::write(&folder.join(name), &page, terminal)?;
        }
    }
    Ok(Ending::Done)
}

/// The pages of the commands with the names of their files, sorted.
fn command_pages() -> anyhow::Result<Vec<(String, String)>> {
    // The library writes files only.
    let folder = tempfile::tempdir()?;
    clap_mangen::generate_to(Cli::command(), folder.path())?;
    let mut pages = Vec::new();
    for entry in fs::read_dir(folder.path())? {
        let path = entry?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        pages.push((name, fs::read_to_string(&path)?));
    }
    pages.sort();
    Ok(pages)
}
