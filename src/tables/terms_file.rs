//! The file beside the verdicts: for each table of verdicts under which terms it was made, from which hits,
//! and what was written.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::Path;

use serde::{Deserialize, Serialize};

use super::checksum::{Checksum, TableRun};
use super::places::make_way;

/// The file's name in the folder of the verdicts.
pub const TERMS_FILE: &str = "terms.json";

/// The file as it stands in [`TERMS_FILE`]: what is known of each table of verdicts, by query.
#[derive(Clone, PartialEq, Debug, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct TermsFile(pub BTreeMap<String, VerdictsRun>);

/// How a table of verdicts was made.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
pub struct VerdictsRun {
    /// What must be the same for the table to be resumed.
    pub terms: serde_json::Value,
    /// The checksum of the table of hits that was judged.
    pub hits: Checksum,
    /// The table, once it is in its place.
    pub table: Option<TableRun>,
    /// How many of its hits were not judged yet.
    #[serde(default, skip_serializing_if = "is_none")]
    pub unjudged: u64,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks so")]
fn is_none(hits: &u64) -> bool {
    *hits == 0
}

impl TermsFile {
    /// What the file in a folder of verdicts says; nothing if there is none, or it is from another version.
    #[must_use]
    pub fn read(folder: &Path) -> TermsFile {
        let text = fs::read_to_string(folder.join(TERMS_FILE)).unwrap_or_default();
        serde_json::from_str(&text).unwrap_or_default()
    }

    /// Writes the file in a folder of verdicts, where none is.
    ///
    /// # Errors
    ///
    /// What the system says.
    pub(super) fn write(&self, folder: &Path) -> io::Result<()> {
        let text = serde_json::to_string_pretty(self)?;
        let whole = folder.join("terms.unfinished");
        make_way(&whole)?;
        File::create_new(&whole)?.write_all((text + "\n").as_bytes())?;
        fs::rename(whole, folder.join(TERMS_FILE))
    }
}
