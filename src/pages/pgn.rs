//! What is written as PGN, in the export format of the standard ("Portable Game Notation Specification and
//! Implementation Guide", 1994): tags with the roster first, lines of fewer than 80 characters, move numbers where it
//! asks for them.
//!
//! The text is UTF-8. What is ASCII is the same in the standard's ISO 8859-1; a name with other letters
//! is kept as it is rather than bent to a set that may lack them.

use shakmaty::Color;

use crate::board::PrintedMove;
use crate::collection::{Rating, known};
use crate::mining::GameInfo;
use crate::teaching::{GameTree, Variation};

/// Lines are shorter than this, in characters.
const WIDTH: usize = 80;
/// The longest value of a tag (section 7 of the standard).
const LONGEST: usize = 255;
/// Numeric annotation glyphs (section 10): a good move and a mistake.
pub(super) const GOOD: &str = "$1";
pub(super) const MISTAKE: &str = "$2";

/// The tags of a text on a game: the roster in its order, then the rest in ASCII order (section 8.1.1). `more` are
/// tags besides those of the game.
pub(super) fn tags(game: &GameInfo, result: &str, more: &[(&str, String)]) -> String {
    let rating = |rating: Option<Rating>| rating.map(|rating| rating.to_string());
    let roster = [
        ("Event", unknown(&game.event)),
        ("Site", unknown(&game.site)),
        ("Date", date(&game.date)),
        ("Round", unknown(&game.round)),
        ("White", unknown(&game.white)),
        ("Black", unknown(&game.black)),
        ("Result", result.to_owned()),
    ];
    let of_game = [
        ("Annotator", Some(format!("hecatomb {}", env!("CARGO_PKG_VERSION")))),
        ("BlackElo", rating(game.black_elo)),
        ("ECO", known(&game.eco).map(str::to_owned)),
        ("WhiteElo", rating(game.white_elo)),
    ];
    let of_game = of_game.into_iter().filter_map(|(name, value)| Some((name, value?)));
    in_order(roster, of_game.chain(more.iter().cloned()).collect())
}

/// The tags of a text that must not tell which game it is from: only a title and a number in it.
pub(super) fn tags_of_nobody(title: &str, number: usize, more: Vec<(&str, String)>) -> String {
    let unknown = || "?".to_owned();
    let roster = [
        ("Event", title.to_owned()),
        ("Site", unknown()),
        ("Date", date("")),
        ("Round", number.to_string()),
        ("White", unknown()),
        ("Black", unknown()),
        ("Result", "*".to_owned()),
    ];
    in_order(roster, more)
}

/// The roster as it is, and the rest in ASCII order.
fn in_order(roster: [(&str, String); 7], mut rest: Vec<(&str, String)>) -> String {
    rest.sort_by_key(|&(name, _)| name);
    let tag = |(name, value): (&str, String)| format!("[{name} \"{}\"]\n", quoted(&value));
    roster.into_iter().chain(rest).map(tag).collect()
}

fn unknown(text: &str) -> String {
    if text.is_empty() { "?".to_owned() } else { text.to_owned() }
}

/// A date of ten characters, as the standard wants it (section 8.1.1.3).
fn date(text: &str) -> String {
    let fits = |(letter, shape): (char, char)| match shape {
        '.' => letter == '.',
        _ => letter == '?' || letter.is_ascii_digit(),
    };
    let is_date = text.chars().count() == 10 && text.chars().zip("0000.00.00".chars()).all(fits);
    if is_date { text.to_owned() } else { "????.??.??".to_owned() }
}

/// A text as it may stand between quotes.
fn quoted(text: &str) -> String {
    let mut quoted = String::new();
    for letter in text.chars() {
        let letter = if letter.is_control() { ' ' } else { letter };
        let escaped = if ['"', '\\'].contains(&letter) { "\\" } else { "" };
        if quoted.chars().count() + escaped.len() + 1 > LONGEST {
            break;
        }
        quoted.push_str(escaped);
        quoted.push(letter);
    }
    quoted
}

/// Words of movetext; none has a blank in it.
pub(super) struct Movetext {
    words: Vec<String>,
    /// Whether Black's next move needs its number.
    is_broken: bool,
}

impl Movetext {
    /// At the start of a game.
    pub(super) fn new() -> Movetext {
        Movetext { words: Vec::new(), is_broken: true }
    }

    /// A comment, if it says something.
    pub(super) fn comment(&mut self, text: &str) {
        let words: Vec<String> = safe(text).split_whitespace().flat_map(pieces).collect();
        if let [first, .., last] = &words[..] {
            let middle = words[1..words.len() - 1].iter().cloned();
            self.words.push(format!("{{{first}"));
            self.words.extend(middle);
            self.words.push(format!("{last}}}"));
        } else if let [only] = &words[..] {
            self.words.push(format!("{{{only}}}"));
        }
        self.is_broken = true;
    }

    /// A move, with its number where the standard wants one: before every move of White's, and before
    /// one of Black's that a comment or a variation parts from the move before (section 8.2.2.2).
    pub(super) fn one_move(&mut self, one: &PrintedMove) {
        if one.side == Color::White || self.is_broken {
            self.words.push(format!("{}{}", one.number, one.side.fold_wb(".", "...")));
        }
        self.words.push(one.san.clone());
        self.is_broken = false;
    }

    /// Moves instead of the one before, the first with a glyph, the last with a comment.
    pub(super) fn variation(&mut self, line: &[PrintedMove], nag: Option<&str>, comment: &str) {
        self.in_brackets(|text| {
            for (index, one) in line.iter().enumerate() {
                text.one_move(one);
                text.words.extend(nag.filter(|_| index == 0).map(str::to_owned));
            }
            text.comment(comment);
        });
    }

    /// Moves with what is said at them and what could be played instead; `says` puts what is known of a branch into
    /// words.
    pub(super) fn tree(&mut self, tree: &GameTree, says: &impl Fn(&Variation) -> Option<String>) {
        for (index, one) in tree.replay.in_print().iter().enumerate() {
            self.one_move(one);
            if let Some(note) = tree.notes.get(&index) {
                self.words.extend(note.glyphs.iter().map(|glyph| format!("${glyph}")));
                let says = [&note.comment, &note.own].map(|text| text.as_deref().unwrap_or(""));
                self.comment(&says.join(" "));
            }
            for branch in tree.branches_at(index) {
                self.in_brackets(|text| {
                    text.tree(&branch.tree, says);
                    text.comment(&says(branch).unwrap_or_default());
                });
            }
        }
    }

    fn in_brackets(&mut self, write: impl FnOnce(&mut Movetext)) {
        let first = self.words.len();
        self.is_broken = true;
        write(self);
        if let Some(opening) = self.words.get_mut(first) {
            opening.insert(0, '(');
        }
        if let Some(closing) = self.words[first..].last_mut() {
            closing.push(')');
        }
        self.is_broken = true;
    }

    /// A glyph behind the last move.
    pub(super) fn glyph(&mut self, nag: &str) {
        self.words.push(nag.to_owned());
    }

    /// The text in lines, with what the game ends with.
    pub(super) fn ended(mut self, result: &str) -> String {
        self.words.push(result.to_owned());
        filled(&self.words)
    }
}

/// A comment without what ends it, or what a reader might take for a command or a tag at the start of a
/// line.
fn safe(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '{' | '[' => safe.push('('),
            '}' | ']' => safe.push(')'),
            '%' => safe.push_str(" percent"),
            '…' => safe.push_str("..."),
            letter if letter.is_control() => safe.push(' '),
            letter => safe.push(letter),
        }
    }
    safe
}

/// A word in pieces that fit on a line with the braces.
fn pieces(word: &str) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters.chunks(WIDTH - 5).map(|piece| piece.iter().collect()).collect()
}

/// Words filled into lines (section 8.2.1).
pub(super) fn filled(words: &[String]) -> String {
    let mut lines = String::new();
    let mut length = 0;
    for word in words {
        let letters = word.chars().count();
        if length > 0 && length + 1 + letters >= WIDTH {
            lines.push('\n');
            length = 0;
        } else if length > 0 {
            lines.push(' ');
            length += 1;
        }
        lines.push_str(word);
        length += letters;
    }
    lines + "\n"
}
