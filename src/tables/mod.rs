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
mod places;
mod reading;
mod run_file;
mod staging;
mod writer;

pub use cell::{Cell, Column, Kind};
pub use csv_table::csv_text;
pub use folder::OutputFolder;
pub use format::TableFormat;
pub use growing::{GrowingTable, unfinished_part};
pub use guard::guarded;
pub use places::{FolderError, make_inside, make_way};
pub use reading::{Row, TableReader, TableTrouble};
pub use run_file::{
    Counts, EndOfRun, OptionsFile, QueryRun, RUN_FILE, RunFile, SourceRun, hash_of,
};
pub use staging::Staging;
pub use writer::TableWriter;
