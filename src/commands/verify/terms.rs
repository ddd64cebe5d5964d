//! How verdicts came about: a file beside them that says so for each table, so that a run is resumed only
//! under the same terms, and no table passes for one that was made under others.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

use anyhow::Context;
use serde::{Deserialize, Serialize};

use super::VerifyOptions;
use super::asked::{Adviser, EngineTerms};
use crate::advice::WithHint;
use crate::commands::output;
use crate::hits::Run;
use crate::run::Found;
use crate::tables::{make_inside, unfinished_part};

/// The file with the terms, beside the verdicts.
const TERMS_FILE: &str = "terms.json";

/// What must be the same for a table of verdicts to be resumed.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub(super) struct Terms {
    hecatomb: String,
    nodes: u64,
    depth: Option<u8>,
    engine: Option<EngineTerms>,
}

impl Terms {
    pub(super) fn of(options: &VerifyOptions, adviser: Option<&Adviser<'_>>) -> Terms {
        Terms {
            hecatomb: env!("CARGO_PKG_VERSION").to_owned(),
            nodes: options.proof.nodes,
            depth: options.depth,
            engine: adviser.map(|adviser| adviser.terms.clone()),
        }
    }

    /// Records that the verdicts on these queries are made under these terms. Verdicts that were
    /// made under others, or were cut short, are neither resumed nor replaced unasked.
    pub(super) fn agree(&self, run: &Run, queries: &[&str], found: Found) -> anyhow::Result<()> {
        let folder = make_inside(&run.path, "verdicts")?;
        let place = folder.join(TERMS_FILE);
        let text = fs::read_to_string(&place).unwrap_or_default();
        let mut known: BTreeMap<String, Terms> = serde_json::from_str(&text).unwrap_or_default();
        for &query in queries {
            let [finished, begun] = tables(run, query);
            let is_begun = begun.is_file();
            let is_there = is_begun || finished.is_file();
            let is_same = known.get(query) == Some(self);
            let others = || {
                anyhow::anyhow!(
                    "the verdicts on `{query}` were made with other options or another version"
                )
            };
            match found {
                Found::Resume if is_there && !is_same => {
                    return Err(
                        others().hint("use the same options, or replace them with --replace")
                    );
                }
                Found::Refuse if finished.is_file() && !is_same => {
                    return Err(others().hint("replace them with --replace"));
                }
                Found::Refuse if is_begun => {
                    let error = anyhow::anyhow!("the verdicts on `{query}` were cut short");
                    return Err(error.hint("continue with --resume, or start again with --replace"));
                }
                Found::Refuse | Found::Replace | Found::Resume => {}
            }
        }
        for &query in queries {
            if found != Found::Resume {
                for table in tables(run, query).into_iter().filter(|table| table.is_file()) {
                    fs::remove_file(&table)
                        .with_context(|| format!("can't remove `{}`", table.display()))?;
                }
            }
            known.insert(query.to_owned(), self.clone());
        }
        let text = serde_json::to_string_pretty(&known)?;
        output::write_file(&place, &(text + "\n"))
            .with_context(|| format!("can't write `{}`", place.display()))
    }
}

/// Where the verdicts on a query are, finished or growing.
fn tables(run: &Run, query: &str) -> [PathBuf; 2] {
    let place = run.verdicts_place(query);
    [place.clone(), unfinished_part(&place)]
}
