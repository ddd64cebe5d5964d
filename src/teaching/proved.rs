//! What `verify` found out about an offer, as its table tells it.

use super::steps::{Step, Steps};
use crate::statistics::counted;
use crate::tables::{Row, TableReader, TableTrouble, hit_column};
use crate::verdict::{Sound, Verdict};

/// What is known of an offer against best play.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Proved {
    /// The verdict.
    pub verdict: Verdict,
    /// The depth in plies to which material was counted; 0 for mates and endless checks.
    pub depth: i64,
    /// The best reply and best play after it.
    pub line: Vec<Step>,
}

/// Where a table with verdicts has its columns.
pub(super) struct ProofColumns {
    verdict: usize,
    mate_in: usize,
    balance: usize,
    depth: usize,
    is_best: usize,
    best_line: usize,
}

impl ProofColumns {
    /// The columns of a table; nothing if it has no verdicts.
    pub(super) fn of(table: &TableReader) -> Option<ProofColumns> {
        Some(ProofColumns {
            verdict: table.column("verdict")?,
            mate_in: table.column("mate_in")?,
            balance: table.column("balance")?,
            depth: table.column("depth")?,
            is_best: table.column("is_best")?,
            best_line: table.column("best_line")?,
        })
    }

    /// The verdict of a row.
    pub(super) fn verdict(&self, row: Row<'_>) -> Result<Verdict, TableTrouble> {
        let (mate_in, balance) = (row.integer(self.mate_in)?, row.integer(self.balance)?);
        let word = row.text(self.verdict);
        Verdict::read(word, mate_in, balance)
            .ok_or_else(|| row.trouble(self.verdict, format!("`{word}` is no verdict by itself")))
    }

    /// Whether the offer of a row is the best move, if that is known.
    pub(super) fn is_best(&self, row: Row<'_>) -> Result<Option<bool>, TableTrouble> {
        row.truth(self.is_best)
    }

    /// All of it.
    pub(super) fn read(&self, row: Row<'_>) -> Result<Proved, TableTrouble> {
        let [fen, offer] = ["fen", "offer"].map(|name| row.text(hit_column(name)));
        let line = format!("{offer} {}", row.text(self.best_line));
        let steps = Steps::of(fen, &line)
            .map_err(|error| row.trouble(self.best_line, error.to_string()))?;
        Ok(Proved {
            verdict: self.verdict(row)?,
            depth: row.integer(self.depth)?.unwrap_or(0),
            line: steps.moves[1..].to_vec(),
        })
    }
}

impl Proved {
    /// Whether the offer is sound.
    #[must_use]
    pub fn sound(&self) -> Sound {
        self.verdict.sound()
    }

    /// What the offer comes to, as the rest of a sentence of which it is the subject.
    #[must_use]
    pub fn in_words(&self) -> String {
        let pawns = |pawns: i32| counted(pawns.unsigned_abs().into(), "pawn");
        let depth = self.depth;
        match self.verdict {
            Verdict::Mates(moves) => format!("mates in {moves}"),
            Verdict::Mated(moves) => format!("lets the other side mate in {moves}"),
            Verdict::Draws => "draws by force".to_owned(),
            Verdict::Gains(up) => format!("gains {}, counted {depth} plies deep", pawns(up)),
            Verdict::Costs(down) => format!("costs {}, counted {depth} plies deep", pawns(down)),
            Verdict::Level => format!("comes out level, counted {depth} plies deep"),
            Verdict::Unproved => "is neither proved nor refuted".to_owned(),
        }
    }
}
