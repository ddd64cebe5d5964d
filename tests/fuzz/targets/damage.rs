//! A byte that is damaged anywhere costs its own game at most.

#![no_main]

#[path = "../../damage/relation.rs"]
mod relation;

use libfuzzer_sys::fuzz_target;

use relation::{Damage, MANNERS, check};

fuzz_target!(|input: ([u8; 4], u16, u8, u8)| {
    let (manners, place, kind, byte) = input;
    let manners = manners.map(|manner| usize::from(manner) % MANNERS);
    let damage = match kind % 3 {
        0 => Damage::Changed(byte),
        1 => Damage::Added(byte),
        _ => Damage::Lost,
    };
    if let Err(harm) = check(&manners, usize::from(place), damage) {
        panic!("{harm}");
    }
});
