//! Text made to be slow is read in time that grows with its length and no faster. Each would take hours
//! if it were read again at every word, line or copy; `benches/hostile.rs` measures the growth.

use std::time::{Duration, Instant};

use hecatomb::collection::{Games, Scan};
use hecatomb::mining::{Evaluation, Identity, MinedGame, Remembered, SeenBefore, SeenGames};

use crate::support::{OFFER_GAME, built_in, game, mine};

/// Enough for any machine that reads each byte a few times.
const PATIENCE: Duration = Duration::from_secs(10);

/// A million bytes and more of a part.
fn much(part: &str) -> String {
    part.repeat(3_000_000 / part.len())
}

fn mined(text: &str) -> Vec<MinedGame> {
    let start = Instant::now();
    let report = mine(&built_in(), text.as_bytes(), false);
    assert!(start.elapsed() < PATIENCE, "{:?} for {}", start.elapsed(), &text[..40]);
    report.mined
}

#[test]
fn words_of_movetext_are_read_once() {
    for part in ["0.", "1", "1a", "0", "0-", "$1", "{}", "()", "*1", "1/2"] {
        let text = format!("{OFFER_GAME} ").replace(" 1-0", "") + &much(part);
        let start = Instant::now();
        let _ = Scan::new().read(text.as_bytes());
        let _ = Games::of(text.as_bytes()).count();
        assert!(start.elapsed() < PATIENCE, "{part}");
    }
}

#[test]
fn lines_of_a_tag_section_are_read_once() {
    for part in ["[a \"", "\" ", "\\\\\"", "[", "[a\n", "[a \"b\" "] {
        let line = format!("[WhiteElo \"1850\"]\n[Odd \"{}\n[Eco \"x\"]", much(part));
        let text = game("Alder, Tom", "Birch, Ida").replace("[WhiteElo \"1850\"]", &line);
        let _ = mined(&text);
    }
}

#[test]
fn many_evaluations_are_looked_through_once_an_offer() {
    let offer = "8. Bxh7+";
    let text = game("Alder, Tom", "Birch, Ida")
        .replace(offer, &format!("{} {offer} {{[%eval 0.5]}}", much("{[%eval x]}")));
    let found = mined(&text);
    let hits: Vec<_> = found[0].hits.iter().filter(|hit| hit.offer.san == "Bxh7+").collect();
    let evaluations = hits.iter().map(|hit| hit.offer.played().unwrap().eval_after);
    assert!(evaluations.into_iter().all(|found| found == Some(Evaluation::Centipawns(50))));
    assert!(hits.len() >= 3, "{}", hits.len());
}

#[test]
fn same_moves_under_many_names_are_remembered_within_bounds() {
    let one = &mined(&game("Alder, Tom", "Birch, Ida"))[0];
    let start = Instant::now();
    let mut seen = SeenGames::default();
    let named = |number: usize| {
        let mut info = one.info.clone();
        info.white = format!("Alder{number}, Tom");
        Remembered { moves: one.moves, identity: Identity::of(&info) }
    };
    for number in 0..200_000 {
        assert_ne!(seen.see(named(number)), SeenBefore::Before, "{number}");
    }
    assert_eq!(seen.see(named(999)), SeenBefore::Before);
    assert!(start.elapsed() < PATIENCE);
}
