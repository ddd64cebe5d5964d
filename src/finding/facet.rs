//! What hits are chosen by, and the words for its values.

use shakmaty::Color;

use crate::board::SacrificeKind;
use crate::collection::year_of;
use crate::hits::{Evidence, JudgedHit, Sound};
use crate::query::Chapter;

/// Something that hits are chosen by. Each hit has one value of each.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Facet {
    /// The query that found it.
    Motif,
    /// The man that its query is about.
    Chapter,
    /// Whether the offer was made.
    Course,
    /// The kind of sacrifice, as the game went.
    Kind,
    /// Whether the offer is sound.
    Verdict,
    /// How that is known.
    Evidence,
    /// Who offers.
    Side,
    /// How the defender answered.
    Reply,
    /// Where the king went that took, in the attacker's view.
    King,
    /// How the game ended for the attacker.
    Result,
    /// The year of the game.
    Year,
    /// The band of the mean rating.
    Level,
    /// The letter of the opening (ECO).
    Opening,
}

/// The word where nothing is known.
pub(super) const UNKNOWN: &str = "unknown";

impl Facet {
    /// Every facet, in the order in which they are shown.
    pub const ALL: [Facet; 13] = [
        Facet::Motif,
        Facet::Chapter,
        Facet::Course,
        Facet::Kind,
        Facet::Verdict,
        Facet::Evidence,
        Facet::Side,
        Facet::Reply,
        Facet::King,
        Facet::Result,
        Facet::Year,
        Facet::Level,
        Facet::Opening,
    ];

    /// The word for it in addresses.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Facet::Motif => "motif",
            Facet::Chapter => "chapter",
            Facet::Course => "course",
            Facet::Kind => "kind",
            Facet::Verdict => "verdict",
            Facet::Evidence => "evidence",
            Facet::Side => "side",
            Facet::Reply => "reply",
            Facet::King => "king",
            Facet::Result => "result",
            Facet::Year => "year",
            Facet::Level => "level",
            Facet::Opening => "opening",
        }
    }

    /// The facet that a word stands for.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Facet> {
        Facet::ALL.into_iter().find(|facet| facet.word() == word)
    }

    /// The values that are known before any hit is, in the order in which they are shown; none where they depend on
    /// the hits.
    pub(super) fn values(self) -> Vec<&'static str> {
        match self {
            Facet::Chapter => Chapter::ALL.map(Chapter::word).to_vec(),
            Facet::Course => vec![PLAYED, OVERLOOKED],
            Facet::Kind => SacrificeKind::ALL.map(SacrificeKind::word).to_vec(),
            Facet::Verdict => Sound::ALL.map(Sound::word).to_vec(),
            Facet::Evidence => Evidence::ALL.map(Evidence::word).to_vec(),
            Facet::Side => vec![WHITE, BLACK],
            Facet::Reply => vec![ACCEPTED, DECLINED],
            Facet::Result => vec![WON, DRAWN, LOST],
            Facet::Opening => OPENINGS.to_vec(),
            Facet::Motif | Facet::King | Facet::Year | Facet::Level => Vec::new(),
        }
    }
}

pub(super) const PLAYED: &str = "played";
pub(super) const OVERLOOKED: &str = "overlooked";
pub(super) const WHITE: &str = "white";
pub(super) const BLACK: &str = "black";
pub(super) const ACCEPTED: &str = "accepted";
pub(super) const DECLINED: &str = "declined";
pub(super) const WON: &str = "won";
pub(super) const DRAWN: &str = "drawn";
pub(super) const LOST: &str = "lost";
/// The volumes of the Encyclopaedia of Chess Openings.
const OPENINGS: [&str; 5] = ["A", "B", "C", "D", "E"];

/// The value of a hit, in a word that is known; [`UNKNOWN`] if there is none. `write` gets those that are not known.
pub(super) fn known_value(facet: Facet, hit: &JudgedHit) -> &'static str {
    let verdict = hit.verdict.as_ref();
    let word = match facet {
        Facet::Course => Some(if hit.is_played() { PLAYED } else { OVERLOOKED }),
        Facet::Kind => hit.offer.kind.map(SacrificeKind::word),
        Facet::Verdict => verdict.map(|verdict| verdict.sound().word()),
        Facet::Evidence => verdict.and_then(|it| it.worth.evidence).map(Evidence::word),
        Facet::Side => Some(if hit.view.attacker == Color::White { WHITE } else { BLACK }),
        Facet::Reply => hit.is_accepted().map(|took| if took { ACCEPTED } else { DECLINED }),
        Facet::Result => hit.half_points().map(|halves| match halves {
            2 => WON,
            1 => DRAWN,
            _ => LOST,
        }),
        Facet::Opening => {
            let letter = hit.game.eco.get(..1);
            letter.and_then(|letter| OPENINGS.into_iter().find(|&known| known == letter))
        }
        Facet::Motif | Facet::Chapter | Facet::King | Facet::Year | Facet::Level => None,
    };
    word.unwrap_or(UNKNOWN)
}

/// The value of a hit where values depend on the hits: a number that stands for it, and what writes it as a word.
pub(super) fn open_value(facet: Facet, hit: &JudgedHit) -> Option<(u16, String)> {
    let number = |number: u16| (number, number.to_string());
    match facet {
        Facet::King => {
            hit.king_goes.map(|square| (u16::from(u8::from(square)), square.to_string()))
        }
        Facet::Year => year_of(hit.game.date.as_bytes()).map(number),
        Facet::Level => hit.band().map(number),
        _ => None,
    }
}
