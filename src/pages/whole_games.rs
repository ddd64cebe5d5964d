//! Whole games with an offer, for other programs as PGN and to read as text.

use std::fmt::Write as _;

use shakmaty::fen::Fen;
use shakmaty::{Board, Chess, Color, EnPassantMode, File, Move, Position, Rank, Square};

use super::game::given;
use super::pgn::{Movetext, filled, tags};
use super::solution::{reference, says};
use super::template::file_name;
use crate::board::{PieceLetters, Replay, SacrificeKind, line_in_print};
use crate::hits::Sound;
use crate::query::Query;
use crate::teaching::{WholeGame, in_words};
use crate::words::Words;

/// Whole games in which a motif was played.
pub struct WholeGames<'g> {
    /// The motif.
    pub query: &'g Query,
    /// The games.
    pub games: &'g [WholeGame],
    /// The letters of its moves where people read them; PGN has English ones.
    pub letters: PieceLetters,
    /// What must be said of all of them, if anything must.
    pub caution: Option<&'g str>,
}

/// The formats of whole games.
#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
pub enum GamesFormat {
    /// PGN with comments, a variation where the game left best play, and glyphs
    Pgn,
    /// A text to read, with a diagram of each offer
    Text,
}

impl WholeGames<'_> {
    /// The games in a format.
    #[must_use]
    pub fn written(&self, format: GamesFormat) -> String {
        let games = self.games.iter().zip(1..);
        match format {
            GamesFormat::Pgn => games.map(|(game, _)| self.pgn(game)).collect(),
            GamesFormat::Text => {
                let games: Vec<String> = games.map(|game| self.text(game)).collect();
                self.letters.in_text(&games.join("\n\n")).into_owned()
            }
        }
    }

    fn pgn(&self, game: &WholeGame) -> String {
        let info = &game.specimen.hit.game;
        let start = &game.tree.replay.positions[0];
        let fen = || Fen::from_position(start, EnPassantMode::Always).to_string();
        let set_up = game.is_set_up.then(|| [("FEN", fen()), ("SetUp", "1".to_owned())]);
        let set_up: Vec<(&str, String)> = set_up.into_iter().flatten().collect();
        let result = info.result.as_str();
        tags(info, result, &set_up) + "\n" + &self.movetext(game).ended(result) + "\n"
    }

    fn movetext(&self, game: &WholeGame) -> Movetext {
        let hit = &game.specimen.hit;
        let mut tree = game.tree.clone();
        let note = tree.notes.entry(game.offer).or_default();
        note.glyphs.extend(glyph(game));
        note.comment = Some(self.comment(game));
        let mut text = Movetext::new();
        text.tree(&tree, &|branch| says(branch, hit.view.attacker, Words::ENGLISH));
        text.comment(&format!(
            "Game {} of {}. {}",
            hit.game.number,
            file_name(&hit.source),
            self.caution.unwrap_or_default()
        ));
        text
    }

    /// What there is to say of the offer.
    fn comment(&self, game: &WholeGame) -> String {
        let hit = &game.specimen.hit;
        let given = given(&game.specimen).replace('\u{2019}', "'");
        let mut comment = format!("{}: {given}", self.query.title);
        if let Some(kind) = hit.offer.kind {
            let _ = write!(comment, ", {}", kind_in_words(kind));
        }
        comment.push('.');
        if let Some(verdict) = hit.verdict.as_ref().filter(|it| it.sound() != Sound::Open) {
            let does = in_words(verdict, Words::ENGLISH).replace('\u{2019}', "'");
            let _ = write!(comment, " The offer {does}.");
        }
        comment
    }

    fn text(&self, (game, number): (&WholeGame, usize)) -> String {
        let specimen = &game.specimen;
        let hit = &specimen.hit;
        let mut text = format!(
            "{number}. {}, {}\n\n",
            reference(hit, Words::ENGLISH),
            hit.game.result.as_str()
        );
        let Replay { positions, moves } = &game.tree.replay;
        let (before, after) = (&positions[game.offer], &positions[game.offer + 1]);
        text += &in_lines(&in_print(&positions[0], &moves[..game.offer]));
        text += &board(before.board(), hit.view.attacker);
        text += &in_lines(&in_print(before, &moves[game.offer..=game.offer]));
        text += &in_lines(&self.comment(game));
        text.push('\n');
        text += &in_lines(&in_print(after, &moves[game.offer + 1..]));
        for branch in &game.tree.branches {
            let line = in_print(&positions[branch.at], &branch.tree.replay.moves);
            let says = says(branch, hit.view.attacker, Words::ENGLISH).unwrap_or_default();
            text += &in_lines(&format!("{line} {says}"));
        }
        text + self.caution.map(in_lines).unwrap_or_default().as_str()
    }
}

/// The glyph for an offer that is known to be good or bad: a good move, or a mistake (section 10 of the standard).
fn glyph(game: &WholeGame) -> Option<u8> {
    match game.specimen.hit.verdict.as_ref()?.sound() {
        Sound::Yes => Some(1),
        Sound::No => Some(2),
        Sound::Holds | Sound::LastTry | Sound::Open => None,
    }
}

fn kind_in_words(kind: SacrificeKind) -> &'static str {
    match kind {
        SacrificeKind::Free => "with nothing given up",
        SacrificeKind::Desperado => "a desperado, since the man was lost anyway",
        SacrificeKind::Sham => "a sham sacrifice: made good, or the game won, within four moves",
        SacrificeKind::Real => "a real sacrifice: still down after four moves",
        SacrificeKind::Declined => "declined",
    }
}

/// A board of letters, seen by a side: White's men are capitals, dots are empty squares.
fn board(board: &Board, bottom: Color) -> String {
    let letter = |square: Square| board.piece_at(square).map_or('.', shakmaty::Piece::char);
    let mut ranks: Vec<Rank> = Rank::ALL.to_vec();
    let mut files: Vec<File> = File::ALL.to_vec();
    match bottom {
        Color::White => ranks.reverse(),
        Color::Black => files.reverse(),
    }
    let row =
        |letters: Vec<char>| letters.iter().map(char::to_string).collect::<Vec<_>>().join(" ");
    let mut text = String::from("\n");
    for rank in ranks {
        let letters = files.iter().map(|&file| letter(Square::from_coords(file, rank))).collect();
        let _ = writeln!(text, "    {} {}", rank.char(), row(letters));
    }
    let names = files.iter().map(|file| file.char()).collect();
    let _ = writeln!(text, "      {}\n", row(names));
    text
}

/// Moves as a book has them, in plain letters: `8...Kxh7 9.Ng5+`.
fn in_print(start: &Chess, moves: &[Move]) -> String {
    line_in_print(start, moves).replace('…', "...")
}

/// A text in lines.
fn in_lines(text: &str) -> String {
    filled(&text.split_whitespace().map(str::to_owned).collect::<Vec<String>>())
}
