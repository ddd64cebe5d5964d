//! Whom a sheet is for.

/// Whom a sheet is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
pub enum Audience {
    /// The questions alone, and nothing that tells an answer: no solution, no motif, no players.
    Pupil,
    /// Each question with its solution beside it.
    Teacher,
    /// The questions, and all solutions after them.
    Both,
}

impl Audience {
    /// The word for it in options and plans.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Audience::Pupil => "pupil",
            Audience::Teacher => "teacher",
            Audience::Both => "both",
        }
    }

    /// Whether anything of a solution may be told.
    #[must_use]
    pub const fn sees_solutions(self) -> bool {
        !matches!(self, Audience::Pupil)
    }
}
