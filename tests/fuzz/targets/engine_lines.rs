//! Whatever a program says is read: scores stay within belief, blanks and line ends say nothing. What it
//! is told stays on one line.

#![no_main]

use hecatomb::engine::{Answer, EngineCommand, EngineOption, Said, Score, read};
use libfuzzer_sys::fuzz_target;

fn check_score(score: Score) {
    let is_credible = match score {
        Score::Centipawns(centipawns) => centipawns.unsigned_abs() <= 1_000_000,
        Score::Mates(moves) | Score::Mated(moves) => moves <= 10_000,
    };
    assert!(is_credible, "{score:?}");
    // Mated already has no other name from the other side.
    assert_eq!(score.for_the_other_side().for_the_other_side(), score);
}

fn check_line(line: &[u8]) {
    let said = read(line);
    if let Said::Info(info) = &said
        && let Some((score, bound)) = info.score
    {
        check_score(score);
        assert_eq!(bound.for_the_other_side().for_the_other_side(), bound);
    }
    if let Said::BestMove(Answer::Unreadable(text)) = &said {
        assert!(!text.chars().any(char::is_control));
    }
    assert_eq!(read(&[line, b"\r\n"].concat()), said);
    let words: Vec<&[u8]> =
        line.split(u8::is_ascii_whitespace).filter(|word| !word.is_empty()).collect();
    assert_eq!(read(&words.join(&b"  \t"[..])), said);
}

fuzz_target!(|text: &[u8]| {
    text.split(|&byte| byte == b'\n').for_each(check_line);
    if let Ok(option) = String::from_utf8_lossy(text).parse::<EngineOption>() {
        let told = EngineCommand::SetOption(&option).to_string();
        assert!(!told.contains(['\n', '\r']));
    }
});
