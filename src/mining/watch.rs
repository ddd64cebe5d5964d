//! Which follow-ups came after an offer.

use super::matcher::fits;
use crate::board::{Replay, captures_on, destination};
use crate::query::{Lens, MoveSentence, Requirement, Side, Window};

/// Looks for a lens's follow-ups in a game, offer after offer. No move is looked at twice for the same
/// sentence, however many offers there are.
#[derive(Clone, Debug)]
pub struct Watch<'a> {
    lens: &'a Lens,
    sights: Vec<Sight>,
    /// For each follow-up the moves that were looked at, and whether they fit.
    tried: Vec<Vec<Option<bool>>>,
}

impl<'a> Watch<'a> {
    /// Starts to watch a game.
    #[must_use]
    pub fn new(lens: &'a Lens) -> Watch<'a> {
        let count = lens.follow_ups.len();
        Watch { lens, sights: vec![Sight::default(); count], tried: vec![Vec::new(); count] }
    }

    /// The index of the first move after an offer that fits each follow-up in its window, in the query's
    /// order. Offers of a game are asked about in playing order.
    pub fn after(&mut self, replay: &Replay, offer: usize) -> Vec<Option<usize>> {
        (0..self.lens.follow_ups.len()).map(|index| self.first(index, replay, offer)).collect()
    }

    /// The index of the first move after an offer that fits a follow-up in its window.
    fn first(&mut self, follow_up: usize, replay: &Replay, offer: usize) -> Option<usize> {
        let sentence = &self.lens.follow_ups[follow_up];
        if sentence.is_same_man {
            return self.first_from(follow_up, replay, offer, offer + 1);
        }
        let end = replay.moves.len().min(window_end(sentence, offer));
        let (lens, tried) = (self.lens, &mut self.tried[follow_up]);
        let fits = |&index: &usize| tried_fits(tried, sentence, lens, replay, index);
        self.sights[follow_up].first(offer + 1, end, fits)
    }

    /// The index of the first move from an index on that fits a follow-up in its window after an offer.
    fn first_from(
        &mut self,
        follow_up: usize,
        replay: &Replay,
        offer: usize,
        from: usize,
    ) -> Option<usize> {
        let sentence = &self.lens.follow_ups[follow_up];
        let end = replay.moves.len().min(window_end(sentence, offer));
        let (lens, tried) = (self.lens, &mut self.tried[follow_up]);
        let fits = |&index: &usize| tried_fits(tried, sentence, lens, replay, index);
        if sentence.is_same_man {
            let moves = moves_of_same_man(replay, offer).take_while(|&index| index < end);
            moves.skip_while(|&index| index < from).find(fits)
        } else {
            (from..end).find(fits)
        }
    }

    /// Whether a query's requirements are met after an offer. Those that are told at once are asked first, and no
    /// follow-up is looked for that does not matter any more.
    pub(super) fn all_met<'r>(
        &mut self,
        requirements: impl Iterator<Item = &'r Requirement> + Clone,
        replay: &Replay,
        offer: usize,
    ) -> bool {
        let follow_ups = &self.lens.follow_ups;
        let is_quick = |requirement: &&Requirement| {
            requirement.first_ones().all(|index| follow_ups[index].window == Window::Within(1))
        };
        let (quick, slow) = (requirements.clone().filter(is_quick), requirements);
        quick.chain(slow).all(|requirement| self.is_met(requirement, replay, offer))
    }

    /// Whether a requirement is met after an offer.
    pub(super) fn is_met(
        &mut self,
        requirement: &Requirement,
        replay: &Replay,
        offer: usize,
    ) -> bool {
        match requirement {
            Requirement::StaysAway(follow_up) => self.first(*follow_up, replay, offer).is_none(),
            Requirement::Comes(rows) => rows.iter().any(|row| {
                let Some((&first, later)) = row.split_first() else { return false };
                let first = self.first(first, replay, offer);
                let next = |last: usize, &follow_up: &usize| {
                    self.first_from(follow_up, replay, offer, last + 1)
                };
                first.and_then(|first| later.iter().try_fold(first, next)).is_some()
            }),
        }
    }
}

/// Whether a move fits a sentence; it is looked at once.
fn tried_fits(
    tried: &mut Vec<Option<bool>>,
    sentence: &MoveSentence,
    lens: &Lens,
    replay: &Replay,
    index: usize,
) -> bool {
    if tried.len() <= index {
        tried.resize(replay.moves.len(), None);
    }
    *tried[index].get_or_insert_with(|| fits(sentence, lens.view, replay, index))
}

/// The indices of the moves that the very man makes that made an offer, until it is captured. (A rook
/// that has moved is never taken along by castling.)
fn moves_of_same_man(replay: &Replay, offer: usize) -> impl Iterator<Item = usize> + '_ {
    let mut at = destination(replay.moves[offer]);
    let step = move |index: usize| {
        let m = replay.moves[index];
        let is_own = (index - offer).is_multiple_of(2);
        if !is_own {
            return (!captures_on(m, at)).then_some(None);
        }
        if m.from() == Some(at) {
            at = destination(m);
            return Some(Some(index));
        }
        Some(None)
    };
    (offer + 1..replay.moves.len()).map_while(step).flatten()
}

/// The index after the last move that a follow-up of an offer can be. The defender moves next.
pub(super) fn window_end(sentence: &MoveSentence, offer: usize) -> usize {
    match (sentence.window, sentence.side) {
        (Window::Anytime, _) => usize::MAX,
        (Window::Within(moves), Side::Attacker) => offer + 2 * usize::from(moves) + 1,
        (Window::Within(moves), Side::Defender) => offer + 2 * usize::from(moves),
    }
}

/// How far a game was looked through for a sentence: of the moves before `end`, back to the last offer,
/// only `fitting` fits, if any does.
#[derive(Clone, Copy, Debug, Default)]
struct Sight {
    end: usize,
    fitting: Option<usize>,
}

impl Sight {
    /// The first index from `from` and before `end` that fits; `from` never goes back.
    fn first(
        &mut self,
        from: usize,
        end: usize,
        fits: impl FnMut(&usize) -> bool,
    ) -> Option<usize> {
        if self.fitting.is_none_or(|fitting| fitting < from) {
            self.fitting = (from.max(self.end)..end).find(fits);
            self.end = self.fitting.map_or(end.max(self.end), |fitting| fitting + 1);
        }
        self.fitting.filter(|&fitting| fitting < end)
    }
}
