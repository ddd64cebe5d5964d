//! Opens a part of a source and decompresses it. Its first bytes tell how it is compressed, not its
//! name.

use std::fs::File;
use std::io::{self, BufReader, Cursor, Read, Seek, SeekFrom};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use bzip2::read::MultiBzDecoder;
use flate2::read::MultiGzDecoder;

use super::foreign::ForeignArchive;
use super::source::Origin;
use super::utf16::{ByteOrder, Utf8Stream};

/// The uncompressed stream of a source, or of a part of it.
///
/// Invariant: a decompressor is always asked for [`Archive::AT_A_TIME`] bytes. Where a stream is damaged it
/// keeps what it had for the call that fails, so otherwise the text before the damage would depend on who
/// reads it.
pub struct Archive {
    stream: Stream,
    is_compressed: bool,
    /// What was decompressed for a reader with less room.
    held: Vec<u8>,
    /// How much of that has been read.
    at: usize,
    meter: Arc<Meter>,
}

/// Bytes as they come.
pub type Stream = Box<dyn Read + Send>;

/// What it took to read a stream so far.
#[derive(Debug, Default)]
pub struct Meter {
    consumed: AtomicU64,
    /// Nanoseconds in which bytes came from the file.
    reading: AtomicU64,
    /// Nanoseconds in which the stream was asked for bytes, those of reading among them.
    asked: AtomicU64,
}

impl Meter {
    /// The bytes read from the file so far, before decompression.
    #[must_use]
    pub fn consumed(&self) -> u64 {
        self.consumed.load(Ordering::Relaxed)
    }

    /// How long reading took.
    #[must_use]
    pub fn reading(&self) -> Duration {
        Duration::from_nanos(self.reading.load(Ordering::Relaxed))
    }

    /// How long decompressing took.
    #[must_use]
    pub fn decompressing(&self) -> Duration {
        Duration::from_nanos(self.asked.load(Ordering::Relaxed)).saturating_sub(self.reading())
    }
}

impl Archive {
    /// Whoever reads at least this many bytes at a time saves a copy.
    pub const AT_A_TIME: usize = 128 << 10;

    /// Its meter, which others may watch.
    #[must_use]
    pub fn meter(&self) -> &Arc<Meter> {
        &self.meter
    }

    /// Opens the bytes `start..end` of a file, or all of a stream, which `wait` opens; if `known` does not say
    /// how they are compressed, their first bytes do.
    pub(super) fn open(
        origin: &Origin,
        (start, end): (u64, Option<u64>),
        known: Option<Compression>,
        wait: impl FnOnce(&Origin) -> io::Result<Stream>,
    ) -> io::Result<Archive> {
        let mut is_whole = start == 0;
        let raw: Stream = match origin.file() {
            None => wait(origin)?,
            Some(path) if start == 0 && end.is_none() => Box::new(File::open(path)?),
            Some(path) => {
                let mut file = File::open(path)?;
                let length = file.metadata()?.len();
                is_whole &= end.is_none_or(|end| end >= length);
                file.seek(SeekFrom::Start(start))?;
                Box::new(file.take(end.map_or(u64::MAX, |end| end - start)))
            }
        };
        let meter = Arc::<Meter>::default();
        let mut raw = Metered { inner: raw, meter: Arc::clone(&meter) };
        let mut first = Vec::new();
        let compression = match known {
            Some(known) => known,
            None => {
                raw.by_ref().take(Compression::TOLD_BY).read_to_end(&mut first)?;
                Compression::told_by(&first)
            }
        };
        let mut stream = compression.undone(Cursor::new(first).chain(raw))?;
        if start == 0 && compression.takes_time() {
            stream = Box::new(Unpacked { inner: Unread::Start(stream), is_whole });
        }
        let is_compressed = compression != Compression::None;
        Ok(Archive { stream, is_compressed, held: Vec::new(), at: 0, meter })
    }

    fn read_on(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.at == self.held.len() {
            if !self.is_compressed {
                return self.stream.read(buffer);
            }
            if buffer.len() >= Archive::AT_A_TIME {
                return self.stream.read(&mut buffer[..Archive::AT_A_TIME]);
            }
            self.at = 0;
            self.held.resize(Archive::AT_A_TIME, 0);
            let read = self.stream.read(&mut self.held);
            self.held.truncate(*read.as_ref().unwrap_or(&0));
            read?;
        }
        let length = (&self.held[self.at..]).read(buffer)?;
        self.at += length;
        Ok(length)
    }
}

impl Read for Archive {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let started = Instant::now();
        let read = self.read_on(buffer);
        count_time(&self.meter.asked, started);
        read
    }
}

/// How a stream is compressed, or else written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Compression {
    None,
    Zstandard,
    Gzip,
    Bzip2,
    /// Not compressed, but no UTF-8 either.
    Utf16(ByteOrder),
    /// Something that is not read.
    Foreign(ForeignArchive),
}

impl Compression {
    /// How many bytes at the start of a stream tell it.
    pub(super) const TOLD_BY: u64 = 6;

    /// Tells the compression from the first bytes. Sources: RFC 8878 section 3.1 (frame magic
    /// 0xFD2FB528, skippable frames 0x184D2A50 to 0x184D2A5F, both little-endian), RFC 1952 section
    /// 2.3.1 (ID1, ID2), and `BZh` for bzip2 (common practice, no source).
    pub(super) fn told_by(start: &[u8]) -> Compression {
        match start {
            [0x28, 0xB5, 0x2F, 0xFD, ..] | [0x50..=0x5F, 0x2A, 0x4D, 0x18, ..] => {
                Compression::Zstandard
            }
            [0x1F, 0x8B, ..] => Compression::Gzip,
            [b'B', b'Z', b'h', ..] => Compression::Bzip2,
            _ => match (ByteOrder::told_by(start), ForeignArchive::told_by(start)) {
                (Some(order), _) => Compression::Utf16(order),
                (None, Some(foreign)) => Compression::Foreign(foreign),
                (None, None) => Compression::None,
            },
        }
    }

    /// Whether a stream must be decompressed.
    pub(super) fn takes_time(self) -> bool {
        matches!(self, Compression::Zstandard | Compression::Gzip | Compression::Bzip2)
    }

    fn undone(self, raw: impl Read + Send + 'static) -> io::Result<Stream> {
        let buffered = |raw| BufReader::with_capacity(1 << 16, raw);
        Ok(match self {
            Compression::None => Box::new(raw),
            Compression::Zstandard => Box::new(zstd::stream::read::Decoder::new(raw)?),
            Compression::Gzip => Box::new(MultiGzDecoder::new(buffered(raw))),
            Compression::Bzip2 => Box::new(MultiBzDecoder::new(buffered(raw))),
            Compression::Utf16(order) => {
                let mut raw = raw;
                let mut mark = [0; 2];
                raw.read_exact(&mut mark)?;
                Box::new(Utf8Stream::new(order, &mark, raw, Archive::AT_A_TIME))
            }
            Compression::Foreign(foreign) => {
                return Err(io::Error::new(io::ErrorKind::Unsupported, foreign));
            }
        })
    }
}

/// What a decompressor gives, turned into UTF-8 if its first bytes say that it is UTF-16.
struct Unpacked {
    inner: Unread,
    /// Whether it is all of its source.
    is_whole: bool,
}

enum Unread {
    Start(Stream),
    Rest(Stream),
    /// It has failed.
    Nothing,
}

impl Read for Unpacked {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        match &mut self.inner {
            Unread::Start(stream) => {
                let length = stream.read(buffer)?;
                self.begin(buffer, length)
            }
            Unread::Rest(stream) => stream.read(buffer),
            Unread::Nothing => Ok(0),
        }
    }
}

impl Unpacked {
    /// Looks at the first bytes, which are in the buffer.
    fn begin(&mut self, buffer: &mut [u8], length: usize) -> io::Result<usize> {
        let Unread::Start(stream) = std::mem::replace(&mut self.inner, Unread::Nothing) else {
            return Ok(0);
        };
        let Some(order) = ByteOrder::told_by(&buffer[..length]) else {
            self.inner = Unread::Rest(stream);
            return Ok(length);
        };
        if !self.is_whole {
            let message = "it is UTF-16 text in several zstd frames; unpack it first";
            return Err(io::Error::new(io::ErrorKind::Unsupported, message));
        }
        let mut text = Utf8Stream::new(order, &buffer[..length], stream, Archive::AT_A_TIME);
        let read = text.read(buffer);
        self.inner = Unread::Rest(Box::new(text));
        read
    }
}

/// Counts the bytes that pass, and the time they take.
struct Metered {
    inner: Stream,
    meter: Arc<Meter>,
}

impl Read for Metered {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let started = Instant::now();
        let read = self.inner.read(buffer);
        count_time(&self.meter.reading, started);
        let length = read?;
        self.meter.consumed.fetch_add(length as u64, Ordering::Relaxed);
        Ok(length)
    }
}

fn count_time(nanoseconds: &AtomicU64, started: Instant) {
    let passed = u64::try_from(started.elapsed().as_nanos()).unwrap_or(u64::MAX);
    nanoseconds.fetch_add(passed, Ordering::Relaxed);
}
