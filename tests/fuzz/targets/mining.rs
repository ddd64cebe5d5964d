//! Gates lose no hit, the size of blocks changes nothing, and looking for what was overlooked changes
//! nothing in what was played.

#![no_main]

use std::sync::LazyLock;

use hecatomb::collection::{Block, ByteOffset, Cutter};
use hecatomb::mining::{BlockReport, Hit, Miner, Scrutiny, Selection};
use hecatomb::query::{Library, Pattern};
use libfuzzer_sys::fuzz_target;

static PATTERNS: LazyLock<Vec<Pattern>> = LazyLock::new(|| {
    let mut library = Library::new();
    library.add_built_in();
    let queries = library.queries().expect("the built-in queries are sound");
    queries.into_iter().map(Pattern::new).collect()
});

static SELECTION: LazyLock<Selection> = LazyLock::new(Selection::default);

fn miner(audit: bool, overlooked: bool) -> Miner<'static> {
    Miner::new(&PATTERNS, &SELECTION, Scrutiny { audit, overlooked })
}

static GATED: LazyLock<Miner<'static>> = LazyLock::new(|| miner(false, false));
static OPEN: LazyLock<Miner<'static>> = LazyLock::new(|| miner(true, false));
static LOOKOUT: LazyLock<Miner<'static>> = LazyLock::new(|| miner(true, true));

/// The report of a whole text, cut into blocks of this size.
fn report(miner: &Miner<'_>, text: &[u8], block_size: usize) -> BlockReport {
    let mut cutter = Cutter::from(ByteOffset(0), text, block_size);
    let mut whole = BlockReport::default();
    while let Some(block) = cutter.next_block(Vec::new()).expect("the input never fails") {
        add(&mut whole, miner, &block);
    }
    whole
}

fn add(whole: &mut BlockReport, miner: &Miner<'_>, block: &Block) {
    let mut report = miner.mine(block, u64::MAX);
    report.renumber(whole.games);
    whole.games += report.games;
    whole.left_out += report.left_out;
    whole.passed_text += report.passed_text;
    whole.replayed += report.replayed;
    whole.mined.append(&mut report.mined);
    whole.rejects.append(&mut report.rejects);
    whole.base.merge(&report.base);
}

/// The hits that were played, by game.
fn played(report: &BlockReport) -> Vec<(u64, Vec<&Hit>)> {
    report
        .mined
        .iter()
        .map(|game| {
            let hits = game.hits.iter().filter(|hit| hit.offer.played().is_some());
            (game.info.number.0, hits.collect::<Vec<_>>())
        })
        .filter(|(_, hits)| !hits.is_empty())
        .collect()
}

fuzz_target!(|input: (u16, &[u8])| {
    let (block_size, text) = input;
    let gated = report(&GATED, text, text.len() + 1);
    assert_eq!(gated, report(&GATED, text, usize::from(block_size)));
    let open = report(&OPEN, text, text.len() + 1);
    assert_eq!(gated.mined, open.mined);
    assert_eq!(gated.games, open.games);
    assert!(gated.rejects.iter().all(|reject| open.rejects.contains(reject)));
    let lookout = report(&LOOKOUT, text, text.len() + 1);
    assert_eq!(played(&open), played(&lookout));
    assert_eq!(open.rejects, lookout.rejects);
    assert_eq!(open.base, lookout.base);
});
