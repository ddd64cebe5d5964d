//! A game of the plan: its board and moves, and what its teacher says before it, at its moves and after it.

use std::sync::Arc;

use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use minijinja::{Value, context};

use super::address::{AddressWords, address, value};
use super::entry_names::nth_read;
use super::extracted::PlanSeen;
use super::opened::Opened;
use super::plan_shown::{game_of, state};
use crate::board::PrintedMove;
use crate::desk::Desk;
use crate::finding::HitChoice;
use crate::pages::{served_game, served_symbols};
use crate::plan::{GameSource, MoveName, PlannedGame};
use crate::teaching::{GameShown, LessonGame, Picked, WholeGame, is_called, shown};

/// A game of the plan.
pub(super) async fn game(
    State(opened): State<Arc<Opened>>,
    PlanSeen(now): PlanSeen,
    Query(words): Query<AddressWords>,
) -> Response {
    let none = || {
        let says = "The plan has no such game. It may have been dropped meanwhile.";
        opened.frame.told(StatusCode::NOT_FOUND, "There is no such game", says)
    };
    let Ok(plan) = &now.plan else { return none() };
    let (motif, entry) = (value(&words, "motif"), value(&words, "entry"));
    let Some((motif, entry)) = motif.zip(entry) else { return none() };
    let Some((name, query)) = nth_read::<GameSource>(entry).zip(opened.queries.get(motif)) else {
        return none();
    };
    let Some((_, planned)) = game_of(plan, motif, &name) else { return none() };
    let (opened_there, motif_there, planned_there) =
        (opened.clone(), motif.to_owned(), planned.clone());
    let found =
        tokio::task::spawn_blocking(move || found(&opened_there, &motif_there, &planned_there));
    let game = match found.await.unwrap_or_else(|error| Err(error.to_string())) {
        Ok(game) => game,
        Err(why) => return opened.frame.failed(&why),
    };
    let back = address("/plan/game", &[("motif", motif), ("entry", entry)], &HitChoice::default());
    let content = context! {
        title => opened.told_game(&name.name),
        here => "plan",
        motif,
        lesson => opened.title(motif),
        entry,
        back,
        is_merged => value(&words, "merged").is_some(),
        symbols => served_symbols(),
        game => served_game(&game, query, opened.letters),
        before => &planned.before,
        after => &planned.after,
        moves => moves(&game, planned),
    };
    opened.frame.page("plan-game.html", context! { ..content, ..state(&now) })
}

/// The game, with the words of the plan.
fn found(opened: &Opened, motif: &str, planned: &PlannedGame) -> Result<LessonGame, String> {
    let mut game = match &planned.source.value {
        GameSource::Hit(id) => {
            let mut picked = Picked::new([id.clone()]);
            opened.runs.pass(motif, &mut [&mut picked]).map_err(|error| format!("{error:#}"))?;
            let mut all = picked.into_found();
            all.retain(|one| is_called(&one.hit, id));
            all.truncate(1);
            let games = WholeGame::all(all, &opened.runs).map_err(|error| format!("{error:#}"))?;
            games.into_iter().next().map(shown).ok_or("these runs hold no such offer")?
        }
        GameSource::File(path, number) => {
            let plan = opened.plan.as_deref().ok_or("there is no plan")?;
            let desk = Desk::open(plan).map_err(|trouble| trouble.to_string())?;
            let own = desk.own_game(path, *number).map_err(|error| format!("{error:#}"))?;
            let game = GameShown::Own(Box::new(own));
            LessonGame { game, before: None, after: None }
        }
    };
    for at in &planned.at {
        if let Ok(index) = at.name.value.index_in(&game.tree().replay) {
            game.tree_mut().notes.entry(index).or_default().own = Some(at.words.clone());
        }
    }
    Ok(game)
}

/// The moves of the game with their names, and what is said at them.
fn moves(game: &LessonGame, planned: &PlannedGame) -> Vec<Value> {
    let name = |(index, one): (usize, &PrintedMove)| {
        let dots = one.side.fold_wb(".", "...");
        let name = format!("{}{dots}{}", one.number, one.san);
        let read = MoveName::read(&name);
        let said = planned.at.iter().find(|at| Some(&at.name.value) == read.as_ref());
        let is_offer = index == game.opened_at();
        context! { name, is_offer, text => said.map(|at| &at.words) }
    };
    game.tree().replay.in_print().iter().enumerate().map(name).collect()
}
