//! Why a position is left out.

use super::objection::Objection;

/// Why a position is left out.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Flaw {
    /// Nothing was proved within the nodes.
    Open,
    /// What was proved is not what the kind needs, or too little.
    Otherwise,
    /// Another move is better.
    Better,
    /// Too many moves are as good.
    Several,
    /// It is enough to take what hangs, or what is dearer than the man that takes it.
    Plain,
    /// Another move is nearly as good, or it is not clear whether it is.
    Close,
    /// An engine contradicts it.
    Contradicted(Objection),
    /// It rests on more than proofs and clear gains, and no engine was asked.
    Unasked,
    /// The engine that was asked had no answer.
    Unanswered,
    /// It is of another level.
    Level,
    /// It was given before.
    Given,
    /// A position of the same game is there already.
    SameGame,
    /// A position much like it is there already.
    Alike,
    /// There are too few of the other half of it.
    Half,
    /// It was not needed.
    Spare,
}

impl Flaw {
    /// The reason in words, after a number.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Flaw::Open => "not decided within the budget",
            Flaw::Otherwise => "found to be worth too little or too much",
            Flaw::Better => "with a better move",
            Flaw::Several => "with too many correct moves",
            Flaw::Plain => "where simply taking something wins",
            Flaw::Close => "with another move nearly as good",
            Flaw::Contradicted(objection) => objection.in_words(),
            Flaw::Unasked => "that only an engine could vouch for",
            Flaw::Unanswered => "on which the engine had no answer",
            Flaw::Level => "of another level",
            Flaw::Given => "given before",
            Flaw::SameGame => "from a game that is used already",
            Flaw::Alike => "too much like another one",
            Flaw::Half => "set aside so that half of the offers work",
            Flaw::Spare => "not needed",
        }
    }
}
