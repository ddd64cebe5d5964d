//! Sentences about a position: conditions and their facts.

use chumsky::input::ValueInput;
use chumsky::prelude::*;

use super::parts::{Reads, any_of, man, men, number, pawns, phrase, side, squares};
use crate::board::Men;
use crate::query::condition::{Amount, Condition, Fact, Kinds, MenFact, Relation};
use crate::query::squares::Squares;
use crate::query::terms::{PawnRange, Side};

/// What must hold of a position.
pub(super) fn condition<'a, I>() -> impl Reads<'a, I, Condition>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let fact = choice((material().map(Fact::Ahead), men_fact().map(Fact::Men)));
    let facts = fact.separated_by(just("and")).at_least(1).collect();
    let alternatives = facts.separated_by(phrase(&["or", "else"])).at_least(1).collect();
    alternatives.map(|alternatives| Condition { alternatives })
}

/// How far the attacker is ahead.
fn material<'a, I>() -> impl Reads<'a, I, PawnRange>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let by = just("by").ignore_then(pawns()).or_not();
    let ahead = side().then_ignore(just("ahead")).then(by).map(|(side, range)| {
        let range = range.unwrap_or(PawnRange::from(1));
        match side {
            Side::Attacker => range,
            Side::Defender => range.reversed(),
        }
    });
    let level = phrase(&["material", "is", "level"]).to(PawnRange { least: 0, most: 0 });
    choice((ahead, level))
}

/// How men stand to squares.
type Stance = (Relation, Squares, Men);

fn men_fact<'a, I>() -> impl Reads<'a, I, MenFact>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let statement = side().then(kinds()).then(stance());
    let amount = choice((
        just("no").to(Amount::No),
        phrase(&["at", "least"]).ignore_then(number()).map(|n| Amount::AtLeast(n.into())),
        phrase(&["at", "most"]).ignore_then(number()).map(|n| Amount::AtMost(n.into())),
        empty().to(Amount::AtLeast(1)),
    ));
    let plain = amount.then(statement.clone());
    let compared = just("more")
        .ignore_then(statement)
        .then(just("than").ignore_then(side()).then(kinds()))
        .map(|(statement, (side, kinds))| (Amount::MoreThan(side, kinds), statement));
    choice((compared, plain)).map(|(amount, ((side, kinds), (relation, squares, past)))| MenFact {
        amount,
        side,
        kinds,
        relation,
        squares,
        past,
    })
}

/// Kinds of men, passed pawns among them, with `or` between.
fn kinds<'a, I>() -> impl Reads<'a, I, Kinds>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let passed = just("passed").then(any_of(&["pawn", "pawns"])).to(Kinds::PASSED_PAWNS);
    let kind = choice((passed, man().map(Kinds::of)));
    let or_kind = just("or").ignore_then(kind.clone());
    kind.foldl(or_kind.repeated(), Kinds::or)
}

fn stance<'a, I>() -> impl Reads<'a, I, Stance>
where
    I: ValueInput<'a, Token = &'a str, Span = SimpleSpan>,
{
    let en_prise = || any_of(&["is", "are"]).then(phrase(&["en", "prise"])).to(Relation::EnPriseOn);
    let on = just("on")
        .ignore_then(squares())
        .then(en_prise().or_not())
        .map(|(squares, en_prise)| (en_prise.unwrap_or(Relation::On), squares, Men::NONE));
    let pinned = phrase(&["pinned", "on"])
        .ignore_then(squares())
        .map(|squares| (Relation::PinnedOn, squares, Men::NONE));
    let seeing = choice((
        any_of(&["reaches", "reach"]).to(Relation::Reaches),
        any_of(&["guards", "guard"]).to(Relation::Guards),
        any_of(&["bears", "bear"]).then(just("on")).to(Relation::BearsOn),
    ));
    let past = just("past").ignore_then(men()).or_not();
    let seeing = seeing
        .then(squares())
        .then(past)
        .map(|((relation, squares), past)| (relation, squares, past.unwrap_or(Men::NONE)));
    let anywhere = en_prise().map(|relation| (relation, Squares::ALL, Men::NONE));
    choice((on, pinned, seeing, anywhere))
}
