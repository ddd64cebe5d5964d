//! The ledger: how the attacker's material balance went after an offer.

use shakmaty::{Chess, Color, Position, Role};

use super::pawns;

/// How the material went after an offer, in pawns, relative to the position just before it.
///
/// In the middle of an exchange the balance swings by the whole of what is exchanged. So a deficit
/// counts only after a move of the attacker, who then has had the chance to take back, and material
/// counts as made good only after a move of the defender, who has had the same chance; the last
/// position of the game counts for both.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Ledger {
    /// The greatest deficit; 0 if there never was one.
    pub invested: i32,
    /// The index of the position in which the greatest deficit was made good, if it was.
    pub recovered: Option<usize>,
    /// The balance at the end of the game.
    pub balance_end: i32,
}

impl Ledger {
    /// Reads the ledger from White's [`balance`] in each position of a game, for the offer that
    /// `attacker` made in the position with the index `offer`.
    ///
    /// Positions are in playing order; the game must go on for one position at least.
    #[must_use]
    pub fn of(balances: &[i32], offer: usize, attacker: Color) -> Ledger {
        let last = balances.len() - 1;
        let mut ledger = Ledger::default();
        for (index, balance) in balances.iter().enumerate().skip(offer + 1) {
            let gained = balance - balances[offer];
            let now = attacker.fold_wb(gained, -gained);
            let attacker_moved = (index - offer) % 2 == 1;
            if -now > ledger.invested && (attacker_moved || index == last) {
                ledger.invested = -now;
                ledger.recovered = None;
            }
            let is_settled = !attacker_moved || index == last;
            if now >= 0 && is_settled && ledger.invested > 0 && ledger.recovered.is_none() {
                ledger.recovered = Some(index);
            }
            ledger.balance_end = now;
        }
        ledger
    }
}

/// The material of one side less that of the other, in pawns.
#[must_use]
pub fn balance(pos: &Chess, color: Color) -> i32 {
    Role::ALL
        .into_iter()
        .map(|role| {
            let men = pos.board().by_role(role);
            let own = (men & pos.board().by_color(color)).count();
            pawns(role)
                * (2 * i32::try_from(own).unwrap_or(0) - i32::try_from(men.count()).unwrap_or(0))
        })
        .sum()
}
