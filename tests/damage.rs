//! A byte that is damaged anywhere costs its own game at most: the games around it are unharmed or
//! rejected, and never is one made of parts of two.

#[path = "damage/relation.rs"]
mod relation;

use proptest::prelude::*;

use relation::{Damage, MANNERS, check};

fn damage() -> impl Strategy<Value = Damage> {
    let telling = prop::sample::select(&b"[]\"{}();%\\ \n\r\t\0x1*-.e"[..]);
    let byte = prop_oneof![2 => telling, 1 => any::<u8>()];
    prop_oneof![
        3 => byte.clone().prop_map(Damage::Changed),
        1 => byte.prop_map(Damage::Added),
        1 => Just(Damage::Lost),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10_000))]

    #[test]
    fn damaged_byte_costs_its_own_game_at_most(
        manners in prop::collection::vec(0..MANNERS, 1..5), place in any::<usize>(), damage in damage()
    ) {
        check(&manners, place, damage).map_err(TestCaseError::fail)?;
    }
}
