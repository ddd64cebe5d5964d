//! What the manifest of a part says of the share that it mines.

use std::io;

use crate::collection::{Edge, PartOf, Share, Source, mark_of};
use crate::tables::{Counts, EdgeRun, PartRun};

/// What the manifest of a part says before it is mined.
///
/// # Errors
///
/// The name of a source that can't be read, and what the system says.
pub fn part_run(
    part: PartOf,
    share: &Share,
    sources: &[Source],
) -> Result<PartRun, (String, io::Error)> {
    let mark = |source: &Source| match mark_of(source) {
        Ok(mark) => Ok(format!("{mark:016x}")),
        Err(cause) => Err((source.name.clone(), cause)),
    };
    Ok(PartRun {
        number: part.number,
        of: part.of,
        from: edge_run(&share.from),
        to: edge_run(&share.to),
        ends_at: None,
        first: Counts::default(),
        marks: sources.iter().map(mark).collect::<Result<_, _>>()?,
    })
}

fn edge_run(edge: &Edge) -> EdgeRun {
    let Edge { source, start, offset, .. } = *edge;
    EdgeRun { source, start, offset }
}
