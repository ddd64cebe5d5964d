//! A hit with everything that is known of it, from the table to the page it ends on.

use std::borrow::Cow;
use std::sync::Arc;

use shakmaty::{Chess, Color, Move, Role, Square};

use super::evidence::Evidence;
use super::field::CellTrouble;
use super::hit_id::id_of;
use super::record::VerdictRecord;
use super::rule::LOSS;
use super::verdict::Sound;
use super::worth::Circumstances;
use crate::board::{SacrificeKind, View, Wing, legal_move, read_position};
use crate::collection::{ByteOffset, GameNumber, GameResult, Rating};
use crate::engine::Points;
use crate::mining::{GameId, GameInfo, Hit, OfferCourse, OfferRecord, Played};
use crate::query::Shift;

/// A hit with everything that is known of it.
///
/// A table is read column by column, as far as somebody asks for them: what was not asked for is blank
/// here, too.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct JudgedHit {
    /// The name of the query that found it.
    pub query: Arc<str>,
    /// What it is known by, in this run and in any other.
    pub id: String,
    /// The source its game is from.
    pub source: String,
    /// Its game.
    pub game: GameInfo,
    /// Who offers, and on which wing.
    pub view: View,
    /// What the letters of the query stood for, if not for the files as written.
    pub shift: Option<Shift>,
    /// The offer.
    pub offer: OfferRecord,
    /// Where the king that took the man goes next, in the attacker's view.
    pub king_goes: Option<Square>,
    /// Where the king goes at the first check after the offer was accepted, in the attacker's view.
    pub king_after_check: Option<Square>,
    /// The ply of each follow-up of the query, in its order.
    pub follow_ups: Vec<Option<usize>>,
    /// Whether each factor of the query held, in its order.
    pub factors: Vec<bool>,
    /// What it is worth, if it was verified.
    pub verdict: Option<VerdictRecord>,
}

impl JudgedHit {
    /// A hit of which nothing is known but the query and how many follow-ups and factors that has.
    pub(super) fn blank(query: &str, follow_ups: usize, factors: usize) -> JudgedHit {
        JudgedHit {
            query: query.into(),
            id: String::new(),
            source: String::new(),
            game: GameInfo {
                id: GameId::default(),
                number: GameNumber(0),
                offset: ByteOffset(0),
                event: String::new(),
                site: String::new(),
                date: String::new(),
                round: String::new(),
                white: String::new(),
                black: String::new(),
                white_elo: None,
                black_elo: None,
                eco: String::new(),
                time_control: String::new(),
                result: GameResult::Open,
                plies: 0,
                doubts: String::new(),
            },
            view: View { attacker: Color::White, wing: Wing::Written },
            shift: None,
            offer: OfferRecord {
                ply: 0,
                move_number: 0,
                san: String::new(),
                fen: String::new(),
                line: String::new(),
                offered: (Role::Pawn, Square::A1),
                cost: 0,
                was_hanging: 0,
                balance_before: 0,
                kind: None,
                course: OfferCourse::Played(Played::default()),
                ends_in_mate: false,
                eval_before: None,
            },
            king_goes: None,
            king_after_check: None,
            follow_ups: vec![None; follow_ups],
            factors: vec![false; factors],
            verdict: None,
        }
    }

    /// Its row.
    #[must_use]
    pub fn row(&self) -> HitRow<'_> {
        HitRow {
            id: Cow::Borrowed(&self.id),
            source: &self.source,
            game: &self.game,
            view: self.view,
            shift: self.shift,
            offer: &self.offer,
            king_goes: self.king_goes,
            king_after_check: self.king_after_check,
            follow_ups: &self.follow_ups,
            factors: &self.factors,
            verdict: self.verdict.as_ref(),
        }
    }

    /// Whether the offer was made.
    #[must_use]
    pub fn is_played(&self) -> bool {
        self.offer.played().is_some()
    }

    /// Whether the offer was made and gives something up.
    #[must_use]
    pub fn gives_something_up(&self) -> bool {
        self.is_played() && self.offer.cost > 0
    }

    /// Whether the offer, made or overlooked, gives something up that was not lost anyway.
    #[must_use]
    pub fn is_sacrifice(&self) -> bool {
        self.offer.cost > 0 && self.offer.kind != Some(SacrificeKind::Desperado)
    }

    /// Whether nobody took a chance that works: the offer was overlooked, and [`JudgedHit::would_be_better`]
    /// by its verdict.
    #[must_use]
    pub fn is_missed_chance(&self) -> bool {
        self.verdict.as_ref().is_some_and(|verdict| self.would_be_better(verdict))
    }

    /// Whether an overlooked offer with this verdict is sound, goes on as its query requires, as far as best play shows
    /// that, and beats the move that was played instead: that one throws away as much as makes an offer unsound, by an engine or else by the game's comments. Where
    /// neither tells, the offer must be proved.
    #[must_use]
    pub fn would_be_better(&self, verdict: &VerdictRecord) -> bool {
        if self.is_played() || verdict.sound() != Sound::Yes || verdict.line_fits == Some(false) {
            return false;
        }
        match self.lost_instead(verdict) {
            Some(loss) => loss >= LOSS,
            None => verdict.worth.evidence == Some(Evidence::Proved),
        }
    }

    /// What the move threw away that was played instead of an overlooked offer with this verdict: by an engine,
    /// against the offer, or else by the game's comments, against what they expected before.
    #[must_use]
    pub fn lost_instead(&self, verdict: &VerdictRecord) -> Option<Points> {
        let missed = self.offer.overlooked()?;
        let by_engine = verdict.instead.zip(verdict.worth.after);
        let commented = missed.eval_after.zip(self.offer.eval_before);
        let by_game = commented
            .map(|(after, before)| (Points::of_evaluation(after), Points::of_evaluation(before)));
        by_engine.or(by_game).map(|(played, could_be_had)| could_be_had.over(played))
    }

    /// Whether the reply took the man, if there was a reply.
    #[must_use]
    pub fn is_accepted(&self) -> Option<bool> {
        self.offer.is_accepted()
    }

    /// The attacker's game points in halves, if the game has a result.
    #[must_use]
    pub fn half_points(&self) -> Option<u8> {
        self.game.result.half_points(self.view.attacker)
    }

    /// What the ratings predict for the attacker, in hundredths of a point.
    #[must_use]
    pub fn expected(&self) -> Option<u8> {
        self.game.expected(self.view.attacker)
    }

    /// The band of 200 points of the mean rating.
    #[must_use]
    pub fn band(&self) -> Option<Rating> {
        self.game.band()
    }

    /// The attacker's moves from the offer to the end of the game, the offer included.
    #[must_use]
    pub fn moves_left(&self) -> u64 {
        (self.game.plies as u64 + 2).saturating_sub(self.offer.ply as u64) / 2
    }

    /// Whether the attacker ended the game with mate.
    #[must_use]
    pub fn gives_mate(&self) -> bool {
        self.offer.ends_in_mate && self.half_points() == Some(2)
    }

    /// What is known of the offer besides what searches and engines find.
    #[must_use]
    pub fn known(&self) -> Circumstances {
        let after = self.offer.played().and_then(|played| played.eval_after);
        let commented = self.offer.eval_before.zip(after);
        Circumstances { balance_before: self.offer.balance_before, judged: None, commented }
    }

    /// The position before the offer.
    ///
    /// # Errors
    ///
    /// If the table does not hold one.
    pub fn position(&self) -> Result<Chess, CellTrouble> {
        let fen = &self.offer.fen;
        read_position(fen).map_err(|fault| CellTrouble {
            column: "fen",
            message: format!("`{fen}` is not a legal position: {fault}"),
        })
    }

    /// The offer as a legal move of that position.
    ///
    /// # Errors
    ///
    /// If it is not one.
    pub fn offer_in(&self, pos: &Chess) -> Result<Move, CellTrouble> {
        let san = &self.offer.san;
        legal_move(pos, san).ok_or_else(|| CellTrouble {
            column: "offer",
            message: format!("`{san}` is not a legal move in this position"),
        })
    }

    /// An error in the moves of the game.
    #[must_use]
    pub fn line_trouble(message: impl ToString) -> CellTrouble {
        CellTrouble { column: "line", message: message.to_string() }
    }

    /// An error in the moves of best play.
    #[must_use]
    pub fn best_line_trouble(message: impl ToString) -> CellTrouble {
        CellTrouble { column: "best_line", message: message.to_string() }
    }
}

/// A hit as a row of tables, whoever owns its parts.
pub struct HitRow<'h> {
    pub(super) id: Cow<'h, str>,
    pub(super) source: &'h str,
    pub(super) game: &'h GameInfo,
    pub(super) view: View,
    pub(super) shift: Option<Shift>,
    pub(super) offer: &'h OfferRecord,
    pub(super) king_goes: Option<Square>,
    pub(super) king_after_check: Option<Square>,
    pub(super) follow_ups: &'h [Option<usize>],
    pub(super) factors: &'h [bool],
    pub(super) verdict: Option<&'h VerdictRecord>,
}

impl<'h> HitRow<'h> {
    /// The row of a hit that was just mined by the query of this name.
    #[must_use]
    pub fn of_mined(source: &'h str, game: &'h GameInfo, query: &str, hit: &'h Hit) -> HitRow<'h> {
        let overlooked = hit.offer.overlooked().map(|_| &*hit.offer.san);
        HitRow {
            id: Cow::Owned(id_of(game.id, hit.offer.ply, query, overlooked)),
            source,
            game,
            view: hit.view,
            shift: hit.shift,
            offer: &hit.offer,
            king_goes: hit.king_goes,
            king_after_check: hit.king_after_check,
            follow_ups: &hit.follow_ups,
            factors: &hit.factors,
            verdict: None,
        }
    }
}
