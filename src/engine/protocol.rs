//! What a program says, line by line.
//!
//! Source: the UCI protocol, an open standard (description of April 2006, from memory). As it demands,
//! unknown words are ignored and the rest of the line is read.
//!
//! Invariant: any bytes are read without panic; nothing here knows positions or processes.

use std::borrow::Cow;
use std::iter::Peekable;

use shakmaty::uci::UciMove;

use super::options::{OfferedOption, OptionKind};
use super::points::Chances;
use super::score::{Bound, Score};

/// A line of a program.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Said {
    /// Its name.
    Name(String),
    /// An option that it offers.
    Offers(OfferedOption),
    /// It has said who it is and what it offers.
    UciOk,
    /// It is ready.
    ReadyOk,
    /// How far a search has come.
    Info(Info),
    /// The end of a search.
    BestMove(Answer),
    /// Anything else; it is to be ignored.
    Other,
}

/// How far a search has come; only what is needed here.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Info {
    /// Depth in plies.
    pub depth: Option<u32>,
    /// Positions searched.
    pub nodes: Option<u64>,
    /// The number of the line, if several are searched; the best is 1.
    pub line_number: Option<u32>,
    /// What it is worth for the side to move, and whether exactly that.
    pub score: Option<(Score, Bound)>,
    /// How often it expects a win, a draw and a loss for the side to move.
    pub chances: Option<Chances>,
    /// The line it expects.
    pub line: Vec<UciMove>,
}

/// What `bestmove` names.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Answer {
    /// A move, which need not be legal.
    Move(UciMove),
    /// No move: `(none)`, `0000` or nothing at all.
    None,
    /// Something that is not a move; the start of it.
    Unreadable(String),
}

/// Reads a line, with or without its end.
#[must_use]
pub fn read(line: &[u8]) -> Said {
    let mut words = words(line).peekable();
    while let Some(word) = words.next() {
        return match word {
            b"id" if words.next() == Some(b"name") => Said::Name(joined(words)),
            b"id" => Said::Other,
            b"option" => offered(&mut words).map_or(Said::Other, Said::Offers),
            b"uciok" => Said::UciOk,
            b"readyok" => Said::ReadyOk,
            b"info" => Said::Info(info(&mut words)),
            b"bestmove" => Said::BestMove(answer(words.next())),
            _ => continue,
        };
    }
    Said::Other
}

/// How much is shown of text that can't be read, in bytes.
const EXCERPT: usize = 40;

/// The start of a text as it may be shown to people.
pub(super) fn excerpt(text: &[u8]) -> String {
    let start = &text[..text.len().min(EXCERPT)];
    String::from_utf8_lossy(start).chars().map(|c| if c.is_control() { '?' } else { c }).collect()
}

fn words(line: &[u8]) -> impl Iterator<Item = &[u8]> {
    line.split(u8::is_ascii_whitespace).filter(|word| !word.is_empty())
}

fn joined<'l>(words: impl Iterator<Item = &'l [u8]>) -> String {
    let words: Vec<Cow<'_, str>> = words.map(String::from_utf8_lossy).collect();
    words.join(" ")
}

fn number<T: std::str::FromStr>(word: &[u8]) -> Option<T> {
    std::str::from_utf8(word).ok()?.parse().ok()
}

/// Takes the next word if it is a number.
fn next_number<'l, T: std::str::FromStr>(
    words: &mut Peekable<impl Iterator<Item = &'l [u8]>>,
) -> Option<T> {
    let read = words.peek().and_then(|word| number(word));
    if read.is_some() {
        words.next();
    }
    read
}

fn answer(word: Option<&[u8]>) -> Answer {
    match word {
        None | Some(b"(none)" | b"0000") => Answer::None,
        Some(word) => UciMove::from_ascii(word)
            .map_or_else(|_| Answer::Unreadable(excerpt(word)), Answer::Move),
    }
}

fn info<'l>(words: &mut Peekable<impl Iterator<Item = &'l [u8]>>) -> Info {
    let mut info = Info::default();
    while let Some(word) = words.next() {
        match word {
            b"depth" => info.depth = next_number(words).or(info.depth),
            b"nodes" => info.nodes = next_number(words).or(info.nodes),
            b"multipv" => info.line_number = next_number(words).or(info.line_number),
            b"score" => info.score = score(words).or(info.score),
            b"wdl" => info.chances = chances(words),
            // The chances may stand between a score and its bound.
            b"lowerbound" => info.score = info.score.map(|(score, _)| (score, Bound::AtLeast)),
            b"upperbound" => info.score = info.score.map(|(score, _)| (score, Bound::AtMost)),
            b"pv" => info.line = moves(words),
            // The rest is for people to read.
            b"string" => break,
            _ => {}
        }
    }
    info
}

fn score<'l>(words: &mut Peekable<impl Iterator<Item = &'l [u8]>>) -> Option<(Score, Bound)> {
    let score = match words.next_if(|&word| word == b"cp" || word == b"mate")? {
        b"cp" => Score::from_centipawns(next_number(words)?)?,
        _ => Score::from_mate(next_number(words)?)?,
    };
    Some((score, Bound::Exact))
}

/// Reads `WIN DRAW LOSS` in thousandths; figures that can't be that are not believed.
fn chances<'l>(words: &mut Peekable<impl Iterator<Item = &'l [u8]>>) -> Option<Chances> {
    let [win, draw, loss] = [next_number(words), next_number(words), next_number(words)];
    Chances::of_thousand(win?, draw?, loss?)
}

fn moves<'l>(words: &mut Peekable<impl Iterator<Item = &'l [u8]>>) -> Vec<UciMove> {
    let next = || {
        let read = UciMove::from_ascii(words.peek()?).ok()?;
        words.next();
        Some(read)
    };
    std::iter::from_fn(next).collect()
}

/// Reads `name NAME type TYPE` and what belongs to the type; the name may have several words.
fn offered<'l>(words: &mut Peekable<impl Iterator<Item = &'l [u8]>>) -> Option<OfferedOption> {
    words.next_if(|&word| word == b"name")?;
    let mut named = Vec::new();
    while let Some(word) = words.next_if(|&word| word != b"type") {
        named.push(word);
    }
    words.next()?;
    let kind = match words.next()? {
        b"check" => OptionKind::Check,
        b"spin" => spin(words),
        b"combo" => OptionKind::Combo(choices(words)),
        b"button" => OptionKind::Button,
        b"string" => OptionKind::String,
        _ => return None,
    };
    Some(OfferedOption { name: joined(named.into_iter()), kind })
}

fn spin<'l>(words: &mut Peekable<impl Iterator<Item = &'l [u8]>>) -> OptionKind {
    let (mut least, mut most) = (i64::MIN, i64::MAX);
    while let Some(word) = words.next() {
        match word {
            b"min" => least = next_number(words).unwrap_or(least),
            b"max" => most = next_number(words).unwrap_or(most),
            _ => {}
        }
    }
    OptionKind::Spin { least, most }
}

/// What follows each `var`; a choice may have several words.
fn choices<'l>(words: &mut Peekable<impl Iterator<Item = &'l [u8]>>) -> Vec<String> {
    let words: Vec<&[u8]> = words.collect();
    words.split(|&word| word == b"var").skip(1).map(|words| joined(words.iter().copied())).collect()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn info_of(line: &str) -> Info {
        match read(line.as_bytes()) {
            Said::Info(info) => info,
            other => panic!("{line}: {other:?}"),
        }
    }

    fn line(moves: &str) -> Vec<UciMove> {
        moves.split(' ').map(|m| m.parse().unwrap()).collect()
    }

    #[test]
    fn lines_of_the_standard_are_read() {
        // The forms that the standard's description shows and allows (from memory).
        for (text, expected) in [
            ("id name Quarry  X.Y\n", Said::Name("Quarry X.Y".to_owned())),
            ("id author Alder, Tom", Said::Other),
            ("uciok\r\n", Said::UciOk),
            ("readyok", Said::ReadyOk),
            ("bestmove g1f3 ponder d8f6", Said::BestMove(Answer::Move("g1f3".parse().unwrap()))),
            ("bestmove e7e8q", Said::BestMove(Answer::Move("e7e8q".parse().unwrap()))),
            ("bestmove (none)", Said::BestMove(Answer::None)),
            ("bestmove 0000", Said::BestMove(Answer::None)),
            ("bestmove", Said::BestMove(Answer::None)),
            ("copyprotection checking", Said::Other),
            ("registration ok", Said::Other),
            ("", Said::Other),
        ] {
            assert_eq!(read(text.as_bytes()), expected, "{text}");
        }
    }

    #[test]
    fn unknown_words_are_passed_over_and_the_rest_is_read() {
        assert_eq!(read(b"joho  \t readyok"), Said::ReadyOk);
        let info = info_of("info joho 3 depth 7 x nodes 12 y pv e2e4 e7e5 z d2d4");
        assert_eq!(info.depth, Some(7));
        assert_eq!(info.nodes, Some(12));
        assert_eq!(info.line, line("e2e4 e7e5"));
    }

    #[test]
    fn scores_are_read_with_their_bounds() {
        for (text, expected) in [
            ("score cp 214", Some((Score::Centipawns(214), Bound::Exact))),
            ("score cp -33 lowerbound nodes 9", Some((Score::Centipawns(-33), Bound::AtLeast))),
            ("score mate 3 upperbound", Some((Score::Mates(3), Bound::AtMost))),
            ("score mate -2", Some((Score::Mated(2), Bound::Exact))),
            ("score mate 0", Some((Score::Mated(0), Bound::Exact))),
            ("score cp 5 wdl 300 500 200", Some((Score::Centipawns(5), Bound::Exact))),
            ("score cp", None),
            ("score cp 1.5", None),
            ("score cp 99999999999999999999", None),
            ("score cp -2147483648", None),
            ("score depth 4", None),
            ("string score cp 3", None),
        ] {
            assert_eq!(info_of(&format!("info {text}")).score, expected, "{text}");
        }
        assert_eq!(info_of("info score depth 4").depth, Some(4));
    }

    #[test]
    fn whole_line_of_a_search_is_read() {
        let info = info_of(
            "info depth 12 seldepth 18 multipv 2 score cp -5 nodes 123456 nps 100000 hashfull 3 \
             tbhits 0 time 1242 pv e2e4 e7e5 g1f3",
        );
        assert_eq!(info.depth, Some(12));
        assert_eq!(info.nodes, Some(123_456));
        assert_eq!(info.line_number, Some(2));
        assert_eq!(info.score, Some((Score::Centipawns(-5), Bound::Exact)));
        assert_eq!(info.line, line("e2e4 e7e5 g1f3"));
    }

    #[test]
    fn moves_that_are_none_are_told_apart_from_no_move() {
        let Said::BestMove(Answer::Unreadable(text)) = read(b"bestmove castles\x1b!") else {
            panic!()
        };
        assert_eq!(text, "castles?!");
        let long = [b"bestmove ".to_vec(), vec![b'x'; 1000]].concat();
        assert_eq!(read(&long), Said::BestMove(Answer::Unreadable("x".repeat(EXCERPT))));
    }

    #[test]
    fn options_are_read_with_their_kinds() {
        for (text, name, kind) in [
            ("option name Nullmove type check default true", "Nullmove", OptionKind::Check),
            (
                "option name Selectivity type spin default 2 min 0 max 4",
                "Selectivity",
                OptionKind::Spin { least: 0, most: 4 },
            ),
            (
                "option name Style type combo default Normal var Solid var Normal var Very Risky",
                "Style",
                OptionKind::Combo(["Solid", "Normal", "Very Risky"].map(str::to_owned).to_vec()),
            ),
            ("option name Table Path type string default c:\\", "Table Path", OptionKind::String),
            ("option name Clear Hash type button", "Clear Hash", OptionKind::Button),
        ] {
            let expected = Said::Offers(OfferedOption { name: name.to_owned(), kind });
            assert_eq!(read(text.as_bytes()), expected, "{text}");
        }
        for broken in ["option", "option name", "option name X", "option name X type", "option X"] {
            assert_eq!(read(broken.as_bytes()), Said::Other, "{broken}");
        }
    }

    /// Words of the protocol, numbers and noise.
    const WORDS: &str = "(id|name|option|type|spin|combo|var|min|max|info|depth|nodes|score|cp|mate|\
                         lowerbound|pv|multipv|string|bestmove|e2e4|0000|-?[0-9]{1,25}|\\PC{0,6})";

    proptest! {
        #[test]
        fn any_bytes_are_read(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
            let _ = read(&bytes);
        }

        #[test]
        fn any_words_are_read(words in prop::collection::vec(WORDS, 0..20)) {
            let _ = read(words.join(" ").as_bytes());
        }

        #[test]
        fn any_score_comes_back(cp in -100_000_i32..=100_000, depth in 0_u32..200) {
            let info = info_of(&format!("info depth {depth} score cp {cp}"));
            prop_assert_eq!(info.score, Some((Score::Centipawns(cp), Bound::Exact)));
            prop_assert_eq!(info.depth, Some(depth));
        }
    }
}
