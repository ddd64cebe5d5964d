//! Judgements as rows of a table.

use shakmaty::{Chess, Move};

use super::judgement::{Better, Judgement, Outcome, Sound, Verdict};
use crate::board::{line_in_san, played};
use crate::tables::{Cell, Column, Kind};

impl Verdict {
    /// The word for it in tables, without its number.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Verdict::Mates(_) => "mates",
            Verdict::Gains(_) => "gains",
            Verdict::Level => "level",
            Verdict::Draws => "draws",
            Verdict::Unproved => "unproved",
            Verdict::Costs(_) => "costs",
            Verdict::Mated(_) => "mated",
        }
    }

    /// Reads what a table says: the word, and its moves or pawns where it has some.
    #[must_use]
    pub fn read(word: &str, mate_in: Option<i64>, balance: Option<i64>) -> Option<Verdict> {
        let moves = || mate_in.and_then(|moves| u8::try_from(moves).ok());
        let pawns = || balance.and_then(|pawns| i32::try_from(pawns.abs()).ok());
        match word {
            "mates" => moves().map(Verdict::Mates),
            "gains" => pawns().map(Verdict::Gains),
            "level" => Some(Verdict::Level),
            "draws" => Some(Verdict::Draws),
            "unproved" => Some(Verdict::Unproved),
            "costs" => pawns().map(Verdict::Costs),
            "mated" => moves().map(Verdict::Mated),
            _ => None,
        }
    }

    /// Reads what a verdict prints as: `mates in 5`, `gains 3`, `level`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Verdict> {
        let (word, number) = text.split_once(' ').unwrap_or((text, ""));
        let number = number.trim_start_matches("in ").parse().ok();
        Verdict::read(word, number, number).filter(|verdict| verdict.to_string() == text)
    }

    fn mate_in(self) -> Option<u32> {
        match self {
            Verdict::Mates(moves) | Verdict::Mated(moves) => Some(moves.into()),
            _ => None,
        }
    }
}

impl std::fmt::Display for Verdict {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let word = self.word();
        match self {
            Verdict::Mates(moves) | Verdict::Mated(moves) => write!(f, "{word} in {moves}"),
            Verdict::Gains(pawns) | Verdict::Costs(pawns) => write!(f, "{word} {pawns}"),
            Verdict::Level | Verdict::Draws | Verdict::Unproved => f.write_str(word),
        }
    }
}

impl Sound {
    /// All of them.
    pub const ALL: [Sound; 4] = [Sound::Yes, Sound::Holds, Sound::No, Sound::Open];

    /// The word for it in tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Sound::Yes => "yes",
            Sound::Holds => "holds",
            Sound::No => "no",
            Sound::Open => "open",
        }
    }
}

/// What a cell of a judgement is made from.
struct Judged<'j> {
    id: &'j str,
    after: &'j Chess,
    before: &'j Chess,
    judgement: &'j Judgement,
}

type JudgedColumn = (&'static str, Kind, for<'j> fn(&Judged<'j>) -> Cell<'j>);

/// The columns of a table of verdicts, in order; the first is the hit's `id`.
const COLUMNS: &[JudgedColumn] = &[
    ("id", Kind::Text, |judged| judged.id.into()),
    ("verdict", Kind::Text, |judged| judged.judgement.overall.verdict.word().into()),
    ("mate_in", Kind::Integer, |judged| judged.judgement.overall.verdict.mate_in().into()),
    ("is_shortest", Kind::Truth, |judged| {
        let overall = &judged.judgement.overall;
        overall.verdict.mate_in().map_or(Cell::Blank, |_| (!overall.may_be_sooner).into())
    }),
    ("balance", Kind::Integer, |judged| judged.judgement.overall.balance.into()),
    ("depth", Kind::Integer, |judged| u32::from(judged.judgement.overall.depth).into()),
    ("sound", Kind::Text, |judged| judged.judgement.sound().word().into()),
    ("best_reply", Kind::Text, |judged| {
        let reply = judged.judgement.overall.reply;
        reply.map(|reply| line_in_san(judged.after, &[reply])).into()
    }),
    ("best_line", Kind::Text, |judged| {
        line_in_san(judged.after, &judged.judgement.overall.line).into()
    }),
    ("if_accepted", Kind::Text, |judged| verdict_of(judged.judgement.accepted.as_ref())),
    ("if_declined", Kind::Text, |judged| verdict_of(judged.judgement.declined.as_ref())),
    ("is_best", Kind::Truth, |judged| match judged.judgement.better {
        Better::No => true.into(),
        Better::Yes { .. } => false.into(),
        Better::Unknown => Cell::Blank,
    }),
    ("better", Kind::Text, |judged| match &judged.judgement.better {
        Better::Yes { m, .. } => line_in_san(judged.before, &[*m]).into(),
        _ => Cell::Blank,
    }),
    ("better_verdict", Kind::Text, |judged| match &judged.judgement.better {
        Better::Yes { verdict, .. } => verdict.to_string().into(),
        _ => Cell::Blank,
    }),
    ("nodes", Kind::Integer, |judged| judged.judgement.nodes.into()),
];

fn verdict_of(outcome: Option<&Outcome>) -> Cell<'static> {
    outcome.map(|outcome| outcome.verdict.to_string()).into()
}

/// The columns of a table of verdicts.
#[must_use]
pub fn verdict_columns() -> Vec<Column> {
    COLUMNS.iter().map(|&(name, kind, _)| Column { name: name.to_owned(), kind }).collect()
}

/// The row of what was judged of a hit.
#[must_use]
pub fn verdict_row(
    id: &str,
    before: &Chess,
    offer: Move,
    judgement: &Judgement,
) -> Vec<Cell<'static>> {
    let after = played(before, offer);
    let judged = Judged { id, before, after: &after, judgement };
    COLUMNS.iter().map(|(_, _, cell)| cell(&judged).into_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verdicts_are_read_as_they_are_printed() {
        for text in [
            "mates in 1",
            "mates in 12",
            "mated in 3",
            "gains 9",
            "costs 1",
            "level",
            "draws",
            "unproved",
        ] {
            assert_eq!(
                Verdict::parse(text).map(|verdict| verdict.to_string()).as_deref(),
                Some(text)
            );
        }
        for wrong in
            ["", "mates", "mates 5", "mates in 0x5", "gains in 3", "gains -3", "level 0", "wins"]
        {
            assert_eq!(Verdict::parse(wrong), None, "{wrong}");
        }
    }
}
