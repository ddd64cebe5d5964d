//! Examiners at work on the candidates for exercises, one for each thread, and an engine that may object.

use std::collections::VecDeque;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use shakmaty::{Chess, Move};

use super::consultation::{Consultation, Matter};
use super::runs::Mined;
use crate::board::PieceLetters;
use crate::engine::{Engine, EngineEvaluation, EngineFault, Program, Question};
use crate::pages::Telling;
use crate::teaching::{
    Answered, Candidate, Examiner, Exercise, ExerciseKind, ExercisePool, Flaw, Look, SheetChoice,
    WhatIf, WholeGame, advised,
};
use crate::terminal::{Bar, Terminal};
use crate::verdict::Effort;
use crate::visible::visible;
use crate::words::Words;
use crate::work::{ThreadsRefused, all_in_order};

/// Examiners, one for each thread; each is made when it has something to do.
pub(super) struct Examiners<'p> {
    each: Vec<Option<Examiner>>,
    effort: Effort,
    /// An engine that may object.
    engine: Option<Consultation<'p>>,
    /// Ends the work early once it is set.
    stop: Arc<AtomicBool>,
}

/// What came of a candidate.
type Examined = Result<Vec<Exercise>, Flaw>;

impl<'p> Examiners<'p> {
    /// Examiners, one for each of `threads`, and as many engines if a program is named.
    ///
    /// # Errors
    ///
    /// If the program does not start.
    pub(super) fn new(
        threads: usize,
        effort: Effort,
        program: Option<&'p Program>,
    ) -> anyhow::Result<Examiners<'p>> {
        static NEVER: AtomicBool = AtomicBool::new(false);
        let each = (0..threads).map(|_| None).collect();
        let begin = |program| Consultation::begin(program, threads, &NEVER);
        let engine = program.map(begin).transpose()?;
        Ok(Examiners { each, effort, engine, stop: Arc::default() })
    }

    /// The same, whose work ends early once this is set: what comes of it then is less than there is.
    pub(super) fn until(self, stop: Arc<AtomicBool>) -> Examiners<'p> {
        Examiners { stop, ..self }
    }

    /// Ends the engine, and tells how many answers failed.
    ///
    /// # Errors
    ///
    /// If it answered no question, or was given up because it kept everybody waiting.
    pub(super) fn end(self, terminal: Terminal) -> anyhow::Result<()> {
        let hint = "once it answers, ask it again";
        self.engine.map_or(Ok(()), |it| it.end(&Matter { one: "question", hint }, terminal))
    }

    /// How pages are told whose exercises these prove, and whose games are of such runs.
    pub(super) fn telling(&self, words: Words, letters: PieceLetters, mined: &Mined) -> Telling {
        Telling { words, letters, rests_on: self.rests_on(words), caution: mined.remarks(words) }
    }

    /// What the solutions rest on, in a sentence.
    fn rests_on(&self, words: Words) -> String {
        let Some(engine) = &self.engine else { return words.say("rests-on-proofs") };
        let name = ("engine", visible(&engine.name).to_string().into());
        words.tell("rests-on-engine", [name, ("positions", engine.nodes().into())])
    }

    /// Adds to games what else could have been replied, with the answers that are proved or that an engine gives.
    pub(super) fn ask_what_if<'g>(
        &mut self,
        games: impl Iterator<Item = &'g mut WholeGame>,
    ) -> Result<(), ThreadsRefused> {
        let mut games: Vec<&mut WholeGame> = games.collect();
        let asked: Vec<(usize, WhatIf)> = games
            .iter()
            .enumerate()
            .flat_map(|(index, game)| WhatIf::of(game).into_iter().map(move |one| (index, one)))
            .collect();
        for ((index, what_if), answer) in asked.iter().zip(self.answers(&asked)?) {
            if let Some(answer) = answer {
                what_if.answer(games[*index], &answer);
            }
        }
        Ok(())
    }

    /// The answers to replies, as far as there are any.
    fn answers(
        &mut self,
        asked: &[(usize, WhatIf)],
    ) -> Result<Vec<Option<Answered>>, ThreadsRefused> {
        let (effort, stop) = (self.effort, &*self.stop);
        let prove = |examiner: &mut Option<Examiner>, (_, what_if): &(usize, WhatIf)| {
            let examiner = examiner.get_or_insert_with(|| Examiner::new(effort));
            examiner.forced_mate(&what_if.after).map(|mate| what_if.mated(&mate))
        };
        let mut answers = all_in_order(&mut self.each, asked, stop, prove, || ())?;
        answers.resize_with(asked.len(), || None);
        let Some(engine) = &mut self.engine else { return Ok(answers) };
        let open = asked.iter().zip(&mut answers).filter(|(_, answer)| answer.is_none());
        let open = open.take_while(|_| !stop.load(Ordering::Relaxed));
        let told = engine.ask(open, |engine, ((_, what_if), _)| {
            engine.evaluate(&Question::new(what_if.after.clone()))
        })?;
        for (((_, what_if), answer), said) in told {
            *answer = said.ok().map(|said| what_if.judged(&said));
        }
        Ok(answers)
    }

    /// Proves candidates of a pool until it has enough, and lets it choose.
    pub(super) fn choose(
        &mut self,
        mut pool: ExercisePool,
        bar: &Bar,
    ) -> Result<SheetChoice, ThreadsRefused> {
        let (kind, stop) = (pool.kind(), &*self.stop);
        let effort = self.effort;
        let examine = |examiner: &mut Option<Examiner>, candidate: &Candidate| {
            examiner.get_or_insert_with(|| Examiner::new(effort)).examine(candidate, kind)
        };
        loop {
            let batch = pool.next_batch();
            if batch.is_empty() || stop.load(Ordering::Relaxed) {
                return Ok(pool.choose());
            }
            let proved_before = pool.proved();
            let examined = all_in_order(&mut self.each, &batch, stop, examine, || ())?;
            let heard = match &mut self.engine {
                Some(engine) if !kind.is_short() => heard(engine, kind, &batch, (examined, stop))?,
                _ => examined.into_iter().map(standing).collect(),
            };
            for (candidate, examined) in batch.iter().zip(heard) {
                pool.add(candidate, examined);
            }
            bar.advance((pool.proved() - proved_before) as u64);
        }
    }
}

/// What stands without an engine's word.
fn standing(examined: Examined) -> Examined {
    let mut exercises = examined?;
    exercises.retain(Exercise::stands_alone);
    if exercises.is_empty() { Err(Flaw::Unasked) } else { Ok(exercises) }
}

/// What is left of each once the engine was heard.
fn heard(
    engine: &mut Consultation<'_>,
    kind: ExerciseKind,
    batch: &[Candidate],
    (examined, stop): (Vec<Examined>, &AtomicBool),
) -> Result<Vec<Examined>, ThreadsRefused> {
    let is_asked = |made: &Examined| made.is_ok() || kind.may_rest_on_an_engine();
    let asked = batch.iter().zip(&examined).filter(|(_, made)| is_asked(made));
    let asked = asked.take_while(|_| !stop.load(Ordering::Relaxed));
    let answers = engine.ask(asked, |engine, (candidate, made)| {
        advised(candidate, kind, made, |pos, without, look| ask(engine, pos, without, look))
    })?;
    let mut answers: VecDeque<_> = answers.into_iter().map(|(_, answer)| answer).collect();
    let mut heard = |made: &Examined| match answers.pop_front() {
        Some(Ok(left)) => left,
        Some(Err(_)) => Err(Flaw::Unanswered),
        None => made.clone(),
    };
    Ok(examined
        .iter()
        .map(|made| if is_asked(made) { heard(made) } else { made.clone() })
        .collect())
}

/// What an engine says of a position, if some first moves may not be played; nothing if no other is left.
fn ask(
    engine: &mut Engine<'_>,
    pos: &Chess,
    without: &[Move],
    look: Look,
) -> Result<Option<EngineEvaluation>, EngineFault> {
    let question = Question::new(pos.clone()).searched_longer(look.times()).without(without);
    question.map(|question| engine.evaluate(&question)).transpose()
}
