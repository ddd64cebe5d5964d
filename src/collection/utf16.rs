//! UTF-16 text with a byte order mark, turned into UTF-8 as a stream.

use std::io::{self, Read};

/// The order of the two bytes of a unit of UTF-16.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum ByteOrder {
    Little,
    Big,
}

impl ByteOrder {
    /// Tells it from the byte order mark, U+FEFF, at the start of a text (RFC 2781, section 3.2).
    pub(super) fn told_by(start: &[u8]) -> Option<ByteOrder> {
        match start {
            [0xFF, 0xFE, ..] => Some(ByteOrder::Little),
            [0xFE, 0xFF, ..] => Some(ByteOrder::Big),
            _ => None,
        }
    }

    fn unit(self, bytes: [u8; 2]) -> u16 {
        match self {
            ByteOrder::Little => u16::from_le_bytes(bytes),
            ByteOrder::Big => u16::from_be_bytes(bytes),
        }
    }
}

/// A stream of UTF-16 read as UTF-8, without its byte order mark. What is no character becomes U+FFFD.
pub(super) struct Utf8Stream<R> {
    inner: R,
    decoder: Decoder,
    /// What was read of the inner stream.
    raw: Vec<u8>,
    is_ended: bool,
}

impl<R: Read> Utf8Stream<R> {
    /// Reads what comes after `start`, which has been read already; asks for `at_a_time` bytes at a time.
    pub(super) fn new(order: ByteOrder, start: &[u8], inner: R, at_a_time: usize) -> Utf8Stream<R> {
        let mut decoder = Decoder { order, rest: Vec::new(), text: Vec::new(), at: 0 };
        decoder.add(start.get(2..).unwrap_or_default());
        Utf8Stream { inner, decoder, raw: vec![0; at_a_time], is_ended: false }
    }
}

impl<R: Read> Read for Utf8Stream<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        while self.decoder.is_read() && !self.is_ended {
            match self.inner.read(&mut self.raw)? {
                0 => {
                    self.is_ended = true;
                    self.decoder.end();
                }
                length => self.decoder.add(&self.raw[..length]),
            }
        }
        Ok(self.decoder.read(buffer))
    }
}

/// Decodes UTF-16 piece by piece.
struct Decoder {
    order: ByteOrder,
    /// The last bytes, which go with those that come next: less than two units.
    rest: Vec<u8>,
    text: Vec<u8>,
    /// How much of the text has been read.
    at: usize,
}

impl Decoder {
    fn is_read(&self) -> bool {
        self.at == self.text.len()
    }

    fn read(&mut self, buffer: &mut [u8]) -> usize {
        let length = buffer.len().min(self.text.len() - self.at);
        buffer[..length].copy_from_slice(&self.text[self.at..self.at + length]);
        self.at += length;
        length
    }

    /// Decodes more bytes, once all text before them has been read.
    fn add(&mut self, bytes: &[u8]) {
        let joined = [&std::mem::take(&mut self.rest), bytes].concat();
        let (pairs, odd) = joined.as_chunks::<2>();
        let mut units: Vec<u16> = pairs.iter().map(|&pair| self.order.unit(pair)).collect();
        // The first half of a character (RFC 2781, section 2.1) waits for the second.
        let held = units.pop_if(|last| matches!(last, 0xD800..=0xDBFF)).is_some();
        let kept = joined.len() - odd.len() - if held { 2 } else { 0 };
        self.rest.extend_from_slice(&joined[kept..]);
        self.write(&units);
    }

    /// Decodes what is left when nothing more comes.
    fn end(&mut self) {
        let is_cut_off = !std::mem::take(&mut self.rest).is_empty();
        let units = [0xFFFD];
        self.write(if is_cut_off { &units } else { &[] });
    }

    fn write(&mut self, units: &[u16]) {
        self.text.clear();
        self.at = 0;
        let mut utf8 = [0; 4];
        for read in char::decode_utf16(units.iter().copied()) {
            let c = read.unwrap_or(char::REPLACEMENT_CHARACTER);
            self.text.extend_from_slice(c.encode_utf8(&mut utf8).as_bytes());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A reader that gives a few bytes at a time.
    struct Slow<'b>(&'b [u8], usize);

    impl Read for Slow<'_> {
        fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
            let length = self.1.min(self.0.len()).min(buffer.len());
            buffer[..length].copy_from_slice(&self.0[..length]);
            self.0 = &self.0[length..];
            Ok(length)
        }
    }

    fn read(bytes: &[u8], at_a_time: usize) -> Option<String> {
        let order = ByteOrder::told_by(bytes)?;
        let mut text = String::new();
        let (start, rest) = bytes.split_at(2);
        Utf8Stream::new(order, start, Slow(rest, at_a_time), 1 << 10)
            .read_to_string(&mut text)
            .ok()?;
        Some(text)
    }

    #[test]
    fn text_is_the_same_however_it_is_read() {
        let text = "[White \"Ågren 桜 \u{10437}\"]\n\n1. e4 *\n".repeat(3);
        let units = || std::iter::once(0xFEFF).chain(text.encode_utf16());
        let little: Vec<u8> = units().flat_map(u16::to_le_bytes).collect();
        let big: Vec<u8> = units().flat_map(u16::to_be_bytes).collect();
        for at_a_time in [1, 2, 3, 7, 1 << 20] {
            assert_eq!(read(&little, at_a_time).as_deref(), Some(&*text));
            assert_eq!(read(&big, at_a_time).as_deref(), Some(&*text));
        }
    }

    #[test]
    fn character_of_two_units_is_put_together() {
        // RFC 2781, section 5: U+12345 is D808 DF45.
        let bytes = [0xFE, 0xFF, 0xD8, 0x08, 0xDF, 0x45, 0x00, 0x3D];
        assert_eq!(read(&bytes, 1).as_deref(), Some("\u{12345}="));
    }

    #[test]
    fn what_is_no_character_costs_only_itself() {
        let cut = |length: usize| read(&[0xFF, 0xFE, b'a', 0, 0x08, 0xD8, b'b', 0][..length], 1);
        assert_eq!(cut(2).as_deref(), Some(""));
        assert_eq!(cut(3).as_deref(), Some("\u{FFFD}"));
        assert_eq!(cut(6).as_deref(), Some("a\u{FFFD}"));
        assert_eq!(cut(8).as_deref(), Some("a\u{FFFD}b"));
    }
}
