//! What happens after an offer: follow-ups, the ledger, where the king goes, evaluations.

use hecatomb::mining::{Evaluation, Hit};
use shakmaty::Square;

use crate::exchange::LEFT_QUEEN;
use crate::support::{mine, pattern};

/// The only hit of a query in a game.
fn hit(query: &str, game: &str) -> Hit {
    let mined = mine(&[pattern(query)], game.as_bytes(), false).mined;
    assert_eq!((mined.len(), mined[0].hits.len()), (1, 1));
    mined[0].hits[0].clone()
}

fn query(offer: &str, rest: &str) -> String {
    format!("title = \"t\"\nchapter = \"any\"\noffer = \"{offer}\"\n{rest}")
}

const BISHOP: &str = "bishop takes pawn on h7 with check";

fn from(fen: &str, movetext: &str) -> String {
    format!("[Event \"x\"]\n[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n{movetext}\n")
}

const CLASSICAL: &str = "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1";

#[test]
fn windows_count_the_movers_own_moves() {
    let rest = "[follow-ups]\nonce = \"knight to g5 at once\"\nsecond = \"queen to h5 within 2 moves\"\n\
                late = \"queen to h5 at once\"\nking = \"defender king to g8 within 2 moves\"\n\
                mate = \"any man with mate\"\n";
    let line = "1. Bxh7+ Kxh7 2. Ng5+ Kg8 3. Qh5 Re8 4. Qxf7+ Kh8 5. Qh5+ Kg8 6. Qh7+ Kf8 7. Qh8+ Ke7 8. Qxg7# 1-0";
    let hit = hit(&query(BISHOP, rest), &from(CLASSICAL, line));
    assert_eq!(hit.follow_ups, [Some(3), Some(5), None, Some(4), Some(15)]);
    assert_eq!(
        (hit.offer.cost, hit.offer.played().unwrap().accepted, hit.offer.ends_in_mate),
        (2, Some(true), true)
    );
    assert_eq!(hit.king_goes, Some(Square::G8));
}

#[test]
fn required_follow_ups_must_come_in_time() {
    let rest =
        "requires = [\"jump\"]\n[follow-ups]\njump = \"knight moves to g-file within 3 moves\"\n";
    let late = from(CLASSICAL, "1. Bxh7+ Kxh7 2. Re1 Kg8 3. a3 Bb6 4. b3 a6 5. Ng5 *");
    assert!(mine(&[pattern(&query(BISHOP, rest))], late.as_bytes(), false).mined.is_empty());
    let in_time = from(CLASSICAL, "1. Bxh7+ Kxh7 2. Re1 Kg8 3. a3 Bb6 4. Ng5 *");
    assert_eq!(hit(&query(BISHOP, rest), &in_time).follow_ups, [Some(7)]);
}

#[test]
fn mirrored_wing_holds_for_follow_ups_and_the_kings_square() {
    // The classical position mirrored left to right: the offer is on a7, the knight's square is b5.
    let fen = "1kr1qb1r/ppp1n1pp/3p1n2/3Pp2b/8/2N1BP2/PPP3PP/1KR1QBNR w - - 0 1";
    let rest =
        "wings = \"both\"\n[follow-ups]\njump = \"knight to g5 with check within 3 moves\"\n";
    let line = "1. Bxa7+ Kxa7 2. Nb5+ Kb8 *";
    let hit = hit(&query(BISHOP, rest), &from(fen, line));
    assert_eq!(hit.follow_ups, [Some(3)]);
    assert_eq!(hit.king_goes, Some(Square::G8));
}

#[test]
fn king_goes_is_told_only_of_the_very_next_move() {
    for (line, expected) in [
        ("1. Bxh7+ Kxh7 2. Ng5+ Kg6 3. Qg4 f5 *", Some(Square::G6)),
        ("1. Bxh7+ Kxh7 2. Ng5+ Qxg5 3. Bxg5 Kg8 *", None),
        ("1. Bxh7+ Kxh7 2. Ng5+ *", None),
    ] {
        assert_eq!(hit(&query(BISHOP, ""), &from(CLASSICAL, line)).king_goes, expected, "{line}");
    }
}

#[test]
fn exposed_man_that_is_taken_is_accepted() {
    let query = query("knight takes pawn on e5", "");
    for (line, expected) in [("5. Nxe5 Bxd1 *", true), ("5. Nxe5 Be6 *", false)] {
        let hit = hit(&query, &from(LEFT_QUEEN, line));
        assert_eq!(hit.offer.played().unwrap().accepted, Some(expected), "{line}");
    }
}

#[test]
fn king_goes_is_blank_unless_the_king_took() {
    let declined = from(CLASSICAL, "1. Bxh7+ Kh8 2. Ng5 g6 3. Qg4 Kg7 *");
    assert_eq!(hit(&query(BISHOP, ""), &declined).king_goes, None);
    let last = from(CLASSICAL, "1. Bxh7+ *");
    let hit = hit(&query(BISHOP, ""), &last);
    assert_eq!(
        (hit.offer.played().unwrap().reply.as_deref(), hit.offer.played().unwrap().accepted),
        (None, None)
    );
}

/// Invested, the ply after which it was made good, and the balance at the end.
fn ledger(offer: &str, game: &str) -> (i32, Option<usize>, i32) {
    let hit = hit(&query(offer, ""), game);
    (
        hit.offer.played().unwrap().ledger.invested,
        hit.offer.played().unwrap().ledger.recovered,
        hit.offer.played().unwrap().ledger.balance_end,
    )
}

#[test]
fn ledger_of_a_queen_won_back() {
    // Bishop for pawn (-2), pawn f7 taken (-1), queen for knight (+9, then -3).
    let line = "1. Bxh7+ Kxh7 2. Ng5+ Kh6 3. Nxf7+ Kg6 4. Nxd8 Rxd8 *";
    assert_eq!(ledger(BISHOP, &from(CLASSICAL, line)), (2, Some(8), 5));
}

#[test]
fn trades_in_the_middle_of_an_exchange_are_no_investment() {
    // Queens come off while the attacker is two pawns down; they take back, so they never lost a queen.
    let fen = "r1b2rk1/pp1n1ppp/2n1p3/b2pP1q1/8/2PB1N2/PP3PPP/RN1Q1RK1 w - - 0 1";
    let line = "1. Bxh7+ Kxh7 2. Nxg5+ Kg8 *";
    assert_eq!(ledger(BISHOP, &from(fen, line)), (0, None, 7));
    let fen = "r2q1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP1Q1PPP/RN3RK1 w - - 0 1";
    let line = "1. Bxh7+ Kxh7 2. Qd3+ Kg8 3. Ng5 Qxg5 4. Qh7+ Kxh7 *";
    assert_eq!(ledger(BISHOP, &from(fen, line)), (14, None, -14));
}

#[test]
fn ledger_counts_promotion_and_capture_in_passing() {
    // A pawn promotes (+8) after a rook was given for a knight.
    let fen = "2n1k3/1P6/8/8/8/8/8/2R1K3 w - - 0 1";
    assert_eq!(
        ledger("rook takes knight on c8", &from(fen, "1. Rxc8+ Kd7 2. b8=Q *")),
        (0, None, 11)
    );
    // Black gives a knight on f3 (f6 in the attacker's view) and takes a pawn in passing.
    let game = from("4k3/8/8/8/2pn4/8/3P2P1/4K3 b - - 0 1", "1... Nf3+ 2. gxf3 Kd7 3. d4 cxd3 *");
    assert_eq!(ledger("knight moves to f6 giving up 3 or more", &game), (3, None, -2));
}

#[test]
fn evaluations_are_from_the_attackers_side() {
    let line = "1. Bxh7+ {[%eval 1.25]} Kxh7 {[%eval #5]} *";
    let white = hit(&query(BISHOP, ""), &from(CLASSICAL, line));
    assert_eq!(
        (white.offer.eval_before, white.offer.played().unwrap().eval_after),
        (None, Some(Evaluation::Centipawns(125)))
    );
    let fen = "rnbq1rk1/pp3ppp/2pb1n2/8/3P4/2N1P3/PPP2PPP/R1BQ1RK1 w - - 0 1";
    let line = "1. a3 {[%eval -0.5]} Bxh2+ {[%eval #-3]} 2. Kxh2 Ng4+ *";
    let black = hit(&query(BISHOP, ""), &from(fen, line));
    assert_eq!(black.offer.eval_before, Some(Evaluation::Centipawns(50)));
    assert_eq!(black.offer.played().unwrap().eval_after, Some(Evaluation::Mate(3)));
    assert_eq!((black.offer.ply, black.offer.move_number), (2, 1));
}
