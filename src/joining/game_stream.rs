//! The games with hits of a run, in the order of its sources: those in its tables, and in their places those that
//! were left out as duplicates.
//!
//! Invariant: every hit of the run comes once, with its game.

use std::collections::HashMap;

use crate::hits::{Layout, LeftOutGames, PlacedRow, PlacedRows, Run, VerdictRows};
use crate::tables::{Cell, TableTrouble};

/// A game with hits, on its way into the whole.
pub(super) struct StreamedGame {
    /// Its row of the table of games.
    pub(super) game: PlacedRow,
    /// Its hits, by query and in their order.
    pub(super) hits: Vec<StreamedHit>,
}

/// A hit of a game.
pub(super) struct StreamedHit {
    /// The index of the query that found it.
    pub(super) query: usize,
    /// Its row.
    pub(super) row: PlacedRow,
    /// The verdict on it, if it was verified.
    pub(super) verdict: Option<Vec<Cell<'static>>>,
}

/// The games with hits of a run.
pub(super) struct GameStream {
    /// The place of each source.
    places: HashMap<String, usize>,
    games: PlacedRows,
    left_out: LeftOutGames,
    hits: Vec<(PlacedRows, Option<VerdictRows>)>,
}

impl GameStream {
    pub(super) fn of(run: &Run, layouts: &[Layout]) -> Result<GameStream, TableTrouble> {
        let sources = run.manifest.sources.iter().enumerate();
        let queries = || run.manifest.queries.iter().map(|query| &*query.name).zip(layouts);
        let open = |(query, layout)| {
            let verdicts = run.verdict_rows(query)?.map(|(rows, _)| rows);
            Ok((run.hit_rows(query, layout)?, verdicts))
        };
        Ok(GameStream {
            places: sources.map(|(place, source)| (source.name.clone(), place)).collect(),
            games: run.game_rows()?,
            left_out: run.left_out_games(queries())?,
            hits: queries().map(open).collect::<Result<_, _>>()?,
        })
    }

    /// The next game.
    pub(super) fn next(&mut self) -> Result<Option<StreamedGame>, TableTrouble> {
        let places = &self.places;
        let place = |row: &PlacedRow| (places.get(&row.source).copied(), row.game);
        let kept = self.games.peek()?.map(place);
        let left_out = self.left_out.peek().map(place);
        match (kept, left_out) {
            (None, None) => self.end().map(|()| None),
            (Some(kept), Some(left_out)) if left_out < kept => self.next_left_out(),
            (None, Some(_)) => self.next_left_out(),
            (Some(_), _) => self.next_kept(),
        }
    }

    fn next_left_out(&mut self) -> Result<Option<StreamedGame>, TableTrouble> {
        let Some(found) = self.left_out.take()? else { return Ok(None) };
        let hit = |(query, row)| StreamedHit { query, row, verdict: None };
        let hits = found.hits.into_iter().map(hit).collect();
        Ok(Some(StreamedGame { game: found.game, hits }))
    }

    fn next_kept(&mut self) -> Result<Option<StreamedGame>, TableTrouble> {
        let Some(game) = self.games.take()? else { return Ok(None) };
        let mut hits = Vec::new();
        for (query, (rows, verdicts)) in self.hits.iter_mut().enumerate() {
            while let Some(row) = rows.take_of(&game.source, game.game)? {
                let verdict = verdicts.as_mut().map(|it| it.row_on(&row.id())).transpose()?;
                hits.push(StreamedHit { query, row, verdict });
            }
        }
        Ok(Some(StreamedGame { game, hits }))
    }

    /// Fails if there are hits of no game.
    fn end(&mut self) -> Result<(), TableTrouble> {
        for (rows, verdicts) in &mut self.hits {
            if let Some(row) = rows.peek()? {
                let message = format!("`{}` is in the table of no game in its place", row.id());
                return Err(rows.trouble(message));
            }
            if let Some(verdicts) = verdicts {
                verdicts.end()?;
            }
        }
        Ok(())
    }
}
