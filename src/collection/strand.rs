//! Strands: the parts of a source that can be decompressed without each other.
//!
//! Short zstd frames make strands of their own. From a long frame on all the rest is one, as is a source
//! with any other compression or none.
//!
//! Invariant: the strands of a source joined are the source.

use std::fs::File;
use std::io::{self, Read};

use super::archive::{Archive, Compression, Stream};
use super::edge::Edge;
use super::frames::{next_run, window_at};
use super::source::{Origin, Source};

/// The greatest window that the zstd library opens unasked, in bytes.
const MOST_OF_WINDOW: usize = 128 << 20;

/// A part of a source that can be decompressed on its own.
#[derive(Clone, Debug)]
pub struct Strand<'s> {
    /// The index of the source.
    pub source: usize,
    /// Where it starts in the file, in bytes.
    pub start: u64,
    /// Its text has no more bytes than this, if that is known.
    pub bound: Option<usize>,
    /// How many bytes of its text a decompressor keeps besides, as far as that may be many.
    pub window: usize,
    pub(super) end: Option<u64>,
    origin: &'s Origin,
    compression: Option<Compression>,
}

impl Strand<'_> {
    /// Opens it; what may keep its reader waiting, such as standard input or a pipe, `wait` opens.
    ///
    /// # Errors
    ///
    /// What the system says when the file can't be opened or its first bytes can't be read.
    pub fn open(&self, wait: impl FnOnce(&Origin) -> io::Result<Stream>) -> io::Result<Archive> {
        Archive::open(self.origin, (self.start, self.end), self.compression, wait)
    }

    /// Whether its text is the bytes of the file, as far as is known before it is opened.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        self.compression == Some(Compression::None)
    }

    /// Whether it pays to read it before its turn: it is compressed, and not a pipe that may keep its reader
    /// waiting.
    #[must_use]
    pub fn may_be_read_ahead(&self) -> bool {
        self.compression.is_some_and(|compression| compression != Compression::None)
    }

    /// Whether one core must decompress it, however long it is.
    #[must_use]
    pub fn is_long(&self) -> bool {
        self.end.is_none() && self.compression.is_some_and(Compression::takes_time)
    }
}

/// The strands of sources, in order.
#[derive(Debug)]
pub struct Strands<'s> {
    sources: &'s [Source],
    /// The next source to look at.
    next: usize,
    /// Where to begin in it.
    start: u64,
    /// The zstd file that is being walked through.
    walk: Option<Walk>,
    /// Where to end; `None` after the last source.
    until: Option<Edge>,
}

#[derive(Debug)]
struct Walk {
    source: usize,
    file: File,
    length: u64,
    at: u64,
}

impl<'s> Strands<'s> {
    /// The strands from the source with this index on, of which the first `start` bytes are left out.
    #[must_use]
    pub fn of(sources: &'s [Source], first: usize, start: u64) -> Strands<'s> {
        Strands { sources, next: first, start, walk: None, until: None }
    }

    /// The same up to an edge, if there is one. The last of them may reach beyond it.
    #[must_use]
    pub fn until(self, until: Option<Edge>) -> Strands<'s> {
        Strands { until, ..self }
    }

    /// The next frames of the file that is being walked through, or all the rest of it.
    fn next_frames(&mut self) -> Option<Strand<'s>> {
        let walk = self.walk.as_mut()?;
        if walk.at >= walk.length {
            self.walk = None;
            return None;
        }
        let (source, start) = (walk.source, walk.at);
        // What can't be walked through is reported by whoever reads it.
        let run = next_run(&mut walk.file, walk.length, start).unwrap_or(None);
        let window = if run.is_none() { window_at(&mut walk.file, start) } else { None };
        match run {
            Some(run) => walk.at = run.end,
            None => self.walk = None,
        }
        Some(Strand {
            source,
            start,
            bound: run.map(|run| run.bound),
            window: window
                .and_then(|bytes| usize::try_from(bytes).ok())
                .unwrap_or(0)
                .min(MOST_OF_WINDOW),
            end: run.map(|run| run.end),
            origin: &self.sources[source].origin,
            compression: Some(Compression::Zstandard),
        })
    }
}

impl<'s> Iterator for Strands<'s> {
    type Item = Strand<'s>;

    fn next(&mut self) -> Option<Strand<'s>> {
        let until = self.until;
        let is_over = |strand: &Strand<'_>| {
            until.is_some_and(|edge| edge.is_reached_by(strand.source, strand.start))
        };
        self.next_strand().filter(|strand| !is_over(strand))
    }
}

impl<'s> Strands<'s> {
    /// The next strand, wherever the strands are to end.
    fn next_strand(&mut self) -> Option<Strand<'s>> {
        loop {
            if let Some(strand) = self.next_frames() {
                return Some(strand);
            }
            let source = self.next;
            let origin = &self.sources.get(source)?.origin;
            let start = std::mem::take(&mut self.start);
            self.next += 1;
            let known = file_of(origin).and_then(|file| Some((compression_of(&file)?, file)));
            let compression = known.as_ref().map(|known| known.0);
            match known {
                Some((Compression::Zstandard, file)) => {
                    let length = file.metadata().map_or(0, |metadata| metadata.len());
                    self.walk = Some(Walk { source, file, length, at: start });
                }
                _ => {
                    let (bound, window, end) = (None, 0, None);
                    return Some(Strand { source, start, bound, window, end, origin, compression });
                }
            }
        }
    }
}

/// The file of a source that may be read more than once.
pub(super) fn file_of(origin: &Origin) -> Option<File> {
    let path = origin.file()?;
    File::open(path).ok()
}

pub(super) fn compression_of(mut file: &File) -> Option<Compression> {
    let mut first = Vec::new();
    Read::by_ref(&mut file).take(Compression::TOLD_BY).read_to_end(&mut first).ok()?;
    Some(Compression::told_by(&first))
}
