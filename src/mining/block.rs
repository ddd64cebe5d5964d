//! Mines one block: walks its games through the gates, replays the candidates, judges their offers.
//!
//! Invariant: a block is mined by itself; its report depends on nothing but its text and the plan.

use std::cell::LazyCell;
use std::sync::Arc;

use pgn_reader::Reader;
use shakmaty::Position;

use super::base::BaseRates;
use super::candidate::{Candidate, GameFault, Place, check_outline, reject, result_of, start_of};
use super::duplicates::MovesHash;
use super::gates::Gates;
use super::hit::{GameInfo, Hit, OfferRecord};
use super::overlooked::Lookout;
use super::replay::{Ending, Offer, OnBoard, Replay};
use super::selection::Selection;
use crate::collection::{
    Block, ByteOffset, Fault, GameNumber, Games, Integrity, RawGame, Reason, Reject, Scan, band,
    plies_at_a_glance,
};
use crate::query::Pattern;

/// What a block came to. Game numbers are counted from the block's start until the pipeline, which
/// knows how many games came before, calls [`BlockReport::renumber`].
#[derive(Clone, PartialEq, Debug, Default)]
pub struct BlockReport {
    /// The games it holds.
    pub games: u64,
    /// Those that the selection left out.
    pub left_out: u64,
    /// Those that passed the text gate.
    pub passed_text: u64,
    /// Those that passed the token gate too and went to the board.
    pub replayed: u64,
    /// The games with hits, in order.
    pub mined: Vec<MinedGame>,
    /// The games that were not mined, in order.
    pub rejects: Vec<Reject>,
    /// How the games that were mined ended.
    pub base: BaseRates,
}

/// A game with its hits.
#[derive(Clone, PartialEq, Debug)]
pub struct MinedGame {
    /// The game.
    pub info: GameInfo,
    /// Its moves, to know it again.
    pub moves: MovesHash,
    /// Its hits, by ply and query; never empty.
    pub hits: Vec<Hit>,
}

impl BlockReport {
    /// Counts games from the start of the source instead of that of the block.
    pub fn renumber(&mut self, games_before: u64) {
        for game in &mut self.mined {
            game.info.number.0 += games_before;
        }
        for reject in &mut self.rejects {
            reject.game.0 += games_before;
        }
    }

    /// Counts a game for the base rates, at a glance where that is enough.
    fn count_base(&mut self, game: &RawGame<'_>, spare: &mut Scan) {
        let glance = plies_at_a_glance(game.movetext).filter(|_| game.tags.fen().is_empty());
        let (result, plies) = glance.unwrap_or_else(|| {
            // A text that is unfit further on still has the plies before that.
            let _ = spare.read(game.movetext);
            (spare.result, spare.moves.len())
        });
        self.count(game, result_of(game, result), plies);
    }

    fn count(&mut self, game: &RawGame<'_>, result: crate::collection::GameResult, plies: usize) {
        let band = band(game.tags.white_elo(), game.tags.black_elo());
        self.base.add(band, result, plies);
    }
}

/// Mines blocks for a set of patterns.
#[derive(Debug)]
pub struct Miner<'p> {
    patterns: &'p [Pattern],
    selection: &'p Selection,
    gates: Gates,
    /// Looks for offers that were overlooked, if that is asked for.
    lookout: Option<Lookout<'p>>,
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
        let gates = Gates::new(patterns, scrutiny.audit);
        let lookout = scrutiny.overlooked.then(|| Lookout::new(patterns));
        Miner { patterns, selection, gates, lookout }
    }

    /// Mines the first `most_games` games of a block.
    #[must_use]
    pub fn mine(&self, block: &Block, most_games: u64) -> BlockReport {
        match block.integrity {
            Integrity::Whole => self.mine_games(block, most_games),
            Integrity::TooLong => report_fragment(block, Reason::TooLong),
            Integrity::CutOff => report_fragment(block, Reason::CutOff),
        }
    }

    fn mine_games(&self, block: &Block, most_games: u64) -> BlockReport {
        let mut report = BlockReport::default();
        let mut scan = Scan::new();
        let mut candidates = Vec::new();
        for game in Games::of(block.text()) {
            if report.games == most_games {
                break;
            }
            report.games += 1;
            if !self.selection.accepts(&game.tags) {
                report.left_out += 1;
                continue;
            }
            let number = GameNumber(report.games);
            let place = Place { number, offset: ByteOffset(block.offset.0 + game.start as u64) };
            match self.through_gates(place, game, &mut scan, &mut report) {
                Ok(Some(candidate)) => candidates.push(candidate),
                Ok(None) => report.count_base(&game, &mut scan),
                Err(fault) => report.rejects.push(fault.reject(place, &game)),
            }
        }
        self.replay(&candidates, &mut report);
        report.rejects.sort_by_key(|reject| reject.game);
        report
    }

    /// Takes a game through the gates; `None` if it holds no offer.
    fn through_gates<'t>(
        &self,
        place: Place,
        game: RawGame<'t>,
        scan: &mut Scan,
        report: &mut BlockReport,
    ) -> Result<Option<Candidate<'t>>, GameFault> {
        check_outline(&game)?;
        let has_tags = game.tags.text.contains(&b'[');
        let looks_at_all = self.lookout.is_some();
        let places = if looks_at_all { None } else { self.gates.places(game.movetext) };
        if has_tags && places.as_ref().is_some_and(Vec::is_empty) {
            return Ok(None);
        }
        report.passed_text += 1;
        let start = start_of(&game)?;
        scan.read(game.movetext).map_err(GameFault::InMovetext)?;
        let moves = self.gates.candidate_moves(&game, scan, start.turn(), places.as_deref());
        let candidate = Candidate { place, game, start, scan: std::mem::take(scan), moves };
        if let Some(fault) = candidate.fault_without_tags() {
            return Err(fault);
        }
        if !looks_at_all && candidate.moves.as_ref().is_some_and(Vec::is_empty) {
            *scan = candidate.scan;
            return Ok(None);
        }
        report.replayed += 1;
        Ok(Some(candidate))
    }

    /// The last gate: replays the candidates of a block, all through one reader.
    fn replay(&self, candidates: &[Candidate<'_>], report: &mut BlockReport) {
        let fair_copy = fair_copy(candidates);
        let mut reader = Reader::new(&fair_copy[..]);
        let mut replay = Replay::default();
        for candidate in candidates {
            let moves = candidate.moves.as_deref();
            let to_the_end = self.lookout.is_some();
            let mut board =
                OnBoard::new(self.patterns, &candidate.start, moves, to_the_end, &mut replay);
            let ending = reader.read_game(&mut board).ok().flatten().unwrap_or(Ending::Whole);
            let offers = board.offers;
            if let Some(fault) = candidate.fault(&ending, &replay) {
                report.rejects.push(fault.reject(candidate.place, &candidate.game));
                continue;
            }
            let result = result_of(&candidate.game, candidate.scan.result);
            report.count(&candidate.game, result, candidate.scan.moves.len());
            let mut hits = self.hits(candidate, &replay, &offers);
            if let Some(lookout) = &self.lookout {
                hits.extend(self.overlooked(lookout, candidate, &replay));
                hits.sort_by_key(|hit| hit.offer.ply);
            }
            if !hits.is_empty() {
                let moves = MovesHash::of(&replay);
                report.mined.push(MinedGame { info: candidate.info(), moves, hits });
            }
        }
    }

    /// The hits among the offers of a game; one at most for each query and move.
    fn hits(&self, candidate: &Candidate<'_>, replay: &Replay, offers: &[Offer]) -> Vec<Hit> {
        let mut hits: Vec<Hit> = Vec::new();
        for of_one_move in offers.chunk_by(|one, next| one.index == next.index) {
            let evaluation = |plies| candidate.evaluation_after(plies);
            let record = LazyCell::new(|| {
                Arc::new(OfferRecord::of_played(replay, of_one_move[0].index, evaluation))
            });
            let earlier = hits.len();
            for &offer in of_one_move {
                if !hits[earlier..].iter().any(|hit| hit.query == offer.query) {
                    let pattern = &self.patterns[offer.query];
                    hits.extend(Hit::judge(offer, pattern, replay, || Arc::clone(&record)));
                }
            }
        }
        hits
    }
}

impl Miner<'_> {
    /// The hits of a game's overlooked offers.
    fn overlooked<'h>(
        &'h self,
        lookout: &Lookout<'_>,
        candidate: &'h Candidate<'_>,
        replay: &'h Replay,
    ) -> impl Iterator<Item = Hit> + 'h {
        lookout.chances(replay).into_iter().map(move |chance| {
            let Offer { query, lens, index } = chance.offer;
            let evaluation = |plies| candidate.evaluation_after(plies);
            let stayed = chance.stayed();
            let record = OfferRecord::of_overlooked(replay, index, chance.m, stayed, evaluation);
            let lens = &self.patterns[query].lenses[lens];
            Hit::overlooked(query, lens, &replay.positions[index], Arc::new(record))
        })
    }
}

/// The report of a block that holds no whole game.
fn report_fragment(block: &Block, reason: Reason) -> BlockReport {
    let place = Place { number: GameNumber(1), offset: block.offset };
    let length = block.text().iter().position(|&byte| byte == b'\n').unwrap_or(block.length);
    let fault = Fault { reason, at: 0, length, ply: None };
    BlockReport {
        games: 1,
        rejects: vec![reject(place, block.text(), 0, fault)],
        ..BlockReport::default()
    }
}

/// The moves of the candidates without anything between them, a game a line behind a move number: what
/// the reader can't misread, not even a move that looks like a tag pair.
fn fair_copy(candidates: &[Candidate<'_>]) -> Vec<u8> {
    let mut copy = Vec::new();
    for candidate in candidates {
        copy.extend_from_slice(b"1. ");
        for token in &candidate.scan.moves {
            copy.extend_from_slice(token.text(candidate.game.movetext));
            copy.push(b' ');
        }
        copy.extend_from_slice(b"*\n\n");
    }
    copy
}
