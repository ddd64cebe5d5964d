//! One pass over the hits of a query in a run, or in several taken together.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::SystemTime;

use super::chosen_kinds::ChosenKinds;
use super::collector::{Collector, LeftOut, PassTrouble};
use super::judged_hit::JudgedHit;
use super::layout::{Layout, Wanted};
use super::overlap::Overlap;
use super::row_place::{HitPlace, RowPlace};
use super::run::{Reading, Run};
use crate::mining::{BaseCount, BaseKind, GameId, GameText};
use crate::query::Query;
use crate::tables::{SourceRun, TableTrouble, hash_of};

/// Runs that are read together.
#[derive(Clone, Debug)]
pub struct Runs {
    runs: Vec<Run>,
    /// The kinds of sacrifice whose hits are passed on.
    kinds: ChosenKinds,
    /// Ends a pass early once it is set.
    stop: Option<Arc<AtomicBool>>,
}

impl Runs {
    /// Opens the runs in these folders.
    ///
    /// # Errors
    ///
    /// If one of them does not hold a whole run, or is named twice.
    pub fn open(folders: &[PathBuf], reading: Reading) -> Result<Runs, TableTrouble> {
        let open = |path: &PathBuf| Run::open(path, reading);
        let runs: Vec<Run> = folders.iter().map(open).collect::<Result<_, _>>()?;
        refuse_twice(&runs)?;
        Ok(Runs { runs, kinds: ChosenKinds::default(), stop: None })
    }

    /// The same runs, of whose hits only those of these kinds of sacrifice are passed on.
    #[must_use]
    pub fn of_kinds(self, kinds: ChosenKinds) -> Runs {
        Runs { kinds, ..self }
    }

    /// The same runs, a pass over which ends as soon as this is set.
    #[must_use]
    pub fn until(self, stop: Arc<AtomicBool>) -> Runs {
        Runs { stop: Some(stop), ..self }
    }

    fn is_stopped(&self) -> bool {
        self.stop.as_ref().is_some_and(|stop| stop.load(Ordering::Relaxed))
    }

    /// The kinds of sacrifice whose hits are passed on.
    #[must_use]
    pub fn kinds(&self) -> &ChosenKinds {
        &self.kinds
    }

    /// The names of the queries of any run, in the order of the runs.
    #[must_use]
    pub fn queries(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for query in self.runs.iter().flat_map(|run| &run.manifest.queries) {
            if !names.contains(&&*query.name) {
                names.push(&query.name);
            }
        }
        names
    }

    /// Whether offers were looked for that nobody made, in any of the runs.
    #[must_use]
    pub fn looked_for_overlooked(&self) -> bool {
        self.runs.iter().any(Run::looked_for_overlooked)
    }

    /// The folders of the runs.
    pub fn folders(&self) -> impl Iterator<Item = &Path> {
        self.runs.iter().map(|run| &*run.path)
    }

    /// The sources of all runs, each with the folder of its run.
    pub fn sources<'r>(&'r self) -> impl Iterator<Item = (&'r Path, &'r SourceRun)> {
        let of_run = |run: &'r Run| run.manifest.sources.iter().map(|source| (&*run.path, source));
        self.runs.iter().flat_map(of_run)
    }

    /// The games with hits that the runs hold, run by run, as texts of PGN; `see` says whether to go on.
    ///
    /// # Errors
    ///
    /// If a table can't be read.
    pub fn each_game(
        &self,
        mut see: impl FnMut(&str) -> ControlFlow<()>,
    ) -> Result<(), TableTrouble> {
        for run in &self.runs {
            let mut games = run.games()?;
            while let Some(text) = games.next_text()? {
                if see(&text).is_break() {
                    return Ok(());
                }
            }
        }
        Ok(())
    }

    /// How many rows the tables of hits have, by what the runs wrote.
    #[must_use]
    pub fn rows(&self) -> u64 {
        let queries = self.runs.iter().flat_map(|run| &run.manifest.queries);
        queries.map(|query| query.hits + query.overlooked).sum()
    }

    /// The text of a query that is none of the built-in ones, if a run keeps it as it was mined.
    #[must_use]
    pub fn text_of(&self, query: &str) -> Option<&str> {
        let mut mined = self.runs.iter().flat_map(|run| &run.manifest.queries);
        mined.find_map(|known| {
            let text = known.text.as_deref().filter(|_| known.name == query)?;
            (hash_of(text) == known.sha256).then_some(text)
        })
    }

    /// Whether a run mined this very query.
    #[must_use]
    pub fn have(&self, query: &Query) -> bool {
        let hash = hash_of(&query.source);
        let mut mined = self.runs.iter().flat_map(|run| &run.manifest.queries);
        mined.any(|known| known.name == query.name && known.sha256 == hash)
    }

    /// All games that the runs went through, by kind.
    ///
    /// # Errors
    ///
    /// If a table can't be read.
    pub fn each_kind(&self, mut see: impl FnMut(BaseKind, BaseCount)) -> Result<(), TableTrouble> {
        for run in &self.runs {
            let mut games = run.collection()?;
            while let Some((kind, count)) = games.next_kind()? {
                see(kind, count);
            }
        }
        Ok(())
    }

    /// The whole games that are known by these ids, as far as the runs hold them.
    ///
    /// # Errors
    ///
    /// If a table can't be read.
    pub fn games(
        &self,
        ids: &BTreeSet<GameId>,
    ) -> Result<BTreeMap<GameId, GameText>, TableTrouble> {
        let mut found = BTreeMap::new();
        for run in &self.runs {
            let mut games = run.games()?;
            while let Some((id, text)) = games.next_game(|id| ids.contains(&id))? {
                found.insert(id, text);
            }
        }
        Ok(found)
    }

    /// Where each game stands that the runs hold, by its id; nothing if the tables can't be read from such a place.
    ///
    /// # Errors
    ///
    /// If a table can't be read.
    pub fn game_places(&self) -> Result<Option<GamePlaces>, TableTrouble> {
        let mut places = Vec::new();
        for (number, run) in self.runs.iter().enumerate() {
            let mut games = run.games()?;
            games.want_ids();
            while let Some(id) = games.next_id()? {
                let place = games.begins().and_then(|byte| RowPlace::new(number, byte));
                let Some(place) = place else { return Ok(None) };
                places.push((id, place));
            }
        }
        places.sort_by_key(|(id, _)| *id);
        places.shrink_to_fit();
        Ok(Some(GamePlaces(places)))
    }

    /// The text of a game that stands at a place; nothing if it does not, or if its table may have been written since
    /// then.
    ///
    /// # Errors
    ///
    /// If the table can't be read.
    pub fn game_from(
        &self,
        id: GameId,
        place: RowPlace,
        since: SystemTime,
    ) -> Result<Option<GameText>, TableTrouble> {
        let Some(run) = self.runs.get(place.run()) else { return Ok(None) };
        let Some(mut games) = run.games_from(place.byte(), since)? else { return Ok(None) };
        let found = games.next_game(|_| true)?;
        Ok(found.filter(|(found, _)| *found == id).map(|(_, text)| text))
    }

    /// The hit of an id among the `most` rows from a place on; nothing if it is not there, or if a table may have been
    /// written since then.
    ///
    /// # Errors
    ///
    /// If a table can't be read.
    pub fn hit_from(
        &self,
        (query, id): (&str, &str),
        place: HitPlace,
        most: usize,
        since: SystemTime,
    ) -> Result<Option<JudgedHit>, TableTrouble> {
        let Some(run) = self.runs.get(place.hit.run()) else { return Ok(None) };
        let from = (place.hit.byte(), place.verdict);
        let Some(mut hits) = run.hits_from(query, from, since)? else { return Ok(None) };
        for _ in 0..most {
            match hits.next_hit()? {
                None => return Ok(None),
                Some(hit) if hit.id == id => return Ok(Some(hit.clone())),
                Some(_) => {}
            }
        }
        Ok(None)
    }

    /// An error in what the runs hold of a game.
    #[must_use]
    pub fn trouble_with_game(&self, id: GameId, message: &impl ToString) -> TableTrouble {
        let message = format!("game `{id}`: {}", message.to_string());
        TableTrouble::of_file(&self.runs[0].path, message)
    }

    /// Goes once through the hits of a query, run by run; every collector sees every hit, except those
    /// that an earlier run holds, too.
    ///
    /// # Errors
    ///
    /// If a table can't be read or was changed, or a collector needs what is not there. What the collectors
    /// took until then is of no use.
    pub fn pass(
        &self,
        query: &str,
        collectors: &mut [&mut dyn Collector],
    ) -> Result<LeftOut, PassTrouble> {
        let runs = self.with_query(query)?;
        let mut overlap = (runs.len() > 1).then(Overlap::default);
        let mut left_out = LeftOut::default();
        for (index, run) in runs.iter().enumerate() {
            let number = self.runs.iter().position(|known| std::ptr::eq(known, *run)).unwrap_or(0);
            let mut hits = run.hits(query)?;
            if let Some(layout) = hits.layout().cloned() {
                let wanted = begin(query, &layout, collectors, &self.kinds)?;
                hits.want(if overlap.is_some() { wanted.with_identity() } else { wanted });
            }
            let is_last = index + 1 == runs.len();
            while let Some(hit) = hits.next_hit()? {
                if self.is_stopped() {
                    return Err(PassTrouble::Stopped);
                }
                if overlap.as_mut().is_some_and(|overlap| overlap.holds(hit, is_last)) {
                    left_out.hits += 1;
                    continue;
                }
                if !self.kinds.has(hit) {
                    continue;
                }
                let hit_place = hit_place(number, hits.begins());
                let hit = hits.hit();
                collectors.iter_mut().for_each(|collector| collector.comes_from(hit_place));
                let taken = collectors.iter_mut().try_for_each(|collector| collector.take(hit));
                taken.map_err(|trouble| hits.trouble(trouble))?;
                if let Some(most) = collectors.iter().find_map(|it| it.too_few_groups()) {
                    return Err(PassTrouble::TooManyGroups { query: query.to_owned(), most });
                }
            }
            if let Some(overlap) = &mut overlap {
                overlap.next_run();
            }
        }
        left_out.may_be_more = overlap.is_some_and(|overlap| overlap.is_full);
        Ok(left_out)
    }

    /// The runs that mined a query, which must be the same in all.
    fn with_query(&self, name: &str) -> Result<Vec<&Run>, PassTrouble> {
        let hash = |run: &'_ Run| {
            let query = run.manifest.queries.iter().find(|query| query.name == name)?;
            Some(query.sha256.clone())
        };
        let mined: Vec<(&Run, String)> =
            self.runs.iter().filter_map(|run| Some((run, hash(run)?))).collect();
        let other = mined.first().and_then(|first| {
            let other = mined.iter().find(|(_, hash)| *hash != first.1)?;
            Some((first, other))
        });
        let Some(((one, one_hash), (other, other_hash))) = other else {
            return Ok(mined.into_iter().map(|(run, _)| run).collect());
        };
        let short = |hash: &str| hash.chars().take(8).collect();
        Err(PassTrouble::OtherQuery {
            query: name.to_owned(),
            one: one.path.display().to_string(),
            one_hash: short(one_hash),
            other: other.path.display().to_string(),
            other_hash: short(other_hash),
        })
    }
}

/// Where the games of some runs stand, by their ids.
#[derive(Debug)]
pub struct GamePlaces(Vec<(GameId, RowPlace)>);

impl GamePlaces {
    /// Where a game stands.
    #[must_use]
    pub fn of(&self, id: GameId) -> Option<RowPlace> {
        let at = self.0.binary_search_by_key(&id, |(known, _)| *known).ok()?;
        Some(self.0[at].1)
    }
}

fn hit_place(run: usize, (hit, verdict): (Option<u64>, Option<u64>)) -> Option<HitPlace> {
    Some(HitPlace { hit: RowPlace::new(run, hit?)?, verdict })
}

/// Tells collectors which columns the hits have, and learns which of them are needed.
fn begin(
    query: &str,
    layout: &Layout,
    collectors: &mut [&mut dyn Collector],
    kinds: &ChosenKinds,
) -> Result<Wanted, PassTrouble> {
    let no_column = |column| PassTrouble::NoColumn { query: query.to_owned(), column };
    let of_kinds = kinds.wanted(layout).map_err(no_column)?;
    collectors.iter_mut().try_fold(of_kinds, |wanted, collector| {
        Ok(wanted.and(&collector.begin(layout).map_err(no_column)?))
    })
}

/// Whether two runs are of the same sources and wrote the same tables.
fn is_copy(one: &Run, other: &Run) -> bool {
    one.manifest.is_same_run(&other.manifest) && one.manifest.tables == other.manifest.tables
}

/// Fails if two of these are the same run.
fn refuse_twice(runs: &[Run]) -> Result<(), TableTrouble> {
    let mut known: Vec<(PathBuf, &Run)> = Vec::new();
    for run in runs {
        let path = run.real_path()?;
        if let Some((_, first)) = known.iter().find(|(known, _)| *known == path) {
            let message = format!("this is the run in `{}` again", first.path.display());
            return Err(TableTrouble::of_file(&run.path, message).with_hint("name each run once"));
        }
        if let Some((_, first)) = known.iter().find(|(_, known)| is_copy(run, known)) {
            let message = format!("this is a copy of the run in `{}`", first.path.display());
            return Err(TableTrouble::of_file(&run.path, message).with_hint("name one of them"));
        }
        known.push((path, run));
    }
    Ok(())
}
