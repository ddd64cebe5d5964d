//! Tables: writers and readers for each format, the folder a run is written to, and its manifest.
//!
//! Invariant: a table is written whole or not at all.

mod cell;
mod checksum;
mod csv_table;
mod folder;
mod format;
mod growing;
mod guard;
mod jsonl_table;
mod parquet_table;
mod places;
mod publishing;
mod reading;
mod run_file;
mod staging;
mod terms_file;
mod writer;

pub use cell::{Cell, Column, Kind, Meaning};
pub use checksum::{Checksum, Extent, TableRun};
pub use csv_table::csv_text;
pub use folder::OutputFolder;
pub use format::TableFormat;
pub use growing::{GrowingTable, remove_left, rows_left, unfinished_part};
pub use guard::guarded;
pub use jsonl_table::write_json_row;
pub use places::{FolderError, VerdictsLock, is_of_run, make_inside, make_way};
pub use reading::{Expected, LooseRows, Row, TableReader, TableTrouble};
pub use run_file::{
    COLLECTION_TABLE, Counts, DUPLICATES_TABLE, EdgeRun, EndOfRun, GAMES_TABLE, OVERLOOKED_OPTION,
    OptionsFile, PART_OPTION, PartRun, QueryRun, REJECTS_TABLE, RUN_FILE, RunFile, SourceRun,
    hash_of, hits_table,
};
pub use staging::Staging;
pub use terms_file::{TERMS_FILE, TermsFile, VerdictsRun};
pub use writer::TableWriter;
