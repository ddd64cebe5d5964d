//! The options that name an engine, the same in every command that asks one.

use std::path::PathBuf;
use std::time::Duration;

use anyhow::Context;
use clap::Args;

use crate::engine::{EngineOption, Patience, Program};

/// An engine, and how it is asked.
#[derive(Args, Debug)]
pub(super) struct EngineOptions {
    /// Let this engine judge what no proof decides; any program that speaks UCI
    #[arg(
        id = "engine",
        long = "engine",
        value_name = "PROGRAM",
        env = "HECATOMB_ENGINE",
        hide_env_values = true,
        help_heading = "An engine"
    )]
    path: Option<PathBuf>,

    /// Let the engine search up to N positions for each answer
    #[arg(
        id = "engine_nodes",
        long = "engine-nodes",
        value_name = "N",
        default_value_t = 100_000,
        value_parser = clap::value_parser!(u64).range(1..),
        requires = "engine",
        help_heading = "An engine"
    )]
    nodes: u64,

    /// Wait at most SECONDS for each answer [default: 30, and 1 more for every 2,000 positions]
    ///
    /// An engine that keeps silent three times in a row is asked no more.
    #[arg(
        id = "engine_patience",
        long = "engine-patience",
        value_name = "SECONDS",
        value_parser = clap::value_parser!(u32).range(1..=86_400),
        requires = "engine",
        help_heading = "An engine"
    )]
    patience: Option<u32>,

    /// Set an option of the engine; may be repeated
    #[arg(
        id = "engine_option",
        long = "engine-option",
        value_name = "NAME=VALUE",
        requires = "engine",
        help_heading = "An engine"
    )]
    options: Vec<EngineOption>,
}

impl EngineOptions {
    /// The same options for another process; none if no program was named.
    pub(super) fn arguments(&self) -> anyhow::Result<Vec<String>> {
        let Some(program) = self.program() else { return Ok(Vec::new()) };
        let path = program.path.to_str().context("the path of the engine is not UTF-8")?;
        let mut arguments = vec!["--engine".to_owned(), path.to_owned()];
        arguments.push(format!("--engine-nodes={}", self.nodes));
        arguments.extend(self.patience.map(|seconds| format!("--engine-patience={seconds}")));
        arguments.extend(self.options.iter().map(|option| format!("--engine-option={option}")));
        Ok(arguments)
    }

    /// The program that was named, if one was.
    pub(super) fn program(&self) -> Option<Program> {
        let patience = Patience::of(self.nodes);
        let asked = self.patience.map(|seconds| Duration::from_secs(seconds.into()));
        let patience = Patience { search: asked.unwrap_or(patience.search), ..patience };
        // A variable of the environment that is set to nothing names none.
        let path = self.path.clone().filter(|path| !path.as_os_str().is_empty())?;
        Some(Program { path, options: self.options.clone(), nodes: self.nodes, patience })
    }
}
