//! The manifest of a run: what was read, what was looked for, and what was found.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::checksum::TableRun;

/// The file's name in the folder of a run.
pub const RUN_FILE: &str = "run.json";

/// What the table of all games that were mined is called.
pub const COLLECTION_TABLE: &str = "collection";

/// What the table of the games with hits is called.
pub const GAMES_TABLE: &str = "games";

/// What the table of the games with hits is called that were left out, since a copy of them came before.
pub const DUPLICATES_TABLE: &str = "duplicates";

/// What the table of the games that were not mined is called.
pub const REJECTS_TABLE: &str = "rejects";

/// What the table of a query's hits is called.
#[must_use]
pub fn hits_table(query: &str) -> String {
    format!("hits/{query}")
}

/// The manifest as it stands in [`RUN_FILE`].
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
pub struct RunFile {
    /// The version that wrote it.
    pub hecatomb: String,
    /// How the run ended.
    pub ended: EndOfRun,
    /// The sources, in order.
    pub sources: Vec<SourceRun>,
    /// The queries, in the order of the run.
    pub queries: Vec<QueryRun>,
    /// The options that shape the tables.
    pub options: OptionsFile,
    /// What was counted.
    pub counts: Counts,
    /// The tables by the names of their files in the folder of the run.
    pub tables: BTreeMap<String, TableRun>,
    /// How long it took, in seconds.
    pub seconds: f64,
    /// Which share of the sources was mined, if not all of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part: Option<PartRun>,
}

/// A run of one of several parts of a collection.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct PartRun {
    /// Which part it is, counted from 1.
    pub number: u32,
    /// How many parts there are.
    pub of: u32,
    /// Where it begins.
    pub from: EdgeRun,
    /// Where it ends.
    pub to: EdgeRun,
    /// The byte of text at which it ends in the last source, in the count of its tables there, if it ends within
    /// it.
    pub ends_at: Option<u64>,
    /// What was counted in the first source.
    pub first: Counts,
    /// Marks of all sources, by which copies of them are told apart from others.
    pub marks: Vec<String>,
}

/// A place where two parts meet.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct EdgeRun {
    /// The index of the source.
    pub source: usize,
    /// The byte of its file from which on it is read.
    pub start: u64,
    /// The byte of text of the first game, counted as in the tables of the part after it.
    pub offset: u64,
}

/// How a run ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub enum EndOfRun {
    /// All was read.
    #[serde(rename = "at the end")]
    AtTheEnd,
    /// As many games were read as were asked for.
    #[serde(rename = "at the limit")]
    AtTheLimit,
    /// Somebody stopped it.
    #[serde(rename = "interrupted")]
    Interrupted,
}

/// A source of a run.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct SourceRun {
    /// Its name in the tables.
    pub name: String,
    /// Its size on disk in bytes; none for standard input.
    pub size: Option<u64>,
    /// The games read from it.
    pub games: u64,
    /// Why it was not read to its end, if it was not.
    pub failure: Option<String>,
    /// The first byte of its text that no check has vouched for, if its archive is damaged.
    pub unchecked_from: Option<u64>,
}

impl EdgeRun {
    /// Whether it parts its source.
    #[must_use]
    pub fn is_inside(&self) -> bool {
        (self.start, self.offset) != (0, 0)
    }
}

impl SourceRun {
    /// Whether a game that starts at this byte of its text may reach into text that no check has vouched for.
    #[must_use]
    pub fn may_hold_unchecked(&self, offset: u64) -> bool {
        /// Few games are longer than this many bytes, and none that matters is much longer.
        const LONG_GAME: u64 = 1 << 16;
        self.unchecked_from.is_some_and(|from| offset + LONG_GAME > from)
    }
}

/// A query of a run.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct QueryRun {
    /// Its name.
    pub name: String,
    /// The SHA-256 of its text, in hexadecimal digits.
    pub sha256: String,
    /// Its text, if it is none of the built-in ones.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// The offers it found that were made.
    pub hits: u64,
    /// The offers it found that were overlooked, if they were looked for.
    pub overlooked: u64,
}

/// The options that shape the tables, as given; what was not given is left out.
#[derive(Clone, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct OptionsFile(pub BTreeMap<String, String>);

/// The name of the option by which offers are looked for that nobody made.
pub const OVERLOOKED_OPTION: &str = "overlooked";

/// The name of the option by which a share of a collection is mined.
pub const PART_OPTION: &str = "part";

/// What was counted in a run.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct Counts {
    /// The games read.
    pub games: u64,
    /// Those that the options left out.
    pub left_out: u64,
    /// Those that could not be mined.
    pub rejected: u64,
    /// Those that passed the text gate.
    pub passed_text: u64,
    /// Games with hits that had come before and were left out of the tables of hits.
    pub duplicates: u64,
    /// Those that were replayed.
    pub replayed: u64,
    /// The bytes read, after decompression.
    pub bytes: u64,
}

impl RunFile {
    /// Whether both are runs of the same sources, queries and options, so that one may take the
    /// other's place.
    #[must_use]
    pub fn is_same_run(&self, other: &RunFile) -> bool {
        let sources = |run: &RunFile| -> Vec<(String, Option<u64>)> {
            run.sources.iter().map(|source| (source.name.clone(), source.size)).collect()
        };
        let queries = |run: &RunFile| -> Vec<(String, String)> {
            run.queries.iter().map(|query| (query.name.clone(), query.sha256.clone())).collect()
        };
        sources(self) == sources(other)
            && queries(self) == queries(other)
            && self.options == other.options
    }
}

/// The SHA-256 of a text, in hexadecimal digits.
#[must_use]
pub fn hash_of(text: impl AsRef<[u8]>) -> String {
    Sha256::digest(text.as_ref()).iter().map(|byte| format!("{byte:02x}")).collect()
}
