//! What a position is worth: a mate that is proved, what the next move comes to, and what an engine expects; each looked
//! at again with more positions until it is known or somebody stops it.

use shakmaty::{Chess, Color, Move, Position};

use super::asking::Asking;
use crate::board::{line_in_print, played};
use crate::engine::{Engine, Program, Question};
use crate::hits::Sound;
use crate::statistics::{counted, grouped};
use crate::teaching::{Examiner, in_words};
use crate::verdict::{Effort, Judge};
use crate::words::Words;

/// How many positions a search may look at, one time after the other.
const EFFORTS: [u64; 4] = [10_000, 100_000, 1_000_000, 4_000_000];
/// How many times the positions that are usual an engine may look at, one time after the other.
const TIMES: [u32; 3] = [1, 5, 25];

/// A position, and the move that was made in it if there was one.
pub(super) struct Weighed {
    /// The position.
    pub(super) pos: Chess,
    /// The move.
    pub(super) next: Option<Move>,
}

impl Weighed {
    /// Finds out what it is worth, and says so as it goes.
    pub(super) fn weigh(&self, program: Option<&Program>, asking: &Asking<Vec<String>>) {
        if self.pos.legal_moves().is_empty() {
            let end = if self.pos.is_checkmate() { "mate" } else { "stalemate" };
            asking.say(0, format!("The game is over: it is {end}."));
            return asking.end();
        }
        self.search(asking);
        if let Some(program) = program {
            self.ask(program, asking);
        }
        asking.end();
    }

    fn search(&self, asking: &Asking<Vec<String>>) {
        for nodes in EFFORTS {
            if asking.is_given_up() {
                return;
            }
            let is_mate = self.look_for_mate(nodes, asking);
            if asking.is_given_up() {
                return;
            }
            if self.judge_next(nodes, asking) && is_mate {
                return;
            }
        }
    }

    /// Whether a mate is proved.
    fn look_for_mate(&self, nodes: u64, asking: &Asking<Vec<String>>) -> bool {
        let side = side(self.pos.turn());
        let mate = Examiner::new(Effort::of(nodes)).forced_mate(&self.pos);
        let sentence = match &mate {
            Some(mate) => {
                let line = line_in_print(&self.pos, &mate.line);
                format!("{side} to move mates in {}, which is proved: {line}", mate.moves)
            }
            None => {
                let nodes = counted(nodes, "position");
                format!("No mate by {side} is proved; looked at up to {nodes}.")
            }
        };
        asking.say(0, sentence);
        mate.is_some()
    }

    /// Whether it is proved what the next move comes to.
    fn judge_next(&self, nodes: u64, asking: &Asking<Vec<String>>) -> bool {
        let Some(next) = self.next else { return true };
        let judgement = Judge::new(Effort::of(nodes)).judge(&self.pos, next);
        let record = judgement.record(&self.pos, next);
        let mut sentence = format!("The next move, {}, ", line_in_print(&self.pos, &[next]));
        sentence += &in_words(&record, Words::ENGLISH);
        if record.sound() == Sound::Open && record.verdict.mate_in().is_none() {
            sentence += ": the searches do not tell what it is worth";
        }
        let line = &judgement.overall.line;
        if !line.is_empty() {
            let line = line_in_print(&played(&self.pos, next), line);
            sentence += &format!("; the best reply: {line}");
        }
        sentence += &format!(" ({} positions looked at).", grouped(judgement.nodes));
        asking.say(1, sentence);
        record.verdict.is_proof()
    }

    fn ask(&self, program: &Program, asking: &Asking<Vec<String>>) {
        let index = asking.heard().0.len();
        let mut engine = match Engine::start(program, &asking.stop) {
            Ok(engine) => engine,
            Err(fault) => {
                return asking.say(index, format!("The engine gives no answer: it {fault}."));
            }
        };
        for times in TIMES {
            if asking.is_given_up() {
                break;
            }
            let question = Question::new(self.pos.clone()).searched_longer(times);
            let nodes = counted(question.nodes(program.nodes), "position");
            match engine.evaluate(&question) {
                Ok(said) => {
                    let (name, side) =
                        (crate::visible::visible(engine.name()), side(self.pos.turn()));
                    let line = line_in_print(&self.pos, &said.line);
                    let points = said.points;
                    let judged = format!("{name} expects {points} of a hundred points for {side}");
                    asking.say(index, format!("{judged} ({nodes}): {line}"));
                }
                Err(_) if asking.is_given_up() => break,
                Err(fault) => {
                    return asking.say(index, format!("The engine gives no answer: it {fault}."));
                }
            }
        }
        engine.end();
    }
}

fn side(side: Color) -> &'static str {
    side.fold_wb("White", "Black")
}
