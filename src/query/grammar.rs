//! The grammar of sentences.
//!
//! ```text
//! move    = [side] men [act squares] { clause }
//! side    = attacker | defender
//! men     = king | queen | rook | bishop | knight | pawn | minor piece | piece | any man | men
//! act     = takes [men] on | moves to | to
//! squares = a1..h8 | a-file..h-file | 1st..8th rank | light squares | dark squares
//!         | beside the king | any square
//! clause  = from squares | with [double | discovered] check | with mate | without check
//!         | giving up N or more | offering men | uncovering N or more | and is taken [by men] | at once
//!         | within N moves
//! condition = facts { or else facts }
//! facts   = fact { and fact }
//! fact    = [no | at least N | more] side men relation squares [than side men]
//! relation = on | pinned on | reaches | guards | bears on
//! ```
//!
//! `a or b` wherever a man or a square may stand; plural forms are understood.
//!
//! Invariant: a sentence means the same whatever file it stands in.

use chumsky::input::ValueInput;
use chumsky::prelude::*;
use shakmaty::{Bitboard, File, Rank, Role, Square};

use super::sentence::{
    Act, Amount, Check, Condition, Fact, MoveSentence, Relation, Side, Squares, Window,
};
use super::words::Word;
use crate::board::Men;

/// What went wrong in a sentence, in words.
pub(super) type Trouble<'a> = Rich<'a, &'a str>;

/// Reads a move: an offer or a follow-up. `end` is the length of the sentence in bytes.
pub(super) fn read_move<'a>(
    words: &'a [Word<'a>],
    end: usize,
) -> Result<MoveSentence, Vec<Trouble<'a>>> {
    let input = words.map((end..end).into(), |(word, span)| (word, span));
    move_sentence().then_ignore(chumsky::prelude::end()).parse(input).into_result()
}

/// Reads a condition: of a factor or of the query. `end` is the length of the sentence in bytes.
pub(super) fn read_condition<'a>(
    words: &'a [Word<'a>],
    end: usize,
) -> Result<Condition, Vec<Trouble<'a>>> {
    let input = words.map((end..end).into(), |(word, span)| (word, span));
    condition().then_ignore(chumsky::prelude::end()).parse(input).into_result()
}

/// A parser over the words of a sentence.
trait Reads<'a, I, T>: Parser<'a, I, T, extra::Err<Trouble<'a>>> + Clone
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
fn phrase<'a, I>(words: &'static [&'static str]) -> impl Reads<'a, I, ()>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    just(words).ignored()
}

/// One of several words, the first being the usual form.
fn any_of<'a, I>(words: &'static [&'static str]) -> impl Reads<'a, I, ()>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    choice((just(words[0]).ignored(), select! { word if words[1..].contains(&word) => () }))
}

fn number<'a, I>() -> impl Reads<'a, I, u16>
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

fn side<'a, I>() -> impl Reads<'a, I, Side>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    choice((
        any_of(&["attacker", "attacking"]).to(Side::Attacker),
        any_of(&["defender", "defending"]).to(Side::Defender),
    ))
}

fn men<'a, I>() -> impl Reads<'a, I, Men>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let kind = choice((
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
    ));
    let or_kind = just("or").ignore_then(kind.clone());
    kind.foldl(or_kind.repeated(), Men::or)
}

fn squares<'a, I>() -> impl Reads<'a, I, Squares>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let named = choice((
        select! { word if square(word).is_some() => square(word).unwrap_or(Bitboard::EMPTY) }
            .labelled("a square (a1 to h8)"),
        select! { word if file(word).is_some() => file(word).unwrap_or(Bitboard::EMPTY) }
            .labelled("a file (a-file to h-file)"),
        select! { word if rank(word).is_some() => rank(word).unwrap_or(Bitboard::EMPTY) }
            .labelled("a rank (1st rank to 8th rank)")
            .then_ignore(just("rank")),
        phrase(&["light", "squares"]).to(Bitboard::LIGHT_SQUARES),
        phrase(&["dark", "squares"]).to(Bitboard::DARK_SQUARES),
        phrase(&["any", "square"]).to(Bitboard::FULL),
    ))
    .map(|named| Squares { named, beside_king: false });
    let beside_king = phrase(&["beside", "the", "king"])
        .to(Squares { named: Bitboard::EMPTY, beside_king: true });
    let item = choice((named, beside_king));
    let or_item = just("or").ignore_then(item.clone());
    item.foldl(or_item.repeated(), |all, more| Squares {
        named: all.named | more.named,
        beside_king: all.beside_king || more.beside_king,
    })
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

/// Something that may be said about a move after its square.
#[derive(Clone)]
enum Clause {
    From(Squares),
    Check(Check),
    GivingUp(u16),
    Offering(Men),
    Uncovering(u16),
    IsTaken(Men),
    Window(Window),
}

fn clause<'a, I>() -> impl Reads<'a, I, Clause>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let or_more = phrase(&["or", "more"]);
    choice((
        just("from").ignore_then(squares()).map(Clause::From),
        phrase(&["with", "check"]).to(Clause::Check(Check::With)),
        phrase(&["with", "double", "check"]).to(Clause::Check(Check::Double)),
        phrase(&["with", "discovered", "check"]).to(Clause::Check(Check::Discovered)),
        phrase(&["with", "mate"]).to(Clause::Check(Check::Mate)),
        phrase(&["without", "check"]).to(Clause::Check(Check::Without)),
        phrase(&["giving", "up"])
            .ignore_then(number())
            .then_ignore(or_more.clone())
            .map(Clause::GivingUp),
        just("offering").ignore_then(men()).map(Clause::Offering),
        just("uncovering").ignore_then(number()).then_ignore(or_more).map(Clause::Uncovering),
        phrase(&["and", "is", "taken"])
            .ignore_then(just("by").ignore_then(men()).or_not())
            .map(|men| Clause::IsTaken(men.unwrap_or(Men::ANY))),
        phrase(&["at", "once"]).to(Clause::Window(Window::Within(1))),
        just("within")
            .ignore_then(number())
            .then_ignore(any_of(&["moves", "move"]))
            .map(|moves| Clause::Window(Window::Within(moves))),
    ))
}

fn move_sentence<'a, I>() -> impl Reads<'a, I, MoveSentence>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let takes = just("takes")
        .ignore_then(men().or_not())
        .then_ignore(just("on"))
        .map(|men| Act::Takes(men.unwrap_or(Men::ANY)));
    let act = choice((takes, phrase(&["moves", "to"]).to(Act::MovesTo), just("to").to(Act::To)));
    let head =
        side().or_not().then(men()).then(act.then(squares()).or_not()).map(|((side, men), aim)| {
            MoveSentence {
                side: side.unwrap_or(Side::Attacker),
                men,
                aim,
                from: None,
                check: None,
                giving_up: 0,
                offering: None,
                uncovering: 0,
                is_taken: None,
                window: Window::Anytime,
            }
        });
    let clauses =
        clause().map_with(|clause, extra| (clause, extra.span())).repeated().collect::<Vec<_>>();
    head.then(clauses).try_map(|(sentence, clauses), _| {
        clauses.into_iter().try_fold(sentence, |sentence, (clause, span)| {
            with_clause(sentence, clause).map_err(|message| Rich::custom(span, message))
        })
    })
}

/// Adds a clause to a sentence that does not have one of its kind.
fn with_clause(mut sentence: MoveSentence, clause: Clause) -> Result<MoveSentence, &'static str> {
    let is_new = match clause {
        Clause::From(squares) => sentence.from.replace(squares).is_none(),
        Clause::Check(check) => sentence.check.replace(check).is_none(),
        Clause::GivingUp(pawns) => std::mem::replace(&mut sentence.giving_up, pawns.into()) == 0,
        Clause::Uncovering(pawns) => std::mem::replace(&mut sentence.uncovering, pawns.into()) == 0,
        Clause::Offering(men) => sentence.offering.replace(men).is_none(),
        Clause::IsTaken(men) => sentence.is_taken.replace(men).is_none(),
        Clause::Window(window) => {
            std::mem::replace(&mut sentence.window, window) == Window::Anytime
        }
    };
    is_new.then_some(sentence).ok_or("this, or its opposite, was said already")
}

fn condition<'a, I>() -> impl Reads<'a, I, Condition>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let facts = fact().separated_by(just("and")).at_least(1).collect();
    let alternatives = facts.separated_by(phrase(&["or", "else"])).at_least(1).collect();
    alternatives.map(|alternatives| Condition { alternatives })
}

fn fact<'a, I>() -> impl Reads<'a, I, Fact>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let relation = choice((
        just("on").to(Relation::On),
        phrase(&["pinned", "on"]).to(Relation::PinnedOn),
        any_of(&["reaches", "reach"]).to(Relation::Reaches),
        any_of(&["guards", "guard"]).to(Relation::Guards),
        any_of(&["bears", "bear"]).then(just("on")).to(Relation::BearsOn),
    ));
    let statement = side().then(men()).then(relation).then(squares());
    let amount = choice((
        just("no").to(Amount::No),
        phrase(&["at", "least"]).ignore_then(number()).map(|n| Amount::AtLeast(n.into())),
        empty().to(Amount::AtLeast(1)),
    ));
    let plain = amount.then(statement.clone());
    let compared = just("more")
        .ignore_then(statement)
        .then(just("than").ignore_then(side()).then(men()))
        .map(|(statement, (side, men))| (Amount::MoreThan(side, men), statement));
    choice((compared, plain)).map(|(amount, (((side, men), relation), squares))| Fact {
        amount,
        side,
        men,
        relation,
        squares,
    })
}
