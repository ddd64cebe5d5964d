//! The columns of tables of hits and of verdicts: each once, with its name, what its cells hold, and how a
//! cell is written and read.
//!
//! Invariant: what is written and read is the same hit again.

use shakmaty::Color;

use super::field::Field;
use super::judged_hit::{Advice, HitRow, JudgedHit, VerdictRecord};
use super::verdict::Verdict;
use crate::board::Wing;
use crate::collection::{ByteOffset, GameNumber, GameResult};
use crate::mining::{Course, Evaluation, Overlooked, Played};
use crate::tables::{Cell, Kind, TableTrouble};

/// A column.
pub(super) struct HitColumn {
    pub(super) name: &'static str,
    pub(super) kind: Kind,
    pub(super) write: for<'h> fn(&HitRow<'h>) -> Cell<'h>,
    pub(super) read: fn(&mut JudgedHit, Field<'_>) -> Result<(), TableTrouble>,
}

type Write = for<'h> fn(&HitRow<'h>) -> Cell<'h>;
type Read = fn(&mut JudgedHit, Field<'_>) -> Result<(), TableTrouble>;

const fn text(name: &'static str, write: Write, read: Read) -> HitColumn {
    HitColumn { name, kind: Kind::Text, write, read }
}

const fn integer(name: &'static str, write: Write, read: Read) -> HitColumn {
    HitColumn { name, kind: Kind::Integer, write, read }
}

const fn hundredths(name: &'static str, write: Write, read: Read) -> HitColumn {
    HitColumn { name, kind: Kind::Hundredths, write, read }
}

const fn truth(name: &'static str, write: Write, read: Read) -> HitColumn {
    HitColumn { name, kind: Kind::Truth, write, read }
}

/// A column with a text of the game.
macro_rules! game_text {
    ($name:literal, $field:ident) => {
        text(
            $name,
            |row| (*row.game.$field).into(),
            |hit, cell| {
                cell.copy_to(&mut hit.game.$field);
                Ok(())
            },
        )
    };
}

/// Puts a value that was read into its place.
macro_rules! read {
    ($place:expr, $value:expr) => {{
        $place = $value;
        Ok(())
    }};
}

const SIDES: [(&str, Color); 2] = [("white", Color::White), ("black", Color::Black)];
const WINGS: [(&str, Wing); 2] = [("as written", Wing::Written), ("mirrored", Wing::Mirrored)];

/// The columns that every table of hits has, in order.
pub(super) const HIT_COLUMNS: [HitColumn; 39] = [
    text(
        "id",
        |row| Cell::Text(row.id.clone()),
        |hit, cell| {
            cell.copy_to(&mut hit.id);
            Ok(())
        },
    ),
    text(
        "source",
        |row| row.source.into(),
        |hit, cell| {
            cell.copy_to(&mut hit.source);
            Ok(())
        },
    ),
    integer(
        "game",
        |row| row.game.number.0.into(),
        |hit, cell| read!(hit.game.number, GameNumber(cell.number()?)),
    ),
    integer(
        "offset",
        |row| row.game.offset.0.into(),
        |hit, cell| read!(hit.game.offset, ByteOffset(cell.number()?)),
    ),
    game_text!("event", event),
    game_text!("site", site),
    game_text!("date", date),
    game_text!("round", round),
    game_text!("white", white),
    game_text!("black", black),
    integer(
        "white_elo",
        |row| row.game.white_elo.into(),
        |hit, cell| read!(hit.game.white_elo, cell.integer()?),
    ),
    integer(
        "black_elo",
        |row| row.game.black_elo.into(),
        |hit, cell| read!(hit.game.black_elo, cell.integer()?),
    ),
    game_text!("eco", eco),
    game_text!("time_control", time_control),
    text(
        "result",
        |row| row.game.result.as_str().into(),
        |hit, cell| {
            let result = cell.parsed("a result", |text| GameResult::parse(text.as_bytes()))?;
            read!(hit.game.result, cell.needed(result)?)
        },
    ),
    integer(
        "plies",
        |row| row.game.plies.into(),
        |hit, cell| read!(hit.game.plies, cell.number()?),
    ),
    text(
        "side",
        |row| row.view.attacker.fold_wb("white", "black").into(),
        |hit, cell| read!(hit.view.attacker, cell.word(&SIDES)?),
    ),
    text(
        "wing",
        |row| match row.view.wing {
            Wing::Written => "as written".into(),
            Wing::Mirrored => "mirrored".into(),
        },
        |hit, cell| read!(hit.view.wing, cell.word(&WINGS)?),
    ),
    integer(
        "ply",
        |row| row.offer.ply.into(),
        |hit, cell| {
            let (ply, plies) = (cell.number()?, hit.game.plies);
            if !(1..=plies).contains(&ply) {
                let message = format!("a game of {plies} plies has no ply {ply}");
                return Err(cell.trouble(message));
            }
            read!(hit.offer.ply, ply)
        },
    ),
    integer(
        "move_number",
        |row| row.offer.move_number.into(),
        |hit, cell| read!(hit.offer.move_number, cell.number()?),
    ),
    text(
        "offer",
        |row| (*row.offer.san).into(),
        |hit, cell| {
            cell.copy_to(&mut hit.offer.san);
            Ok(())
        },
    ),
    text(
        "fen",
        |row| (*row.offer.fen).into(),
        |hit, cell| {
            cell.copy_to(&mut hit.offer.fen);
            Ok(())
        },
    ),
    text(
        "line",
        |row| (*row.offer.line).into(),
        |hit, cell| {
            cell.copy_to(&mut hit.offer.line);
            Ok(())
        },
    ),
    truth(
        "played",
        |row| row.offer.played().is_some().into(),
        |hit, cell| {
            let course = match cell.known_truth()? {
                true => Course::Played(Played::default()),
                false => Course::Overlooked(Overlooked::default()),
            };
            read!(hit.offer.course, course)
        },
    ),
    text(
        "instead",
        |row| row.offer.overlooked().map(|missed| &*missed.instead).into(),
        |hit, cell| if_overlooked(hit, |missed| read!(missed.instead, cell.text().to_owned())),
    ),
    integer(
        "stayed",
        |row| row.offer.overlooked().map(|missed| missed.stayed).into(),
        |hit, cell| if_overlooked(hit, |missed| read!(missed.stayed, cell.number()?)),
    ),
    integer("cost", |row| row.offer.cost.into(), |hit, cell| read!(hit.offer.cost, cell.number()?)),
    text(
        "reply",
        |row| row.offer.played().and_then(|played| played.reply.as_deref()).into(),
        |hit, cell| {
            let reply = Some(cell.text()).filter(|reply| !reply.is_empty());
            if_played(hit, |played| read!(played.reply, reply.map(str::to_owned)))
        },
    ),
    truth(
        "accepted",
        |row| row.offer.played().and_then(|played| played.accepted).into(),
        |hit, cell| if_played(hit, |played| read!(played.accepted, cell.truth()?)),
    ),
    text(
        "king_goes",
        |row| square(row.king_goes),
        |hit, cell| read!(hit.king_goes, cell.square()?),
    ),
    text(
        "king_after_check",
        |row| square(row.king_after_check),
        |hit, cell| read!(hit.king_after_check, cell.square()?),
    ),
    integer(
        "invested",
        |row| row.offer.played().map(|played| played.ledger.invested).into(),
        |hit, cell| if_played(hit, |played| read!(played.ledger.invested, cell.number()?)),
    ),
    integer(
        "recovered",
        |row| row.offer.played().and_then(|played| played.ledger.recovered).into(),
        |hit, cell| if_played(hit, |played| read!(played.ledger.recovered, cell.integer()?)),
    ),
    integer(
        "balance_end",
        |row| row.offer.played().map(|played| played.ledger.balance_end).into(),
        |hit, cell| if_played(hit, |played| read!(played.ledger.balance_end, cell.number()?)),
    ),
    truth(
        "ends_in_mate",
        |row| row.offer.ends_in_mate.into(),
        |hit, cell| read!(hit.offer.ends_in_mate, cell.known_truth()?),
    ),
    hundredths(
        "score",
        |row| score(row.game.result.half_points(row.view.attacker)),
        |hit, cell| expect(cell, score(hit.half_points()), "`result` and `side`"),
    ),
    hundredths(
        "expected",
        |row| expected(row.game.expected(row.view.attacker)),
        |hit, cell| expect(cell, expected(hit.expected()), "the ratings"),
    ),
    text(
        "eval_before",
        |row| evaluation(row.offer.eval_before),
        |hit, cell| read!(hit.offer.eval_before, cell.evaluation()?),
    ),
    text(
        "eval_after",
        |row| evaluation(row.offer.played().and_then(|played| played.eval_after)),
        |hit, cell| if_played(hit, |played| read!(played.eval_after, cell.evaluation()?)),
    ),
];

/// The columns of a table of verdicts, in order; the first is the hit's `id`.
pub(super) const VERDICT_COLUMNS: [HitColumn; 15] = [
    text(
        "id",
        |row| Cell::Text(row.id.clone()),
        |hit, cell| match cell.text() == hit.id {
            true => read!(hit.verdict, Some(VerdictRecord::unknown())),
            false => Err(cell.trouble(format!("the hit in this place is `{}`", hit.id))),
        },
    ),
    text(
        "verdict",
        |row| of(row, |it| it.verdict.word()),
        |hit, cell| {
            let verdict = cell.parsed("a verdict", Verdict::of_word)?;
            into(hit, |it| read!(it.verdict, cell.needed(verdict)?))
        },
    ),
    integer(
        "mate_in",
        |row| of(row, |it| it.verdict.mate_in().map(u16::from)),
        |hit, cell| {
            let moves = cell.integer()?;
            into(hit, |it| read!(it.verdict, cell.needed(it.verdict.with_moves(|| moves))?))
        },
    ),
    truth(
        "is_shortest",
        |row| of(row, |it| it.is_shortest),
        |hit, cell| into(hit, |it| read!(it.is_shortest, cell.truth()?)),
    ),
    integer(
        "balance",
        |row| of(row, |it| it.balance),
        |hit, cell| {
            let balance = cell.integer()?;
            into(hit, |it| {
                it.verdict = cell.needed(it.verdict.with_pawns(|| balance))?;
                read!(it.balance, balance)
            })
        },
    ),
    integer(
        "depth",
        |row| of(row, |it| u16::from(it.depth)),
        |hit, cell| into(hit, |it| read!(it.depth, cell.number()?)),
    ),
    text(
        "sound",
        |row| of(row, |it| it.sound().word()),
        |hit, cell| {
            into(hit, |it| match cell.text() == it.sound().word() {
                true => Ok(()),
                false => {
                    let verdict = it.verdict;
                    Err(cell.trouble(format!("`{}` is not what `{verdict}` means", cell.text())))
                }
            })
        },
    ),
    text(
        "best_reply",
        |row| of(row, |it| &*it.best_reply),
        |hit, cell| into(hit, |it| read!(it.best_reply, cell.text().to_owned())),
    ),
    text(
        "best_line",
        |row| of(row, |it| &*it.best_line),
        |hit, cell| into(hit, |it| read!(it.best_line, cell.text().to_owned())),
    ),
    text(
        "if_accepted",
        |row| of(row, |it| it.if_accepted.map(|verdict| verdict.to_string())),
        |hit, cell| into(hit, |it| read!(it.if_accepted, verdict(cell)?)),
    ),
    text(
        "if_declined",
        |row| of(row, |it| it.if_declined.map(|verdict| verdict.to_string())),
        |hit, cell| into(hit, |it| read!(it.if_declined, verdict(cell)?)),
    ),
    truth(
        "is_best",
        |row| of(row, |it| it.is_best),
        |hit, cell| into(hit, |it| read!(it.is_best, cell.truth()?)),
    ),
    text(
        "better",
        |row| of(row, |it| it.better.as_ref().map(|(san, _)| &**san)),
        |hit, cell| {
            let better = (!cell.text().is_empty()).then(|| cell.text().to_owned());
            let known = better.map(|san| (san, Verdict::Unproved));
            into(hit, |it| read!(it.better, known))
        },
    ),
    text(
        "better_verdict",
        |row| of(row, |it| it.better.as_ref().map(|(_, verdict)| verdict.to_string())),
        |hit, cell| {
            into(hit, |it| match &mut it.better {
                Some((_, worth)) => read!(*worth, cell.needed(verdict(cell)?)?),
                None => Ok(()),
            })
        },
    ),
    integer(
        "nodes",
        |row| of(row, |it| it.nodes),
        |hit, cell| into(hit, |it| read!(it.nodes, cell.number()?)),
    ),
];

/// The columns that another program's judgement adds to a table of verdicts.
pub(super) const ADVICE_COLUMNS: [HitColumn; 7] = [
    text(
        "engine_before",
        |row| advice(row, |it| evaluation(Some(it.before))),
        |hit, cell| {
            let before = cell.evaluation()?;
            into(hit, |it| read!(it.opinion, before.map(|before| Ok(Advice::of(before)))))
        },
    ),
    text(
        "engine_after",
        |row| advice(row, |it| evaluation(Some(it.after))),
        |hit, cell| advised(hit, |it| read!(it.after, cell.needed(cell.evaluation()?)?)),
    ),
    text(
        "engine_reply",
        |row| advice(row, |it| (*it.reply).into()),
        |hit, cell| advised(hit, |it| read!(it.reply, cell.text().to_owned())),
    ),
    text(
        "engine_line",
        |row| advice(row, |it| (*it.line).into()),
        |hit, cell| advised(hit, |it| read!(it.line, cell.text().to_owned())),
    ),
    text(
        "engine_instead",
        |row| advice(row, |it| it.instead.as_ref().map(|(san, _)| &**san).into()),
        |hit, cell| {
            let instead = (!cell.text().is_empty()).then(|| cell.text().to_owned());
            advised(hit, |it| read!(it.instead, instead.map(|san| (san, it.before))))
        },
    ),
    text(
        "engine_instead_score",
        |row| advice(row, |it| evaluation(it.instead.as_ref().map(|&(_, score)| score))),
        |hit, cell| {
            advised(hit, |it| match &mut it.instead {
                Some((_, score)) => read!(*score, cell.needed(cell.evaluation()?)?),
                None => Ok(()),
            })
        },
    ),
    text(
        "engine_fault",
        |row| {
            let opinion = row.verdict.and_then(|verdict| verdict.opinion.as_ref());
            opinion.and_then(|opinion| opinion.as_ref().err()).map(|fault| &**fault).into()
        },
        |hit, cell| match cell.text() {
            "" => Ok(()),
            fault => into(hit, |it| read!(it.opinion, Some(Err(fault.to_owned())))),
        },
    ),
];

impl Advice {
    /// What is known once the first cell is read.
    fn of(before: Evaluation) -> Advice {
        let (reply, line) = (String::new(), String::new());
        Advice { before, after: before, reply, line, instead: None }
    }
}

fn if_played(
    hit: &mut JudgedHit,
    read: impl FnOnce(&mut Played) -> Result<(), TableTrouble>,
) -> Result<(), TableTrouble> {
    match &mut hit.offer.course {
        Course::Played(played) => read(played),
        Course::Overlooked(_) => Ok(()),
    }
}

fn if_overlooked(
    hit: &mut JudgedHit,
    read: impl FnOnce(&mut Overlooked) -> Result<(), TableTrouble>,
) -> Result<(), TableTrouble> {
    match &mut hit.offer.course {
        Course::Played(_) => Ok(()),
        Course::Overlooked(overlooked) => read(overlooked),
    }
}

fn square(square: Option<shakmaty::Square>) -> Cell<'static> {
    square.map(|square| square.to_string()).into()
}

fn evaluation(evaluation: Option<Evaluation>) -> Cell<'static> {
    match evaluation {
        None => Cell::Blank,
        Some(Evaluation::Centipawns(value)) => Cell::Hundredths(value.into()),
        Some(mate @ Evaluation::Mate(_)) => Cell::Text(mate.to_string().into()),
    }
}

fn score(half_points: Option<u8>) -> Cell<'static> {
    half_points.map_or(Cell::Blank, |halves| Cell::Hundredths(50 * i64::from(halves)))
}

fn expected(expected: Option<u8>) -> Cell<'static> {
    expected.map_or(Cell::Blank, |score| Cell::Hundredths(score.into()))
}

/// Fails unless a cell holds what other cells of its row make of it.
fn expect(cell: Field<'_>, expected: Cell<'_>, others: &str) -> Result<(), TableTrouble> {
    let found = cell.hundredths()?.map_or(Cell::Blank, Cell::Hundredths);
    if found == expected {
        return Ok(());
    }
    let text = match cell.text() {
        "" => "the cell is blank, which".to_owned(),
        text => format!("`{text}`"),
    };
    Err(cell.trouble(format!("{text} is not what {others} of the row make it")))
}

/// A cell of what was found out about the offer; blank if it was not verified.
fn of<'h, T: Into<Cell<'h>>>(
    row: &HitRow<'h>,
    cell: impl FnOnce(&'h VerdictRecord) -> T,
) -> Cell<'h> {
    row.verdict.map_or(Cell::Blank, |verdict| cell(verdict).into())
}

fn into(
    hit: &mut JudgedHit,
    read: impl FnOnce(&mut VerdictRecord) -> Result<(), TableTrouble>,
) -> Result<(), TableTrouble> {
    hit.verdict.as_mut().map_or(Ok(()), read)
}

fn verdict(cell: Field<'_>) -> Result<Option<Verdict>, TableTrouble> {
    cell.parsed("a verdict", Verdict::parse)
}

/// A cell of what another program says; blank if none was asked, or it failed.
fn advice<'h>(row: &HitRow<'h>, cell: impl FnOnce(&'h Advice) -> Cell<'h>) -> Cell<'h> {
    let opinion = row.verdict.and_then(|verdict| verdict.opinion.as_ref());
    opinion.and_then(|opinion| opinion.as_ref().ok()).map_or(Cell::Blank, cell)
}

fn advised(
    hit: &mut JudgedHit,
    read: impl FnOnce(&mut Advice) -> Result<(), TableTrouble>,
) -> Result<(), TableTrouble> {
    into(hit, |it| match &mut it.opinion {
        Some(Ok(advice)) => read(advice),
        _ => Ok(()),
    })
}
