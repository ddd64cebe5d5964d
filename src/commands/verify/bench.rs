//! Who judges offers: our searches, and an engine if one is named. Each position and offer is judged once,
//! however many queries found it.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::atomic::AtomicBool;

use super::asked::{self, Adviser, EngineTerms};
use super::cluster::{Cluster, MOST_KEPT};
use super::forecast::Forecast;
use super::judges::{AskedOffer, Judges, OfferTask};
use super::sequels::Sequels;
use crate::board::legal_move;
use crate::engine::{EngineFault, Evaluated, Points, Question};
use crate::hits::{
    Circumstances, Judged, JudgedHit, Sound, Verdict, VerdictRecord, Verdicts, verdict_columns,
};
use crate::tables::Column;
use crate::terminal::{Bar, Terminal};
use crate::verdict::Judgement;
use crate::work::ThreadsRefused;

/// How many findings are kept for the queries that follow; with their lines they take some 100 MB.
pub(super) const MOST_FINDINGS: usize = 100_000;

/// Who judges.
pub(super) struct Bench<'t> {
    judges: Judges,
    adviser: Option<Adviser<'t>>,
    /// Who judges instead of these.
    pub(super) cluster: Option<Cluster>,
    pub(super) stop: &'static AtomicBool,
    pub(super) bar: Bar,
    pub(super) forecast: Forecast,
    findings: JudgedOffers,
    sequels: Sequels,
}

/// What was found out about offers, by position and move.
#[derive(Default)]
struct JudgedOffers(HashMap<AskedOffer, Finding>);

/// What was found out about an offer, before what its game says is weighed, too.
struct Finding {
    record: VerdictRecord,
    judged: Option<Judged>,
    /// What an engine expects for the attacker after moves that were played instead.
    instead: BTreeMap<String, Points>,
}

/// A move that was played instead of an offer, in SAN, and what an engine is asked of it.
type MovePlayed = ((AskedOffer, String), Question);

impl Finding {
    fn of(task: &OfferTask, judgement: &Judgement) -> Finding {
        let record = judgement.record_of_searches(&task.pos, task.offer);
        Finding { record, judged: None, instead: BTreeMap::new() }
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

    /// Whether it is known to be sound, as far as an engine or a proof can tell.
    fn is_sound(&self) -> bool {
        let is_told = self.is_settled() || self.judged.is_some();
        is_told && self.weighed(Circumstances::default()).sound() == Sound::Yes
    }

    fn weighed(&self, known: Circumstances) -> VerdictRecord {
        let mut record = self.record.clone();
        record.weigh(&Circumstances { judged: self.judged, ..known });
        record
    }
}

impl JudgedOffers {
    /// The first tasks with each position and offer that was not judged yet.
    fn unknown<'t>(&self, tasks: &[&'t OfferTask]) -> Vec<&'t OfferTask> {
        let mut seen = HashSet::new();
        let is_unknown = |task: &&OfferTask| !self.0.contains_key(&task.asked);
        let unknown = tasks.iter().copied().filter(is_unknown);
        unknown.filter(|&task| seen.insert(&task.asked)).collect()
    }

    /// What is said of a hit, if its offer was judged.
    fn verdict_on(&self, hit: &JudgedHit) -> Option<VerdictRecord> {
        let finding = self.0.get(&AskedOffer::of(hit))?;
        let instead = hit.offer.overlooked().and_then(|it| finding.instead.get(&it.instead));
        Some(VerdictRecord { instead: instead.copied(), ..finding.weighed(hit.known()) })
    }

    /// The moves that were played instead of offers that are sound, as far as nobody was asked about them.
    fn moves_played(&self, tasks: &[&OfferTask]) -> Vec<MovePlayed> {
        let mut moves = BTreeMap::new();
        for task in tasks.iter().filter(|task| task.instead().next().is_some()) {
            let Some(finding) = self.0.get(&task.asked).filter(|it| it.is_sound()) else {
                continue;
            };
            for san in task.instead().filter(|&san| !finding.instead.contains_key(san)) {
                let m = legal_move(&task.pos, san);
                let question = m.and_then(|m| Question::new(task.pos.clone()).then(m));
                moves.extend(question.map(|it| ((task.asked.clone(), san.clone()), it)));
            }
        }
        moves.into_iter().collect()
    }

    /// Puts in what an engine expects after such moves; of those it was not asked about, nothing is known then.
    fn hear_of(&mut self, moves: Vec<MovePlayed>, points: Vec<Option<Points>>) {
        let mut points = points.into_iter();
        for ((asked, san), _) in moves {
            match (points.next(), self.0.get_mut(&asked)) {
                (Some(points), Some(finding)) => {
                    finding.instead.extend(points.map(|points| (san, points)));
                }
                _ => {
                    self.0.remove(&asked);
                }
            }
        }
    }

    /// Leaves what is of use to the queries that follow, as far as there is room.
    fn let_go(&mut self) {
        let mut room = MOST_FINDINGS;
        self.0.retain(|_, finding| {
            room = room.saturating_sub(1);
            room > 0 && !finding.is_faulty()
        });
    }
}

impl<'t> Bench<'t> {
    /// Those who judge: our searches, with an engine or without, or a cluster; and what is known of the queries.
    pub(super) fn new(
        judges: Judges,
        adviser: Option<Adviser<'t>>,
        cluster: Option<Cluster>,
        stop: &'static AtomicBool,
        (forecast, sequels): (Forecast, Sequels),
    ) -> Bench<'t> {
        let (bar, findings) = (Bar::hidden(), JudgedOffers::default());
        Bench { judges, adviser, cluster, stop, bar, forecast, findings, sequels }
    }

    /// The engine that is asked.
    pub(super) fn engine(&self) -> Option<&EngineTerms> {
        let of_cluster = self.cluster.as_ref().and_then(|cluster| cluster.engine.as_ref());
        self.adviser.as_ref().map(|adviser| &adviser.terms).or(of_cluster)
    }

    /// What a table of verdicts holds.
    pub(super) fn verdicts(&self) -> Verdicts {
        if self.engine().is_some() { Verdicts::WithAdvice } else { Verdicts::Own }
    }

    /// What is said of a hit, if its offer was judged.
    pub(super) fn verdict_on(&self, hit: &JudgedHit) -> Option<VerdictRecord> {
        let verdict = match &self.cluster {
            Some(cluster) => cluster.verdict_on(hit),
            None => self.findings.verdict_on(hit),
        }?;
        Some(VerdictRecord { line_fits: self.sequels.shown(hit, &verdict), ..verdict })
    }

    /// How many findings are kept.
    pub(super) fn count(&self) -> usize {
        self.cluster.as_ref().map_or(self.findings.0.len(), Cluster::count)
    }

    /// Leaves what is of use to the queries that follow, as far as there is room.
    pub(super) fn let_go(&mut self) {
        self.findings.let_go();
        if let Some(cluster) = self.cluster.as_mut().filter(|it| it.count() > MOST_KEPT) {
            cluster.let_go(MOST_KEPT / 2);
        }
    }

    /// Leaves nothing that was judged.
    pub(super) fn clear(&mut self) {
        self.findings.0.clear();
        if let Some(cluster) = &mut self.cluster {
            cluster.let_go(0);
        }
    }

    /// Ends whoever was asked, and says where there was no answer.
    ///
    /// # Errors
    ///
    /// If there was none at all.
    pub(super) fn end(self, terminal: Terminal) -> anyhow::Result<()> {
        self.adviser.map_or(Ok(()), |adviser| adviser.end(terminal))?;
        self.cluster.map_or(Ok(()), Cluster::end)
    }

    /// The columns of a table of verdicts.
    pub(super) fn columns(&self) -> Vec<Column> {
        verdict_columns(self.verdicts())
    }

    /// Judges some offers; only the first of them if it is interrupted. How many. A cluster may take on those that
    /// come `ahead`.
    pub(super) fn judge(
        &mut self,
        tasks: &[&OfferTask],
        ahead: &mut dyn Iterator<Item = Vec<String>>,
    ) -> Result<usize, ThreadsRefused> {
        if let Some(cluster) = &mut self.cluster {
            self.forecast.begin();
            let judged = cluster.judge(tasks, ahead, self.stop, &self.bar);
            self.forecast.tell(cluster.back, &self.bar);
            return Ok(judged);
        }
        let unknown = self.findings.unknown(tasks);
        self.forecast.begin();
        self.bar.advance((tasks.len() - unknown.len()) as u64);
        let found = self.find(&unknown)?;
        self.findings.0.extend(found);
        if let Some(adviser) = &mut self.adviser {
            let moves = self.findings.moves_played(tasks);
            let points = adviser.expects_after(moves.iter().map(|(_, question)| question))?;
            self.findings.hear_of(moves, points);
        }
        self.forecast.tell(tasks.len() as u64, &self.bar);
        let is_judged = |task: &&OfferTask| self.findings.0.contains_key(&task.asked);
        Ok(tasks.iter().position(|task| !is_judged(task)).unwrap_or(tasks.len()))
    }

    /// Passes over hits that were judged before.
    pub(super) fn pass_over(&mut self, hits: u64) {
        self.bar.advance(hits);
        self.forecast.pass_over(hits);
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
        Ok(findings.into_iter().map(|(task, finding)| (task.asked.clone(), finding)).collect())
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
