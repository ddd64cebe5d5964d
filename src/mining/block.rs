//! Mines one block: walks its games through the gates, replays the candidates, judges their offers.
//!
//! Invariant: a block is mined by itself; its report depends on nothing but its text and the plan.

use std::ops::ControlFlow;

use pgn_reader::{Reader, SanPlus, Visitor};
use shakmaty::fen::Fen;
use shakmaty::san::SanError;
use shakmaty::{CastlingMode, Chess, Color, Position};

use super::evaluation::Evaluation;
use super::gates::Gates;
use super::hit::{GameInfo, Hit};
use super::rehearsal::is_offer;
use super::replay::Replay;
use super::selection::Selection;
use crate::collection::{
    Block, ByteOffset, Fault, GameNumber, GameResult, Games, Integrity, Rating, RawGame, Reason, Reject,
    Scan, band, decode, plies_at_a_glance,
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
    pub passed_tokens: u64,
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
    /// Its hits, by ply and query; never empty.
    pub hits: Vec<Hit>,
}

/// Games and plies.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct BaseCount {
    /// The number of games.
    pub games: u64,
    /// The number of their plies.
    pub plies: u64,
}

/// How many games were mined, by rating band and result: what every figure is measured against.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct BaseRates(std::collections::BTreeMap<(Option<Rating>, GameResult), BaseCount>);

impl BaseRates {
    fn add(&mut self, band: Option<Rating>, result: GameResult, plies: usize) {
        let count = self.0.entry((band, result)).or_default();
        count.games += 1;
        count.plies += plies as u64;
    }

    /// Adds the counts of another part of the collection.
    pub fn merge(&mut self, other: &BaseRates) {
        for (&key, more) in &other.0 {
            let count = self.0.entry(key).or_default();
            count.games += more.games;
            count.plies += more.plies;
        }
    }

    /// The counts by band (unrated first) and result.
    pub fn iter(&self) -> impl Iterator<Item = (Option<Rating>, GameResult, BaseCount)> {
        self.0.iter().map(|(&(band, result), &count)| (band, result, count))
    }
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

    fn reject(&mut self, place: Place, text: &[u8], fault: Fault) {
        /// Enough to recognise the place.
        const SHOWN: usize = 40;
        let start = fault.at.min(text.len());
        let end = (start + fault.length.min(SHOWN)).min(text.len());
        self.rejects.push(Reject {
            game: place.number,
            offset: place.offset,
            ply: fault.ply,
            reason: fault.reason,
            fault_offset: ByteOffset(place.text_offset.0 + start as u64),
            text: decode(&text[start..end]).into_owned(),
        });
    }
}

/// Where a game is, and where the text that is read of it starts.
#[derive(Clone, Copy)]
struct Place {
    number: GameNumber,
    offset: ByteOffset,
    text_offset: ByteOffset,
}

/// A game that passed the gates.
struct Candidate<'t> {
    place: Place,
    game: RawGame<'t>,
    start: Chess,
    scan: Scan,
    /// The indices of the moves that may be offers.
    moves: Vec<u16>,
}

/// Mines blocks for a set of patterns.
#[derive(Debug)]
pub struct Miner<'p> {
    patterns: &'p [Pattern],
    selection: &'p Selection,
    gates: Gates,
}

impl<'p> Miner<'p> {
    /// A miner for these patterns and games; with `audit`, every game is replayed to its end.
    #[must_use]
    pub fn new(patterns: &'p [Pattern], selection: &'p Selection, audit: bool) -> Miner<'p> {
        Miner { patterns, selection, gates: Gates::new(patterns, audit) }
    }

    /// Mines the first `most_games` games of a block.
    #[must_use]
    pub fn mine(&self, block: &Block, most_games: u64) -> BlockReport {
        let mut report = BlockReport::default();
        if block.integrity != Integrity::Whole {
            self.reject_fragment(block, &mut report);
            return report;
        }
        let candidates = self.through_gates(block, most_games, &mut report);
        self.on_board(&candidates, &mut report);
        report.rejects.sort_by_key(|reject| reject.game);
        report
    }

    fn reject_fragment(&self, block: &Block, report: &mut BlockReport) {
        let reason = match block.integrity {
            Integrity::TooLong => Reason::TooLong,
            _ => Reason::CutOff,
        };
        report.games = 1;
        let place = Place { number: GameNumber(1), offset: block.offset, text_offset: block.offset };
        let length = block.text().iter().position(|&byte| byte == b'\n').unwrap_or(block.length);
        report.reject(place, block.text(), Fault { reason, at: 0, length, ply: None });
    }

    /// Walks the games of a block through the first two gates.
    fn through_gates<'t>(
        &self,
        block: &'t Block,
        most_games: u64,
        report: &mut BlockReport,
    ) -> Vec<Candidate<'t>> {
        let text = block.text();
        let places = self.gates.candidate_places(text);
        let mut places = places.as_ref().map(|places| places.iter().copied().peekable());
        let mut scan = Scan::new();
        let mut candidates = Vec::new();
        for game in Games::of(text) {
            if report.games == most_games {
                break;
            }
            report.games += 1;
            if !self.selection.accepts(&game.tags) {
                report.left_out += 1;
                continue;
            }
            let place = Place {
                number: GameNumber(report.games),
                offset: ByteOffset(block.offset.0 + game.start as u64),
                text_offset: ByteOffset(block.offset.0 + game.movetext_start as u64),
            };
            let end = game.movetext_start + game.movetext.len();
            let passes_text = places.as_mut().is_none_or(|places| {
                while places.next_if(|&place| place < game.movetext_start).is_some() {}
                places.peek().is_some_and(|&place| place < end)
            });
            let candidate = if passes_text {
                report.passed_text += 1;
                self.candidate(place, game, &mut scan)
            } else {
                without_scan(&game)
            };
            match candidate {
                Ok(Some(candidate)) => {
                    report.passed_tokens += 1;
                    candidates.push(candidate);
                }
                Ok(None) => count_base(&game, None, &mut scan, report),
                Err((at_tags, fault)) => {
                    let place = if at_tags { Place { text_offset: place.offset, ..place } } else { place };
                    report.reject(place, if at_tags { game.tags.text } else { game.movetext }, fault);
                }
            }
        }
        candidates
    }

    /// The second gate, for one game.
    fn candidate<'t>(
        &self,
        place: Place,
        game: RawGame<'t>,
        scan: &mut Scan,
    ) -> Result<Option<Candidate<'t>>, (bool, Fault)> {
        without_scan(&game)?;
        let start = start_of(&game)?;
        scan.read(game.movetext).map_err(|fault| (false, fault))?;
        let mut moves = Vec::new();
        self.gates.candidate_moves(game.movetext, scan, start.turn(), &mut moves);
        let is_candidate = !moves.is_empty() || self.gates.are_open();
        Ok(is_candidate.then(|| Candidate { place, game, start, scan: std::mem::take(scan), moves }))
    }

    /// The third gate: replays the candidates of a block, all through one reader.
    fn on_board(&self, candidates: &[Candidate<'_>], report: &mut BlockReport) {
        let fair_copy = fair_copy(candidates);
        let mut reader = Reader::new(&fair_copy[..]);
        let mut replay = Replay::default();
        let mut scan = Scan::new();
        for candidate in candidates {
            let mut board = OnBoard::new(self.patterns, candidate, &mut replay, self.gates.are_open());
            let ending = reader.read_game(&mut board);
            let offers = board.offers;
            let ending = ending.ok().flatten().unwrap_or(Ending::Whole);
            match candidate.fault(ending, &replay) {
                Some(fault) => report.reject(candidate.place, candidate.game.movetext, fault),
                None => {
                    count_base(&candidate.game, Some(&candidate.scan), &mut scan, report);
                    let hits = self.judge(candidate, &replay, &offers);
                    if !hits.is_empty() {
                        report.mined.push(MinedGame { info: candidate.info(), hits });
                    }
                }
            }
        }
    }

    /// The hits among the offers of a game; one at most for each query and ply.
    fn judge(&self, candidate: &Candidate<'_>, replay: &Replay, offers: &[Offer]) -> Vec<Hit> {
        let mut hits: Vec<Hit> = Vec::new();
        for offer in offers {
            let is_known = hits.iter().any(|hit| hit.query == offer.query && hit.ply == offer.index + 1);
            if !is_known {
                let pattern = &self.patterns[offer.query];
                let lens = &pattern.lenses[offer.lens];
                let evaluation = |plies| candidate.evaluation_after(plies);
                hits.extend(Hit::judge(offer.query, pattern, lens, replay, offer.index, evaluation));
            }
        }
        hits
    }
}

/// What makes a game unfit that can be told without reading its movetext.
fn without_scan<'t>(game: &RawGame<'_>) -> Result<Option<Candidate<'t>>, (bool, Fault)> {
    let is_blank =
        game.movetext.first().is_none_or(u8::is_ascii_whitespace) && game.movetext.trim_ascii().is_empty();
    if is_blank {
        let length = game.tags.text.iter().position(|&byte| byte == b'\n').unwrap_or(game.tags.text.len());
        return Err((true, Fault { reason: Reason::NoMovetext, at: 0, length, ply: None }));
    }
    if !is_chess(game.tags.variant()) {
        return Err((true, at_tag(game, game.tags.variant(), Reason::Variant)));
    }
    Ok(None)
}

/// A fault at the value of a tag.
fn at_tag(game: &RawGame<'_>, value: &[u8], reason: Reason) -> Fault {
    let at = (value.as_ptr() as usize).saturating_sub(game.tags.text.as_ptr() as usize);
    Fault { reason, at, length: value.len(), ply: None }
}

/// Whether a Variant tag names chess; that with a shuffled back rank included.
fn is_chess(variant: &[u8]) -> bool {
    variant.is_empty()
        || is_shuffled(variant)
        || ["standard", "chess", "normal", "from position"]
            .iter()
            .any(|name| variant.eq_ignore_ascii_case(name.as_bytes()))
}

fn is_shuffled(variant: &[u8]) -> bool {
    ["chess960", "chess 960", "fischerandom", "fischerrandom", "fischer random"]
        .iter()
        .any(|name| variant.eq_ignore_ascii_case(name.as_bytes()))
}

/// The position in which a game starts.
fn start_of(game: &RawGame<'_>) -> Result<Chess, (bool, Fault)> {
    let fen = game.tags.fen();
    if fen.is_empty() {
        return Ok(Chess::default());
    }
    let mode = if is_shuffled(game.tags.variant()) { CastlingMode::Chess960 } else { CastlingMode::Standard };
    let setup = Fen::from_ascii(fen).ok().map(Fen::into_setup);
    setup
        .and_then(|setup| setup.position::<Chess>(mode).ok())
        .ok_or_else(|| (true, at_tag(game, fen, Reason::UnreadableSetup)))
}

/// Counts a game for the base rates, at a glance where that is enough.
fn count_base(game: &RawGame<'_>, scan: Option<&Scan>, spare: &mut Scan, report: &mut BlockReport) {
    let glance = || plies_at_a_glance(game.movetext).filter(|_| game.tags.fen().is_empty());
    let (result, plies) = match scan {
        Some(scan) => (scan.result, scan.moves.len()),
        None => glance().unwrap_or_else(|| {
            // A text that is unfit further on still has the plies before that.
            let _ = spare.read(game.movetext);
            (spare.result, spare.moves.len())
        }),
    };
    let band = band(game.tags.white_elo(), game.tags.black_elo());
    report.base.add(band, result_of(game, result), plies);
}

/// The Result tag, or where that says nothing the result in the movetext.
fn result_of(game: &RawGame<'_>, in_movetext: Option<GameResult>) -> GameResult {
    match game.tags.result() {
        Some(result) if result != GameResult::Open => result,
        _ => in_movetext.unwrap_or(GameResult::Open),
    }
}

/// The moves of the candidates without anything between them, a game a line: what the reader can't
/// misread.
fn fair_copy(candidates: &[Candidate<'_>]) -> Vec<u8> {
    let mut copy = Vec::new();
    for candidate in candidates {
        for token in &candidate.scan.moves {
            copy.extend_from_slice(token.text(candidate.game.movetext));
            copy.push(b' ');
        }
        copy.extend_from_slice(b"*\n\n");
    }
    copy
}

impl Candidate<'_> {
    fn info(&self) -> GameInfo {
        let result = result_of(&self.game, self.scan.result);
        GameInfo::new(self.place.number, self.place.offset, &self.game.tags, result, self.scan.moves.len())
    }

    /// The evaluation in the comments after so many plies, from White's side.
    fn evaluation_after(&self, plies: usize) -> Option<Evaluation> {
        let comments = self.scan.evaluations.iter().filter(|(after, _)| usize::from(*after) == plies);
        comments.map(|(_, place)| &self.game.movetext[place.clone()]).find_map(Evaluation::of_comment)
    }

    /// What is wrong with a game that was replayed to this ending. The reader passes over moves that it
    /// can't read, so a game that is short of moves, or one that went wrong, is looked through for one.
    fn fault(&self, ending: Ending, replay: &Replay) -> Option<Fault> {
        let is_whole = ending == Ending::Whole;
        let (reason, index) = match ending {
            Ending::NoOffer => return None,
            Ending::Whole if replay.moves.len() == self.scan.moves.len() => return None,
            Ending::Whole => (Reason::UnreadableMove, replay.moves.len()),
            Ending::Wrong(SanError::IllegalSan) => (Reason::IllegalMove, replay.moves.len()),
            Ending::Wrong(SanError::AmbiguousSan) => (Reason::AmbiguousMove, replay.moves.len()),
        };
        let text = |index: usize| self.scan.moves.get(index).map(|token| token.text(self.game.movetext));
        let unreadable =
            (0..self.scan.moves.len()).find(|&index| text(index).is_some_and(|san| !is_readable(san)));
        let (reason, index) = match unreadable {
            Some(unreadable) if unreadable <= index || is_whole => (Reason::UnreadableMove, unreadable),
            _ => (reason, index),
        };
        let token = self.scan.moves.get(index)?;
        let reason = if matches!(text(index), Some(b"--" | b"Z0")) { Reason::NullMove } else { reason };
        Some(Fault {
            reason,
            at: token.start as usize,
            length: usize::from(token.length),
            ply: u16::try_from(index + 1).ok(),
        })
    }
}

/// Whether the reader takes this text for a move.
fn is_readable(san: &[u8]) -> bool {
    san.starts_with(b"0-0") || SanPlus::from_ascii(san).is_ok()
}

/// An offer that fits a lens as far as can be told when it is played.
#[derive(Clone, Copy)]
struct Offer {
    query: usize,
    lens: usize,
    index: usize,
}

/// How the replay of a game ended.
#[derive(Clone, PartialEq, Eq)]
enum Ending {
    /// At its last candidate move, none having been an offer.
    NoOffer,
    /// At its end.
    Whole,
    /// At a move that can't be played.
    Wrong(SanError),
}

/// Plays a candidate's moves on the board and notes the offers among them.
struct OnBoard<'a> {
    patterns: &'a [Pattern],
    replay: &'a mut Replay,
    /// The candidate moves that are still to come.
    moves: std::iter::Peekable<std::iter::Copied<std::slice::Iter<'a, u16>>>,
    /// Whether the game is replayed to its end even without an offer.
    to_the_end: bool,
    offers: Vec<Offer>,
}

impl<'a> OnBoard<'a> {
    fn new(
        patterns: &'a [Pattern],
        candidate: &'a Candidate<'_>,
        replay: &'a mut Replay,
        to_the_end: bool,
    ) -> OnBoard<'a> {
        replay.start(candidate.start.clone());
        OnBoard {
            patterns,
            replay,
            moves: candidate.moves.iter().copied().peekable(),
            to_the_end,
            offers: Vec::new(),
        }
    }

    fn note_offers(&mut self, index: usize) {
        let attacker: Color = self.replay.positions[index].turn();
        for (query, pattern) in self.patterns.iter().enumerate() {
            for (lens_index, lens) in pattern.lenses.iter().enumerate() {
                if lens.view.attacker == attacker && is_offer(lens, self.replay, index) {
                    self.offers.push(Offer { query, lens: lens_index, index });
                }
            }
        }
    }
}

impl Visitor for OnBoard<'_> {
    type Tags = ();
    type Movetext = ();
    type Output = Ending;

    fn begin_tags(&mut self) -> ControlFlow<Ending> {
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, (): ()) -> ControlFlow<Ending> {
        ControlFlow::Continue(())
    }

    fn san(&mut self, (): &mut (), san: SanPlus) -> ControlFlow<Ending> {
        let index = self.replay.moves.len();
        if let Err(error) = self.replay.play_san(san) {
            return ControlFlow::Break(Ending::Wrong(error));
        }
        if self.moves.next_if(|&candidate| usize::from(candidate) == index).is_some() {
            self.note_offers(index);
            let is_over = self.offers.is_empty() && self.moves.peek().is_none() && !self.to_the_end;
            if is_over {
                return ControlFlow::Break(Ending::NoOffer);
            }
        }
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, (): ()) -> Ending {
        Ending::Whole
    }
}
