//! A game that may hold an offer: what the gates found out about it, and what can be wrong with it.

use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess};

use super::evaluation::Evaluation;
use super::game_info::GameInfo;
use crate::board::read_san;
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
    pub(super) start: Chess,
    pub(super) scan: &'t Scan,
    /// The indices of the moves that may be offers, in order; `None` if all may be.
    pub(super) moves: Option<Vec<usize>>,
}

/// What is wrong with a game, in bytes of its tag section or of its movetext.
#[derive(Clone, Copy, Debug)]
pub(super) enum GameFault {
    InTags(Fault),
    InMovetext(Fault),
}

impl GameFault {
    /// A fault at a part of the tag section.
    fn at_tag(game: &RawGame<'_>, value: &[u8], reason: Reason) -> GameFault {
        let at = (value.as_ptr() as usize).saturating_sub(game.tags.text.as_ptr() as usize);
        GameFault::InTags(Fault { reason, at, length: value.len(), ply: None })
    }

    /// The row of the rejects for it.
    pub(super) fn reject(self, place: GamePlace, game: &RawGame<'_>) -> Reject {
        let (text, start, fault) = match self {
            GameFault::InTags(fault) => (game.tags.text, 0, fault),
            GameFault::InMovetext(fault) => (game.movetext, game.tags.text.len(), fault),
        };
        reject(place, text, start, fault)
    }
}

/// The row of the rejects for a fault in a text that starts `start` bytes after the game's start.
pub(super) fn reject(place: GamePlace, text: &[u8], start: usize, fault: Fault) -> Reject {
    /// Enough to recognise the place.
    const SHOWN: usize = 40;
    let at = fault.at.min(text.len());
    let end = (at + fault.length.min(SHOWN)).min(text.len());
    Reject {
        game: place.number,
        offset: place.offset,
        ply: fault.ply,
        reason: fault.reason,
        fault_offset: ByteOffset(place.offset.0 + (start + at) as u64),
        text: decode(&text[at..end]).into_owned(),
    }
}

/// What its tags say makes a game unfit; or that it has nothing but tags.
pub(super) fn check_outline(game: &RawGame<'_>) -> Result<(), GameFault> {
    let is_blank = |byte: &u8| byte.is_ascii_whitespace();
    if game.movetext.first().is_none_or(is_blank) && game.movetext.iter().all(is_blank) {
        let first_line = game.tags.text.split(|&byte| byte == b'\n').next().unwrap_or_default();
        return Err(GameFault::at_tag(game, first_line, Reason::NoMovetext));
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
pub(super) fn start_of(game: &RawGame<'_>) -> Result<Chess, GameFault> {
    let fen = game.tags.fen();
    if fen.is_empty() {
        return Ok(Chess::default());
    }
    let is_shuffled = is_shuffled(game.tags.variant());
    let mode = if is_shuffled { CastlingMode::Chess960 } else { CastlingMode::Standard };
    let setup = Fen::from_ascii(fen).ok().map(Fen::into_setup);
    setup
        .and_then(|setup| setup.position::<Chess>(mode).ok())
        .ok_or_else(|| GameFault::at_tag(game, fen, Reason::UnreadableSetup))
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
        GameInfo::new(
            self.place.number,
            self.place.offset,
            &self.game.tags,
            result,
            self.scan.moves.len(),
        )
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

    /// What is wrong with a game without tags, which may not be a game at all: a move that is none.
    pub(super) fn fault_without_tags(&self) -> Option<GameFault> {
        if self.game.tags.text.contains(&b'[') {
            return None;
        }
        let unreadable = self.sans().position(|san| read_san(san).is_none())?;
        Some(self.move_fault(Reason::UnreadableMove, unreadable))
    }

    /// The moves as they are written, in order.
    pub(super) fn sans(&self) -> impl Iterator<Item = &[u8]> {
        self.scan.moves.iter().map(|token| token.text(self.game.movetext))
    }

    /// What is wrong with a move.
    pub(super) fn move_fault(&self, reason: Reason, index: usize) -> GameFault {
        let token = self.scan.moves[index];
        let is_null = matches!(token.text(self.game.movetext), b"--" | b"Z0");
        GameFault::InMovetext(Fault {
            reason: if is_null { Reason::NullMove } else { reason },
            at: token.start as usize,
            length: usize::from(token.length),
            ply: u16::try_from(index + 1).ok(),
        })
    }
}
