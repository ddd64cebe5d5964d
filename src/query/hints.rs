//! What to write instead of words that people try and the language does not have.

/// Words that people try, each with what to do.
const TRIED: [(&[&str], &str); 9] = [
    (
        &["white", "white's", "black", "black's"],
        "a query speaks of `attacker` and `defender`, and looks for both colours",
    ),
    (
        &["attacks", "attack", "controls", "covers", "protects", "defends"],
        "say `guards`, or `reaches` for a square that it can go to",
    ),
    (&["captures", "capture", "x"], "say `takes`"),
    (
        &["promotes", "promoting"],
        "say `pawn to 8th rank` or `pawn takes on 8th rank`: there a pawn promotes",
    ),
    (&["hangs", "hanging", "loose"], "say `is en prise`, or `was en prise` of the man that moves"),
    (&["checks", "checking", "check"], "say `with check`"),
    (&["mates", "mating", "checkmate", "mate"], "say `with mate`"),
    (&["sacrificing", "sacrifices"], "say `giving up 2 or more`"),
    (&["exactly"], "say a fact with `at least N` and the same with `at most N`"),
];

/// Men that may be spoken of without their side, in both numbers.
const MEN: [[&str; 2]; 7] = [
    ["king", "kings"],
    ["queen", "queens"],
    ["rook", "rooks"],
    ["bishop", "bishops"],
    ["knight", "knights"],
    ["pawn", "pawns"],
    ["piece", "pieces"],
];

/// What to write instead of a word, after the word that stands before it.
pub(super) fn instead_of(word: &str, before: Option<&str>) -> Option<String> {
    let word = word.to_lowercase();
    if before == Some("no") {
        let man = MEN.into_iter().find(|forms| forms.contains(&&*word)).map(|[one, _]| one);
        return man.map(|man| {
            format!("say `no attacker {man} on any square and no defender {man} on any square`")
        });
    }
    let tried = TRIED.into_iter().find(|(words, _)| words.contains(&&*word));
    tried.map(|(_, advice)| advice.to_owned())
}
