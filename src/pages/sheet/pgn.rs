//! Exercises as PGN, in the export format of the standard ("Portable Game Notation Specification and
//! Implementation Guide", 1994): roster, FEN and SetUp tags, lines of fewer than 80 characters, move
//! numbers where it asks for them.
//!
//! The text is UTF-8. What is ASCII is the same in the standard's ISO 8859-1; a name with other letters
//! is kept as it is rather than bent to a set that may lack them.

use shakmaty::fen::Fen;
use shakmaty::{Color, EnPassantMode};

use super::SheetOfExercises;
use crate::board::{PrintedMove, Replay};
use crate::collection::Rating;
use crate::pages::solution::{comes_to, comes_to_sentence, features, judged, sentence};
use crate::pages::template::{file_name, known};
use crate::teaching::{Aside, AsideRole, Exercise};

/// Lines are shorter than this, in characters.
const WIDTH: usize = 80;
/// The longest value of a tag (section 7 of the standard).
const LONGEST: usize = 255;
/// Numeric annotation glyphs (section 10): a good move and a mistake.
const GOOD: &str = "$1";
const MISTAKE: &str = "$2";

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> String {
    let games = sheet.exercises.iter().zip(1..).map(|(exercise, number)| {
        tags(exercise) + "\n" + &filled(&movetext(sheet, exercise, number)) + "\n"
    });
    games.collect()
}

/// The roster in its order, then the rest in ASCII order (section 8.1.1).
fn tags(exercise: &Exercise) -> String {
    let game = &exercise.hit.game;
    let fen = Fen::from_position(&exercise.start, EnPassantMode::Always).to_string();
    let level = exercise.level.0.to_string();
    let rating = |rating: Option<Rating>| rating.map(|rating| rating.to_string());
    let tags = [
        ("Event", Some(unknown(&game.event))),
        ("Site", Some(unknown(&game.site))),
        ("Date", Some(date(&game.date))),
        ("Round", Some(unknown(&game.round))),
        ("White", Some(unknown(&game.white))),
        ("Black", Some(unknown(&game.black))),
        ("Result", Some("*".to_owned())),
        ("Annotator", Some(format!("hecatomb {}", env!("CARGO_PKG_VERSION")))),
        ("BlackElo", rating(game.black_elo)),
        ("ECO", known(&game.eco).map(str::to_owned)),
        ("FEN", Some(fen)),
        ("Kind", Some(exercise.kind.word().to_owned())),
        ("Level", Some(level)),
        ("SetUp", Some("1".to_owned())),
        ("WhiteElo", rating(game.white_elo)),
    ];
    tags.into_iter()
        .filter_map(|(name, value)| Some(format!("[{name} \"{}\"]\n", quoted(&value?))))
        .collect()
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
#[derive(Default)]
struct Movetext {
    words: Vec<String>,
    /// Whether Black's next move needs its number.
    is_broken: bool,
}

impl Movetext {
    fn comment(&mut self, text: &str) {
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
    fn one_move(&mut self, one: &PrintedMove) {
        if one.side == Color::White || self.is_broken {
            self.words.push(format!("{}{}", one.number, one.side.fold_wb(".", "...")));
        }
        self.words.push(one.san.clone());
        self.is_broken = false;
    }

    fn variation(&mut self, exercise: &Exercise, aside: &Aside, nag: Option<&str>, comment: &str) {
        let first = self.words.len();
        self.is_broken = true;
        let start = exercise.start_of(aside);
        for (index, one) in Replay::of(&start, &aside.moves).in_print().iter().enumerate() {
            self.one_move(one);
            self.words.extend(nag.filter(|_| index == 0).map(str::to_owned));
        }
        self.comment(comment);
        if let Some(opening) = self.words.get_mut(first) {
            opening.insert(0, '(');
        }
        if let Some(closing) = self.words.last_mut() {
            closing.push(')');
        }
        self.is_broken = true;
    }
}

fn movetext(sheet: &SheetOfExercises<'_>, exercise: &Exercise, number: usize) -> Vec<String> {
    let mut text = Movetext { is_broken: true, ..Movetext::default() };
    let (kind, level) = (exercise.kind.word(), exercise.level.0);
    text.comment(&format!("Exercise {number}, {kind}: {} Level {level}.", sentence(exercise)));
    for (index, one) in Replay::of(&exercise.start, &exercise.line).in_print().iter().enumerate() {
        text.one_move(one);
        if index == 0 {
            text.words.push(if exercise.is_first_right() { GOOD } else { MISTAKE }.to_owned());
            if let Some(judged) = judged(exercise) {
                text.comment(&format!("{judged}."));
            }
        }
        if index + 1 == exercise.line.len() {
            text.comment(&comes_to_sentence(exercise.comes_to, exercise.attacker));
        }
        if index == 0 {
            for &(m, upshot) in &exercise.also {
                let moves = vec![m];
                let also = Aside { at: 0, moves, comes_to: upshot, role: AsideRole::Reply };
                let comes_to = comes_to(upshot, exercise.attacker);
                text.variation(exercise, &also, Some(GOOD), &format!("Also correct: {comes_to}."));
            }
        }
        for aside in exercise.asides.iter().filter(|aside| aside.at == index) {
            let nag = match aside.role {
                AsideRole::Reply => None,
                AsideRole::Mistake => Some(MISTAKE),
                AsideRole::Better => Some(GOOD),
            };
            let comes_to = comes_to_sentence(aside.comes_to, exercise.attacker);
            text.variation(exercise, aside, nag, &comes_to);
        }
    }
    // What would give the solution away comes last.
    text.comment(&format!(
        "{}: {} Level {level}: {}. From game {} of {}. {}",
        sheet.motif_title(exercise),
        sheet.statistics(exercise),
        features(&exercise.features),
        exercise.hit.game.number,
        file_name(&exercise.hit.source),
        sheet.caution.unwrap_or_default()
    ));
    text.words.push("*".to_owned());
    text.words
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
fn filled(words: &[String]) -> String {
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
