//! Which follow-ups came after an offer.

use super::matcher::fits;
use crate::board::Replay;
use crate::query::{Lens, MoveSentence, Side, Window};

/// Looks for a lens's follow-ups in a game, offer after offer. No move is looked at twice for the same
/// sentence, however many offers there are.
#[derive(Clone, Debug)]
pub struct Watch<'a> {
    lens: &'a Lens,
    sights: Vec<Sight>,
}

impl<'a> Watch<'a> {
    /// Starts to watch a game.
    #[must_use]
    pub fn new(lens: &'a Lens) -> Watch<'a> {
        Watch { lens, sights: vec![Sight::default(); lens.follow_ups.len()] }
    }

    /// The index of the first move after an offer that fits each follow-up in its window, in the query's
    /// order. Offers of a game are asked about in playing order.
    pub fn after(&mut self, replay: &Replay, offer: usize) -> Vec<Option<usize>> {
        let sights = self.lens.follow_ups.iter().zip(&mut self.sights);
        let first = |(sentence, sight): (&MoveSentence, &mut Sight)| {
            let end = replay.moves.len().min(window_end(sentence, offer));
            sight.first(offer + 1, end, |&index| fits(sentence, self.lens.view, replay, index))
        };
        sights.map(first).collect()
    }
}

/// The index after the last move that a follow-up of an offer can be. The defender moves next.
fn window_end(sentence: &MoveSentence, offer: usize) -> usize {
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
