//! What a hit is known by, in this run and in any other: its game, its ply and its query. An overlooked offer also its move,
//! since another may have been made on that ply.

use crate::mining::GameId;

/// The id of a hit; `overlooked` is the move of an overlooked offer, in SAN.
#[must_use]
pub fn id_of(game: GameId, ply: usize, query: &str, overlooked: Option<&str>) -> String {
    let mut number = itoa::Buffer::new();
    let played = [&*game.to_string(), number.format(ply), query].join(":");
    match overlooked {
        Some(san) => [&*played, san].join(":"),
        None => played,
    }
}

/// The game in the id of a hit.
#[must_use]
pub fn game_in(id: &str) -> Option<GameId> {
    id.split(':').next()?.parse().ok()
}

/// The query in the id of a hit.
#[must_use]
pub fn query_in(id: &str) -> Option<&str> {
    id.split(':').nth(2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_tell_what_they_are_made_of() {
        let game = GameId::default();
        for overlooked in [None, Some("Nf6+")] {
            let id = id_of(game, 31, "knight-fork", overlooked);
            assert_eq!((game_in(&id), query_in(&id)), (Some(game), Some("knight-fork")), "{id}");
        }
        assert_eq!((game_in("none"), query_in("none")), (None, None));
    }
}
