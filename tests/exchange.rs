//! What an offer costs on its square, and which replies accept it.

use hecatomb::board::{Offered, accepting, cost, exchange, played, uncovered};
use shakmaty::fen::Fen;
use shakmaty::san::SanPlus;
use shakmaty::{CastlingMode, Chess, Move, Position};

fn position(fen: &str) -> Chess {
    fen.parse::<Fen>().unwrap().into_position(CastlingMode::Standard).unwrap()
}

fn legal(pos: &Chess, san: &str) -> Move {
    SanPlus::from_ascii(san.as_bytes()).unwrap().san.to_move(pos).unwrap()
}

/// Positions, captures and their balance over legal captures, with the values 1, 3, 3, 5, 9. All invented,
/// and computed by exact minimax with python-chess: `.ci/brute_mates.py` does it again for the same
/// positions in `verdicts/data/exchanges.txt`.
pub(crate) const EXCHANGES: [(&str, &str, i32); 16] = [
    ("q2r2k1/1b3pp1/7p/3p4/8/2N2B1P/3R1PP1/3R2K1 w - - 0 1", "Nxd5", 1),
    ("2r3k1/1b3ppp/4pn2/3p4/1Q6/2N2B2/5PPP/3RR1K1 w - - 0 1", "Nxd5", -2),
    ("4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "exd5", 1),
    ("8/8/4k3/3p4/3Q4/8/8/K7 w - - 0 1", "Qxd5+", -8),
    ("8/8/4k3/3p4/3Q4/8/8/K2R4 w - - 0 1", "Qxd5+", 1),
    ("1n4k1/8/8/2pP4/8/8/6K1/2R5 w - c6 0 1", "dxc6", 1),
    ("3r2k1/3r1ppp/8/3p4/8/8/3R1PPP/3R2K1 w - - 0 1", "Rxd5", -4),
    ("3r2k1/5ppp/8/3p4/8/1B6/3R1PPP/3R2K1 w - - 0 1", "Bxd5", 1),
    ("6k1/5ppp/2n5/4p3/8/5N2/1B3PPP/6K1 w - - 0 1", "Nxe5", 1),
    ("6k1/5ppp/2n1r3/4p3/8/5N2/1B3PPP/6K1 w - - 0 1", "Nxe5", -2),
    ("4k3/4r3/8/8/4n3/8/4R3/4K3 w - - 0 1", "Rxe4", -2),
    ("r5k1/1P3ppp/8/8/8/8/5PPP/6K1 w - - 0 1", "bxa8=Q#", 13),
    ("rn4k1/2P2ppp/8/8/8/8/5PPP/6K1 w - - 0 1", "cxb8=Q+", 2),
    ("3rk3/8/4n3/8/3p4/8/3R4/3QK3 w - - 0 1", "Rxd4", -4),
    // The recapture discovers a check, so it is the attacker's king that can't go on.
    ("4rk2/8/4b3/3p4/2P5/8/8/3RK3 w - - 0 1", "cxd5", 0),
    // The defender is pinned to its king and can't recapture.
    ("4k3/4n3/8/3p4/2P5/8/8/4RK2 w - - 0 1", "cxd5", 1),
];

#[test]
fn exchange_is_the_minimax_over_legal_captures() {
    for (fen, san, balance) in EXCHANGES {
        let pos = position(fen);
        let m = legal(&pos, san);
        assert_eq!(exchange(&pos, m), balance, "{fen} {san}");
    }
}

#[test]
fn quiet_move_to_an_attacked_square_costs_the_man() {
    let pos = position("r1b1kb1r/1pqn1ppp/p2ppn2/6B1/3NPP2/2N5/PPP1Q1PP/2KR1B1R w kq - 0 1");
    // The pawn that takes back opens the e-file with check, so it can't be taken in turn.
    assert_eq!(cost(&pos, legal(&pos, "Nd5")), 2);
    assert_eq!(cost(&pos, legal(&pos, "Nf3")), 0);
}

#[test]
fn what_hung_before_is_not_uncovered_in_check_either() {
    // The king takes out of check; the pawn on d6 and the knight on h6 hung before.
    let pos = position("8/1k2n3/1q1PKr1N/1p2R3/1p5P/8/8/8 w - - 0 1");
    assert_eq!(uncovered(&pos, legal(&pos, "Kxe7")), 0);
}

#[test]
fn queen_left_to_a_pinning_bishop_is_uncovered() {
    // The knight leaves the diagonal of the bishop on g4: the queen for a bishop, after a recapture.
    let pos = position("rn1qkbnr/1pp2p1p/p2p2p1/4p3/2B1P1b1/2N2N2/PPPP1PPP/R1BQ1RK1 w kq - 0 1");
    assert_eq!(uncovered(&pos, legal(&pos, "Nxe5")), 6);
    assert_eq!(uncovered(&pos, legal(&pos, "a3")), 0);
}

/// White leaves the queen to a bishop that pinned the knight, and mates in two if it is taken: the mate
/// named after Sire de Legall (its moves are common property; from memory).
pub(crate) const LEFT_QUEEN: &str =
    "rn1qkbnr/ppp2p1p/3p2p1/4p3/2B1P1b1/2N2N2/PPPP1PPP/R1BQK2R w KQkq - 0 5";

#[test]
fn taking_the_man_that_moved_or_one_that_it_exposed_accepts() {
    for (fen, offer, reply, expected) in [
        (LEFT_QUEEN, "Nxe5", "Bxd1", true),
        (LEFT_QUEEN, "Nxe5", "dxe5", true),
        (LEFT_QUEEN, "Nxe5", "Be6", false),
        // The pawn is all that is left to be taken; beside a knight it is too little.
        ("4k3/8/8/8/1b6/2N5/3P4/6K1 w - - 0 1", "Nb5", "Bxd2", true),
        ("4k3/8/p7/8/1b6/2N5/3P4/6K1 w - - 0 1", "Nb5", "Bxd2", false),
        // What could be won before is not what the move offers.
        ("r3k3/7p/8/8/8/3B4/8/R3K3 w q - 0 1", "Bxh7", "Rxa1+", false),
        // A pawn that is taken in passing.
        ("4k3/8/8/8/1p6/8/P7/4K3 w - - 0 1", "a4", "bxa3", true),
    ] {
        let pos = position(fen);
        let offer = legal(&pos, offer);
        let after = played(&pos, offer);
        let offered = Offered::by(&pos, offer, &after);
        assert_eq!(offered.is_accepted_by(legal(&after, reply)), expected, "{fen}");
    }
}

#[test]
fn reply_accepts_if_it_is_among_those_that_do() {
    let mut accepting_replies = 0;
    for (fen, _, _) in EXCHANGES.into_iter().chain([(LEFT_QUEEN, "", 0)]) {
        let pos = position(fen);
        for offer in pos.legal_moves() {
            let among = accepting(&pos, offer);
            let after = played(&pos, offer);
            let offered = Offered::by(&pos, offer, &after);
            for reply in after.legal_moves() {
                let is_among = among.contains(&reply);
                assert_eq!(offered.is_accepted_by(reply), is_among, "{fen} {offer} {reply}");
                accepting_replies += usize::from(is_among);
            }
        }
    }
    assert!(accepting_replies > 30, "{accepting_replies}");
}
