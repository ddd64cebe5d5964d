//! How many offers have which verdict, and on what these rest.

use crate::drawing::list;
use crate::hits::{Evidence, HitReader, JudgedHit, Reading, Sound, VerdictRecord};
use crate::tables::TableTrouble;
use crate::terminal::{Figure, Sheet, SheetColumn, counted, grouped};
use crate::words::Words;

/// The number of hits by verdict and by evidence.
#[derive(Clone, Copy, Default)]
pub(super) struct VerdictCounts {
    /// In the order of [`Sound::ALL`].
    sound: [u64; Sound::ALL.len()],
    /// In the order of [`Evidence::ALL`].
    evidence: [u64; Evidence::ALL.len()],
    /// Those on which a proof and an engine can't both be right.
    contradicted: u64,
    /// Those judged before on which the engine had no answer.
    pub(super) unanswered: u64,
    /// Those that were not judged.
    pub(super) unjudged: u64,
    /// Those of them that nobody made.
    unjudged_overlooked: u64,
    /// Chances that work and that nobody took.
    chances: u64,
}

impl VerdictCounts {
    fn add(&mut self, verdict: &VerdictRecord) {
        let is_it = |sound: &Sound| *sound == verdict.sound();
        self.sound[Sound::ALL.iter().position(is_it).unwrap_or_default()] += 1;
        for (known, count) in Evidence::ALL.into_iter().zip(&mut self.evidence) {
            *count += u64::from(verdict.worth.evidence == Some(known));
        }
        self.contradicted += u64::from(verdict.worth.contradicted);
    }

    /// Counts a hit with the verdict that it has, which was known before, or else the one that was found.
    pub(super) fn note(&mut self, hit: &JudgedHit, found: Option<&VerdictRecord>) {
        let known = hit.verdict.as_ref();
        let has_no_answer = |it: &VerdictRecord| matches!(it.opinion, Some(Err(_)));
        self.unanswered += u64::from(known.is_some_and(has_no_answer));
        match known.or(found) {
            Some(verdict) => {
                self.chances += u64::from(hit.would_be_better(verdict));
                self.add(verdict);
            }
            None => {
                self.unjudged += 1;
                self.unjudged_overlooked += u64::from(!hit.is_played());
            }
        }
    }

    /// Counts hits that were judged before: `most` of them if that is given, else all.
    pub(super) fn add_known(
        &mut self,
        hits: &mut HitReader,
        most: Option<usize>,
    ) -> Result<u64, TableTrouble> {
        let mut counted = 0;
        while most.is_none_or(|most| counted < most as u64)
            && let Some(hit) = hits.next_hit()?
        {
            counted += 1;
            self.note(hit, None);
        }
        Ok(counted)
    }

    fn hits(&self) -> u64 {
        self.sound.iter().sum()
    }

    fn of(&self, sound: Sound) -> u64 {
        Sound::ALL
            .into_iter()
            .zip(self.sound)
            .find(|(known, _)| *known == sound)
            .map_or(0, |it| it.1)
    }

    fn row(&self, query: &str) -> Vec<Figure> {
        let counts = std::iter::once(self.hits()).chain(self.sound).chain(self.evidence);
        std::iter::once(Figure::Text(query.to_owned())).chain(counts.map(Figure::Count)).collect()
    }

    fn and(&self, other: &VerdictCounts) -> VerdictCounts {
        VerdictCounts {
            sound: std::array::from_fn(|index| self.sound[index] + other.sound[index]),
            evidence: std::array::from_fn(|index| self.evidence[index] + other.evidence[index]),
            contradicted: self.contradicted + other.contradicted,
            unanswered: self.unanswered + other.unanswered,
            unjudged: self.unjudged + other.unjudged,
            unjudged_overlooked: self.unjudged_overlooked + other.unjudged_overlooked,
            chances: self.chances + other.chances,
        }
    }
}

/// The verdicts on all queries.
#[derive(Default)]
pub(super) struct VerdictSummary {
    /// How many hits of each query are judged, and its row.
    rows: Vec<(u64, Vec<Figure>)>,
    all: VerdictCounts,
}

impl VerdictSummary {
    /// Adds a query.
    pub(super) fn add(&mut self, query: &str, counts: &VerdictCounts) {
        self.rows.push((counts.hits(), counts.row(query)));
        self.all = self.all.and(counts);
    }

    /// How many hits are judged.
    pub(super) fn hits(&self) -> u64 {
        self.all.hits()
    }

    /// How many hits the engine had no answer on before.
    pub(super) fn unanswered(&self) -> u64 {
        self.all.unanswered
    }

    /// The verdicts on each query, and below them on how many of `hits` hits they are, on what they rest, and what is
    /// left open. If not all hits were judged, queries without any that was are left out. `of_overlooked` tells that those
    /// that nobody made were to be judged.
    pub(super) fn into_sheet(
        self,
        hits: u64,
        of_overlooked: bool,
        has_engine: bool,
        reading: Reading,
    ) -> Sheet {
        let spared = |rank, name: &str| SheetColumn::spared(rank, name, name);
        let columns = vec![
            SheetColumn::kept("query", "query"),
            spared(2, "hits"),
            SheetColumn::kept("sound", "sound"),
            spared(1, "holds"),
            spared(1, "not sound"),
            spared(1, "last try"),
            spared(1, "open"),
        ];
        let evidence = Evidence::ALL.iter().map(|evidence| spared(3, evidence.word()));
        let columns = columns.into_iter().chain(evidence).collect();
        let mut rows = self.rows;
        if self.all.unjudged > 0 {
            rows.retain(|(hits, _)| *hits > 0);
        }
        let rows = rows.into_iter().map(|(_, row)| row).collect();
        let notes = [
            judged(&self.all, hits, of_overlooked),
            rests_on(&self.all),
            open(&self.all, has_engine),
            contradicted(&self.all),
            chances(&self.all),
            (reading == Reading::AsTheyAre).then(|| Words::ENGLISH.say("read-as-they-are")),
        ];
        let note = notes.into_iter().flatten().collect::<Vec<_>>().join("\n");
        Sheet { title: String::new(), columns, rows, note }
    }
}

/// How many hits are judged, if not all are.
fn judged(all: &VerdictCounts, hits: u64, of_overlooked: bool) -> Option<String> {
    let way_on = match of_overlooked && all.unjudged_overlooked == 0 {
        true => {
            "all that nobody made are among them; --resume without --overlooked judges the rest"
        }
        false => "--resume judges more",
    };
    let judged = grouped(all.hits());
    (all.unjudged > 0).then(|| format!("{judged} of {} judged; {way_on}", counted(hits, "hit")))
}

/// On what the verdicts rest.
fn rests_on(all: &VerdictCounts) -> Option<String> {
    let parts = Evidence::ALL.into_iter().zip(all.evidence).filter(|&(_, count)| count > 0);
    let told: Vec<String> =
        parts.map(|(evidence, count)| format!("{} {}", grouped(count), evidence.word())).collect();
    let decided = all.hits() - all.of(Sound::Open);
    (decided > 0).then(|| {
        let hits = counted(all.hits(), "hit");
        format!("{} of {hits} decided: {}", grouped(decided), list(&told))
    })
}

/// How many hits stay open for want of an engine, and how to name one.
fn open(all: &VerdictCounts, has_engine: bool) -> Option<String> {
    let open = all.of(Sound::Open);
    (open > 0 && !has_engine).then(|| {
        let (hits, stay) = (counted(open, "hit"), if open == 1 { "stays" } else { "stay" });
        format!(
            "{hits} {stay} open for want of an engine: name one with --engine PROGRAM or in \
             HECATOMB_ENGINE"
        )
    })
}

/// How many hits are chances that work and that nobody took.
fn chances(all: &VerdictCounts) -> Option<String> {
    let hits = counted(all.chances, "hit");
    let (are, them) = match all.chances {
        0 => return None,
        1 => ("is a chance that works", "it"),
        _ => ("are chances that work", "them"),
    };
    Some(format!("{hits} {are} and nobody took: `hecatomb tally DIR --overlooked` shows {them}"))
}

/// On how many hits a proof and the engine can't both be right.
fn contradicted(all: &VerdictCounts) -> Option<String> {
    let hits = counted(all.contradicted, "hit");
    (all.contradicted > 0)
        .then(|| format!("on {hits} a proof and the engine contradict each other (`contradicted`)"))
}
