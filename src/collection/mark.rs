//! A mark of a source, by which machines that have copies of it can tell whether these are the same.

use std::fs::File;
use std::hash::Hasher;
use std::io::{self, Read, Seek, SeekFrom};

use twox_hash::XxHash3_64;

use super::source::Source;

/// How many bytes are looked at in each of three places.
const SAMPLE: u64 = 1 << 16;

/// A checksum of the first bytes of a file, of those in its middle, and of the last.
///
/// # Errors
///
/// What the system says when it can't be read.
pub fn mark_of(source: &Source) -> io::Result<u64> {
    let mut sum = XxHash3_64::new();
    let Some(path) = source.origin.file() else { return Ok(sum.finish()) };
    let mut file = File::open(path)?;
    let size = file.metadata()?.len();
    let last = size.saturating_sub(SAMPLE);
    for place in [0, last / 2, last] {
        let mut sample = Vec::new();
        file.seek(SeekFrom::Start(place))?;
        file.by_ref().take(SAMPLE).read_to_end(&mut sample)?;
        sum.write(&sample);
    }
    Ok(sum.finish())
}
