//! The hits of all queries read into memory, as many queries at a time as there are threads.

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::commands::runs::Mined;
use crate::finding::{FoundHits, Gathering, MotifTold};
use crate::hits::{LeftOut, PassTrouble};
use crate::open::Opened;
use crate::query::{Library, Query};
use crate::terminal::{Bar, Terminal, counted};
use crate::work::in_order;

/// The queries of the runs that are known here, by name; others have no title.
pub(super) fn queries_known(mined: &Mined) -> BTreeMap<String, Query> {
    let of_name = |name: &str| {
        let mut library = Library::new();
        mined.add_query(name, &mut library).then_some(library)?.queries().ok()?.pop()
    };
    let known = mined.runs.queries().into_iter().filter_map(of_name);
    known.map(|query| (query.name.clone(), query)).collect()
}

/// Reads all hits; what goes wrong is told on the page and in the terminal.
pub(super) fn read(opened: &Opened, threads: usize, terminal: Terminal, stop: &AtomicBool) {
    let bar = Bar::counting(terminal, opened.reading.all);
    let read = gathered(opened, threads, &bar, stop);
    bar.end();
    match &read {
        Ok((hits, left_out)) => {
            terminal.note(format!("{} can be chosen from", counted(hits.len() as u64, "hit")));
            if left_out.hits > 0 {
                let hits = counted(left_out.hits, "hit");
                terminal.note(format!("left out: {hits} of games that an earlier run holds, too"));
            }
        }
        Err(error) => terminal.failure(error),
    }
    let told = read.map(|(hits, _)| hits).map_err(|error| format!("{error:#}"));
    // Both are set here alone.
    let _ = opened.hits.set(told);
    // Whoever looks at a hit meanwhile waits a little longer.
    if let Ok(Some(places)) = opened.runs.game_places() {
        let _ = opened.game_places.set(places);
    }
}

type Part = Result<(Gathering, LeftOut), PassTrouble>;

fn gathered(
    opened: &Opened,
    threads: usize,
    bar: &Bar,
    stop: &AtomicBool,
) -> anyhow::Result<(FoundHits, LeftOut)> {
    let mut all = Gathering::default();
    let (mut left_out, mut trouble) = (LeftOut::default(), None);
    let queries = opened.runs.queries();
    let gather = |(): &mut (), query: &&str| ControlFlow::Continue(part(opened, query));
    let mut workers = vec![(); threads.min(queries.len()).max(1)];
    in_order(&mut workers, queries.iter(), stop, gather, |part: Part| match part {
        Ok((part, left)) => {
            bar.advance(part.len() as u64 + left.hits);
            left_out.hits += left.hits;
            left_out.may_be_more |= left.may_be_more;
            all.join(part);
            ControlFlow::Continue(())
        }
        Err(error) => {
            trouble = Some(error);
            ControlFlow::Break(())
        }
    })?;
    match trouble {
        Some(trouble) => Err(trouble.into()),
        None if stop.load(Ordering::Relaxed) => anyhow::bail!("interrupted"),
        None => Ok((all.ended(), left_out)),
    }
}

/// The hits of a query.
fn part(opened: &Opened, query: &str) -> Part {
    let chapter = opened.queries.get(query).map(|query| query.chapter);
    let motif = MotifTold { name: query.to_owned(), chapter };
    let mut gathering = Gathering::of(motif).counting_in(opened.reading.done.clone());
    let left_out = opened.runs.pass(query, &mut [&mut gathering])?;
    Ok((gathering, left_out))
}
