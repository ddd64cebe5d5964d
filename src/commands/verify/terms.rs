//! How verdicts came about: a file beside them that says so for each table, so that a run is resumed only
//! under the same terms, and no table passes for one that was made under others.

use std::fs;
use std::path::PathBuf;

use anyhow::Context;
use serde::{Deserialize, Serialize};

use super::VerifyOptions;
use super::asked::EngineTerms;
use crate::advice::WithHint;
use crate::commands::output;
use crate::hits::Run;
use crate::run::Found;
use crate::tables::{
    Checksum, TERMS_FILE, TableRun, TableTrouble, TermsFile, VerdictsRun, make_inside,
    unfinished_part,
};

/// What must be the same for a table of verdicts to be resumed.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub(super) struct Terms {
    hecatomb: String,
    nodes: u64,
    depth: Option<u8>,
    pub(super) engine: Option<EngineTerms>,
}

impl Terms {
    /// Those of these options, with the engine that is asked.
    pub(super) fn of(options: &VerifyOptions, engine: Option<EngineTerms>) -> Terms {
        Terms {
            hecatomb: env!("CARGO_PKG_VERSION").to_owned(),
            nodes: options.proof.nodes,
            depth: options.depth,
            engine,
        }
    }
}

/// The file with the terms, as long as verdicts are made.
pub(super) struct OpenTerms {
    place: PathBuf,
    known: TermsFile,
}

impl OpenTerms {
    /// Writes down that the verdicts on these queries are made under these terms. Verdicts that were
    /// made under others, on other hits, or were cut short, are neither resumed nor replaced unasked.
    pub(super) fn begin(
        run: &Run,
        queries: &[&str],
        terms: &Terms,
        found: Found,
    ) -> anyhow::Result<OpenTerms> {
        let folder = make_inside(&run.path, "verdicts")?;
        let known = TermsFile::read(&folder);
        let mut open_terms = OpenTerms { place: folder.join(TERMS_FILE), known };
        let terms = serde_json::to_value(terms)?;
        let begun = |query: &&str| {
            let hits = run.checksum_of_hits(query)?;
            Ok(VerdictsRun { terms: terms.clone(), hits, table: None, unjudged: 0 })
        };
        let all: Vec<VerdictsRun> =
            queries.iter().map(begun).collect::<Result<_, TableTrouble>>()?;
        for (query, verdicts) in queries.iter().zip(&all) {
            open_terms.refuse_others(run, query, verdicts, found)?;
        }
        for (&query, verdicts) in queries.iter().zip(all) {
            open_terms.finish_placing(run, query)?;
            if found != Found::Resume {
                remove_tables(run, query)?;
            } else if open_terms.difference(query, &verdicts).is_none() {
                continue;
            }
            open_terms.known.0.insert(query.to_owned(), verdicts);
        }
        open_terms.write()?;
        Ok(open_terms)
    }

    /// Fails if verdicts on a query are there that must be neither resumed nor replaced.
    fn refuse_others(
        &self,
        run: &Run,
        query: &str,
        now: &VerdictsRun,
        found: Found,
    ) -> anyhow::Result<()> {
        let [finished, begun] = tables(run, query).map(|table| table.is_file());
        let is_there = finished || (begun && found == Found::Resume);
        let difference = self.difference(query, now).filter(|_| is_there);
        match (found, difference) {
            (Found::Replace, _) => Ok(()),
            (_, Some(difference)) => {
                let other_options =
                    found == Found::Resume && difference == VerdictsDiffer::OtherTerms;
                let hint = match other_options {
                    true => "use the same options, or replace them with --replace",
                    false => "replace them with --replace",
                };
                Err(difference.on(query).hint(hint))
            }
            (Found::Refuse, None) if begun => {
                let error = anyhow::anyhow!("the verdicts on `{query}` were cut short");
                Err(error.hint("continue with --resume, or start again with --replace"))
            }
            (Found::Refuse, None) if finished && self.unjudged(query) > 0 => {
                let what = "are on some of its hits only";
                let error = anyhow::anyhow!("the verdicts on `{query}` {what}");
                Err(error.hint("judge more with --resume, or start again with --replace"))
            }
            (Found::Refuse, None) if finished && self.is_edited(run, query) => {
                let error = anyhow::anyhow!("the verdicts on `{query}` were edited since");
                Err(error.hint("write over them with --replace"))
            }
            (_, None) => Ok(()),
        }
    }

    /// Puts a table into its place, if that was broken off just before.
    fn finish_placing(&self, run: &Run, query: &str) -> anyhow::Result<()> {
        let written = self.known.0.get(query).and_then(|known| known.table.as_ref());
        let (place, whole) = (run.verdicts_place(query), run.whole_verdicts_place(query));
        let is_it = |path: &PathBuf| {
            let found = Checksum::of_file(path);
            written.is_some_and(|written| found.is_ok_and(|found| found == written.xxh3))
        };
        if !is_it(&place) && is_it(&whole) {
            fs::rename(&whole, &place)
                .with_context(|| format!("can't write `{}`", place.display()))?;
        }
        Ok(())
    }

    /// Whether the finished verdicts on a query are no longer as they were written.
    fn is_edited(&self, run: &Run, query: &str) -> bool {
        let written = self.known.0.get(query).and_then(|known| known.table.as_ref());
        let found = Checksum::of_file(&run.verdicts_place(query));
        written.is_some_and(|written| found.is_ok_and(|found| found != written.xxh3))
    }

    /// How the verdicts on a query differ from those that are to be made, if they do.
    fn difference(&self, query: &str, now: &VerdictsRun) -> Option<VerdictsDiffer> {
        match self.known.0.get(query) {
            Some(known) if known.terms == now.terms => {
                (known.hits != now.hits).then_some(VerdictsDiffer::OtherHits)
            }
            _ => Some(VerdictsDiffer::OtherTerms),
        }
    }

    /// On how many of the hits of a query there is no verdict in the table that is in its place.
    pub(super) fn unjudged(&self, query: &str) -> u64 {
        self.known.0.get(query).map_or(0, |known| known.unjudged)
    }

    /// Writes down what the table of the verdicts on a query is, and how many hits were not judged.
    pub(super) fn enter(
        &mut self,
        query: &str,
        written: TableRun,
        unjudged: u64,
    ) -> anyhow::Result<()> {
        if let Some(known) = self.known.0.get_mut(query) {
            (known.table, known.unjudged) = (Some(written), unjudged);
        }
        self.write()
    }

    fn write(&self) -> anyhow::Result<()> {
        let text = serde_json::to_string_pretty(&self.known)?;
        output::write_file(&self.place, &(text + "\n"))
            .with_context(|| format!("can't write `{}`", self.place.display()))
    }
}

/// How verdicts that are there differ from those that are to be made.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum VerdictsDiffer {
    /// They were made under other terms.
    OtherTerms,
    /// They are on other hits.
    OtherHits,
}

impl VerdictsDiffer {
    /// What is said of the verdicts on a query.
    fn on(self, query: &str) -> anyhow::Error {
        match self {
            VerdictsDiffer::OtherTerms => anyhow::anyhow!(
                "the verdicts on `{query}` were made with other options or another version"
            ),
            VerdictsDiffer::OtherHits => {
                anyhow::anyhow!("the verdicts on `{query}` are on other hits than this run's")
            }
        }
    }
}

/// Removes the verdicts on a query.
fn remove_tables(run: &Run, query: &str) -> anyhow::Result<()> {
    for table in tables(run, query).into_iter().filter(|table| table.is_file()) {
        fs::remove_file(&table).with_context(|| format!("can't remove `{}`", table.display()))?;
    }
    Ok(())
}

/// Where the verdicts on a query are, finished or growing.
fn tables(run: &Run, query: &str) -> [PathBuf; 2] {
    let place = run.verdicts_place(query);
    [place.clone(), unfinished_part(&place)]
}
