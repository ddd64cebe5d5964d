//! What is told of the sources of a run: what was found of the collection, what can't be read, and which
//! sources hold no game.

use std::ops::Range;

use crate::collection::{ByteOffset, CollectionNote, ForeignArchive, FoundSources, Reason, Reject};
use crate::mining::{MinedBlock, Sink, SourceFailure};
use crate::run::News;
use crate::tables::RunFile;
use crate::terminal::{Bar, Terminal, counted};

/// Tells what can't be used of a collection, and what is worth knowing of the rest.
pub(super) fn tell_found(found: &FoundSources, terminal: Terminal) {
    for error in &found.errors {
        terminal.error(error);
    }
    for note in &found.notes {
        tell_note(note, terminal);
    }
}

fn tell_note(note: &CollectionNote, terminal: Terminal) {
    match note {
        CollectionNote::NamedAgain { times: 1, name, read_as } if name == read_as => {
            terminal.note(format!("`{name}` is named twice, and read once"));
        }
        CollectionNote::NamedAgain { times: 1, name, read_as } => {
            terminal.note(format!("left out: `{name}` is the same file as `{read_as}`"));
        }
        CollectionNote::NamedAgain { times, name, read_as } => {
            let times = counted(*times, "path");
            terminal.note(format!(
                "left out: {times} to files that are read already; the first is `{name}`, the same file as \
                 `{read_as}`"
            ));
        }
        CollectionNote::Archives { count, first } => terminal.note_with_hint(
            format!(
                "passed over in folders: {}; the first is `{first}`",
                counted(*count, "archive")
            ),
            "unpack them, or name those of zstd, gzip and bzip2 one by one",
        ),
    }
}

/// Tells what happens in a run.
pub(super) fn tell(news: News<'_>, bar: &Bar, terminal: Terminal) {
    match news {
        News::Progress { consumed, bytes, games, hits } => bar.show(consumed, bytes, games, hits),
        News::Failure { source, cause, kept, unchecked_from } => bar.aside(|| {
            if ForeignArchive::that_caused(cause).is_some() {
                let message = format!("can't read `{source}`: {cause}");
                return terminal.error_with_hint(message, "unpack it first");
            }
            let (kept, were) = (counted(kept, "game"), if kept == 1 { "was" } else { "were" });
            let unchecked = match unchecked_from {
                None => String::new(),
                Some(0) => ", all unchecked".to_owned(),
                Some(byte) => format!(", unchecked from byte {byte} of the text on"),
            };
            terminal.error(format!(
                "can't read `{source}` to its end: {cause}; {kept} {were} read before that{unchecked}"
            ));
        }),
    }
}

/// Takes note of the sources that hold a game, on the way of the reports to whoever writes them up.
pub(super) struct GameWatch<'w, S> {
    inner: &'w mut S,
    /// Whether a game was found, by source.
    has_game: Vec<bool>,
}

impl<'w, S> GameWatch<'w, S> {
    /// Watches a run over these of its sources; the others were watched by an earlier run, or belong to other
    /// parts.
    pub(super) fn over(
        inner: &'w mut S,
        sources: usize,
        watched: Range<usize>,
    ) -> GameWatch<'w, S> {
        GameWatch { inner, has_game: (0..sources).map(|it| !watched.contains(&it)).collect() }
    }

    /// Which sources hold a game.
    pub(super) fn into_has_game(self) -> Vec<bool> {
        self.has_game
    }
}

impl<S: Sink> Sink for GameWatch<'_, S> {
    type Error = S::Error;

    fn block(&mut self, mined: MinedBlock<'_>) -> Result<(), S::Error> {
        let texts = mined.report.rejects.iter().filter(|reject| is_no_game(reject)).count() as u64;
        self.has_game[mined.source] |= mined.report.games > texts;
        self.inner.block(mined)
    }

    fn failure(&mut self, failure: SourceFailure) -> Result<(), S::Error> {
        self.inner.failure(failure)
    }

    fn end_within(&mut self, offset: ByteOffset) -> Result<(), S::Error> {
        self.inner.end_within(offset)
    }
}

/// Whether what was rejected as a game is no game: its very first word can't be read as a move.
fn is_no_game(reject: &Reject) -> bool {
    match reject.reason {
        Reason::UnreadableMove
        | Reason::StrayBracket
        | Reason::UnterminatedComment
        | Reason::UnterminatedVariation => reject.ply.is_some_and(|ply| ply <= 1),
        Reason::NoResult => reject.ply == Some(0),
        _ => false,
    }
}

/// Tells of the sources that were read and hold no game, and whether there are any.
pub(super) fn tell_gameless(run: &RunFile, has_game: &[bool], terminal: Terminal) -> bool {
    let gameless = run.sources.iter().zip(has_game);
    let gameless = gameless.filter(|(source, has_game)| !*has_game && source.failure.is_none());
    let mut are_any = false;
    for (source, _) in gameless {
        let reason = match source.games {
            0 => "it is empty",
            _ => "no move can be read in it",
        };
        terminal.error(format!("no games in `{}`: {reason}", source.name));
        are_any = true;
    }
    are_any
}
