//! A query that holds for every file: how far its letters can be moved, and what is said of a hit that was
//! found so.

use std::fmt;

use shakmaty::File;
use toml::Spanned;
use toml::de::DeTable;

use super::condition::Condition;
use super::file::Query;
use super::sentence::{Files, MoveSentence};
use super::squares::Squares;
use crate::board::{View, Wing};
use crate::toml_files::{Problem, TomlReader};

/// Which file of the board a letter of the query stood for, where that was another one; the other letters
/// stood for theirs accordingly.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Shift {
    /// The letter of the query.
    pub letter: File,
    /// The file of the board.
    pub file: File,
}

impl Shift {
    /// By how many files to the right the letters are moved, before the view is turned.
    #[must_use]
    pub fn by(self, view: View) -> i8 {
        let file = turned(self.file, view.wing);
        i8::from(file) - i8::from(self.letter)
    }

    /// What [`Display`](fmt::Display) writes.
    #[must_use]
    pub fn parse(text: &str) -> Option<Shift> {
        let (letter, file) = text.split_once(" as ")?;
        let file_of = |text: &str| match text.as_bytes() {
            [letter] => File::from_char(char::from(*letter)),
            _ => None,
        };
        Some(Shift { letter: file_of(letter)?, file: file_of(file)? })
    }
}

impl fmt::Display for Shift {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} as {}", self.letter, self.file)
    }
}

impl Query {
    /// The shift that moves the letters this many files to the right and then turns them to a wing; none by no
    /// file, or if the query names no file.
    #[must_use]
    pub fn shift(&self, by: i8, wing: Wing) -> Option<Shift> {
        let offer = self.offer.named_squares().flat_map(Squares::files).min();
        let letter = offer.or_else(|| self.span().map(|(first, _)| first))?;
        let moved = u32::from(letter).checked_add_signed(by.into())?;
        let file = turned(File::try_from(moved).ok()?, wing);
        (by != 0).then_some(Shift { letter, file })
    }

    /// By how many files to the right its letters are moved, in the order in which that is tried: as written,
    /// then the nearest first, to the left before to the right.
    #[must_use]
    pub fn shifts(&self) -> Vec<i8> {
        let Some((first, last)) = self.span().filter(|_| self.files == Files::Any) else {
            return vec![0];
        };
        let possible = -i8::from(first)..=i8::from(File::H) - i8::from(last);
        let mut shifts: Vec<i8> = possible.collect();
        shifts.sort_by_key(|&by| (by.abs(), by));
        shifts
    }

    /// The first and the last file that a sentence names.
    pub(super) fn span(&self) -> Option<(File, File)> {
        let files = || self.named_squares().flat_map(Squares::files);
        files().min().zip(files().max())
    }

    fn named_squares(&self) -> impl Iterator<Item = Squares> {
        let follow_ups = self.follow_ups.iter().map(|follow_up| &follow_up.sentence);
        let moves = std::iter::once(&self.offer).chain(follow_ups);
        let factors = self.factors.iter().map(|factor| &factor.condition);
        let conditions = self.when.iter().chain(&self.after).chain(factors);
        moves.flat_map(MoveSentence::named_squares).chain(conditions.map(Condition::squares))
    }
}

impl TomlReader<'_> {
    /// What holds for every file must name some, and leave room to move them.
    pub(super) fn check_files(&mut self, query: &Query, table: &DeTable<'_>) {
        let Some(place) = table.get("files").map(Spanned::span) else { return };
        if query.files == Files::AsWritten || query.shifts().len() > 1 {
            return;
        }
        let (message, hint) = match query.span() {
            None => ("no sentence names a file, so there is none to move", "leave `files` out"),
            Some(_) => (
                "the sentences name both the a-file and the h-file, so they can't be moved",
                "every square that they name must stay on the board: tell some of them by rank or by the king",
            ),
        };
        self.note(Problem::new(place, message).with_hint(hint));
    }
}

/// A file, or the one in its place if left and right are exchanged.
fn turned(file: File, wing: Wing) -> File {
    match wing {
        Wing::Written => file,
        Wing::Mirrored => file.flip_horizontal(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn query(text: &str) -> Query {
        let head = "title = \"t\"\nchapter = \"any\"\nfiles = \"any\"\n";
        Query::read("a-query", "a-query.toml", &format!("{head}{text}")).expect("a right query")
    }

    #[test]
    fn query_is_tried_as_written_first_and_then_on_the_nearest_files() {
        let rook = query("offer = \"rook takes knight on c6\"\nwhen = [\"defender pawn on b7\"]\n");
        assert_eq!(rook.shifts(), [0, -1, 1, 2, 3, 4, 5]);
        let written: Vec<_> =
            rook.shifts().iter().map(|&by| rook.shift(by, Wing::Written)).collect();
        let shown = written.iter().flatten().map(Shift::to_string).collect::<Vec<_>>().join(", ");
        assert_eq!((written[0], &*shown), (None, "c as b, c as d, c as e, c as f, c as g, c as h"));
    }

    #[test]
    fn shift_says_the_file_of_the_board_and_is_read_again() {
        let pawn = query("offer = \"pawn to 5th rank from b-file\"\n");
        let white = |wing| View { attacker: shakmaty::Color::White, wing };
        for (wing, by, text) in [
            (Wing::Written, 2, "b as d"),
            (Wing::Mirrored, 2, "b as e"),
            (Wing::Mirrored, -1, "b as h"),
        ] {
            let shift = pawn.shift(by, wing).expect("it is moved");
            assert_eq!(shift.to_string(), text);
            assert_eq!(Shift::parse(text), Some(shift));
            assert_eq!(shift.by(white(wing)), by);
        }
        assert_eq!(Shift::parse("b as j"), None);
    }
}
