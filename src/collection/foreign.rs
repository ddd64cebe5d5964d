//! Archives that are not read, told by their first bytes so that they can be named.

use std::io;

/// A kind of archive that is told by its first bytes and not read.
#[derive(thiserror::Error, Clone, Copy, PartialEq, Eq, Debug)]
pub enum ForeignArchive {
    /// Zip.
    #[error("it is a zip archive")]
    Zip,
    /// 7-Zip.
    #[error("it is a 7z archive")]
    SevenZip,
    /// Rar.
    #[error("it is a rar archive")]
    Rar,
    /// Xz, which packs one file.
    #[error("it is packed with xz")]
    Xz,
}

impl ForeignArchive {
    /// What kept a stream from being read, if that was it.
    #[must_use]
    pub fn that_caused(error: &io::Error) -> Option<ForeignArchive> {
        error.get_ref()?.downcast_ref().copied()
    }

    /// Tells archives from their first bytes. Sources: PKWARE's APPNOTE.TXT sections 4.3.7, 4.3.16 and 8.5.3
    /// (zip: a member, an empty archive, the first of several parts), 7zFormat.txt of the LZMA SDK
    /// (`kSignature`), the RAR 5.0 archive format, section "RAR 5.0 signature" (up to the byte in which
    /// versions differ), and The .xz File Format, section 2.1.1.1 (the numbers and sections are from memory).
    pub(super) fn told_by(start: &[u8]) -> Option<ForeignArchive> {
        match start {
            [b'P', b'K', 3, 4, ..] | [b'P', b'K', 5, 6, ..] | [b'P', b'K', 7, 8, ..] => {
                Some(ForeignArchive::Zip)
            }
            [b'7', b'z', 0xBC, 0xAF, 0x27, 0x1C, ..] => Some(ForeignArchive::SevenZip),
            [b'R', b'a', b'r', b'!', 0x1A, 0x07, ..] => Some(ForeignArchive::Rar),
            [0xFD, b'7', b'z', b'X', b'Z', 0, ..] => Some(ForeignArchive::Xz),
            _ => None,
        }
    }
}
