//! Checksums of tables: what tells that a file is no longer as it was written.
//!
//! They are 64 bits of XXH3 (Yann Collet, "xxHash fast digest algorithm", 2012 to 2023), which guard against
//! accident and not against malice: whoever wants to can make another table with the same checksum. They take
//! 2 % of the time of a tally of a million hits; SHA-256, at the 1.8 GB a second of a processor that has
//! instructions for it, would take 20 %.

use std::fs::File;
use std::hash::Hasher;
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::Path;

use serde::{Deserialize, Serialize};
use twox_hash::XxHash3_64;

/// The checksum of a file, in hexadecimal digits.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Checksum(String);

impl Checksum {
    fn of(sum: &XxHash3_64) -> Checksum {
        Checksum(format!("{:016x}", sum.finish()))
    }

    /// The checksum of a file as it is now.
    ///
    /// # Errors
    ///
    /// What the system says when it can't be read.
    pub fn of_file(path: &Path) -> io::Result<Checksum> {
        let mut file = SummedFile::new(File::open(path)?);
        file.sum_up_to(u64::MAX)?;
        Ok(file.checksum())
    }
}

/// A table as it was written.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct TableRun {
    /// The number of its rows.
    pub rows: u64,
    /// The checksum of its bytes.
    pub xxh3: Checksum,
}

/// How far a table has grown.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct Extent {
    /// The length of its file in bytes.
    pub bytes: u64,
    /// The number of its rows.
    pub rows: u64,
    /// The checksum of its bytes.
    pub xxh3: u64,
}

/// A file that is read or written from its start to its end, and the checksum of what passed by.
pub(super) struct SummedFile {
    file: File,
    sum: XxHash3_64,
    bytes: u64,
}

impl SummedFile {
    /// A file at its start.
    pub(super) fn new(file: File) -> SummedFile {
        SummedFile { file, sum: XxHash3_64::new(), bytes: 0 }
    }

    /// A file to be written after what it had grown to, which is read for that.
    ///
    /// # Errors
    ///
    /// What the system says; or, as invalid data, that it was changed since.
    pub(super) fn after(mut file: File, kept: Extent) -> io::Result<SummedFile> {
        file.seek(SeekFrom::Start(0))?;
        let mut summed = SummedFile::new(file);
        summed.sum_up_to(kept.bytes)?;
        if summed.sum() == kept.xxh3 {
            return Ok(summed);
        }
        Err(io::Error::new(io::ErrorKind::InvalidData, "it was changed since it was cut short"))
    }

    /// The checksum of the bytes that have passed by, as a number.
    pub(super) fn sum(&self) -> u64 {
        self.sum.finish()
    }

    /// How far it has grown, with this many rows.
    pub(super) fn extent(&self, rows: u64) -> Extent {
        Extent { bytes: self.bytes, rows, xxh3: self.sum() }
    }

    /// Reads to the end, or as many bytes.
    fn sum_up_to(&mut self, bytes: u64) -> io::Result<()> {
        let mut rest = io::BufReader::with_capacity(1 << 16, Read::by_ref(self).take(bytes));
        io::copy(&mut rest, &mut io::sink()).map(drop)
    }

    pub(super) fn file(&self) -> &File {
        &self.file
    }

    /// How many bytes have passed by.
    pub(super) fn length(&self) -> u64 {
        self.bytes
    }

    /// The checksum of the bytes that have passed by.
    pub(super) fn checksum(&self) -> Checksum {
        Checksum::of(&self.sum)
    }

    fn pass(&mut self, bytes: &[u8]) {
        self.sum.write(bytes);
        self.bytes += bytes.len() as u64;
    }
}

impl Read for SummedFile {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let length = self.file.read(buffer)?;
        self.pass(&buffer[..length]);
        Ok(length)
    }
}

impl Write for SummedFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let length = self.file.write(bytes)?;
        self.pass(&bytes[..length]);
        Ok(length)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;

    /// The digest of nothing is in the reference implementation's documentation of XXH3 with seed 0 (from
    /// memory).
    #[test]
    fn checksum_of_an_empty_file_is_that_of_the_algorithm() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("empty");
        std::fs::write(&path, "").unwrap();
        assert_eq!(Checksum::of_file(&path).unwrap(), Checksum("2d06800538d394c2".to_owned()));
    }

    #[test]
    fn file_that_is_continued_has_the_checksum_of_the_whole() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("whole");
        let bytes: Vec<u8> = (0..200_000_u32).map(|number| (number % 251) as u8).collect();
        std::fs::write(&path, &bytes[..123_456]).unwrap();
        let file = File::options().read(true).write(true).open(&path).unwrap();
        let mut sum = XxHash3_64::new();
        sum.write(&bytes[..123_456]);
        let kept = Extent { bytes: 123_456, rows: 0, xxh3: sum.finish() };
        let changed = Extent { xxh3: kept.xxh3 + 1, ..kept };
        assert!(SummedFile::after(file.try_clone().unwrap(), changed).is_err());
        let mut file = SummedFile::after(file, kept).unwrap();
        file.write_all(&bytes[123_456..]).unwrap();
        assert_eq!(file.length(), 200_000);
        assert_eq!(std::fs::read(&path).unwrap(), bytes);
        assert_eq!(file.checksum(), Checksum::of_file(&path).unwrap());
    }
}
