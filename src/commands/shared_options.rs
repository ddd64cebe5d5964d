//! Options that mean the same in several commands.

use clap::Args;

use crate::board::{PieceLetters, SacrificeKind};
use crate::hits::{ChosenKinds, Reading};
use crate::verdict::Effort;
use crate::words::{Language, Words};

/// The number of threads.
#[derive(Args, Debug)]
pub(super) struct ThreadsOption {
    /// Use N threads [default: one for each core]
    #[arg(
        long = "threads",
        value_name = "N",
        value_parser = clap::value_parser!(u16).range(1..=1024),
        help_heading = "How"
    )]
    asked: Option<u16>,
}

impl ThreadsOption {
    /// Whether a number was asked for.
    pub(super) fn is_given(&self) -> bool {
        self.asked.is_some()
    }

    /// As many as were asked for, or one for each core.
    pub(super) fn count(&self) -> usize {
        let cores = || std::thread::available_parallelism().map_or(1, usize::from);
        self.asked.map_or_else(cores, usize::from)
    }
}

/// The letters of moves.
#[derive(Args, Debug)]
pub(super) struct PiecesOption {
    /// Letters for the men in moves: those of a language, such as german, or figurines
    /// [default: those of the language of the page]
    #[arg(id = "pieces", long = "pieces", value_name = "LANGUAGE", hide_possible_values = true)]
    asked: Option<PieceLetters>,
}

impl PiecesOption {
    /// Those that were asked for, or else these, or else those of a language.
    pub(super) fn or(&self, others: Option<PieceLetters>, words: Words) -> PieceLetters {
        self.asked.or(others).unwrap_or(words.language().letters())
    }
}

/// The language of pages and sheets.
#[derive(Args, Debug)]
pub(super) struct LanguageOption {
    /// Language of the fixed words, and of the letters for the men unless --pieces says
    /// otherwise: en, de, es or fr [default: en]
    #[arg(id = "language", long = "language", value_name = "CODE", hide_possible_values = true)]
    asked: Option<Language>,
}

impl LanguageOption {
    /// The words of the language that was asked for, or else of this one.
    pub(super) fn or(&self, other: Option<Language>) -> Words {
        Words::of(self.asked.or(other).unwrap_or_default())
    }
}

/// How tables are read.
#[derive(Args, Debug)]
pub(super) struct EditedOption {
    /// Read tables as they are, edited or not, and say so in the output
    ///
    /// Without it, a table that was changed since it was written is refused.
    #[arg(id = "edited", long, help_heading = "How")]
    is_given: bool,
}

impl EditedOption {
    /// How tables are to be read.
    pub(super) fn reading(&self) -> Reading {
        if self.is_given { Reading::AsTheyAre } else { Reading::AsWritten }
    }
}

/// The kinds of sacrifice.
#[derive(Args, Debug)]
pub(super) struct SacrificeOption {
    /// Use only offers of this kind; may be repeated. See `hecatomb help kinds`
    #[arg(
        id = "sacrifice",
        long,
        value_name = "KIND",
        help_heading = "Which offers",
        hide_possible_values = true
    )]
    kinds: Vec<SacrificeKind>,

    /// Let --sacrifice mean what the offer is by force, not as the game went; once the hits are verified
    #[arg(long, requires = "sacrifice", help_heading = "Which offers")]
    by_force: bool,
}

impl SacrificeOption {
    /// The kinds that were asked for.
    pub(super) fn kinds(&self) -> ChosenKinds {
        ChosenKinds { kinds: self.kinds.clone(), by_force: self.by_force }
    }

    /// What is wrong with the options taken together.
    pub(super) fn contradiction(&self) -> Option<&'static str> {
        (self.by_force && self.kinds.contains(&SacrificeKind::Declined))
            .then_some("no offer is `declined` by force: what is given up can always be taken")
    }
}

/// What is said of results from some kinds of sacrifice alone; nothing of all kinds.
pub(super) fn only_these(chosen: &ChosenKinds, words: Words) -> Option<String> {
    let name = if chosen.by_force { "only-these-kinds-by-force" } else { "only-these-kinds" };
    let kinds = chosen.words().into_iter().map(|kind| words.say(&format!("kind-{kind}")));
    let kinds: Vec<String> = kinds.collect();
    (!kinds.is_empty()).then(|| words.tell(name, [("kinds", kinds.join(", ").into())]))
}

/// The budget of a proof.
#[derive(Args, Debug)]
pub(super) struct NodesOption {
    /// Look at up to N positions for each question of a proof
    ///
    /// The result depends on this number alone, not on the machine or the number of threads.
    #[arg(
        long = "nodes",
        value_name = "N",
        default_value_t = Effort::NODES,
        value_parser = clap::value_parser!(u64).range(1_000..=1_000_000_000),
        help_heading = "How"
    )]
    pub(super) nodes: u64,
}

impl NodesOption {
    /// The same as an effort.
    pub(super) fn effort(&self) -> Effort {
        Effort::of(self.nodes)
    }
}
