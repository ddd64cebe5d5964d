//! The grammar of sentences.
//!
//! ```text
//! move    = ([side] | the same) men [act squares] { clause }
//! side    = attacker | defender
//! men     = king | queen | rook | bishop | knight | pawn | minor piece | piece | any man | men
//! act     = takes [men] on | moves to | to
//! squares = a1..h8 | a-file..h-file | 1st..8th rank | light squares | dark squares | any square
//!         | beside the king | in front of the king | the king's file | the king's rank
//! clause  = from squares | with [double | discovered] check | with mate | with stalemate
//!         | without check | giving up pawns | offering men | uncovering pawns | was en prise
//!         | between men and men | and is taken [by men] | not taken back within N moves
//!         | at once | within N moves
//! pawns   = N or more | N to M | at most N | N
//! condition = facts { or else facts }
//! facts   = fact { and fact }
//! fact    = [no | at least N | at most N | more] side kinds stance [than side kinds]
//!         | side ahead [by (N or more | N to M | N)] | material is level
//! kinds   = men | passed pawn
//! stance  = on squares | pinned on squares | [on squares] is en prise
//!         | (reaches | guards | bears on) squares [past men]
//! ```
//!
//! `a or b` wherever a man or a square may stand; plural forms are understood.
//!
//! Invariant: a sentence means the same whatever file it stands in.

mod facts;
mod parts;

use chumsky::input::ValueInput;
use chumsky::prelude::*;

use super::condition::Condition;
use super::sentence::{Act, Check, MoveSentence, Window};
use super::squares::Squares;
use super::terms::{PawnRange, Side};
use super::words::Word;
use crate::board::Men;
use facts::condition;
use parts::{Reads, any_of, men, number, pawns, phrase, side, squares};

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

/// Something that may be said about a move after its square.
#[derive(Clone)]
enum Clause {
    From(Squares),
    Check(Check),
    GivingUp(PawnRange),
    Offering(Men),
    Uncovering(PawnRange),
    WasEnPrise,
    Between(Men, Men),
    NotTakenBack(u16),
    IsTaken(Men),
    Window(Window),
}

fn clause<'a, I>() -> impl Reads<'a, I, Clause>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let up_to = phrase(&["at", "most"]).ignore_then(number());
    let up_to = up_to.map(|most| PawnRange { least: 0, most: most.into() });
    let price = choice((up_to, pawns()));
    let moves = number().then_ignore(any_of(&["moves", "move"]));
    choice((
        just("from").ignore_then(squares()).map(Clause::From),
        phrase(&["with", "check"]).to(Clause::Check(Check::With)),
        phrase(&["with", "double", "check"]).to(Clause::Check(Check::Double)),
        phrase(&["with", "discovered", "check"]).to(Clause::Check(Check::Discovered)),
        phrase(&["with", "mate"]).to(Clause::Check(Check::Mate)),
        phrase(&["with", "stalemate"]).to(Clause::Check(Check::Stalemate)),
        phrase(&["without", "check"]).to(Clause::Check(Check::Without)),
        phrase(&["giving", "up"]).ignore_then(price.clone()).map(Clause::GivingUp),
        just("offering").ignore_then(men()).map(Clause::Offering),
        just("uncovering").ignore_then(price).map(Clause::Uncovering),
        phrase(&["was", "en", "prise"]).to(Clause::WasEnPrise),
        just("between")
            .ignore_then(men())
            .then_ignore(just("and"))
            .then(men())
            .map(|(one, other)| Clause::Between(one, other)),
        phrase(&["not", "taken", "back", "within"])
            .ignore_then(moves.clone())
            .map(Clause::NotTakenBack),
        phrase(&["and", "is", "taken"])
            .ignore_then(just("by").ignore_then(men()).or_not())
            .map(|men| Clause::IsTaken(men.unwrap_or(Men::ANY))),
        phrase(&["at", "once"]).to(Clause::Window(Window::Within(1))),
        just("within").ignore_then(moves).map(|moves| Clause::Window(Window::Within(moves))),
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
    let who = choice((
        phrase(&["the", "same"]).to((Side::Attacker, true)),
        side().map(|side| (side, false)),
        empty().to((Side::Attacker, false)),
    ));
    let head = who.then(men()).then(act.then(squares()).or_not()).map(
        |(((side, is_same_man), men), aim)| MoveSentence {
            side,
            men,
            is_same_man,
            aim,
            from: None,
            check: None,
            giving_up: None,
            offering: None,
            uncovering: None,
            was_en_prise: false,
            between: None,
            not_taken_back: None,
            is_taken: None,
            window: Window::Anytime,
        },
    );
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
        Clause::GivingUp(range) => sentence.giving_up.replace(range).is_none(),
        Clause::Offering(men) => sentence.offering.replace(men).is_none(),
        Clause::Uncovering(range) => sentence.uncovering.replace(range).is_none(),
        Clause::WasEnPrise => !std::mem::replace(&mut sentence.was_en_prise, true),
        Clause::Between(one, other) => sentence.between.replace((one, other)).is_none(),
        Clause::NotTakenBack(moves) => sentence.not_taken_back.replace(moves).is_none(),
        Clause::IsTaken(men) => sentence.is_taken.replace(men).is_none(),
        Clause::Window(window) => {
            std::mem::replace(&mut sentence.window, window) == Window::Anytime
        }
    };
    is_new.then_some(sentence).ok_or("this, or its opposite, was said already")
}
