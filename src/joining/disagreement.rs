//! Why runs can't be joined.

use crate::tables::{FolderError, TableTrouble};

/// What keeps runs from being joined: something in which they differ, or that they lack.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
pub enum Disagreement {
    /// A run is named twice.
    #[error("`{again}` is the run in `{first}` again")]
    Twice {
        /// How it was named first.
        first: String,
        /// How it was named again.
        again: String,
    },
    /// A run was written by another version.
    #[error("`{run}` was mined by version {version}, and this is version {}", env!("CARGO_PKG_VERSION"))]
    OtherVersion {
        /// The run.
        run: String,
        /// Its version.
        version: String,
    },
    /// A run was stopped before its end.
    #[error("the run in `{0}` was cut short")]
    CutShort(String),
    /// A run mined a number of games and no more.
    #[error("`{0}` was mined with --limit, which counts the games of one run")]
    Limited(String),
    /// Runs looked for different things.
    #[error("`{other}` was not mined with the queries of `{one}`: {difference}")]
    OtherQueries {
        /// A run.
        one: String,
        /// The other run.
        other: String,
        /// In what they differ.
        difference: String,
    },
    /// Runs have different options.
    #[error("`{other}` was mined with another --{option} than `{one}`")]
    OtherOption {
        /// A run.
        one: String,
        /// The other run.
        other: String,
        /// The name of the option.
        option: String,
    },
    /// A query is not the one that this program has built in.
    #[error("the query `{query}` of `{run}` is not the one that is built in")]
    OtherBuiltIn {
        /// The run.
        run: String,
        /// The query.
        query: String,
    },
    /// Parts and whole runs are mixed.
    #[error("`{part}` is a part of a collection, and `{whole}` is a whole run")]
    Mixed {
        /// The part.
        part: String,
        /// The whole run.
        whole: String,
    },
    /// Parts are of different numbers.
    #[error("`{other}` is one of {other_of} parts, and `{one}` is one of {one_of}")]
    OtherNumber {
        /// A part.
        one: String,
        /// Of how many.
        one_of: u32,
        /// Another part.
        other: String,
        /// Of how many that one is.
        other_of: u32,
    },
    /// A part is there twice.
    #[error("part {number} of {of} is there twice: `{first}` and `{again}`")]
    PartTwice {
        /// Which part.
        number: u32,
        /// Of how many.
        of: u32,
        /// Its first folder.
        first: String,
        /// Another folder.
        again: String,
    },
    /// Parts are missing.
    #[error("{0}")]
    Missing(String),
    /// Parts were mined from different sources.
    #[error("`{one}` and `{other}` are parts of other collections: {difference}")]
    OtherSources {
        /// A part.
        one: String,
        /// Another part.
        other: String,
        /// In what they differ.
        difference: String,
    },
    /// A source is not the same for two parts.
    #[error("`{source_name}` was not the same for `{other}` as for `{one}`")]
    ChangedSource {
        /// The source.
        source_name: String,
        /// A part.
        one: String,
        /// Another part.
        other: String,
    },
    /// A part does not begin where the one before it ends.
    #[error("`{other}` does not begin where `{one}` ends: a source was changed between them")]
    Apart {
        /// A part.
        one: String,
        /// The part after it.
        other: String,
    },
    /// Two runs read sources of one name.
    #[error("`{source_name}` is a source of both `{one}` and `{other}`")]
    CommonSource {
        /// The source.
        source_name: String,
        /// A run.
        one: String,
        /// Another run.
        other: String,
    },
    /// Verdicts were made under different terms.
    #[error("the verdicts on `{query}` were made with other options in `{other}` than in `{one}`")]
    OtherTerms {
        /// The query.
        query: String,
        /// A run.
        one: String,
        /// Another run.
        other: String,
    },
}

impl Disagreement {
    /// What the user can do.
    #[must_use]
    pub fn way_on(&self) -> Option<&'static str> {
        Some(match self {
            Disagreement::Twice { .. } => "name each run once",
            Disagreement::OtherVersion { .. } => "mine it again with this version",
            Disagreement::CutShort(_) => "end it with `hecatomb mine` and --resume",
            Disagreement::Limited(_) => "mine it again without --limit",
            Disagreement::OtherQueries { .. } | Disagreement::OtherOption { .. } => {
                "mine one of them again as the other was mined"
            }
            Disagreement::OtherBuiltIn { .. } => "mine it again",
            Disagreement::Mixed { .. } => "join the parts first, and then the run of them all",
            Disagreement::PartTwice { .. } => "name one of them",
            Disagreement::Missing(_) => "every part is needed, even one without a game",
            Disagreement::ChangedSource { .. } | Disagreement::Apart { .. } => {
                "mine all parts again from the same files"
            }
            Disagreement::CommonSource { .. } => {
                "a run reads a source once; mine one of them again without it"
            }
            Disagreement::OtherTerms { .. } => "verify one of them again as the other was verified",
            Disagreement::OtherNumber { .. } | Disagreement::OtherSources { .. } => return None,
        })
    }
}

/// What went wrong when runs were joined.
#[derive(thiserror::Error, Debug)]
pub enum JoinError {
    /// They can't be joined.
    #[error(transparent)]
    Disagreement(#[from] Disagreement),
    /// A table of one of them is not as it should be.
    #[error(transparent)]
    Table(#[from] TableTrouble),
    /// The run of them all can't be written.
    #[error(transparent)]
    Folder(#[from] FolderError),
}
