//! What an offer is worth, and how that is known: all evidence on it, weighed.
//!
//! Proved beats judged, judged beats what the game's comments say, and that beats what was counted.

use super::evidence::Evidence;
use super::reasons::DrawnBy;
use super::rule::{LOSS, of_count, of_points};
use super::verdict::{Sound, Verdict};
use crate::engine::Points;
use crate::mining::Evaluation;

/// What is known of an offer besides what the searches found. Points are the attacker's.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Circumstances {
    /// The attacker's balance before the offer.
    pub balance_before: i32,
    /// What an engine says.
    pub judged: Option<Judged>,
    /// What the game's comments say before and after the offer.
    pub commented: Option<(Evaluation, Evaluation)>,
}

/// What the searches found.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Searched {
    /// The verdict.
    pub verdict: Verdict,
    /// Who can force a draw, if the verdict is a draw.
    pub drawn_by: Option<DrawnBy>,
    /// Whether another move mates, or mates sooner, by proof.
    pub has_better_mate: bool,
    /// Whether the offer is mated, and every other move as well, by proof.
    pub are_all_mated: bool,
}

/// What an engine expects.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Judged {
    /// After the offer.
    pub after: Points,
    /// Of the best other move; `None` if there is no other.
    pub best: Option<Points>,
}

/// What an offer is worth, and how that is known. Points are the attacker's.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct OfferWorth {
    /// Whether it is sound.
    pub sound: Sound,
    /// How that is known; `None` if and only if it is open.
    pub evidence: Option<Evidence>,
    /// What is expected before the offer: the best that could be had.
    pub before: Option<Points>,
    /// What is expected after it.
    pub after: Option<Points>,
    /// What is expected of the best other move.
    pub best: Option<Points>,
    /// Whether an engine's judgement and a proof can't both be true.
    pub contradicted: bool,
}

/// Figures that stand behind a judgement.
struct Figures {
    evidence: Evidence,
    before: Points,
    after: Points,
    best: Option<Points>,
}

impl Figures {
    /// The strongest figures that are known, with what the searches proved put in.
    fn of(searched: &Searched, known: &Circumstances) -> Option<Figures> {
        let of_engine = known.judged.map(|judged| Figures {
            evidence: Evidence::Judged,
            before: judged.best.unwrap_or(judged.after),
            after: judged.after,
            best: judged.best,
        });
        let of_game = known.commented.map(|(before, after)| Figures {
            evidence: Evidence::FromGame,
            before: Points::of_evaluation(before),
            after: Points::of_evaluation(after),
            best: None,
        });
        let mut figures = of_engine.or(of_game)?;
        figures.after = Proof::of(searched).map_or(figures.after, |proof| proof.put(figures.after));
        if known.judged.is_some_and(|judged| judged.best.is_none()) {
            figures.before = figures.after;
        }
        if searched.has_better_mate {
            (figures.before, figures.best) = (Points::ALL, Some(Points::ALL));
        }
        figures.before = figures.before.max(figures.after);
        Some(figures)
    }
}

/// What a proof says of the points.
enum Proof {
    Exactly(Points),
    AtLeast(Points),
    AtMost(Points),
}

impl Proof {
    fn of(searched: &Searched) -> Option<Proof> {
        match searched.verdict {
            Verdict::Mates(_) => Some(Proof::Exactly(Points::ALL)),
            Verdict::Mated(_) => Some(Proof::Exactly(Points::NONE)),
            // Who can draw may have better.
            Verdict::Draws if searched.is_escape() => Some(Proof::AtMost(Points::HALF)),
            Verdict::Draws => Some(Proof::AtLeast(Points::HALF)),
            Verdict::Gains(_) | Verdict::Level | Verdict::Down(_) | Verdict::Open => None,
        }
    }

    /// What others say, as far as the proof allows.
    fn put(&self, said: Points) -> Points {
        match self {
            Proof::Exactly(points) => *points,
            Proof::AtLeast(points) => said.max(*points),
            Proof::AtMost(points) => said.min(*points),
        }
    }

    /// Whether what others say is off by as much as makes an offer unsound.
    fn contradicts(&self, said: Points) -> bool {
        let allowed = self.put(said);
        allowed.over(said).max(said.over(allowed)) >= LOSS
    }
}

impl Searched {
    /// Whether the defender escapes with a draw.
    fn is_escape(&self) -> bool {
        self.drawn_by == Some(DrawnBy::Defender)
    }
}

impl OfferWorth {
    /// Nothing is known.
    pub const UNKNOWN: OfferWorth = OfferWorth {
        sound: Sound::Open,
        evidence: None,
        before: None,
        after: None,
        best: None,
        contradicted: false,
    };

    /// The offer is mated, and every other move as well, by proof.
    pub const ALL_MATED: OfferWorth = OfferWorth {
        sound: Sound::LastTry,
        evidence: Some(Evidence::Proved),
        before: Some(Points::NONE),
        after: Some(Points::NONE),
        best: Some(Points::NONE),
        contradicted: false,
    };

    /// The offer is mated, and there is no other move.
    pub const ONLY_MOVE_MATED: OfferWorth = OfferWorth { best: None, ..OfferWorth::ALL_MATED };

    /// Whether the offer is mated, and every other move as well, by proof.
    #[must_use]
    pub fn are_all_mated(&self) -> bool {
        (self.sound, self.evidence) == (Sound::LastTry, Some(Evidence::Proved))
    }

    /// Weighs all that is known of an offer.
    #[must_use]
    pub fn of(searched: &Searched, known: &Circumstances) -> OfferWorth {
        let figures = Figures::of(searched, known);
        let (sound, evidence) = weighed(searched, figures.as_ref(), known);
        let proof = Proof::of(searched);
        let judged = known.judged.map(|judged| judged.after);
        let contradicted =
            proof.as_ref().zip(judged).is_some_and(|(it, said)| it.contradicts(said));
        if searched.are_all_mated {
            let of_best = known.judged.and_then(|judged| judged.best);
            let contradicted = contradicted || of_best.is_some_and(|best| best >= LOSS);
            return OfferWorth { contradicted, ..OfferWorth::ALL_MATED };
        }
        let mate = searched.has_better_mate.then_some(Points::ALL);
        let worth =
            OfferWorth { sound, evidence, before: mate, after: None, best: mate, contradicted };
        match (figures, proof) {
            (_, Some(Proof::Exactly(Points::ALL))) => {
                OfferWorth { before: Some(Points::ALL), after: Some(Points::ALL), ..worth }
            }
            (Some(Figures { before, after, best, .. }), _) => {
                OfferWorth { before: Some(before), after: Some(after), best, ..worth }
            }
            (None, Some(Proof::Exactly(after))) => OfferWorth { after: Some(after), ..worth },
            (None, _) => worth,
        }
    }

    /// What the offer throws away against the best that could be had.
    #[must_use]
    pub fn loss(&self) -> Option<Points> {
        Some(self.before?.over(self.after?))
    }

    /// What an engine or the game's comments say of the offer, if that is what is known of it.
    #[must_use]
    pub fn said(&self) -> Option<Sound> {
        let is_said = matches!(self.evidence?, Evidence::Judged | Evidence::FromGame);
        is_said.then_some(self.sound)
    }

    /// Whether this may be what is said of an offer with that verdict.
    pub(super) fn fits(&self, verdict: Verdict) -> bool {
        let by_rule = self.before.zip(self.after).map(|(before, after)| of_points(before, after));
        match self.evidence {
            None => self.sound == Sound::Open,
            Some(Evidence::Judged | Evidence::FromGame) => by_rule == Some(self.sound),
            Some(Evidence::Counted) => {
                matches!(verdict, Verdict::Gains(_)) && self.sound == Sound::Yes
            }
            Some(Evidence::Proved) => match self.sound {
                Sound::Yes => matches!(verdict, Verdict::Mates(_)),
                Sound::Holds => verdict == Verdict::Draws,
                Sound::No => matches!(verdict, Verdict::Mated(_) | Verdict::Draws),
                Sound::LastTry => {
                    let is_none = |points: Option<Points>| points == Some(Points::NONE);
                    matches!(verdict, Verdict::Mated(_))
                        && is_none(self.before)
                        && is_none(self.after)
                        && self.best.is_none_or(|best| best == Points::NONE)
                }
                Sound::Open => false,
            },
        }
    }
}

/// Whether an offer is sound, and how that is known.
fn weighed(
    searched: &Searched,
    figures: Option<&Figures>,
    known: &Circumstances,
) -> (Sound, Option<Evidence>) {
    let Searched { verdict, has_better_mate, .. } = *searched;
    let is_held = verdict == Verdict::Draws && !searched.is_escape();
    let by_rule = figures.map(|it| (of_points(it.before, it.after), it.evidence));
    let (sound, evidence) = match (verdict, by_rule) {
        (Verdict::Mates(_), _) => (Sound::Yes, Evidence::Proved),
        (Verdict::Mated(_), Some((Sound::LastTry, evidence))) => (Sound::LastTry, evidence),
        (Verdict::Mated(_), _) => (Sound::No, Evidence::Proved),
        (Verdict::Draws, _) if has_better_mate => (Sound::No, Evidence::Proved),
        (_, None | Some((Sound::Holds, _))) if is_held => (Sound::Holds, Evidence::Proved),
        (_, Some(by_rule)) => by_rule,
        // Whatever a count sees, it is not known what the mate that was missed leaves of it.
        (_, None) if has_better_mate => return (Sound::Open, None),
        (_, None) => match of_count(verdict, known.balance_before) {
            Sound::Open => return (Sound::Open, None),
            sound => (sound, Evidence::Counted),
        },
    };
    (sound, Some(evidence))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn judged(after: u8, best: u8) -> Circumstances {
        let judged = Judged { after: Points::of(after), best: Some(Points::of(best)) };
        Circumstances { judged: Some(judged), ..Circumstances::default() }
    }

    /// What a search found where the attacker draws if anybody does.
    fn found(verdict: Verdict) -> Searched {
        let drawn_by = (verdict == Verdict::Draws).then_some(DrawnBy::Attacker);
        Searched { verdict, drawn_by, has_better_mate: false, are_all_mated: false }
    }

    fn with_better_mate(verdict: Verdict) -> Searched {
        Searched { has_better_mate: true, ..found(verdict) }
    }

    fn said(verdict: Verdict, known: &Circumstances) -> (Sound, Option<Evidence>, bool) {
        let worth = OfferWorth::of(&found(verdict), known);
        assert!(worth.fits(verdict), "{verdict} {worth:?}");
        (worth.sound, worth.evidence, worth.contradicted)
    }

    #[test]
    fn proofs_beat_judgements_and_contradictions_are_kept() {
        let proved = Some(Evidence::Proved);
        let nothing = Circumstances::default();
        assert_eq!(said(Verdict::Mates(5), &nothing), (Sound::Yes, proved, false));
        assert_eq!(said(Verdict::Mates(5), &judged(91, 20)), (Sound::Yes, proved, false));
        assert_eq!(said(Verdict::Mates(5), &judged(90, 20)), (Sound::Yes, proved, true));
        assert_eq!(said(Verdict::Mated(3), &nothing), (Sound::No, proved, false));
        assert_eq!(said(Verdict::Mated(3), &judged(0, 25)), (Sound::No, proved, false));
        assert_eq!(said(Verdict::Mated(3), &judged(60, 50)), (Sound::No, proved, true));
        let judged_last = (Sound::LastTry, Some(Evidence::Judged), false);
        assert_eq!(said(Verdict::Mated(3), &judged(0, 24)), judged_last);
        assert_eq!(said(Verdict::Draws, &nothing), (Sound::Holds, proved, false));
        assert_eq!(said(Verdict::Draws, &judged(50, 59)), (Sound::Holds, proved, false));
        assert_eq!(said(Verdict::Draws, &judged(30, 10)), (Sound::Holds, proved, true));
    }

    #[test]
    fn offer_that_is_mated_like_every_other_move_is_a_last_try_by_proof() {
        let searched = Searched { are_all_mated: true, ..found(Verdict::Mated(3)) };
        for (known, contradicted) in [
            (Circumstances::default(), false),
            (judged(9, 9), false),
            (judged(0, 10), true),
            (judged(30, 0), true),
        ] {
            let worth = OfferWorth::of(&searched, &known);
            assert_eq!(worth, OfferWorth { contradicted, ..OfferWorth::ALL_MATED });
            assert!(worth.fits(Verdict::Mated(3)) && !worth.fits(Verdict::Draws));
        }
    }

    #[test]
    fn draw_by_force_is_not_sound_where_more_could_be_had() {
        let by_engine = Some(Evidence::Judged);
        assert_eq!(said(Verdict::Draws, &judged(50, 60)), (Sound::No, by_engine, false));
        assert_eq!(said(Verdict::Draws, &judged(75, 60)), (Sound::Yes, by_engine, false));
        let worth = OfferWorth::of(&with_better_mate(Verdict::Draws), &Circumstances::default());
        assert_eq!((worth.sound, worth.evidence), (Sound::No, Some(Evidence::Proved)));
    }

    #[test]
    fn draw_that_the_defender_forces_promises_nothing_to_the_attacker() {
        let escape = |known: &Circumstances| {
            let drawn_by = Some(DrawnBy::Defender);
            let worth = OfferWorth::of(&Searched { drawn_by, ..found(Verdict::Draws) }, known);
            assert!(worth.fits(Verdict::Draws), "{worth:?}");
            (worth.sound, worth.evidence, worth.contradicted)
        };
        let by_engine = Some(Evidence::Judged);
        assert_eq!(escape(&Circumstances::default()), (Sound::Open, None, false));
        // The defender may have better than a draw.
        assert_eq!(escape(&judged(5, 0)), (Sound::LastTry, by_engine, false));
        assert_eq!(escape(&judged(5, 40)), (Sound::No, by_engine, false));
        assert_eq!(escape(&judged(50, 40)), (Sound::Holds, by_engine, false));
        // The attacker has not.
        assert_eq!(escape(&judged(59, 40)), (Sound::Holds, by_engine, false));
        assert_eq!(escape(&judged(60, 40)), (Sound::Holds, by_engine, true));
        let only = Judged { after: Points::of(80), best: None };
        let only = Circumstances { judged: Some(only), ..Circumstances::default() };
        assert_eq!(escape(&only), (Sound::Holds, by_engine, true));
    }

    #[test]
    fn judgement_beats_the_game_and_the_game_beats_counts() {
        let after = Evaluation::Centipawns(-300);
        let commented = Some((Evaluation::Centipawns(0), after));
        let balance_before = 1;
        let from_game = Circumstances { commented, balance_before, judged: None };
        let found = said(Verdict::Gains(3), &from_game);
        assert_eq!(found, (Sound::No, Some(Evidence::FromGame), false));
        let both = Circumstances { commented, balance_before, ..judged(70, 60) };
        assert_eq!(said(Verdict::Gains(3), &both), (Sound::Yes, Some(Evidence::Judged), false));
        let counted = Circumstances { balance_before, ..Circumstances::default() };
        assert_eq!(said(Verdict::Gains(3), &counted), (Sound::Yes, Some(Evidence::Counted), false));
        assert_eq!(said(Verdict::Down(3), &counted), (Sound::Open, None, false));
        assert_eq!(said(Verdict::Down(3), &both), (Sound::Yes, Some(Evidence::Judged), false));
        let missed = OfferWorth::of(&with_better_mate(Verdict::Gains(3)), &counted);
        assert_eq!((missed.sound, missed.best), (Sound::Open, Some(Points::ALL)));
    }

    #[test]
    fn only_move_loses_nothing() {
        let only = Judged { after: Points::of(40), best: None };
        let worth = OfferWorth::of(
            &found(Verdict::Open),
            &Circumstances { judged: Some(only), ..Circumstances::default() },
        );
        assert_eq!((worth.sound, worth.loss()), (Sound::Holds, Some(Points::NONE)));
        let loss = OfferWorth::of(&found(Verdict::Open), &judged(40, 70)).loss();
        assert_eq!(loss, Some(Points::of(30)));
    }
}
