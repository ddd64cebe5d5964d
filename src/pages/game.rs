//! A game as a page shows it: heading, position, and what there is to say of it.

use minijinja::{Value, context};
use shakmaty::{Bitboard, Color, EnPassantMode, Position, Square};

use super::own_words::marked_up;
use super::printed_game::PrintedGame;
use super::template::{date, drawn, file_name};
use crate::board::{PieceLetters, word_of};
use crate::collection::{Rating, known};
use crate::drawing::{Diagram, Way};
use crate::hits::Sound;
use crate::mining::GameInfo;
use crate::query::{Condition, Query, Squares};
use crate::teaching::{
    GameShown, LessonGame, OwnGame, Specimen, Step, VariationNote, WholeGame, in_words, why,
};
use crate::words::{Words, of_side};

/// More squares than this are not ringed.
const MOST_RINGED: usize = 8;
/// A sentence that names more squares than this singles none out.
const MOST_OF_ONE: usize = 2;

/// The position before the offer, from the attacker's side.
pub(super) fn plain_diagram(specimen: &Specimen) -> Diagram {
    let attacker = specimen.hit.view.attacker;
    Diagram::of(&specimen.steps.start).seen_by(attacker)
}

/// The same with the offer as a line and its squares ringed.
pub(super) fn key_diagram(specimen: &Specimen, query: &Query, words: Words) -> Diagram {
    plain_diagram(specimen)
        .told_in(words)
        .titled(words.say("key-diagram"))
        .line([specimen.steps.moves[0].way])
        .ring(key_squares(specimen, query))
}

/// What is said below it.
pub(super) fn key_caption(specimen: &Specimen, query: &Query, words: Words) -> String {
    words.say(match key_squares(specimen, query).count() {
        1 => "key-one-ring",
        _ => "key-rings",
    })
}

/// The squares that the offer names, or the one it was made on if they are many or none, and those that
/// its conditions, its factors and its follow-ups single out, as long as they are few.
fn key_squares(specimen: &Specimen, query: &Query) -> Bitboard {
    let offered = Bitboard::from(specimen.steps.moves[0].way.to);
    let conditions = query
        .when
        .iter()
        .chain(&query.after)
        .chain(query.factors.iter().map(|factor| &factor.condition));
    let follow_ups = query.follow_ups.iter().map(|follow_up| follow_up.sentence.squares());
    let others = conditions.map(Condition::squares).chain(follow_ups);
    let is_singled_out = |squares: &Squares| squares.named().count() <= MOST_OF_ONE;
    let squares = std::iter::once(query.offer.squares()).chain(others.filter(is_singled_out));
    let (view, shift) = (specimen.hit.view, specimen.hit.shift);
    let by = shift.map_or(0, |shift| shift.by(view));
    squares.fold(offered, |all, squares| {
        let more = all | view.turn_all(squares.shifted(by).named());
        if more.count() <= MOST_RINGED { more } else { all }
    })
}

/// Who played, and when.
pub(super) fn reference(game: &GameInfo, source: &str) -> Value {
    let player = |name: &str, rating: Option<Rating>| {
        context! { name => known(name), rating => rating.map(|rating| rating.to_string()) }
    };
    context! {
        white => player(&game.white, game.white_elo),
        black => player(&game.black, game.black_elo),
        event => known(&game.event),
        date => date(&game.date),
        result => result(game.result.as_str()),
        source => file_name(source),
        number => game.number.0,
    }
}

/// A model game.
pub(super) fn model(
    (model, number): (&LessonGame, usize),
    query: &Query,
    (words, letters): (Words, PieceLetters),
) -> Value {
    let id = format!("game-{number}");
    let (diagram, of_its_kind) = match &model.game {
        GameShown::Mined(game) => {
            (offer_diagram(&game.specimen, number, words), told(game, query, words))
        }
        GameShown::Own(game) => (opening_diagram(game, number, words), told_of_own(game)),
    };
    let mut text = PrintedGame::of(model, words, letters);
    let passages = text.passages();
    context! {
        id => &id,
        number,
        diagram => drawn(&diagram, &format!("{id}-board")),
        passages,
        steps => Value::from_safe_string(text.steps()),
        before => model.before.as_deref().map(marked_up),
        after => model.after.as_deref().map(marked_up),
        ..of_its_kind,
    }
}

/// The board before an offer, with the offer as a line.
fn offer_diagram(specimen: &Specimen, number: usize, words: Words) -> Diagram {
    let title = words.tell("game-before-offer", [("number", number.into())]);
    plain_diagram(specimen).told_in(words).titled(title).line([specimen.steps.moves[0].way])
}

/// The board with which a teacher's game opens.
fn opening_diagram(game: &OwnGame, number: usize, words: Words) -> Diagram {
    let replay = &game.tree.replay;
    let setup = replay.positions[game.opened_at].to_setup(EnPassantMode::Always);
    let next = replay.moves.get(game.opened_at).and_then(|&m| Way::of(m));
    let title = words.tell("game-as-it-opens", [("number", number.into())]);
    Diagram::of(&setup).told_in(words).seen_by(game.bottom).titled(title).line(next)
}

/// What is said about a teacher's game.
fn told_of_own(game: &OwnGame) -> Value {
    context! {
        is => reference(&game.info, ""),
        is_own => true,
        intro => &game.intro,
    }
}

/// What was proved of an offer, and the line that shows it.
fn proof(game: &WholeGame, words: Words) -> Option<Value> {
    let specimen = &game.specimen;
    let verdict = specimen.hit.verdict.as_ref().filter(|verdict| verdict.sound() != Sound::Open)?;
    // Where the game left best play, that stands beside its moves.
    let is_shown =
        game.tree.branches.iter().any(|branch| branch.known == Some(VariationNote::BestPlay));
    let line = if is_shown { Vec::new() } else { plies(&specimen.best_play) };
    Some(context! { says => in_words(verdict, words), line })
}

/// What is said about the offer, in words and moves.
fn told(game: &WholeGame, query: &Query, words: Words) -> Value {
    let specimen = &game.specimen;
    context! {
        is => reference(&specimen.hit.game, &specimen.hit.source),
        attacker => side(specimen.hit.view.attacker),
        why => why(specimen, words),
        proof => proof(game, words),
        given => offers(specimen, words),
        facts => facts(specimen, query),
        invested => specimen.hit.offer.played().map(|played| played.ledger.invested),
    }
}

/// The most facts that are told of an offer.
const MOST_FACTS: usize = 4;

/// Which of the query's factors held at an offer, as far as they speak of squares, and as the board has them.
fn facts(specimen: &Specimen, query: &Query) -> Vec<String> {
    let hit = &specimen.hit;
    let held = query.factors.iter().zip(&hit.factors).filter(|(_, held)| **held);
    let is_of_squares = |text: &&str| {
        text.split(' ').any(is_square) && !text.contains("rank") && !text.contains("-file")
    };
    let texts = held.map(|(factor, _)| &*factor.text).filter(is_of_squares);
    texts.take(MOST_FACTS).map(|text| on_the_board(text, specimen)).collect()
}

fn is_square(word: &str) -> bool {
    word.parse::<Square>().is_ok()
}

/// A sentence of the attacker's view with colours and squares of the board.
pub(super) fn on_the_board(text: &str, specimen: &Specimen) -> String {
    let hit = &specimen.hit;
    let colour = |side: Color| side.fold_wb("white", "black");
    let by = hit.shift.map_or(0, |shift| shift.by(hit.view));
    let word = |word: &str| match (word, word.parse::<Square>()) {
        (_, Ok(square)) => {
            let file = square.file().offset(by.into()).unwrap_or(square.file());
            hit.view.turn(Square::from_coords(file, square.rank())).to_string()
        }
        ("attacker", _) => colour(hit.view.attacker).to_owned(),
        ("defender", _) => colour(hit.view.defender()).to_owned(),
        _ => word.to_owned(),
    };
    text.split(' ').map(word).collect::<Vec<_>>().join(" ")
}

/// Who offers what, and for what: `White offers a rook for a knight (2 pawns’ worth).`
fn offers(specimen: &Specimen, words: Words) -> String {
    let Specimen { steps, hit, .. } = specimen;
    let [man, taken] = [steps.moves[0].way.from, steps.moves[0].way.to]
        .map(|square| steps.start.board.role_at(square).map(word_of));
    let side = ("side", of_side(hit.view.attacker));
    let pawns = ("pawns", hit.offer.cost.into());
    match (man, taken) {
        (Some(man), Some(taken)) => {
            let men = [("man", man.into()), ("taken", taken.into())];
            words.tell_all("offers-for", [side, pawns].into_iter().chain(men))
        }
        (Some(man), None) => words.tell("offers", [side, pawns, ("man", man.into())]),
        (None, _) => words.tell("offers-worth", [side, pawns]),
    }
}

/// What is offered, and for what, in English: `a rook for a knight (2 pawns’ worth)`.
pub(super) fn given(specimen: &Specimen) -> String {
    let (board, way) = (&specimen.steps.start.board, specimen.steps.moves[0].way);
    let named = |square| board.role_at(square).map(|role| format!("a {}", word_of(role)));
    let worth = match specimen.hit.offer.cost {
        1 => "a pawn’s worth".to_owned(),
        pawns => format!("{pawns} pawns’ worth"),
    };
    match (named(way.from), named(way.to)) {
        (Some(man), Some(taken)) => format!("{man} for {taken} ({worth})"),
        (Some(man), None) => format!("{man} ({worth})"),
        (None, _) => worth,
    }
}

/// Moves as they are printed.
fn plies(steps: &[Step]) -> Vec<Value> {
    steps.iter().zip(1..).map(ply).collect()
}

/// A move with its number where one is printed.
fn ply((step, at): (&Step, usize)) -> Value {
    let number = match step.side {
        Color::White => Some(format!("{}.", step.number)),
        Color::Black if at == 1 => Some(format!("{}…", step.number)),
        Color::Black => None,
    };
    context! { at, number, san => &step.san }
}

/// The name of a side in messages.
fn side(color: Color) -> &'static str {
    color.fold_wb("white", "black")
}

/// With a true dash and a true half.
fn result(tag: &str) -> String {
    tag.replace("1/2", "½").replace('-', "–")
}
