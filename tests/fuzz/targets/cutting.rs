//! Blocks joined are the stream, games joined are the text, and games start at the same places whatever
//! the size of the blocks and however few bytes come at a time.

#![no_main]

use std::io::{self, Read};

use hecatomb::collection::{Block, ByteOffset, Cutter, Games};
use libfuzzer_sys::fuzz_target;

/// Gives a few bytes at a time.
struct Trickle<'t>(&'t [u8], usize);

impl Read for Trickle<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let length = buffer.len().min(self.1);
        self.0.read(&mut buffer[..length])
    }
}

fn cut(input: impl Read, block_size: usize) -> Vec<Block> {
    let mut cutter = Cutter::from(ByteOffset(0), input, block_size);
    std::iter::from_fn(|| cutter.next_block(Vec::new()).expect("the input never fails")).collect()
}

fn joined(blocks: &[Block]) -> Vec<u8> {
    blocks.iter().flat_map(Block::text).copied().collect()
}

/// Where the games of each block start in the stream.
fn starts(blocks: &[Block]) -> Vec<u64> {
    let starts_in =
        |block: &Block| Games::of(block.text()).map(|game| game.start as u64).collect::<Vec<_>>();
    blocks
        .iter()
        .flat_map(|block| starts_in(block).into_iter().map(move |start| block.offset.0 + start))
        .collect()
}

fuzz_target!(|input: (u16, u8, &[u8])| {
    let (block_size, at_a_time, text) = input;
    let whole = cut(text, text.len() + 1);
    let small = cut(text, usize::from(block_size));
    let trickled = cut(Trickle(text, usize::from(at_a_time) + 1), usize::from(block_size));
    assert_eq!(joined(&whole), text);
    assert_eq!(joined(&small), text);
    assert_eq!(joined(&trickled), text);
    assert_eq!(starts(&whole), starts(&small));
    assert_eq!(starts(&whole), starts(&trickled));
    let mut end = 0;
    for game in Games::of(text) {
        assert_eq!(game.start, end);
        assert_eq!(game.start + game.tags.text.len(), game.movetext_start);
        end = game.movetext_start + game.movetext.len();
    }
    // White space of the standard (PGN 4.1), and what is left where files were joined.
    let strays = b" \n\r\t\x0B\0\x0C\x1A\xA0\xC2\xEF\xBB\xBF";
    assert!(text[end..].iter().all(|byte| strays.contains(byte)));
});
