//! A hit from the moment it is judged to the page it ends on: its type, the columns that write and read it
//! in every format, and one pass over the hits of a run or of many.
//!
//! Invariant: nobody else names a column of these tables.

// What the searches found, and whether an offer is sound, in a word.
mod verdict;
// Why a count proves nothing, and who forces a draw.
mod reasons;
// How that is known.
mod evidence;
// When an offer is called sound.
mod rule;
// All evidence on an offer, weighed.
mod worth;
// What was found out about an offer.
mod record;
// What a hit is known by.
mod hit_id;
// A hit with everything that is known of it.
mod judged_hit;
// A cell that is being read.
mod field;
// Each column once.
mod columns;
// What each column means.
mod meanings;
// Which columns the tables of a query have.
mod layout;
// A query's hits, one after the other.
mod reader;
// Lines of JSON from one program to another.
mod lines;
// Doubts that arise later.
mod doubting;
// The other tables of a run.
mod base;
mod games;
// Rows on their way into another run.
mod placed;
// Games that were left out.
mod left_out;
// The columns of all tables.
mod dictionary;
// A run.
mod row_place;
mod run;
// Hits that several runs hold.
mod overlap;
// What sees the hits of a pass, and which of them it sees.
mod chosen_kinds;
mod collector;
// Several runs, and one pass over them.
mod runs;

pub use base::{
    CollectionReader, CollectionRow, collection_cells, collection_columns, reject_cells,
    reject_columns,
};
pub use chosen_kinds::ChosenKinds;
pub use collector::{Collector, LeftOut, NoColumn, PassTrouble};
pub use dictionary::dictionary;
pub use doubting::doubt_hits;
pub use evidence::Evidence;
pub use field::CellTrouble;
pub use games::{GameReader, game_cells, game_columns};
pub use hit_id::{game_in, id_of, query_in};
pub use judged_hit::{HitRow, JudgedHit};
pub use layout::{ColumnId, Layout, Verdicts, Wanted, verdict_cells, verdict_columns};
pub use left_out::{LeftOutGame, LeftOutGames, duplicate_cells, duplicate_columns};
pub use lines::{AskedHit, FAULT, HitLines, LineTrouble, VerdictLines, asked_line};
pub use placed::{PlacedRow, PlacedRows, RowShape, VerdictRows};
pub use reader::HitReader;
pub use reasons::{DrawnBy, Unrest};
pub use record::{Advice, Opinion, VerdictRecord};
pub use row_place::{HitPlace, RowPlace};
pub use rule::{LOSS, LOST_UNDER, SOUND_FROM, hangs_on_little};
pub use run::{Reading, Run};
pub use runs::{GamePlaces, Runs};
pub use verdict::{Sound, Verdict};
pub use worth::{Circumstances, Judged, OfferWorth, Searched};
