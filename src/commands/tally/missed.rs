//! The chances that work and that nobody took, as a table.

use crate::advice::WithHint;
use crate::commands::runs::Mined;
use crate::hits::Evidence;
use crate::statistics::{MissedChance, MissedChances};
use crate::terminal::{Figure, Sheet, SheetColumn, counted};

/// A row for each position and offer, whatever number of queries it fits.
pub(super) fn sheet(queries: &[&str], mined: &Mined) -> anyhow::Result<Sheet> {
    if !mined.runs.looked_for_overlooked() {
        let error = anyhow::anyhow!("these tables do not hold offers that nobody made");
        return Err(error.hint("mine with --overlooked"));
    }
    let mut missed = MissedChances::default();
    for query in queries {
        mined.pass(query, &mut [&mut missed])?;
    }
    let note = note(missed.unjudged);
    let rows = missed.in_order().into_iter().map(|(fen, san, chance)| row(fen, san, chance));
    Ok(Sheet {
        title: "Chances that nobody took".to_owned(),
        columns: columns(),
        rows: rows.collect(),
        note,
    })
}

fn note(unjudged: u64) -> String {
    let told = "Each is sound, and the move that was played instead threw away ten points of a hundred or more; \
                where nobody tells what that move is worth, the offer is proved. A position and offer is told \
                once, with all queries that it fits.";
    match unjudged {
        0 => told.to_owned(),
        _ => format!(
            "{told} {} not judged yet: `hecatomb verify DIR --overlooked --resume`, with the options it had, goes on.",
            counted_are(unjudged)
        ),
    }
}

/// A number of hits, and that they are something.
fn counted_are(hits: u64) -> String {
    format!("{} {}", counted(hits, "hit"), if hits == 1 { "is" } else { "are" })
}

fn columns() -> Vec<SheetColumn> {
    vec![
        SheetColumn::kept("offer", "offer"),
        SheetColumn::kept("instead", "played"),
        SheetColumn::kept("loss", "loss"),
        SheetColumn::spared(4, "evidence", "evidence"),
        SheetColumn::spared(2, "white", "white"),
        SheetColumn::spared(2, "black", "black"),
        SheetColumn::kept("game", "game"),
        SheetColumn::spared(5, "games", "games"),
        SheetColumn::spared(3, "source", "found in"),
        SheetColumn::spared(1, "queries", "queries"),
        SheetColumn::in_title("fen"),
    ]
}

fn row(fen: &str, san: &str, chance: &MissedChance) -> Vec<Figure> {
    let first = chance.games.first();
    let number_of_game = first.map_or(0, |(_, number)| number.0);
    let source = first.map(|(source, _)| source.clone()).unwrap_or_default();
    let loss = chance.loss.map(|loss| f64::from(loss.tenths()) / 10.0);
    let text = |text: &str| Figure::Text(text.to_owned());
    vec![
        Figure::Text(format!("{}{san}", number(fen))),
        text(&chance.instead),
        Figure::of(loss, |loss| Figure::Number(loss, 1)),
        text(chance.evidence.map_or("", Evidence::word)),
        text(&chance.players.0),
        text(&chance.players.1),
        Figure::Count(number_of_game),
        Figure::Count(chance.games.len() as u64),
        Figure::Text(source),
        Figure::Text(chance.queries.join(" ")),
        text(fen),
    ]
}

/// The number of a move as it is written before it: `12.`, or `12...` if it is Black's.
fn number(fen: &str) -> String {
    let mut parts = fen.split(' ');
    let dots = if parts.nth(1) == Some("b") { "..." } else { "." };
    format!("{}{dots}", parts.next_back().unwrap_or_default())
}
