//! The columns of tables of hits and of verdicts: each once, with what its cells hold, its name, and how a
//! cell is written and read.
//!
//! Invariant: what is written and read is the same hit again.

use shakmaty::{Color, Role, Square};

use super::evidence::Evidence;
use super::field::Field;
use super::judged_hit::{HitRow, JudgedHit};
use super::reasons::{DrawnBy, Unrest};
use super::record::{Advice, Opinion, VerdictRecord};
use super::verdict::{Sound, Verdict};
use crate::board::{SacrificeKind, Wing, word_of};
use crate::collection::{ByteOffset, GameNumber, GameResult};
use crate::engine::Points;
use crate::mining::{Evaluation, OfferCourse, Overlooked, Played};
use crate::query::Shift;
use crate::tables::{Cell, Kind, TableTrouble};

/// A column.
pub(super) struct HitColumn {
    pub(super) name: &'static str,
    pub(super) kind: Kind,
    pub(super) write: for<'h> fn(&HitRow<'h>) -> Cell<'h>,
    pub(super) read: fn(&mut JudgedHit, Field<'_>) -> Result<(), TableTrouble>,
}

/// A list of columns: kind and name; the value that a row is written from; the statement that reads a cell.
macro_rules! columns {
    ($($kind:ident $name:ident:
        |$row:ident| $write:expr,
        |$hit:ident, $cell:ident| $read:expr;
    )*) => {
        &[$(HitColumn {
            name: stringify!($name),
            kind: Kind::$kind,
            write: |$row| Cell::from($write),
            read: |$hit, $cell| {
                let () = $read;
                Ok(())
            },
        }),*]
    };
}

const SIDES: [(&str, Color); 2] = [("white", Color::White), ("black", Color::Black)];
const WINGS: [(&str, Wing); 2] = [("as written", Wing::Written), ("mirrored", Wing::Mirrored)];

/// The columns that every table of hits has, in order.
pub(super) const HIT_COLUMNS: &[HitColumn] = columns! {
    Text id: |row| Cell::Text(row.id.clone()), |hit, cell| cell.copy_to(&mut hit.id);
    Text game_id: |row| Cell::Text(row.game.id.to_string().into()), |hit, cell| {
        let id = cell.parsed("the id of a game", |text| text.parse().ok())?;
        hit.game.id = cell.needed(id)?;
    };
    Text source: |row| row.source, |hit, cell| cell.copy_to(&mut hit.source);
    Integer game: |row| row.game.number.0, |hit, cell| hit.game.number = GameNumber(cell.number()?);
    Integer offset: |row| row.game.offset.0, |hit, cell| hit.game.offset = ByteOffset(cell.number()?);
    Text event: |row| &*row.game.event, |hit, cell| cell.copy_to(&mut hit.game.event);
    Text site: |row| &*row.game.site, |hit, cell| cell.copy_to(&mut hit.game.site);
    Text date: |row| &*row.game.date, |hit, cell| cell.copy_to(&mut hit.game.date);
    Text round: |row| &*row.game.round, |hit, cell| cell.copy_to(&mut hit.game.round);
    Text white: |row| &*row.game.white, |hit, cell| cell.copy_to(&mut hit.game.white);
    Text black: |row| &*row.game.black, |hit, cell| cell.copy_to(&mut hit.game.black);
    Integer white_elo: |row| row.game.white_elo, |hit, cell| hit.game.white_elo = cell.integer()?;
    Integer black_elo: |row| row.game.black_elo, |hit, cell| hit.game.black_elo = cell.integer()?;
    Text eco: |row| &*row.game.eco, |hit, cell| cell.copy_to(&mut hit.game.eco);
    Text time_control: |row| &*row.game.time_control, |hit, cell| cell.copy_to(&mut hit.game.time_control);
    Text result: |row| row.game.result.as_str(), |hit, cell| {
        let result = cell.parsed("a result", |text| GameResult::parse(text.as_bytes()))?;
        hit.game.result = cell.needed(result)?;
    };
    Integer plies: |row| row.game.plies, |hit, cell| hit.game.plies = cell.number()?;
    Text side: |row| word(row.view.attacker, &SIDES), |hit, cell| hit.view.attacker = cell.word(&SIDES)?;
    Text wing: |row| wing(row), |hit, cell| (hit.view.wing, hit.shift) = wing_and_shift(cell)?;
    Integer ply: |row| row.offer.ply, |hit, cell| hit.offer.ply = ply(cell, hit.game.plies)?;
    Integer move_number: |row| row.offer.move_number, |hit, cell| hit.offer.move_number = cell.number()?;
    Text offer: |row| &*row.offer.san, |hit, cell| cell.copy_to(&mut hit.offer.san);
    Text fen: |row| &*row.offer.fen, |hit, cell| cell.copy_to(&mut hit.offer.fen);
    Text line: |row| &*row.offer.line, |hit, cell| cell.copy_to(&mut hit.offer.line);
    Truth played: |row| row.offer.played().is_some(), |hit, cell| {
        hit.offer.course = match cell.known_truth()? {
            true => OfferCourse::Played(Played::default()),
            false => OfferCourse::Overlooked(Overlooked::default()),
        };
    };
    Text instead: |row| row.offer.overlooked().map(|missed| &*missed.instead), |hit, cell| {
        if let Some(missed) = overlooked(hit) { cell.copy_to(&mut missed.instead); }
    };
    Integer stayed: |row| row.offer.overlooked().map(|missed| missed.stayed), |hit, cell| {
        if let Some(missed) = overlooked(hit) { missed.stayed = cell.number()?; }
    };
    Text offered: |row| offered(row), |hit, cell| {
        let man = cell.parsed("a man and its square", man_and_square)?;
        let (man, square) = cell.needed(man)?;
        hit.offer.offered = (man, hit.view.turn(square));
    };
    Integer cost: |row| row.offer.cost, |hit, cell| hit.offer.cost = cell.number()?;
    Integer was_hanging: |row| row.offer.was_hanging, |hit, cell| {
        hit.offer.was_hanging = cell.number()?;
    };
    Integer balance_before: |row| row.offer.balance_before, |hit, cell| {
        hit.offer.balance_before = cell.number()?;
    };
    Text reply: |row| row.offer.played().and_then(|made| made.reply.as_deref()), |hit, cell| {
        if let Some(made) = played(hit) { made.reply = cell.known_text(); }
    };
    Truth accepted: |row| row.offer.played().and_then(|made| made.accepted), |hit, cell| {
        if let Some(made) = played(hit) { made.accepted = cell.truth()?; }
    };
    Text kind: |row| row.offer.kind.map(SacrificeKind::word), |hit, cell| {
        hit.offer.kind = kind(cell)?;
    };
    Text king_goes: |row| square(row.king_goes), |hit, cell| hit.king_goes = cell.square()?;
    Text king_after_check: |row| square(row.king_after_check), |hit, cell| {
        hit.king_after_check = cell.square()?;
    };
    Integer invested: |row| row.offer.played().map(|made| made.ledger.invested), |hit, cell| {
        if let Some(made) = played(hit) { made.ledger.invested = cell.number()?; }
    };
    Integer recovered: |row| row.offer.played().and_then(|made| made.ledger.recovered), |hit, cell| {
        if let Some(made) = played(hit) { made.ledger.recovered = cell.integer()?; }
    };
    Integer balance_end: |row| row.offer.played().map(|made| made.ledger.balance_end), |hit, cell| {
        if let Some(made) = played(hit) { made.ledger.balance_end = cell.number()?; }
    };
    Truth ends_in_mate: |row| row.offer.ends_in_mate, |hit, cell| hit.offer.ends_in_mate = cell.known_truth()?;
    // These two follow from other columns.
    Hundredths score: |row| score(row.game.result.half_points(row.view.attacker)), |_hit, _cell| ();
    Hundredths expected: |row| expected(row.game.expected(row.view.attacker)), |_hit, _cell| ();
    Mixed eval_before: |row| evaluation(row.offer.eval_before), |hit, cell| {
        hit.offer.eval_before = cell.evaluation()?;
    };
    Mixed eval_after: |row| evaluation(eval_after(row)), |hit, cell| {
        let after = cell.evaluation()?;
        match &mut hit.offer.course {
            OfferCourse::Played(made) => made.eval_after = after,
            OfferCourse::Overlooked(missed) => missed.eval_after = after,
        }
    };
    Text doubts: |row| &*row.game.doubts, |hit, cell| cell.copy_to(&mut hit.game.doubts);
};

/// The columns of a table of verdicts, in order; the first is the hit's `id`.
pub(super) const VERDICT_COLUMNS: &[HitColumn] = columns! {
    Text id: |row| Cell::Text(row.id.clone()), |hit, cell| {
        if cell.text() != hit.id {
            return Err(cell.trouble(format!("the hit in this place is `{}`", hit.id)));
        }
        hit.verdict = Some(VerdictRecord::unknown());
    };
    Text verdict: |row| row.verdict.map(|it| it.verdict.word()), |hit, cell| {
        let verdict = cell.parsed("a verdict", Verdict::of_word)?;
        if let Some(it) = &mut hit.verdict { it.verdict = cell.needed(verdict)?; }
    };
    Integer mate_in: |row| row.verdict.and_then(|it| it.verdict.mate_in()).map(u16::from), |hit, cell| {
        let moves = cell.integer()?;
        if let Some(it) = &mut hit.verdict { it.verdict = cell.needed(it.verdict.with_moves(|| moves))?; }
    };
    Truth is_shortest: |row| row.verdict.map(|it| it.is_shortest), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.is_shortest = cell.truth()?; }
    };
    Integer balance: |row| row.verdict.map(|it| it.balance), |hit, cell| {
        let balance = cell.integer()?;
        if let Some(it) = &mut hit.verdict {
            it.verdict = cell.needed(it.verdict.with_pawns(|| balance))?;
            it.balance = balance;
        }
    };
    Integer depth: |row| row.verdict.map(|it| u16::from(it.depth)), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.depth = cell.number()?; }
    };
    // It follows from the balance before the offer and the one against it.
    Integer count_end: |row| row.verdict.and_then(|it| it.balance).map(|it| row.offer.balance_before + it), |_hit, _cell| ();
    Text why_open: |row| row.verdict.and_then(|it| it.unrest).map(Unrest::word), |hit, cell| {
        let unrest = cell.parsed("a reason why a count is open", Unrest::of_word)?;
        if let Some(it) = &mut hit.verdict { it.unrest = unrest; }
    };
    Text drawn_by: |row| row.verdict.and_then(|it| it.drawn_by).map(DrawnBy::word), |hit, cell| {
        let drawn_by = cell.parsed("`attacker` or `defender`", DrawnBy::of_word)?;
        if let Some(it) = &mut hit.verdict { it.drawn_by = drawn_by; }
    };
    Text sound: |row| row.verdict.map(|it| it.sound().word()), |hit, cell| {
        let sound = cell.parsed("`yes`, `holds`, `no`, `last try` or `open`", Sound::of_word)?;
        if let Some(it) = &mut hit.verdict { it.worth.sound = cell.needed(sound)?; }
    };
    Text evidence: |row| row.verdict.and_then(|it| it.worth.evidence).map(Evidence::word), |hit, cell| {
        let evidence = cell.parsed("a kind of evidence", Evidence::of_word)?;
        if let Some(it) = &mut hit.verdict { it.worth.evidence = evidence; }
    };
    Hundredths expected_before: |row| points(row.verdict.and_then(|it| it.worth.before)), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.worth.before = cell.points()?; }
    };
    Hundredths expected_after: |row| points(row.verdict.and_then(|it| it.worth.after)), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.worth.after = cell.points()?; }
    };
    Hundredths expected_best: |row| points(row.verdict.and_then(|it| it.worth.best)), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.worth.best = cell.points()?; }
    };
    // It follows from those before it, which are all read by now.
    Hundredths loss: |row| points(row.verdict.and_then(|it| it.worth.loss())), |hit, cell| {
        if let Some(it) = &hit.verdict { expect_that_it_fits(it, cell)?; }
    };
    Hundredths expected_instead: |row| points(row.verdict.and_then(|it| it.instead)), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.instead = cell.points()?; }
    };
    Truth contradicted: |row| row.verdict.map(|it| it.worth.contradicted), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.worth.contradicted = cell.known_truth()?; }
    };
    Text best_reply: |row| row.verdict.map(|it| &*it.best_reply), |hit, cell| {
        if let Some(it) = &mut hit.verdict { cell.copy_to(&mut it.best_reply); }
    };
    Text best_line: |row| row.verdict.map(|it| &*it.best_line), |hit, cell| {
        if let Some(it) = &mut hit.verdict { cell.copy_to(&mut it.best_line); }
    };
    Truth line_fits: |row| row.verdict.map(|it| it.line_fits), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.line_fits = cell.truth()?; }
    };
    Text if_accepted: |row| row.verdict.and_then(|it| it.if_accepted).map(|it| it.to_string()), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.if_accepted = verdict(cell)?; }
    };
    Text if_declined: |row| row.verdict.and_then(|it| it.if_declined).map(|it| it.to_string()), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.if_declined = verdict(cell)?; }
    };
    Text forced_kind: |row| row.verdict.and_then(|it| it.forced_kind).map(SacrificeKind::word), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.forced_kind = kind(cell)?; }
    };
    Truth is_best: |row| row.verdict.map(|it| it.is_best), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.is_best = cell.truth()?; }
    };
    Text better: |row| better(row).map(|(san, _)| &**san), |hit, cell| {
        if let Some(it) = &mut hit.verdict {
            it.better = cell.known_text().map(|san| (san, None));
        }
    };
    Text better_verdict: |row| better(row).and_then(|(_, it)| *it).map(|it| it.to_string()), |hit, cell| {
        if let Some((_, found)) = hit.verdict.as_mut().and_then(|it| it.better.as_mut()) {
            *found = verdict(cell)?;
        }
    };
    Integer nodes: |row| row.verdict.map(|it| it.nodes), |hit, cell| {
        if let Some(it) = &mut hit.verdict { it.nodes = cell.number()?; }
    };
};

/// The columns that an engine's judgement adds to a table of verdicts.
pub(super) const ADVICE_COLUMNS: &[HitColumn] = columns! {
    Mixed engine_before: |row| evaluation(advice(row).map(|it| it.before)), |hit, cell| {
        let before = cell.evaluation()?;
        if let Some(it) = &mut hit.verdict { it.opinion = before.map(|before| Ok(Advice::of(before))); }
    };
    Mixed engine_after: |row| evaluation(advice(row).map(|it| it.after)), |hit, cell| {
        if let Some(it) = advised(hit) { it.after = cell.needed(cell.evaluation()?)?; }
    };
    Text engine_reply: |row| advice(row).map(|it| &*it.reply), |hit, cell| {
        if let Some(it) = advised(hit) { cell.copy_to(&mut it.reply); }
    };
    Text engine_line: |row| advice(row).map(|it| &*it.line), |hit, cell| {
        if let Some(it) = advised(hit) { cell.copy_to(&mut it.line); }
    };
    Text engine_instead: |row| instead(row).map(|(san, _)| &**san), |hit, cell| {
        if let Some(it) = advised(hit) { it.instead = cell.known_text().map(|san| (san, it.before)); }
    };
    Mixed engine_instead_score: |row| evaluation(instead(row).map(|&(_, score)| score)), |hit, cell| {
        if let Some((_, score)) = advised(hit).and_then(|it| it.instead.as_mut()) {
            *score = cell.needed(cell.evaluation()?)?;
        }
    };
    Text engine_fault: |row| opinion(row).and_then(|it| it.as_ref().err()).map(|fault| &**fault), |hit, cell| {
        if let (Some(it), Some(fault)) = (&mut hit.verdict, cell.known_text()) {
            it.opinion = Some(Err(fault));
        }
    };
};

impl Advice {
    /// What is known once the first cell is read.
    fn of(before: Evaluation) -> Advice {
        let (reply, line) = (String::new(), String::new());
        Advice { before, after: before, reply, line, instead: None }
    }
}

/// What a program thought after the offer, or after the move that was played instead.
fn eval_after(row: &HitRow<'_>) -> Option<Evaluation> {
    match &row.offer.course {
        OfferCourse::Played(made) => made.eval_after,
        OfferCourse::Overlooked(missed) => missed.eval_after,
    }
}

fn played(hit: &mut JudgedHit) -> Option<&mut Played> {
    match &mut hit.offer.course {
        OfferCourse::Played(played) => Some(played),
        OfferCourse::Overlooked(_) => None,
    }
}

fn overlooked(hit: &mut JudgedHit) -> Option<&mut Overlooked> {
    match &mut hit.offer.course {
        OfferCourse::Played(_) => None,
        OfferCourse::Overlooked(overlooked) => Some(overlooked),
    }
}

fn advised(hit: &mut JudgedHit) -> Option<&mut Advice> {
    hit.verdict.as_mut()?.opinion.as_mut()?.as_mut().ok()
}

fn better<'h>(row: &HitRow<'h>) -> Option<&'h (String, Option<Verdict>)> {
    row.verdict.and_then(|it| it.better.as_ref())
}

fn opinion<'h>(row: &HitRow<'h>) -> Option<&'h Opinion> {
    row.verdict.and_then(|it| it.opinion.as_ref())
}

fn advice<'h>(row: &HitRow<'h>) -> Option<&'h Advice> {
    opinion(row).and_then(|it| it.as_ref().ok())
}

fn instead<'h>(row: &HitRow<'h>) -> Option<&'h (String, Evaluation)> {
    advice(row).and_then(|it| it.instead.as_ref())
}

/// On which wing and files the query fits.
fn wing<'h>(row: &HitRow<'h>) -> Cell<'h> {
    let word = word(row.view.wing, &WINGS);
    match (row.view.wing, row.shift) {
        (_, None) => Cell::from(word),
        (Wing::Written, Some(shift)) => Cell::Text(shift.to_string().into()),
        (Wing::Mirrored, Some(shift)) => Cell::Text(format!("{word}, {shift}").into()),
    }
}

/// What [`wing`] writes.
fn wing_and_shift(cell: Field<'_>) -> Result<(Wing, Option<Shift>), TableTrouble> {
    let (wing, rest) = match cell.text().strip_prefix("mirrored, ") {
        Some(rest) => (Wing::Mirrored, rest),
        None => (Wing::Written, cell.text()),
    };
    match Shift::parse(rest) {
        Some(shift) => Ok((wing, Some(shift))),
        None => Ok((cell.word(&WINGS)?, None)),
    }
}

/// The word for a value.
fn word<T: PartialEq>(value: T, known: &[(&'static str, T)]) -> &'static str {
    known.iter().find(|(_, known)| *known == value).map_or("", |&(word, _)| word)
}

/// The man that is given up and its square, in the attacker's view.
fn offered<'h>(row: &HitRow<'h>) -> Cell<'h> {
    let (man, square) = row.offer.offered;
    Cell::Text(format!("{} {}", word_of(man), row.view.turn(square)).into())
}

/// What [`offered`] writes.
fn man_and_square(text: &str) -> Option<(Role, Square)> {
    let (man, square) = text.split_once(' ')?;
    let man = Role::ALL.into_iter().find(|&role| word_of(role) == man)?;
    Some((man, square.parse().ok()?))
}

/// The ply of an offer in a game with `plies` plies.
fn ply(cell: Field<'_>, plies: usize) -> Result<usize, TableTrouble> {
    let ply = cell.number()?;
    if (1..=plies).contains(&ply) {
        return Ok(ply);
    }
    Err(cell.trouble(format!("a game of {plies} plies has no ply {ply}")))
}

fn square(square: Option<Square>) -> Option<String> {
    square.map(|square| square.to_string())
}

fn evaluation(evaluation: Option<Evaluation>) -> Cell<'static> {
    match evaluation {
        None => Cell::Blank,
        Some(Evaluation::Centipawns(value)) => Cell::Hundredths(value.into()),
        Some(mate @ Evaluation::Mate(_)) => Cell::Text(mate.to_string().into()),
    }
}

fn points(points: Option<Points>) -> Cell<'static> {
    points.map_or(Cell::Blank, |points| Cell::Hundredths(10 * i64::from(points.tenths())))
}

/// Fails if what is said of an offer is not what its verdict and the figures mean.
fn expect_that_it_fits(record: &VerdictRecord, cell: Field<'_>) -> Result<(), TableTrouble> {
    if record.worth.fits(record.verdict) && cell.points()? == record.worth.loss() {
        return Ok(());
    }
    let sound = record.sound().word();
    Err(cell.trouble(format!("`{sound}` is not what `{}` and these figures mean", record.verdict)))
}

fn score(half_points: Option<u8>) -> Cell<'static> {
    half_points.map_or(Cell::Blank, |halves| Cell::Hundredths(50 * i64::from(halves)))
}

fn expected(expected: Option<u8>) -> Cell<'static> {
    expected.map_or(Cell::Blank, |score| Cell::Hundredths(score.into()))
}

fn verdict(cell: Field<'_>) -> Result<Option<Verdict>, TableTrouble> {
    cell.parsed("a verdict", Verdict::parse)
}

fn kind(cell: Field<'_>) -> Result<Option<SacrificeKind>, TableTrouble> {
    cell.parsed("a kind of sacrifice", SacrificeKind::of_word)
}
