//! A game as a lesson shows it: one out of the tables, or one that a teacher brings.

use shakmaty::Color;

use super::game_tree::GameTree;
use super::own_game::OwnGame;
use super::whole_game::WholeGame;

/// A game of a lesson.
#[derive(Clone, Debug)]
pub struct LessonGame {
    /// The game.
    pub game: GameShown,
    /// A teacher's words before it, marked up.
    pub before: Option<String>,
    /// A teacher's words after it, marked up.
    pub after: Option<String>,
}

/// Where a game is from.
#[derive(Clone, Debug)]
pub enum GameShown {
    /// The tables.
    Mined(Box<WholeGame>),
    /// A teacher's file.
    Own(Box<OwnGame>),
}

impl LessonGame {
    /// A game out of the tables, of which a teacher says nothing.
    #[must_use]
    pub fn mined(game: WholeGame) -> LessonGame {
        LessonGame { game: GameShown::Mined(Box::new(game)), before: None, after: None }
    }

    /// Its offer and moves, if it is out of the tables.
    #[must_use]
    pub fn as_mined(&self) -> Option<&WholeGame> {
        match &self.game {
            GameShown::Mined(game) => Some(game),
            GameShown::Own(_) => None,
        }
    }

    /// The same, to add what else could be replied.
    pub fn as_mined_mut(&mut self) -> Option<&mut WholeGame> {
        match &mut self.game {
            GameShown::Mined(game) => Some(game),
            GameShown::Own(_) => None,
        }
    }

    /// Its moves.
    #[must_use]
    pub fn tree(&self) -> &GameTree {
        match &self.game {
            GameShown::Mined(game) => &game.tree,
            GameShown::Own(game) => &game.tree,
        }
    }

    /// The same, to be said something about.
    pub fn tree_mut(&mut self) -> &mut GameTree {
        match &mut self.game {
            GameShown::Mined(game) => &mut game.tree,
            GameShown::Own(game) => &mut game.tree,
        }
    }

    /// How many moves were made before the position with which it opens.
    #[must_use]
    pub fn opened_at(&self) -> usize {
        match &self.game {
            GameShown::Mined(game) => game.offer,
            GameShown::Own(game) => game.opened_at,
        }
    }

    /// The side that it is seen from.
    #[must_use]
    pub fn bottom(&self) -> Color {
        match &self.game {
            GameShown::Mined(game) => game.specimen.hit.view.attacker,
            GameShown::Own(game) => game.bottom,
        }
    }
}
