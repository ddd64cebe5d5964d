//! Mines one block: walks its games through the gates, replays the candidates, judges their offers.
//!
//! Invariant: a block is mined alone; its report depends on nothing but its text and the plan.

use std::cell::LazyCell;
use std::sync::Arc;

use shakmaty::san::SanError;
use shakmaty::{Chess, Move, Position};

use super::candidate::{
    CandidateGame, GameFault, GamePlace, check_end, check_outline, reject, result_of, start_of,
};
use super::duplicates::game_id;
use super::game_id::MovesHash;
use super::game_info::GameInfo;
use super::gates::Gates;
use super::hit::Hit;
use super::matcher::{GameStep, Offer};
use super::offer_record::{GameCourse, OfferRecord, Sans};
use super::overlooked::{Chance, Lookout, Sightings};
use super::report::{BlockReport, MinedGame};
use super::roster::{Inquiry, Roster};
use super::selection::Selection;
use super::stages::{Clock, Stage};
use super::watch::Watch;
use crate::board::{Replay, fitting, read_san};
use crate::collection::{
    Block, ByteOffset, Fault, GameNumber, GameResult, Games, Integrity, RawGame, Reason, Scan,
};
use crate::query::{LensId, Pattern};

/// Mines blocks for a set of patterns.
#[derive(Debug)]
pub struct Miner<'p> {
    patterns: &'p [Pattern],
    selection: &'p Selection,
    roster: Roster<'p>,
    gates: Gates,
    /// Looks for offers that were overlooked, if that was asked for.
    lookout: Option<Lookout>,
    /// Whether it measures how long each stage takes.
    is_timed: bool,
}

/// How thoroughly games are looked at.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Scrutiny {
    /// Replay every game to its end, so that every illegal one is found.
    pub audit: bool,
    /// Look for offers that were overlooked too.
    pub overlooked: bool,
}

impl<'p> Miner<'p> {
    /// A miner for these patterns and games.
    #[must_use]
    pub fn new(patterns: &'p [Pattern], selection: &'p Selection, scrutiny: Scrutiny) -> Miner<'p> {
        let roster = Roster::of(patterns);
        let gates = Gates::new(patterns, &roster, scrutiny.audit);
        let lookout = scrutiny.overlooked.then(|| Lookout::new(patterns, &roster));
        Miner { patterns, selection, roster, gates, lookout, is_timed: false }
    }

    /// The same, which measures how long each stage takes, or does not.
    #[must_use]
    pub fn timed(self, is_timed: bool) -> Miner<'p> {
        Miner { is_timed, ..self }
    }

    /// Mines the first `most_games` games of a block.
    #[must_use]
    pub fn mine(&self, block: &Block, most_games: u64) -> BlockReport {
        match block.integrity {
            Integrity::Whole | Integrity::Last => self.mine_games(block, most_games),
            Integrity::TooLong => report_fragment(block, Reason::TooLong),
            Integrity::CutOff => report_fragment(block, Reason::CutOff),
        }
    }

    fn mine_games(&self, block: &Block, most_games: u64) -> BlockReport {
        let mut report = BlockReport { bytes: block.length as u64, ..BlockReport::default() };
        let mut scan = Scan::new();
        let mut board = BoardWork { replay: Replay::default(), inquiry: self.roster.inquiry() };
        let mut clock = Clock::new(self.is_timed);
        for game in Games::of(block.text()) {
            if report.games == most_games {
                report.bytes = game.start as u64;
                break;
            }
            report.games += 1;
            if !self.selection.accepts(&game.tags) {
                report.left_out += 1;
                continue;
            }
            clock.passed(Stage::Cut);
            let number = GameNumber(report.games);
            let place =
                GamePlace { number, offset: ByteOffset(block.offset.0 + game.start as u64) };
            let is_last = block.integrity == Integrity::Last
                && game.movetext_start + game.movetext.len() == block.length;
            let is_whole = if is_last { check_end(&game, &mut scan) } else { Ok(()) };
            let through = check_outline(&game)
                .and(is_whole)
                .and_then(|()| self.through_gates(place, game, &mut scan, &mut report, &mut clock));
            let mined = match through {
                Ok(Some(candidate)) => {
                    let mined = self.mine_game(&candidate, &mut board, &mut report);
                    clock.passed(Stage::Replay);
                    mined
                }
                Ok(None) => {
                    report.count_base(&game, &mut scan);
                    clock.passed(Stage::Count);
                    Ok(())
                }
                Err(fault) => Err(fault),
            };
            if let Err(fault) = mined {
                report.rejects.push(fault.reject(place, &game));
            }
        }
        clock.passed(Stage::Cut);
        report.times = clock.times;
        report
    }

    /// Takes a game through the gates; `None` if it holds no offer.
    fn through_gates<'t>(
        &self,
        place: GamePlace,
        game: RawGame<'t>,
        scan: &'t mut Scan,
        report: &mut BlockReport,
        clock: &mut Clock,
    ) -> Result<Option<CandidateGame<'t>>, GameFault> {
        let has_tags = game.tags.text.contains(&b'[');
        let is_stopped = has_tags && self.lookout.is_none() && !self.gates.pass_text(game.movetext);
        clock.passed(Stage::TextGate);
        if is_stopped {
            return Ok(None);
        }
        report.passed_text += 1;
        let start = start_of(&game)?;
        scan.read(game.movetext).map_err(GameFault::in_movetext)?;
        let offers = match self.lookout {
            Some(_) => None,
            None => self.gates.candidates(&self.roster, &game, scan, &start.pos),
        };
        let candidate = CandidateGame { place, game, start, scan, offers };
        clock.passed(Stage::TokenGate);
        if let Some(fault) = candidate.fault_without_tags() {
            return Err(fault);
        }
        let is_hopeless = candidate.offers.as_ref().is_some_and(|offers| offers.end == 0);
        if is_hopeless {
            return Ok(None);
        }
        report.replayed += 1;
        Ok(Some(candidate))
    }

    /// The last gate: plays a game on the board and judges its offers.
    fn mine_game(
        &self,
        candidate: &CandidateGame<'_>,
        board: &mut BoardWork,
        report: &mut BlockReport,
    ) -> Result<(), GameFault> {
        let GameFinds { mut offers, sightings } = self.walk_through(candidate, board)?;
        let (replay, first) = (&board.replay, candidate.start.pos.turn());
        self.gates.strike_hopeless(&candidate.game, candidate.scan, first, &mut offers);
        let result = result_of(&candidate.game, candidate.scan.result);
        report.count(&candidate.game, result, candidate.scan.moves.len());
        let chances = sightings.untaken();
        if offers.is_empty() && chances.is_empty() {
            return Ok(());
        }
        let sans = Sans::new(replay);
        let mut hits = self.hits(candidate, &sans, result, &offers);
        hits.extend(self.overlooked(candidate, &sans, &chances));
        hits.sort_by_key(|hit| hit.offer.ply);
        if !hits.is_empty() {
            let moves = MovesHash::of(&candidate.start.pos, &replay.moves);
            let (info, text) = (candidate.info(), candidate.text());
            let info = GameInfo { id: game_id(moves, &info), ..info };
            report.mined.push(MinedGame { info, moves, text, hits });
        }
        Ok(())
    }

    /// Walks through a game and notes what its moves may be. Without a lookout the game is left after
    /// its last candidate move if none was an offer.
    fn walk_through(
        &self,
        candidate: &CandidateGame<'_>,
        board: &mut BoardWork,
    ) -> Result<GameFinds, GameFault> {
        let mut finds = GameFinds::default();
        let BoardWork { replay, inquiry } = board;
        replay.start(&candidate.start.pos);
        for (index, san) in candidate.sans().enumerate() {
            let m = play_text(replay, san).map_err(|reason| {
                let fault = candidate.move_fault(reason, index);
                fault.with_detail(choices(&replay.positions[index], san, reason))
            })?;
            self.note_offers(candidate, replay, index, inquiry, &mut finds.offers);
            if let Some(lookout) = &self.lookout {
                let pos = &replay.positions[index];
                lookout.look(&self.roster, index, pos, m, inquiry, &mut finds.sightings);
                continue;
            }
            let is_last = candidate.offers.as_ref().is_some_and(|offers| index + 1 >= offers.end);
            if is_last && finds.offers.is_empty() {
                break;
            }
        }
        Ok(finds)
    }

    /// Notes which offers a move is, of those that it may be by the movetext.
    fn note_offers(
        &self,
        candidate: &CandidateGame<'_>,
        replay: &Replay,
        index: usize,
        inquiry: &mut Inquiry,
        offers: &mut Vec<Offer>,
    ) {
        let step = GameStep::at(replay, index);
        match &candidate.offers {
            Some(candidates) => inquiry.ask(candidates.of(index)),
            None => {
                self.roster.ask_all(&step, inquiry);
                self.gates.keep_kings(&self.roster, &step, inquiry);
            }
        }
        if !inquiry.is_over() {
            self.roster.find_offers(&step, inquiry);
        }
        if !inquiry.is_over() {
            let as_offer = |number| Offer { seen: self.roster.member(number).id, index };
            offers.extend(inquiry.left().map(as_offer));
        }
    }

    /// The hits among the offers of a game; one at most for each query and move.
    fn hits(
        &self,
        candidate: &CandidateGame<'_>,
        sans: &Sans<'_>,
        result: GameResult,
        offers: &[Offer],
    ) -> Vec<Hit> {
        let replay = sans.replay;
        let mut hits: Vec<Hit> = Vec::new();
        let balances = LazyCell::new(|| replay.balances());
        let winner = replay.end().outcome().winner().or(result.winner());
        let mut watches: Vec<(LensId, Watch<'_>)> = Vec::new();
        for of_one_move in offers.chunk_by(|one, next| one.index == next.index) {
            let evaluation = |plies| candidate.evaluation_after(plies);
            let record = LazyCell::new(|| {
                let index = of_one_move[0].index;
                let game = GameCourse { balances: &balances, winner };
                Arc::new(OfferRecord::of_played(sans, index, &game, evaluation))
            });
            let earlier = hits.len();
            for &offer in of_one_move {
                if !hits[earlier..].iter().any(|hit| hit.query == offer.seen.query) {
                    let pattern = &self.patterns[offer.seen.query];
                    let watch = watch_of(&mut watches, offer.seen, pattern);
                    hits.extend(Hit::judge(offer, pattern, replay, watch, || Arc::clone(&record)));
                }
            }
        }
        hits
    }

    /// The hits of overlooked offers; those of several queries at one move share what there is to say.
    fn overlooked(
        &self,
        candidate: &CandidateGame<'_>,
        sans: &Sans<'_>,
        chances: &[Chance],
    ) -> Vec<Hit> {
        let mut hits: Vec<Hit> = Vec::new();
        for of_one_move in chances.chunk_by(Chance::is_same_move) {
            let Chance { offer: Offer { index, .. }, m, .. } = of_one_move[0];
            let evaluation = |plies| candidate.evaluation_after(plies);
            let stayed = of_one_move[0].stayed();
            let record = OfferRecord::of_overlooked(sans, index, m, stayed, evaluation);
            let record = Arc::new(record);
            hits.extend(of_one_move.iter().map(|chance| {
                let LensId { query, lens } = chance.offer.seen;
                let lens = &self.patterns[query].lenses[lens];
                Hit::overlooked(query, lens, &sans.replay.positions[index], m, Arc::clone(&record))
            }));
        }
        hits
    }
}

/// Plays a move as it stands in movetext.
#[inline]
fn play_text(replay: &mut Replay, text: &[u8]) -> Result<Move, Reason> {
    let san = read_san(text).ok_or(Reason::UnreadableMove)?;
    replay.play_san(san).map_err(|error| match error {
        SanError::IllegalSan => Reason::IllegalMove,
        SanError::AmbiguousSan => Reason::AmbiguousMove,
    })
}

/// The moves that an ambiguous one may be; nothing of another fault.
fn choices(pos: &Chess, text: &[u8], reason: Reason) -> String {
    let is_ambiguous = reason == Reason::AmbiguousMove;
    let san = read_san(text).filter(|_| is_ambiguous);
    san.map(|san| fitting(pos, san).join(", ")).unwrap_or_default()
}

/// The watch of a lens in a game, which is started when it is first asked for.
fn watch_of<'w, 'p>(
    watches: &'w mut Vec<(LensId, Watch<'p>)>,
    lens: LensId,
    pattern: &'p Pattern,
) -> &'w mut Watch<'p> {
    let known = watches.iter().position(|(id, _)| *id == lens);
    let index = known.unwrap_or_else(|| {
        watches.push((lens, Watch::new(&pattern.lenses[lens.lens])));
        watches.len() - 1
    });
    &mut watches[index].1
}

/// What a game is played on; the room that an earlier game took is kept.
struct BoardWork {
    replay: Replay,
    inquiry: Inquiry,
}

/// What a walk through a game found.
#[derive(Default)]
struct GameFinds {
    offers: Vec<Offer>,
    sightings: Sightings,
}

/// The report of a block that holds no whole game.
fn report_fragment(block: &Block, reason: Reason) -> BlockReport {
    let place = GamePlace { number: GameNumber(1), offset: block.offset };
    let length = block.text().iter().position(|&byte| byte == b'\n').unwrap_or(block.length);
    let fault = Fault { reason, at: 0, length, ply: None };
    BlockReport {
        games: 1,
        bytes: block.length as u64,
        rejects: vec![reject(place, block.text(), 0, fault)],
        ..BlockReport::default()
    }
}
