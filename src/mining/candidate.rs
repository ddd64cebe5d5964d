//! A game that may hold an offer: what the gates found out about it, and what can be wrong with it.

use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess, EnPassantMode};

use super::doubt::Doubt;
use super::evaluation::Evaluation;
use super::game_info::{GameInfo, GameText};
use super::gates::MoveLenses;
use crate::board::{read_san, read_start};
use crate::collection::{
    ByteOffset, Fault, GameNumber, GameResult, RawGame, Reason, Reject, Scan, decode,
};

/// Where a game is in its source.
#[derive(Clone, Copy, Debug)]
pub(super) struct GamePlace {
    pub(super) number: GameNumber,
    pub(super) offset: ByteOffset,
}

/// A game that passed the gates.
pub(super) struct CandidateGame<'t> {
    pub(super) place: GamePlace,
    pub(super) game: RawGame<'t>,
    pub(super) start: Start,
    pub(super) scan: &'t Scan,
    /// The offers that its moves may be; `None` if any move may be one.
    pub(super) offers: Option<MoveLenses>,
}

/// The position in which a game starts.
#[derive(Clone, Debug, Default)]
pub(super) struct Start {
    pub(super) pos: Chess,
    /// What had to be mended in it.
    pub(super) doubts: Vec<Doubt>,
}

/// What is wrong with a game.
#[derive(Clone, Debug)]
pub(super) struct GameFault {
    place: FaultPlace,
    fault: Fault,
    /// What is to be said of it besides; most often nothing.
    detail: String,
}

/// Where a fault counts its bytes from.
#[derive(Clone, Copy, Debug)]
enum FaultPlace {
    Tags,
    Movetext,
}

impl GameFault {
    /// A fault at a part of the tag section.
    fn at_tag(game: &RawGame<'_>, part: &[u8], reason: Reason) -> GameFault {
        let at = (part.as_ptr() as usize).saturating_sub(game.tags.text.as_ptr() as usize);
        let fault = Fault { reason, at, length: part.len(), ply: None };
        GameFault { place: FaultPlace::Tags, fault, detail: String::new() }
    }

    /// A fault in the movetext.
    pub(super) fn in_movetext(fault: Fault) -> GameFault {
        GameFault { place: FaultPlace::Movetext, fault, detail: String::new() }
    }

    /// The same, with more to say.
    pub(super) fn with_detail(self, detail: String) -> GameFault {
        GameFault { detail, ..self }
    }

    /// The row of the rejects for it.
    pub(super) fn reject(self, place: GamePlace, game: &RawGame<'_>) -> Reject {
        let (text, start) = match self.place {
            FaultPlace::Tags => (game.tags.text, 0),
            FaultPlace::Movetext => (game.movetext, game.tags.text.len()),
        };
        Reject { detail: self.detail, ..reject(place, text, start, self.fault) }
    }
}

/// The most bytes of a text at fault that are shown: enough to recognise the place.
const SHOWN: usize = 40;

/// The row of the rejects for a fault in a text that starts `start` bytes after the game's start.
pub(super) fn reject(place: GamePlace, text: &[u8], start: usize, fault: Fault) -> Reject {
    let at = fault.at.min(text.len());
    let end = (at + fault.length.min(SHOWN)).min(text.len());
    Reject {
        game: place.number,
        offset: place.offset,
        ply: fault.ply,
        reason: fault.reason,
        fault_offset: ByteOffset(place.offset.0 + (start + at) as u64),
        text: decode(&text[at..end]).into_owned(),
        detail: String::new(),
    }
}

/// What its tags say makes a game unfit; or that it has nothing but tags.
pub(super) fn check_outline(game: &RawGame<'_>) -> Result<(), GameFault> {
    let is_blank = |byte: &u8| byte.is_ascii_whitespace();
    if game.movetext.first().is_none_or(is_blank) && game.movetext.iter().all(is_blank) {
        let first_line = game.tags.text.split(|&byte| byte == b'\n').next().unwrap_or_default();
        let (line, reason) = match game.tags.broken {
            b"" => (first_line, Reason::NoMovetext),
            line => (line, Reason::UnreadableTag),
        };
        return Err(GameFault::at_tag(game, line, reason));
    }
    if game.tags.may_hold_moves() {
        return Err(GameFault::at_tag(game, game.tags.broken, Reason::UnreadableTag));
    }
    if !is_chess(game.tags.variant()) {
        return Err(GameFault::at_tag(game, game.tags.variant(), Reason::Variant));
    }
    Ok(())
}

/// Whether a Variant tag names chess; that with a shuffled back rank included. The names are those
/// met in files (common practice, no source).
fn is_chess(variant: &[u8]) -> bool {
    variant.is_empty()
        || is_shuffled(variant)
        || is_one_of(variant, &["standard", "chess", "normal", "from position"])
}

fn is_shuffled(variant: &[u8]) -> bool {
    is_one_of(
        variant,
        &["chess960", "chess 960", "fischerandom", "fischerrandom", "fischer random"],
    )
}

fn is_one_of(variant: &[u8], names: &[&str]) -> bool {
    names.iter().any(|name| variant.eq_ignore_ascii_case(name.as_bytes()))
}

/// The position in which a game starts.
pub(super) fn start_of(game: &RawGame<'_>) -> Result<Start, GameFault> {
    let fen = game.tags.fen();
    if fen.is_empty() {
        return Ok(Start::default());
    }
    let is_shuffled = is_shuffled(game.tags.variant());
    let mode = if is_shuffled { CastlingMode::Chess960 } else { CastlingMode::Standard };
    let text = decode(fen);
    let (pos, mended) = read_start(&text, mode).map_err(|fault| {
        // Bytes that are no UTF-8 take other places in the text.
        let part = fen.get(fault.place.clone()).filter(|_| fen.len() > SHOWN).unwrap_or(fen);
        let detail = fault.to_string();
        GameFault::at_tag(game, part, Reason::UnreadableSetup).with_detail(detail)
    })?;
    let castling = mended.castling.then_some(Doubt::Castling);
    let doubts = castling.into_iter().chain(mended.en_passant.then_some(Doubt::EnPassant));
    Ok(Start { pos, doubts: doubts.collect() })
}

/// What keeps the last game of a source from being whole: it has no result, or can't be read to its end.
pub(super) fn check_end(game: &RawGame<'_>, scan: &mut Scan) -> Result<(), GameFault> {
    scan.read(game.movetext).map_err(GameFault::in_movetext)?;
    if scan.result.is_some() {
        return Ok(());
    }
    if let Some(fault) = fault_without_tags(game, scan) {
        return Err(fault);
    }
    let end = game.movetext.trim_ascii_end();
    let at = end.iter().rposition(u8::is_ascii_whitespace).map_or(0, |blank| blank + 1);
    let ply = u16::try_from(scan.moves.len()).ok();
    let fault = Fault { reason: Reason::NoResult, at, length: end.len() - at, ply };
    Err(GameFault::in_movetext(fault))
}

/// The Result tag, or where that says nothing the result in the movetext.
pub(super) fn result_of(game: &RawGame<'_>, in_movetext: Option<GameResult>) -> GameResult {
    match game.tags.result() {
        Some(result) if result != GameResult::Open => result,
        _ => in_movetext.unwrap_or(GameResult::Open),
    }
}

impl CandidateGame<'_> {
    pub(super) fn info(&self) -> GameInfo {
        let result = result_of(&self.game, self.scan.result);
        let (numbers, is_set_up) = (self.scan.numbers, !self.game.tags.fen().is_empty());
        let skip = numbers.skip || !is_set_up && numbers.first.is_some_and(|before| before > 0);
        let doubts = [
            (!self.game.tags.broken.is_empty(), Doubt::BrokenTag),
            (self.scan.result.is_none(), Doubt::NoResult),
            (skip, Doubt::Numbers),
            (self.scan.has_brace_in_comment, Doubt::Brace),
        ];
        let doubts = doubts.into_iter().filter_map(|(is_so, doubt)| is_so.then_some(doubt));
        GameInfo::new(
            self.place.number,
            self.place.offset,
            &self.game.tags,
            result,
            self.scan.moves.len(),
            doubts.chain(self.start.doubts.iter().copied()),
        )
    }

    /// The whole of the game besides what its tags say.
    pub(super) fn text(&self) -> GameText {
        let is_set_up = !self.game.tags.fen().is_empty();
        let start = is_set_up
            .then(|| Fen::from_position(&self.start.pos, EnPassantMode::Always).to_string());
        let mut moves = String::with_capacity(6 * self.scan.moves.len());
        for san in self.sans() {
            moves.push_str(if moves.is_empty() { "" } else { " " });
            moves.push_str(&decode(san));
        }
        GameText { start: start.unwrap_or_default(), moves, evaluations: self.evaluations() }
    }

    /// What comments say that the position after each ply is worth, in one text.
    fn evaluations(&self) -> String {
        let after = |plies| self.evaluation_after(plies);
        if self.scan.evaluations.is_empty() {
            return String::new();
        }
        let texts = (1..=self.scan.moves.len())
            .map(|plies| after(plies).map_or("?".to_owned(), |it| it.to_string()));
        texts.collect::<Vec<String>>().join(" ")
    }

    /// The evaluation in the comments after `plies` plies, from White's side.
    pub(super) fn evaluation_after(&self, plies: usize) -> Option<Evaluation> {
        let evaluations = &self.scan.evaluations;
        let first = evaluations.partition_point(|(after, _)| usize::from(*after) < plies);
        let comments =
            evaluations[first..].iter().take_while(|(after, _)| usize::from(*after) == plies);
        comments
            .map(|(_, place)| &self.game.movetext[place.clone()])
            .find_map(Evaluation::of_comment)
    }

    /// What is wrong with a game without tags.
    pub(super) fn fault_without_tags(&self) -> Option<GameFault> {
        fault_without_tags(&self.game, self.scan)
    }

    /// The moves as they are written, in order.
    pub(super) fn sans(&self) -> impl Iterator<Item = &[u8]> {
        self.scan.moves.iter().map(|token| token.text(self.game.movetext))
    }

    /// What is wrong with a move.
    pub(super) fn move_fault(&self, reason: Reason, index: usize) -> GameFault {
        move_fault(&self.game, self.scan, reason, index)
    }
}

/// What is wrong with a game without tags, which may not be a game at all: a move that is none.
fn fault_without_tags(game: &RawGame<'_>, scan: &Scan) -> Option<GameFault> {
    if game.tags.text.contains(&b'[') {
        return None;
    }
    let mut sans = scan.moves.iter().map(|token| token.text(game.movetext));
    let unreadable = sans.position(|san| read_san(san).is_none())?;
    Some(move_fault(game, scan, Reason::UnreadableMove, unreadable))
}

/// What is wrong with a move of a game.
fn move_fault(game: &RawGame<'_>, scan: &Scan, reason: Reason, index: usize) -> GameFault {
    let token = scan.moves[index];
    let is_null = matches!(token.text(game.movetext), b"--" | b"Z0");
    GameFault::in_movetext(Fault {
        reason: if is_null { Reason::NullMove } else { reason },
        at: token.start as usize,
        length: usize::from(token.length),
        ply: u16::try_from(index + 1).ok(),
    })
}
