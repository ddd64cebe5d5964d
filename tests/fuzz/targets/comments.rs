//! An evaluation in a comment, written and read again, is the same, and twice reversed is itself; tokens
//! of movetext stand where they are said to stand.

#![no_main]

use hecatomb::collection::{MoveKind, Scan, plies_at_a_glance};
use hecatomb::mining::Evaluation;
use libfuzzer_sys::fuzz_target;
use shakmaty::Color;

fn check_evaluation(comment: &[u8]) {
    let Some(evaluation) = Evaluation::of_comment(comment) else { return };
    let (Evaluation::Centipawns(number) | Evaluation::Mate(number)) = evaluation;
    assert!(number.unsigned_abs() <= 1_000_000);
    assert_eq!(evaluation.reversed().reversed(), evaluation);
    let written = format!("[%eval {evaluation}]");
    assert_eq!(Evaluation::of_comment(written.as_bytes()), Some(evaluation));
    let _ = format!("[%eval {}]", evaluation.reversed());
}

fn check_movetext(movetext: &[u8]) {
    let mut scan = Scan::new();
    let read = scan.read(movetext);
    let mut end = 0;
    for token in &scan.moves {
        let start = token.start as usize;
        assert!(!token.text(movetext).is_empty() && end <= start);
        end = start + token.text(movetext).len();
        let _ = MoveKind::of(token.text(movetext), Color::White);
    }
    for (after, place) in &scan.evaluations {
        assert!(usize::from(*after) <= scan.moves.len());
        check_evaluation(&movetext[place.clone()]);
    }
    match read {
        Err(fault) => assert!(fault.at + fault.length <= movetext.len()),
        // The glance knows no comments to the line's end; else it sees the result that reading sees.
        Ok(()) if !movetext.iter().any(|byte| b";%".contains(byte)) => {
            if let Some((result, _)) = plies_at_a_glance(movetext) {
                assert_eq!(result, scan.result);
            }
        }
        Ok(()) => {}
    }
    let once = scan.clone();
    let _ = scan.read(movetext);
    assert_eq!(format!("{once:?}"), format!("{scan:?}"));
}

fuzz_target!(|text: &[u8]| {
    check_evaluation(text);
    check_movetext(text);
});
