//! Tables: writers and readers for each format, the folder a run is written to, and its manifest.
//!
//! Invariant: a table is written whole or not at all.

mod cell;
mod csv_table;
mod folder;
mod format;
mod growing;
mod guard;
mod jsonl_table;
mod parquet_table;
mod reading;
mod run_file;
mod staging;

pub use cell::{Cell, Column, Kind};
pub use csv_table::csv_text;
pub use folder::{FolderError, OutputFolder, make_inside};
pub use format::{TableFormat, TableWriter};
pub use growing::{GrowingTable, unfinished_part};
pub use guard::guarded;
pub use reading::{Row, TableReader, TableTrouble};
pub use run_file::{
    Counts, EndOfRun, OptionsFile, QueryRun, RUN_FILE, RunFile, SourceRun, hash_of,
};
pub use staging::Staging;
