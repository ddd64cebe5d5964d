//! Who judges offers: our searches, and an engine if one is named. Each position and offer is judged once,
//! however many queries found it.

use std::collections::{HashMap, HashSet};
use std::sync::atomic::AtomicBool;

use super::asked::{self, Adviser};
use super::judges::{Judges, OfferTask};
use crate::engine::{EngineFault, Evaluated};
use crate::hits::{Circumstances, Judged, Verdict, VerdictRecord, Verdicts, verdict_columns};
use crate::tables::Column;
use crate::terminal::Bar;
use crate::verdict::Judgement;
use crate::work::ThreadsRefused;

/// How many findings are kept for the queries that follow; with their lines they take some 100 MB.
const MOST_FINDINGS: usize = 100_000;

/// Who judges.
pub(super) struct Bench<'t> {
    pub(super) judges: Judges,
    pub(super) adviser: Option<Adviser<'t>>,
    pub(super) batch: usize,
    pub(super) stop: &'static AtomicBool,
    pub(super) bar: &'t Bar,
    pub(super) findings: JudgedOffers,
    /// The hits whose rows are written.
    pub(super) judged: u64,
}

/// What was found out about offers, by position and move.
#[derive(Default)]
pub(super) struct JudgedOffers(HashMap<AskedOffer, Finding>);

/// A position as a FEN with all its counters, which an engine sees, too, and a move.
#[derive(Clone, PartialEq, Eq, Hash)]
struct AskedOffer(String);

/// What was found out about an offer, before what its game says is weighed, too.
struct Finding {
    record: VerdictRecord,
    judged: Option<Judged>,
}

impl AskedOffer {
    fn of(task: &OfferTask) -> AskedOffer {
        AskedOffer(format!("{} {}", task.hit.offer.fen, task.hit.offer.san))
    }
}

impl Finding {
    fn of(task: &OfferTask, judgement: &Judgement) -> Finding {
        let record = judgement.record_of_searches(&task.pos, task.offer);
        Finding { record, judged: None }
    }

    /// Whether an engine has nothing to add.
    fn is_settled(&self) -> bool {
        matches!(self.record.verdict, Verdict::Mates(_))
    }

    /// Puts in what an engine answered.
    fn hear(&mut self, task: &OfferTask, answer: &Result<Evaluated, EngineFault>) {
        self.judged = answer.as_ref().ok().map(asked::judged);
        self.record.opinion = Some(asked::opinion(&task.pos, task.offer, answer));
    }

    /// Whether an engine failed, which it may not do again.
    fn is_faulty(&self) -> bool {
        matches!(self.record.opinion, Some(Err(_)))
    }

    fn weighed(&self, known: Circumstances) -> VerdictRecord {
        let mut record = self.record.clone();
        record.weigh(&Circumstances { judged: self.judged, ..known });
        record
    }
}

impl JudgedOffers {
    /// The first tasks with each position and offer that was not judged yet.
    fn unknown<'t>(&self, tasks: &'t [OfferTask]) -> Vec<&'t OfferTask> {
        let mut seen = HashSet::new();
        let is_new = |task: &&OfferTask| {
            let key = AskedOffer::of(task);
            !self.0.contains_key(&key) && seen.insert(key)
        };
        tasks.iter().filter(is_new).collect()
    }

    /// Keeps what may be of use to the queries that follow.
    fn keep(&mut self, found: HashMap<AskedOffer, Finding>) {
        let sound = found.into_iter().filter(|(_, finding)| !finding.is_faulty());
        let room = MOST_FINDINGS.saturating_sub(self.0.len());
        self.0.extend(sound.take(room));
    }
}

impl Bench<'_> {
    /// What a table of verdicts holds.
    pub(super) fn verdicts(&self) -> Verdicts {
        if self.adviser.is_some() { Verdicts::WithAdvice } else { Verdicts::Own }
    }

    /// The columns of a table of verdicts.
    pub(super) fn columns(&self) -> Vec<Column> {
        verdict_columns(self.verdicts())
    }

    /// Judges some hits; only the first of them if it is interrupted. How many.
    pub(super) fn judge(&mut self, tasks: &mut [OfferTask]) -> Result<usize, ThreadsRefused> {
        let unknown = self.findings.unknown(tasks);
        let known_before = tasks.len() - unknown.len();
        let found = self.find(&unknown)?;
        let mut judged = 0;
        for task in &mut *tasks {
            let key = AskedOffer::of(task);
            let Some(finding) = found.get(&key).or_else(|| self.findings.0.get(&key)) else {
                break;
            };
            task.hit.verdict = Some(finding.weighed(task.hit.known()));
            judged += 1;
        }
        self.findings.keep(found);
        self.bar.advance(known_before as u64);
        self.judged += judged as u64;
        Ok(judged)
    }

    /// What is found out about offers; about the first of them if it is interrupted.
    fn find(
        &mut self,
        tasks: &[&OfferTask],
    ) -> Result<HashMap<AskedOffer, Finding>, ThreadsRefused> {
        let judgements = self.judges.judge(tasks, self.stop, || self.bar.advance(1))?;
        let mut findings: Vec<(&OfferTask, Finding)> = tasks
            .iter()
            .zip(&judgements)
            .map(|(&task, it)| (task, Finding::of(task, it)))
            .collect();
        if let Some(adviser) = &mut self.adviser {
            let answered = ask(adviser, &mut findings)?;
            findings.truncate(answered);
        }
        Ok(findings.into_iter().map(|(task, finding)| (AskedOffer::of(task), finding)).collect())
    }

    /// Counts hits that were judged before.
    pub(super) fn pass_over(&mut self, hits: u64) {
        self.judged += hits;
        self.bar.advance(hits);
    }
}

/// Asks an engine about all that no proof settles. How many of the findings are complete then: not all if it is
/// interrupted.
fn ask(
    adviser: &mut Adviser<'_>,
    findings: &mut [(&OfferTask, Finding)],
) -> Result<usize, ThreadsRefused> {
    let open: Vec<usize> =
        (0..findings.len()).filter(|&index| !findings[index].1.is_settled()).collect();
    let tasks: Vec<&OfferTask> = open.iter().map(|&index| findings[index].0).collect();
    let answers = adviser.ask(&tasks)?;
    for (&index, answer) in open.iter().zip(&answers) {
        let (task, finding) = &mut findings[index];
        finding.hear(task, answer);
    }
    Ok(open.get(answers.len()).copied().unwrap_or(findings.len()))
}
