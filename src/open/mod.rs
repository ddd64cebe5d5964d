//! A run on the screen: pages that are served to this machine alone, to find hits and look at them.
//!
//! ```text
//! request ──> door ──> router ──> a page's own file ──> frame ──> page
//!           (who may)  (which)    (find, ...)         (its look)
//! ```
//!
//! Invariant: nothing of a request reaches the file system; every text of a game is escaped by the templates; nothing
//! on a page is fetched from elsewhere. A new page is a file here, a template, and a line in `router.rs`.

// Numbers that nobody can guess.
mod secret;
// What all pages have in common.
mod frame;
// Who gets in.
mod door;
// A question that is being worked on.
mod asking;
// An own motif tried on the collection.
mod motif_trial;
// What the pages work on.
mod opened;
// Each request before it.
mod guard;
// Style and scripts.
mod files;
// What facets and their values are called.
mod words;
// The words of addresses.
mod address;
// What pages begin with.
mod extracted;
// Hits kept for lessons.
mod keeping;
// The list of hits.
mod find;
// What takes long, and who waits for it.
mod ticket;
mod waiting;
mod workshop;
// The plan: how forms name its entries, what they ask for, and its page.
mod entry_names;
mod plan_form;
mod plan_form_sheets;
mod plan_page;
mod plan_shown;
mod sheet_form;
// A game of the plan, to be written about.
mod game_words;
// Lessons and sheets as they will be.
mod see;
mod seen_way;
// A hit and its game.
mod looked_at;
// The page of a hit.
mod look;
// What a position is worth.
mod weighing;
mod worth;
// Own motifs: their form, what is told of them, their page.
mod motif_board;
mod motif_form;
mod motif_told;
mod motifs;
// How often and how well.
mod numbers;
// Which page is where.
mod router;
// What listens.
mod server;

pub use address::{AddressWords, address, choice_of, value};
pub use asking::{Asking, OneAsking};
pub use door::Door;
pub use frame::Frame;
pub use looked_at::{LookedAt, WhatIfs};
pub use motif_trial::TrialSoFar;
pub use opened::{AskWhatIf, HowFar, Opened};
pub use router::router;
pub use server::{listen, serve};
pub use ticket::Ticket;
pub use workshop::{LessonFormat, Proposals, Work, WorkOrder, WorkOrdered, Workshop};
