//! The options of every command that teaches: the runs, how they are read, and how solutions are found.

use std::path::PathBuf;

use clap::Args;

use super::engine_options::EngineOptions;
use super::examiners::Examiners;
use super::runs::Mined;
use super::shared_options::{EditedOption, NodesOption, SacrificeOption, ThreadsOption};
use crate::engine::Program;
use crate::tables::TableTrouble;
use crate::verdict::Effort;

/// The runs, how they are read, and how solutions are found.
#[derive(Args, Debug)]
pub(super) struct TeachingOptions {
    /// Folders that `mine --out` wrote
    #[arg(required = true, value_name = "DIR")]
    runs: Vec<PathBuf>,

    #[command(flatten)]
    proof: NodesOption,

    #[command(flatten)]
    engine: EngineOptions,

    #[command(flatten)]
    threads: ThreadsOption,

    #[command(flatten)]
    sacrifices: SacrificeOption,

    #[command(flatten)]
    edited: EditedOption,
}

impl TeachingOptions {
    /// What is wrong with the options taken together.
    pub(super) fn contradiction(&self) -> Option<&'static str> {
        self.sacrifices.contradiction()
    }

    /// The runs that were named.
    pub(super) fn mined(&self) -> Result<Mined, TableTrouble> {
        Mined::open(&self.runs, &self.edited, &self.sacrifices)
    }

    /// The effort of a proof.
    pub(super) fn effort(&self) -> Effort {
        self.proof.effort()
    }

    /// How many threads are to work.
    pub(super) fn threads(&self) -> usize {
        self.threads.count()
    }

    /// The engine that was named, if one was.
    pub(super) fn program(&self) -> Option<Program> {
        self.engine.program()
    }

    /// Examiners, with this engine.
    pub(super) fn examiners<'p>(
        &self,
        program: Option<&'p Program>,
    ) -> anyhow::Result<Examiners<'p>> {
        Examiners::new(self.threads.count(), self.proof.effort(), program)
    }
}
