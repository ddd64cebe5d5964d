//! In which order offers are judged: as they come, or the most promising first.
//!
//! What promises most is told in steps, each on what the one before puts first: by material; by our searches,
//! which look for an instant; and if an engine is named by a glance of its own, at a block of offers at a time.
//! Those that it thinks sound, and better than the move that was played, also at a second look, are judged at once; then comes the next
//! block, and all others wait until the end.
//!
//! Invariant: the order depends on the offers, the engine and its options alone, not on threads or on what was
//! judged before.

use std::cmp::Reverse;
use std::collections::VecDeque;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};

use shakmaty::Position;

use super::judges::OfferTask;
use super::selection::SelectedOffer;
use crate::board::{balance, cost, legal_move};
use crate::engine::{Engine, EngineFault, Evaluated, OfferMade, Points, Program, Question, Team};
use crate::hits::{LOSS, SOUND_FROM, Verdicts};
use crate::terminal::Bar;
use crate::verdict::Scout;
use crate::work::{ThreadsRefused, all_in_order};

/// How many offers the engine looks at before those that it likes are judged.
const BLOCK: usize = 1_024;

/// How many offers our searches look at before the engine does.
const SCOUTED: usize = 8 * BLOCK;

/// How many positions an engine looks at for each answer of a glance.
///
/// With 500, 94 in a hundred of the offers that it calls sound with 20,000 are in the first tenth, and 78 in the
/// first fiftieth (12,000 overlooked offers of masters, of which 207 are sound).
const GLANCE_NODES: u64 = 500;

/// And for each answer of a longer look at those that it likes at a glance: of the many that it glances at, some
/// look good by chance.
const LOOK_NODES: u64 = 8_000;

/// Offers in the order of judging.
pub(super) struct Agenda<'p> {
    /// Those that are next, in order.
    ready: VecDeque<OfferTask>,
    /// Those that our searches have not looked at yet, and those that the engine has not.
    unscouted: VecDeque<SelectedOffer>,
    unseen: VecDeque<SelectedOffer>,
    /// Those that the engine did not like.
    waiting: Vec<(Liking, OfferTask)>,
    looks: Option<Looks<'p>>,
    /// How many more are judged.
    left: usize,
    /// Whether it was interrupted while somebody looked at them.
    pub(super) is_interrupted: bool,
}

/// How an engine likes an offer, in tenths of a point; the more, the better. What it does not answer comes last.
type Liking = i32;

impl<'p> Agenda<'p> {
    /// Offers in the order in which they are given, as many as are not judged yet.
    pub(super) fn in_order(offers: Vec<SelectedOffer>) -> Agenda<'p> {
        let ready = open(offers).collect::<VecDeque<OfferTask>>();
        Agenda {
            left: ready.len(),
            ready,
            unscouted: VecDeque::new(),
            unseen: VecDeque::new(),
            waiting: Vec::new(),
            looks: None,
            is_interrupted: false,
        }
    }

    /// Offers with the most promising first, as many as are still to be judged until `most` are.
    pub(super) fn by_promise(
        mut offers: Vec<SelectedOffer>,
        most: Option<usize>,
        looks: Looks<'p>,
    ) -> Agenda<'p> {
        let unjudged = offers.iter().filter(|offer| offer.is_open).count();
        let judged = offers.len() - unjudged;
        let left = most.map_or(unjudged, |most| most.saturating_sub(judged).min(unjudged));
        offers.sort_by_cached_key(
            |SelectedOffer { task: OfferTask { pos, offer, .. }, .. }| {
                Reverse(balance(pos, pos.turn()) - cost(pos, *offer))
            },
        );
        let (unscouted, looks) = (offers.into(), Some(looks));
        Agenda { unscouted, looks, left, ..Agenda::in_order(Vec::new()) }
    }

    /// How many more are judged.
    pub(super) fn left(&self) -> usize {
        self.left
    }

    /// The next offers, at most this many; none in the end, or if it is interrupted.
    pub(super) fn next(&mut self, most: usize) -> Result<Vec<OfferTask>, ThreadsRefused> {
        while self.left > 0 && self.ready.is_empty() && !self.is_interrupted {
            if self.unseen.is_empty() && self.unscouted.is_empty() && self.waiting.is_empty() {
                break;
            }
            self.look()?;
        }
        let next = most.min(self.left).min(self.ready.len());
        self.left -= next;
        Ok(self.ready.drain(..next).collect())
    }

    /// The lines of those that are next after that, as far as is known.
    pub(super) fn coming(&self, verdicts: Verdicts) -> impl Iterator<Item = Vec<String>> {
        self.ready.iter().take(self.left).map(move |task| task.lines(verdicts))
    }

    /// Has somebody look at the next block, or takes what waits if there is none.
    fn look(&mut self) -> Result<(), ThreadsRefused> {
        if let Some(looks) = self.looks.as_mut().filter(|_| self.unseen.is_empty()) {
            let block = looks.glance.as_ref().map_or(usize::MAX, |_| SCOUTED);
            let block = block.min(self.unscouted.len());
            match looks.scouted(self.unscouted.drain(..block).collect())? {
                Some(sorted) => self.unseen.extend(sorted),
                None => self.is_interrupted = true,
            }
        }
        let glance = self.looks.as_mut().and_then(|looks| looks.glance.as_mut());
        let block = BLOCK.min(self.unseen.len());
        let Some(glance) = glance.filter(|_| block > 0) else {
            self.ready.extend(open(self.unseen.drain(..)));
            self.waiting.sort_by_key(|(liking, _)| Reverse(*liking));
            self.ready.extend(self.waiting.drain(..).map(|(_, task)| task));
            return Ok(());
        };
        let tasks: Vec<OfferTask> = open(self.unseen.drain(..block)).collect();
        let said = glance.at(&tasks)?;
        self.is_interrupted = said.len() < tasks.len();
        let mut seen: Vec<((Liking, bool), OfferTask)> = said.into_iter().zip(tasks).collect();
        seen.sort_by_key(|((liking, _), _)| Reverse(*liking));
        for ((liking, is_liked), task) in seen {
            match is_liked {
                true => self.ready.push_back(task),
                false => self.waiting.push((liking, task)),
            }
        }
        Ok(())
    }
}

/// The offers that are not judged yet.
fn open(offers: impl IntoIterator<Item = SelectedOffer>) -> impl Iterator<Item = OfferTask> {
    offers.into_iter().filter(|offer| offer.is_open).map(|offer| offer.task)
}

/// Who looks at offers before they are judged.
pub(super) struct Looks<'p> {
    scouts: Vec<Option<Scout>>,
    glance: Option<Glance<'p>>,
    stop: &'p AtomicBool,
    /// Shows how many our searches have looked at.
    bar: Bar,
}

impl<'p> Looks<'p> {
    /// Our searches, and an engine if a program is named.
    pub(super) fn of(
        program: Option<&'p Program>,
        threads: usize,
        stop: &'p AtomicBool,
        bar: Bar,
    ) -> Looks<'p> {
        let scouts = (0..threads).map(|_| None).collect();
        let glance = program.map(|program| Glance(Team::new(program, threads, stop)));
        Looks { scouts, glance, stop, bar }
    }

    /// Sorts offers by what our searches say of them; those of equal promise stay in their order. Nothing if it
    /// is interrupted.
    fn scouted(
        &mut self,
        offers: Vec<SelectedOffer>,
    ) -> Result<Option<Vec<SelectedOffer>>, ThreadsRefused> {
        let look = |scout: &mut Option<Scout>, offer: &SelectedOffer| {
            scout.get_or_insert_default().promise(&offer.task.pos, offer.task.offer)
        };
        let bar = &self.bar;
        let promises = all_in_order(&mut self.scouts, &offers, self.stop, look, || bar.advance(1))?;
        bar.end();
        if self.stop.load(Ordering::Relaxed) {
            return Ok(None);
        }
        let mut all: Vec<(i32, SelectedOffer)> = promises.into_iter().zip(offers).collect();
        all.sort_by_key(|(promise, _)| Reverse(*promise));
        Ok(Some(all.into_iter().map(|(_, offer)| offer).collect()))
    }
}

/// An engine that looks at offers for an instant.
struct Glance<'p>(Team<'p>);

impl Glance<'_> {
    /// How it likes offers, and whether they are to be judged at once; not of all if it is interrupted.
    fn at(&mut self, tasks: &[OfferTask]) -> Result<Vec<(Liking, bool)>, ThreadsRefused> {
        let ask = |engine: &mut Engine<'_>, task: &&OfferTask| {
            let first = liking_of(task, GLANCE_NODES, engine)?;
            if first.1 { liking_of(task, LOOK_NODES, engine) } else { Ok(first) }
        };
        let mut likings = Vec::with_capacity(tasks.len());
        self.0.ask(tasks.iter(), ask, |_, answer| {
            likings.push(answer.unwrap_or((Liking::MIN, false)));
            ControlFlow::Continue(())
        })?;
        Ok(likings)
    }
}

/// How an engine likes an offer within this many positions for each answer, and whether it thinks that it is sound
/// and beats the move that was played instead.
fn liking_of(
    task: &OfferTask,
    nodes: u64,
    engine: &mut Engine<'_>,
) -> Result<(Liking, bool), EngineFault> {
    let offer = OfferMade::new(task.pos.clone(), task.offer).expect("a task holds a legal move");
    let said = offer.within(nodes).evaluate(engine)?;
    let liking = liking(&said);
    if !is_sound(&said) {
        return Ok((liking, false));
    }
    let gain = over_played(said.after.points, task, nodes, engine)?;
    Ok((liking + Liking::from(gain.tenths()), gain >= LOSS))
}

/// How an engine that said this likes an offer: the more it promises the better, and the worse the more it falls
/// short of being sound.
fn liking(said: &Evaluated) -> Liking {
    let tenths = |points: Points| Liking::from(points.tenths());
    let after = said.after.points;
    let loss = said.points_before().over(after);
    tenths(after) / 5 - tenths(SOUND_FROM.over(after)) - tenths(loss.over(LOSS))
}

/// Whether an offer is sound by what an engine said.
fn is_sound(said: &Evaluated) -> bool {
    said.after.points >= SOUND_FROM && said.points_before().over(said.after.points) < LOSS
}

/// By how much an offer that promises so much beats a move that was played instead: of several, the worst.
fn over_played(
    promised: Points,
    task: &OfferTask,
    nodes: u64,
    engine: &mut Engine<'_>,
) -> Result<Points, EngineFault> {
    let mut gain = Points::NONE;
    for san in task.instead() {
        let m = legal_move(&task.pos, san);
        let question = m.and_then(|m| Question::new(task.pos.clone()).then(m));
        if let Some(question) = question {
            let played = engine.evaluate(&question.within(nodes))?.for_the_other_side().points;
            gain = gain.max(promised.over(played));
        }
    }
    Ok(gain)
}
