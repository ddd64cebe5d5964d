//! The game of a hit as it is looked at: whole, opened at the offer.

use std::collections::BTreeSet;

use super::opened::Opened;
use crate::board::{Replay, legal_move, read_position};
use crate::finding::{FoundHits, Sought};
use crate::hits::{HitPlace, JudgedHit};
use crate::mining::{GameId, GameText};
use crate::teaching::{
    GameShown, GameTree, LessonGame, Note, OwnGame, Specimen, Variation, WholeGame, shown,
};

/// A hit and its game.
pub struct LookedAt {
    /// The hit.
    pub hit: JudgedHit,
    /// The offer played out, if it was made.
    pub specimen: Option<Specimen>,
    /// The game; an offer that was overlooked branches off it.
    pub game: LessonGame,
}

/// What is asked besides the game itself.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum WhatIfs {
    /// Nothing.
    Unasked,
    /// What else could have been replied.
    Asked,
}

impl LookedAt {
    /// Takes a hit and its game from the tables; nothing if there is no such hit.
    ///
    /// # Errors
    ///
    /// What is wrong with a table, in words.
    pub fn of(
        opened: &Opened,
        (query, id): (&str, &str),
        near: Option<HitPlace>,
        what_ifs: WhatIfs,
    ) -> Result<Option<LookedAt>, String> {
        let Some(hit) = found(opened, (query, id), near)? else { return Ok(None) };
        let text = game(opened, hit.game.id)?;
        let looked_at = match hit.is_played() {
            true => LookedAt::played(opened, hit, &text, what_ifs),
            false => LookedAt::overlooked(hit, &text),
        };
        looked_at.map(Some)
    }

    fn played(
        opened: &Opened,
        hit: JudgedHit,
        text: &GameText,
        what_ifs: WhatIfs,
    ) -> Result<LookedAt, String> {
        let specimen = Specimen::of_any(&hit)
            .map_err(|_| "the moves of this hit can’t be played".to_owned())?;
        let whole = WholeGame::of(specimen.clone(), text);
        let mut whole = whole.map_err(|error| error.to_string())?;
        if what_ifs == WhatIfs::Asked {
            (opened.ask_what_if)(&mut whole)?;
        }
        Ok(LookedAt { hit, specimen: Some(specimen), game: shown(whole) })
    }

    /// The game with the move that was overlooked beside the one that was made instead.
    fn overlooked(hit: JudgedHit, text: &GameText) -> Result<LookedAt, String> {
        let start = match &*text.start {
            "" => shakmaty::Chess::default(),
            fen => read_position(fen).map_err(|fault| fault.to_string())?,
        };
        let replay = Replay::read(&start, &text.moves);
        let replay = replay.map_err(|san| format!("`{san}` can't be played there"))?;
        let opened_at = hit.offer.ply - 1;
        let offer = replay.positions.get(opened_at).and_then(|pos| legal_move(pos, &hit.offer.san));
        let offer = offer.ok_or("the offer can't be made in its game")?;
        let mut missed = GameTree::of_line(&replay.positions[opened_at], &[offer]);
        let comment = Some("The offer that was overlooked.".to_owned());
        missed.notes.insert(0, Note { comment, ..Note::default() });
        let mut tree = GameTree::of(replay);
        tree.branches.push(Variation { at: opened_at, tree: missed, known: None });
        let (info, bottom, intro) = (hit.game.clone(), hit.view.attacker, None);
        let own = OwnGame { info, tree, intro, opened_at, bottom };
        let game = LessonGame { game: GameShown::Own(Box::new(own)), before: None, after: None };
        Ok(LookedAt { hit, specimen: None, game })
    }
}

/// The hit of an id: near a place, or else wherever it is.
fn found(
    opened: &Opened,
    (query, id): (&str, &str),
    near: Option<HitPlace>,
) -> Result<Option<JudgedHit>, String> {
    if let Some(near) = near
        && let Ok(Some(hit)) = opened.runs.hit_from((query, id), near, MOST_ROWS, opened.since)
    {
        return Ok(Some(hit));
    }
    let mut sought = Sought::of(id);
    let passed = opened.runs.pass(query, &mut [&mut sought]);
    passed.map_err(|trouble| trouble.to_string())?;
    Ok(sought.found())
}

/// The text of a game: from its place if that is known, or else from wherever it is.
fn game(opened: &Opened, id: GameId) -> Result<GameText, String> {
    if let Some(place) = opened.game_places.get().and_then(|places| places.of(id))
        && let Ok(Some(text)) = opened.runs.game_from(id, place, opened.since)
    {
        return Ok(text);
    }
    let mut texts =
        opened.runs.games(&BTreeSet::from([id])).map_err(|trouble| trouble.to_string())?;
    texts.remove(&id).ok_or_else(|| "no run holds this game".to_owned())
}

/// How many rows are read before a hit is looked for from the start of its table: rows that were left out may stand
/// between.
const MOST_ROWS: usize = 8 * FoundHits::MARK_EVERY;
