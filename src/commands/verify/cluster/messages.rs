//! What is said between the program and its Python side: lines of JSON.

use serde::{Deserialize, Serialize};

use crate::commands::verify::terms::Terms;

/// What to do; the first line.
#[derive(Serialize, Debug)]
pub(super) struct Settings {
    /// What tells this run from others on the same workers.
    pub(super) name: String,
    /// Where the cluster is, or `local`.
    pub(super) address: String,
    /// How many threads a cluster on this machine has.
    pub(super) threads: usize,
    /// The program on the workers, what it must print for its version, and how it is started.
    pub(super) program: String,
    pub(super) version: String,
    pub(super) arguments: Vec<String>,
}

/// Hits that go to a worker together.
#[derive(Serialize, Debug)]
pub(super) struct HitBatch<'b> {
    #[serde(rename = "batch")]
    pub(super) number: u64,
    pub(super) lines: &'b [String],
}

/// What the Python side says.
#[derive(Deserialize, Debug)]
#[serde(tag = "is", rename_all = "kebab-case")]
pub(super) enum Report {
    /// There is a scheduler, but no worker yet.
    Waiting,
    /// All workers that are there are fit.
    Ready { threads: usize, workers: usize, terms: Terms },
    /// Workers came or went.
    Workers { threads: usize, workers: usize },
    /// The rows of a batch, and how long it took.
    Rows { batch: u64, seconds: f64, rows: Vec<String> },
    /// Python lacks a module.
    Missing { module: String },
    /// It can't go on.
    Fault { message: String, hint: Option<String> },
}
