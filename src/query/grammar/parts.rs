//! What sentences are made of: words, numbers, sides, men and squares.

use chumsky::input::ValueInput;
use chumsky::prelude::*;
use shakmaty::{Bitboard, File, Rank, Role, Square};

use super::Trouble;
use crate::board::Men;
use crate::query::squares::{NearKing, Squares};
use crate::query::terms::{PawnRange, Side};

/// A parser over the words of a sentence.
pub(super) trait Reads<'a, I, T>: Parser<'a, I, T, extra::Err<Trouble<'a>>> + Clone
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
}

impl<'a, I, T, P> Reads<'a, I, T> for P
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
    P: Parser<'a, I, T, extra::Err<Trouble<'a>>> + Clone,
{
}

/// Several words in a row.
pub(super) fn phrase<'a, I>(words: &'static [&'static str]) -> impl Reads<'a, I, ()>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    just(words).ignored()
}

/// One of several words, the first being the usual form.
pub(super) fn any_of<'a, I>(words: &'static [&'static str]) -> impl Reads<'a, I, ()>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    choice((just(words[0]).ignored(), select! { word if words[1..].contains(&word) => () }))
}

pub(super) fn number<'a, I>() -> impl Reads<'a, I, u16>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    select! { word if is_digits(word) => word }
        .validate(|word: &str, extra, emitter| {
            let number = word.parse::<u16>().ok().filter(|number| (1..=999).contains(number));
            if number.is_none() {
                let message = format!("`{word}` is not a number from 1 to 999");
                emitter.emit(Rich::custom(extra.span(), message));
            }
            number.unwrap_or(1)
        })
        .labelled("a number")
}

fn is_digits(word: &str) -> bool {
    word.bytes().all(|byte| byte.is_ascii_digit())
}

/// A range of pawns' worth: `N or more`, `N to M`, or `N` for exactly that.
pub(super) fn pawns<'a, I>() -> impl Reads<'a, I, PawnRange>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let end = choice((
        phrase(&["or", "more"]).to(Some(i32::MAX)),
        just("to").ignore_then(number()).map(|most| Some(most.into())),
        empty().to(None),
    ));
    number().then(end).try_map(|(least, most), span| {
        let least = i32::from(least);
        let range = PawnRange { least, most: most.unwrap_or(least) };
        let is_upward = range.least <= range.most;
        is_upward
            .then_some(range)
            .ok_or_else(|| Rich::custom(span, "the second number must not be below the first"))
    })
}

pub(super) fn side<'a, I>() -> impl Reads<'a, I, Side>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    choice((
        any_of(&["attacker", "attacking"]).to(Side::Attacker),
        any_of(&["defender", "defending"]).to(Side::Defender),
    ))
}

/// Kinds of men, with `or` between.
pub(super) fn men<'a, I>() -> impl Reads<'a, I, Men>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let or_kind = just("or").ignore_then(man());
    man().foldl(or_kind.repeated(), Men::or)
}

/// One kind of men.
pub(super) fn man<'a, I>() -> impl Reads<'a, I, Men>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    choice((
        any_of(&["king", "kings"]).to(Men::of(Role::King)),
        any_of(&["queen", "queens"]).to(Men::of(Role::Queen)),
        any_of(&["rook", "rooks"]).to(Men::of(Role::Rook)),
        any_of(&["bishop", "bishops"]).to(Men::of(Role::Bishop)),
        any_of(&["knight", "knights"]).to(Men::of(Role::Knight)),
        any_of(&["pawn", "pawns"]).to(Men::of(Role::Pawn)),
        just("minor").then(any_of(&["piece", "pieces"])).to(Men::MINOR_PIECE),
        any_of(&["piece", "pieces"]).to(Men::PIECE),
        just("any").then(any_of(&["man", "men"])).to(Men::ANY),
        any_of(&["men", "man"]).to(Men::ANY),
    ))
}

pub(super) fn squares<'a, I>() -> impl Reads<'a, I, Squares>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let lettered = choice((
        select! { word if square(word).is_some() => square(word).unwrap_or(Bitboard::EMPTY) }
            .labelled("a square (a1 to h8)"),
        select! { word if file(word).is_some() => file(word).unwrap_or(Bitboard::EMPTY) }
            .labelled("a file (a-file to h-file)"),
    ))
    .map(Squares::lettered);
    let unlettered = choice((
        select! { word if rank(word).is_some() => rank(word).unwrap_or(Bitboard::EMPTY) }
            .labelled("a rank (1st rank to 8th rank)")
            .then_ignore(just("rank")),
        phrase(&["light", "squares"]).to(Bitboard::LIGHT_SQUARES),
        phrase(&["dark", "squares"]).to(Bitboard::DARK_SQUARES),
        phrase(&["any", "square"]).to(Bitboard::FULL),
    ))
    .map(Squares::unlettered);
    let near_king = choice((
        phrase(&["beside", "the", "king"]).to(NearKing::BESIDE),
        phrase(&["in", "front", "of", "the", "king"]).to(NearKing::IN_FRONT),
        phrase(&["the", "king's", "file"]).to(NearKing::ON_FILE),
        phrase(&["the", "king's", "rank"]).to(NearKing::ON_RANK),
    ))
    .map(Squares::near);
    let item = choice((lettered, unlettered, near_king));
    let or_item = just("or").ignore_then(item.clone());
    item.foldl(or_item.repeated(), Squares::or)
}

fn square(word: &str) -> Option<Bitboard> {
    Square::from_ascii(word.as_bytes()).ok().map(Bitboard::from_square)
}

fn file(word: &str) -> Option<Bitboard> {
    let letter = word.strip_suffix("-file")?;
    let [byte] = letter.as_bytes() else {
        return None;
    };
    File::from_char(char::from(*byte)).map(Bitboard::from_file)
}

fn rank(word: &str) -> Option<Bitboard> {
    const ORDINALS: [&str; 8] = ["1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th"];
    let index = ORDINALS.iter().position(|&ordinal| ordinal == word)?;
    Rank::ALL.get(index).copied().map(Bitboard::from_rank)
}
