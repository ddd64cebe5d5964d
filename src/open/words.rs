//! What facets and their values are called on pages.

use super::opened::Opened;
use crate::finding::Facet;

/// What a facet is called.
pub(super) fn facet_title(facet: Facet) -> &'static str {
    match facet {
        Facet::Motif => "Motif",
        Facet::Chapter => "Chapter",
        Facet::Course => "The offer was",
        Facet::Kind => "Kind",
        Facet::Verdict => "Verdict",
        Facet::Evidence => "Evidence",
        Facet::Side => "Attacker",
        Facet::Reply => "Answer",
        Facet::King => "The king goes to",
        Facet::Result => "The attacker",
        Facet::Year => "Year",
        Facet::Level => "Level",
        Facet::Opening => "Opening",
    }
}

/// How many of so many values are shown before the others are unfolded: about this many. One or two are not worth it.
pub(super) fn shown_at_once(values: usize, about: usize) -> usize {
    if values > about + 2 { about } else { values }
}

/// What a value of a facet is called.
pub(super) fn value_title(opened: &Opened, facet: Facet, value: &str) -> String {
    let band = |low: &str| low.parse::<u32>().map(|low| format!("{low} to {}", low + 199));
    match (facet, value) {
        (Facet::Evidence, "unknown") => "none".to_owned(),
        (Facet::Verdict, "unknown") => "not verified".to_owned(),
        (Facet::Reply, "unknown") => "no reply".to_owned(),
        (Facet::King, "unknown") => "nowhere".to_owned(),
        (Facet::Result, "unknown") => "no result".to_owned(),
        (_, "unknown") => "not known".to_owned(),
        (Facet::Motif, name) => opened.title(name).replace('\'', "’"),
        (Facet::Verdict, "yes") => "sound".to_owned(),
        (Facet::Verdict, "no") => "not sound".to_owned(),
        (Facet::Chapter, "any") => "any man".to_owned(),
        (Facet::Side, "white") => "White".to_owned(),
        (Facet::Side, "black") => "Black".to_owned(),
        (Facet::Result, "drawn") => "drew".to_owned(),
        (Facet::Level, low) => band(low).unwrap_or_else(|_| low.to_owned()),
        (_, value) => value.to_owned(),
    }
}
