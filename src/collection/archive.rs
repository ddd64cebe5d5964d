//! Opens a source and decompresses it. What it is, its first bytes tell, not its name.

use std::fs::File;
use std::io::{self, BufReader, Cursor, Read};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use bzip2::read::MultiBzDecoder;
use flate2::read::MultiGzDecoder;

use super::source::{Origin, Source};

/// The uncompressed stream of a source.
pub struct Archive {
    stream: Box<dyn Read + Send>,
    consumed: Arc<AtomicU64>,
}

impl Archive {
    /// The bytes read from the file so far, before decompression; a counter that other threads may
    /// watch.
    #[must_use]
    pub fn consumed(&self) -> Arc<AtomicU64> {
        Arc::clone(&self.consumed)
    }
}

impl Read for Archive {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        self.stream.read(buffer)
    }
}

/// Opens a source for reading from its start.
///
/// # Errors
///
/// What the system says when the file can't be opened or its first bytes can't be read.
pub fn open(source: &Source) -> io::Result<Archive> {
    let raw: Box<dyn Read + Send> = match &source.origin {
        Origin::File(path) => Box::new(File::open(path)?),
        Origin::StandardInput => Box::new(io::stdin()),
    };
    let consumed = Arc::new(AtomicU64::new(0));
    let counted = Counted { inner: raw, count: Arc::clone(&consumed) };
    Ok(Archive { stream: decompressed(counted)?, consumed })
}

/// How a stream is compressed.
enum Compression {
    None,
    Zstandard,
    Gzip,
    Bzip2,
}

/// Tells the compression from the first bytes. Sources: RFC 8878 section 3.1 (frame magic 0xFD2FB528,
/// skippable frames 0x184D2A50 to 0x184D2A5F, both little-endian), RFC 1952 section 2.3.1 (ID1, ID2),
/// and `BZh` for bzip2 (common practice, no source).
fn compression(start: &[u8]) -> Compression {
    match start {
        [0x28, 0xB5, 0x2F, 0xFD, ..] | [0x50..=0x5F, 0x2A, 0x4D, 0x18, ..] => {
            Compression::Zstandard
        }
        [0x1F, 0x8B, ..] => Compression::Gzip,
        [b'B', b'Z', b'h', ..] => Compression::Bzip2,
        _ => Compression::None,
    }
}

fn decompressed(mut raw: Counted) -> io::Result<Box<dyn Read + Send>> {
    let mut start = Vec::with_capacity(4);
    raw.by_ref().take(4).read_to_end(&mut start)?;
    let kind = compression(&start);
    let whole = Cursor::new(start).chain(raw);
    Ok(match kind {
        Compression::None => Box::new(whole),
        Compression::Zstandard => Box::new(zstd::stream::read::Decoder::new(whole)?),
        Compression::Gzip => {
            Box::new(MultiGzDecoder::new(BufReader::with_capacity(1 << 16, whole)))
        }
        Compression::Bzip2 => {
            Box::new(MultiBzDecoder::new(BufReader::with_capacity(1 << 16, whole)))
        }
    })
}

/// Counts the bytes that pass.
struct Counted {
    inner: Box<dyn Read + Send>,
    count: Arc<AtomicU64>,
}

impl Read for Counted {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let length = self.inner.read(buffer)?;
        self.count.fetch_add(length as u64, Ordering::Relaxed);
        Ok(length)
    }
}
