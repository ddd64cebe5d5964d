//! Finds the edges between shares of a collection.
//!
//! Plain text is cut at any game. A zstd file is cut at the first game that starts after a strand has begun, since
//! strands are decompressed without those before them. All else is left whole.
//!
//! Invariant: an edge depends on the bytes of its source alone, so that whoever looks for it finds the same.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};

use super::archive::{Archive, Compression};
use super::certain::{LOOKBACK, first_certain_start};
use super::edge::Edge;
use super::source::{Origin, Source};
use super::strand::{Strands, compression_of, file_of};

/// The edges near these bytes of the file of a source, which stand in order, as the edges do. A source that can't
/// be read is left whole: whoever mines it will say so.
pub(super) fn edges_near(sources: &[Source], source: usize, bytes: &[u64]) -> Vec<Edge> {
    let size = sources[source].size.unwrap_or(0);
    let file = file_of(&sources[source].origin);
    let known = file.and_then(|file| Some((compression_of(&file)?, file)));
    let near: Vec<Edge> = match known {
        Some((Compression::None, mut file)) => {
            bytes.iter().map(|&at| edge_in_text(&mut file, source, at)).collect()
        }
        Some((Compression::Zstandard, _)) => {
            let starts = starts_near(sources, source, size, bytes);
            starts.into_iter().map(|start| edge_in_strand(sources, source, start)).collect()
        }
        _ => bytes.iter().map(|&at| whole(source, (0, size), at)).collect(),
    };
    // Games that start for certain may be far from each other.
    let last = near.iter().scan(Edge::before(source), |last, &edge| {
        *last = edge.max(*last);
        Some(*last)
    });
    last.collect()
}

/// The edge before a source, or after it if that is nearer to this byte of it.
fn whole(source: usize, (start, end): (u64, u64), at: u64) -> Edge {
    Edge::before(if at - start < end - at { source } else { source + 1 })
}

fn edge_in_text(file: &mut File, source: usize, at: u64) -> Edge {
    let start = || -> io::Result<Option<u64>> {
        let from = at.saturating_sub(LOOKBACK as u64);
        file.seek(SeekFrom::Start(from))?;
        let skip = usize::try_from(at - from).unwrap_or(LOOKBACK);
        Ok(first_certain_start(file, skip)?.map(|start| from + start))
    };
    match start() {
        _ if at == 0 => Edge::before(source),
        Ok(Some(offset)) => Edge { source, start: offset, base: offset, offset },
        _ => Edge::before(source + 1),
    }
}

/// Where the strands start that are nearest to these bytes of a zstd file; at its end if none does.
fn starts_near(sources: &[Source], source: usize, size: u64, bytes: &[u64]) -> Vec<Option<u64>> {
    let mut strands = Strands::of(sources, source, 0).take_while(|it| it.source == source);
    let mut strand = (0, 0);
    let start_near = |&at: &u64| {
        while strand.1 <= at {
            let next = strands.next()?;
            strand = (next.start, next.end.unwrap_or(size.max(at + 1)));
        }
        let (start, end) = strand;
        let start = if at - start < end - at { start } else { end };
        (start < size).then_some(start)
    };
    bytes.iter().map(start_near).collect()
}

/// The first edge in the text of a strand and those after it.
fn edge_in_strand(sources: &[Source], source: usize, start: Option<u64>) -> Edge {
    let text = match start {
        Some(0) => return Edge::before(source),
        Some(start) => StrandText::from(sources, source, start),
        None => return Edge::before(source + 1),
    };
    let mut text = text;
    let Ok(Some(at)) = first_certain_start(&mut text, 0) else { return Edge::before(source + 1) };
    let begun = text.begun.iter().rev().find(|(_, before)| *before <= at);
    let (start, before) = begun.copied().unwrap_or_default();
    Edge { source, start, base: 0, offset: at - before }
}

/// The text of strands of a source, one after the other.
struct StrandText<'s> {
    strands: Strands<'s>,
    source: usize,
    open: Option<Archive>,
    /// Where those start that were begun, in the file and in this text.
    begun: Vec<(u64, u64)>,
    position: u64,
}

impl<'s> StrandText<'s> {
    fn from(sources: &'s [Source], source: usize, start: u64) -> StrandText<'s> {
        let strands = Strands::of(sources, source, start);
        StrandText { strands, source, open: None, begun: Vec::new(), position: 0 }
    }
}

impl Read for StrandText<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        loop {
            if let Some(open) = &mut self.open {
                let length = open.read(buffer)?;
                self.position += length as u64;
                if length > 0 || buffer.is_empty() {
                    return Ok(length);
                }
            }
            let next = self.strands.next().filter(|strand| strand.source == self.source);
            let Some(strand) = next else { return Ok(0) };
            self.open = Some(strand.open(Origin::open)?);
            self.begun.push((strand.start, self.position));
        }
    }
}
