"""Cases whose results were worked out by hand. All positions are made up.

But for the mate named after Sire de Legall: its moves are common property; from memory.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Offer:
    """What a move gives up. `squares` are those of the board on which taking accepts."""

    fen: str
    san: str
    offered: str  # in the attacker's view
    cost: int
    squares: str
    was_hanging: int
    cheap: str = ""  # `free`, `desperado` or neither


LEGALL = "rn1qkbnr/ppp2p1p/3p2p1/4p3/2B1P1b1/2N2N2/PPPP1PPP/R1BQK2R w KQkq - 0 5"
OFFERS = (
    # The queen for a bishop and the pawn taken; the knight can be taken as well, for less.
    Offer(LEGALL, "Nxe5", "queen d1", 5, "d1 e5", 0),
    # A pawn can be taken in passing; the rook would take back; or it guards no longer.
    Offer("4k3/8/8/8/1p6/8/P7/4K3 w - - 0 1", "a4", "pawn a4", 1, "a4", 0),
    Offer("4k3/8/8/8/1p6/8/P7/R3K3 w - - 0 1", "a4", "pawn a4", 0, "a4", 0, "free"),
    Offer("4k3/5b2/8/8/1p6/1N6/P7/R3K3 w - - 0 1", "a4", "knight b3", 3, "b3", 0),
    # A new queen: 8 are won by promoting, 9 lost; or 11 and 9. Black sees the board from behind.
    Offer("r5k1/2P2ppp/8/8/8/8/5PPP/6K1 w - - 0 1", "c8=Q+", "queen c8", 1, "c8", 0),
    Offer("r5k1/2P2ppp/8/8/8/8/5PPP/6K1 w - - 0 1", "c8=N", "knight c8", 1, "c8", 0),
    Offer("rn4k1/2P2ppp/8/8/8/8/5PPP/6K1 w - - 0 1", "cxb8=Q+", "queen b8", 0, "b8", 0, "free"),
    Offer("6k1/5ppp/8/8/8/8/2p2PPP/R5K1 b - - 0 1", "c1=Q+", "queen c8", 1, "c1", 0),
    # The king castles away from a knight that it guarded; or from nothing.
    Offer("4k3/8/8/8/1b6/8/3N1PPP/4K2R w K - 0 1", "O-O", "knight d2", 3, "d2", 0),
    Offer("4k3/8/8/8/8/8/3N1PPP/4K2R w K - 0 1", "O-O", "king g1", 0, "g1", 0, "free"),
    # The only legal move; and the knight that is lost takes a pawn along.
    Offer("7k/8/8/8/3b4/8/6PB/r6K w - - 0 1", "Bg1", "bishop g1", 3, "g1", 0, "desperado"),
    Offer("N7/pkp5/8/8/8/8/8/6K1 w - - 0 1", "Nxc7", "knight c7", 2, "c7", 3, "desperado"),
    Offer("N7/pkp5/8/8/8/8/8/6K1 w - - 0 1", "Nb6", "knight b6", 3, "b6", 3),
    # Two bishops are left alone: the lower square. With the knight itself: the one that moved.
    Offer("8/7k/8/8/3N4/1B1r1B2/8/6K1 w - - 0 1", "Nc6", "bishop b3", 3, "b3 f3", 3),
    Offer("6k1/8/1b1R1b2/3n4/8/8/7K/8 b - - 0 1", "Nc3", "bishop b3", 3, "b6 f6", 3),
    Offer("8/7k/p7/8/3N4/1B1r1B2/8/6K1 w - - 0 1", "Nb5", "knight b5", 3, "b3 b5 f3", 3),
    # A bishop may take a rook that was behind, and a pawn that was pinned a knight: the rook.
    Offer("4k3/8/4p3/2bN4/2P5/4R3/8/6RK w - - 0 1", "Rh3", "rook g1", 2, "d5 g1", 2),
    # Less than two pawns suffice if nothing costs more.
    Offer("4k3/8/8/8/1b6/2N5/3P4/6K1 w - - 0 1", "Nb5", "pawn d2", 1, "d2", 0),
    # What could be won before is not what the move offers; in check, too.
    Offer("r3k3/7p/8/8/8/3B4/8/R3K3 w q - 0 1", "Bxh7", "bishop h7", 0, "h7", 5, "free"),
    Offer("8/1k2n3/1q1PKr1N/1p2R3/1p5P/8/8/8 w - - 0 1", "Kxe7", "king e7", 0, "e7", 3, "free"),
)


@dataclass(frozen=True)
class Course:
    """How an offer goes on, and what kind that makes it."""

    fen: str
    line: str
    result: str
    accepted: bool | None
    kind: str


STRAY = "n5k1/8/2p5/8/3N4/8/5PPP/4R1K1 w - - 0 1"  # A knight is there to be won later.
COURSES = (
    Course(LEGALL, "Nxe5", "*", None, "declined"),
    Course(LEGALL, "Nxe5 Be6", "1-0", False, "declined"),
    Course(LEGALL, "Nxe5 Bxd1 Bxf7+ Ke7 Nd5#", "*", True, "sham"),
    Course(LEGALL, "Nxe5 dxe5 Qxg4", "0-1", True, "sham"),
    Course(LEGALL, "Nxe5 dxe5 h3", "1/2-1/2", True, "real"),
    # The fourth move after the acceptance still counts, with its answer; the fifth does not.
    Course(STRAY, "Nb5 cxb5 Rd1 Kg7 Rd2 Kh7 Rd8 Kg7 Rxa8 Kf7 h3 Ke7", "0-1", True, "sham"),
    Course(STRAY, "Nb5 cxb5 Rd1 Kg7 Rd2 Kh7 Rd1 Kg7 Rd8 Kh7 Rxa8 Kg7", "1-0", True, "real"),
    Course(STRAY, "Nb5 cxb5 Rd1", "1-0", True, "sham"),
    Course(STRAY, "Nb5 cxb5 Rd1", "*", True, "real"),
    Course(STRAY, "Nb5 cxb5", "0-1", True, "real"),
    Course("4k3/8/8/8/1p6/8/P7/4K3 w - - 0 1", "a4 bxa3 Kd1", "*", True, "real"),
    Course("4k3/5b2/8/8/1p6/1N6/P7/R3K3 w - - 0 1", "a4 bxa3 Rxa3", "*", False, "declined"),
    Course("4k3/8/8/8/1p6/8/P7/R3K3 w - - 0 1", "a4 bxa3 Rxa3", "*", True, "free"),
    Course("4k3/8/8/8/1b6/8/3N1PPP/4K2R w K - 0 1", "O-O Bxd2 Rd1", "*", True, "real"),
    Course("N7/pkp5/8/8/8/8/8/6K1 w - - 0 1", "Nxc7 Kxc7", "*", True, "desperado"),
)


@dataclass(frozen=True)
class Saying:
    """A condition that holds in one position and not in another; White attacks."""

    text: str
    holds: str
    fails: str


SAYINGS = (
    Saying(
        "at most 1 attacker pawn on 2nd rank",
        "4k3/8/8/8/8/8/P7/4K3 w - - 0 1",
        "4k3/8/8/8/8/8/PP6/4K3 w - - 0 1",
    ),
    Saying(
        "defender ahead by 2 to 4",
        "4k3/8/8/3b4/8/8/8/4K3 w - - 0 1",
        "4k3/8/8/3r4/8/8/8/4K3 w - - 0 1",
    ),
    Saying("attacker ahead", "4k3/8/8/8/8/8/P7/4K3 w - - 0 1", "4k3/p7/8/8/8/8/P7/4K3 w - - 0 1"),
    Saying(
        "material is level",
        "4k3/8/8/3b4/4N3/8/8/4K3 w - - 0 1",
        "4k3/8/8/3r4/4N3/8/8/4K3 w - - 0 1",
    ),
    # Towards the attacker; nowhere if the king stands on the first rank.
    Saying(
        "attacker man on in front of the king",
        "6k1/5N2/8/8/8/8/8/4K3 w - - 0 1",
        "8/8/8/8/8/8/NN6/k3K3 w - - 0 1",
    ),
    Saying(
        "attacker rook on the king's file",
        "6k1/8/8/8/8/8/8/4K1R1 w - - 0 1",
        "5k2/8/8/8/8/8/8/4K1R1 w - - 0 1",
    ),
    Saying(
        "defender man on the king's rank",  # The king is one of them.
        "6k1/8/8/8/8/8/8/4K1R1 w - - 0 1",
        "",
    ),
    Saying(
        "attacker queen reaches h5 past knight",
        "4k3/8/8/8/8/5N2/8/3QK3 w - - 0 1",
        "4k3/8/8/8/8/5B2/8/3QK3 w - - 0 1",
    ),
    # The knight itself stays, and so do the other side's.
    Saying(
        "attacker knight reaches e5 past knight",
        "4k3/8/8/4N3/8/5N2/8/4K3 w - - 0 1",
        "4k3/8/8/8/4N3/8/8/4K3 w - - 0 1",
    ),
    Saying(
        "attacker knight on 5th rank is en prise",
        "4k3/8/3p4/4N3/8/8/8/4K3 w - - 0 1",
        "4k3/3b4/2p5/1P2N3/8/8/8/4K3 w - - 0 1",
    ),
    Saying(
        "no defender men are en prise",
        "4k3/8/3p4/8/8/8/8/R3K3 w - - 0 1",
        "4k3/8/3p4/8/8/8/8/3RK3 w - - 0 1",
    ),
    Saying(
        "attacker passed pawn on 5th rank",
        "4k3/p7/8/2P1p3/8/8/8/4K3 w - - 0 1",
        "4k3/1p6/8/2P5/8/8/8/4K3 w - - 0 1",
    ),
    Saying(
        "more attacker passed pawns on any square than defender passed pawns",
        "4k3/p7/8/2P5/8/8/P7/4K3 w - - 0 1",
        "4k3/8/p7/2P5/8/8/8/4K3 w - - 0 1",
    ),
)


QUERIES = (
    """
    offer = "any man to any square between rook or queen and bishop"
    [[example]]
    fen  = "r2b2k1/8/2N5/8/8/8/8/6K1 w - - 0 1"
    line = "Nb8"
    hit  = true
    [[example]]  # On a diagonal it is the bishop that moves so.
    fen  = "r5k1/8/8/N2b4/8/8/8/6K1 w - - 0 1"
    line = "Nb7"
    hit  = true
    [[example]]  # Something stood between them already.
    fen  = "rn1b2k1/8/1N6/8/8/8/8/6K1 w - - 0 1"
    line = "Nc8"
    hit  = false
    [[example]]  # What it takes stood between them.
    fen  = "rn1b2k1/8/2N5/8/8/8/8/6K1 w - - 0 1"
    line = "Nxb8"
    hit  = false
    [[example]]  # No bishop at the other end.
    fen  = "r2n2k1/8/2N5/8/8/8/8/6K1 w - - 0 1"
    line = "Nb8"
    hit  = false
    """,
    """
    offer = "knight to b5 not taken back within 4 moves"
    [[example]]  # With the fourth move after the offer, and its answer.
    fen  = "n5k1/8/2p5/8/3N4/8/5PPP/4R1K1 w - - 0 1"
    line = "Nb5 cxb5 Rd1 Kg7 Rd2 Kh7 Rd8 Kg7 Rxa8 Kf7"
    hit  = false
    [[example]]  # With the fifth.
    fen  = "n5k1/8/2p5/8/3N4/8/5PPP/4R1K1 w - - 0 1"
    line = "Nb5 cxb5 Rd1 Kg7 Rd2 Kh7 Rd1 Kg7 Rd8 Kh7 Rxa8 Kg7"
    hit  = true
    [[example]]  # The game ends first; and so does one in which nothing was taken.
    fen  = "n5k1/8/2p5/8/3N4/8/5PPP/4R1K1 w - - 0 1"
    line = "Nb5 cxb5 Rd1"
    hit  = true
    [[example]]
    fen  = "n5k1/8/2p5/8/3N4/8/5PPP/4R1K1 w - - 0 1"
    line = "Nb5 Kf7"
    hit  = false
    """,
    """
    offer = "pawn to 4th rank"
    requires = ["on"]
    follow-ups.on = "the same pawn to 5th rank within 3 moves"
    [[example]]
    fen  = "4k3/8/8/8/1p6/8/2P4P/4K3 w - - 0 1"
    line = "c4 Kf7 c5"
    hit  = true
    [[example]]  # Another pawn goes there, first alone and then for one that was taken in passing.
    fen  = "4k3/8/8/8/1p6/7P/2P5/4K3 w - - 0 1"
    line = "c4 Kf7 Kf1 Kg7 Kg1"
    hit  = false
    [[example]]
    fen  = "4k3/8/8/2P5/1p6/8/2P5/4K3 w - - 0 1"
    line = "c4 bxc3 c6 c2 c7"
    hit  = false
    [[example]]  # The fourth move is too late.
    fen  = "4k3/8/8/8/1p6/8/2P4P/4K3 w - - 0 1"
    line = "c4 Kf7 Kf1 Kf6 Kg1 Kf7 Kf1 Kf6 c5"
    hit  = false
    """,
    """
    offer = "pawn to 7th rank"
    requires = ["check"]
    follow-ups.check = "the same queen with check"
    [[example]]
    fen  = "8/8/2P4k/8/8/8/8/6K1 w - - 0 1"
    line = "c7 Kg6 c8=Q Kf6 Qf8+"
    hit  = true
    [[example]]
    fen  = "8/8/2P4k/8/8/8/Q7/6K1 w - - 0 1"
    line = "c7 Kg6 Qa6+"
    hit  = false
    """,
    """
    offer = "pawn to 4th rank"
    requires = ["up then back or check", "no trade"]
    [follow-ups]
    up    = "king to 2nd rank within 4 moves"
    back  = "king to 1st rank within 4 moves"
    check = "any man with check"
    trade = "rook takes rook on any square at once"
    [[example]]
    fen  = "4k3/8/8/8/8/8/P7/4K3 w - - 0 1"
    line = "a4 Kf8 Ke2 Kg8 Ke1"
    hit  = true
    [[example]]  # In the other order; and the second one too late.
    fen  = "4k3/8/8/8/8/8/P7/4K3 w - - 0 1"
    line = "a4 Kf8 Kf1 Kg8 Ke2"
    hit  = false
    [[example]]
    fen  = "4k3/8/8/8/8/8/P7/4K3 w - - 0 1"
    line = "a4 Kf8 Ke2 Kg8 Ke3 Kf8 Ke4 Kg8 Ke3 Kf8 Kd2 Kf7 Kd1"
    hit  = false
    [[example]]
    fen  = "3rk3/8/8/8/8/8/P7/3RK3 w - - 0 1"
    line = "a4 Ke7 Rd7+"
    hit  = true
    [[example]]  # What must not come.
    fen  = "3rk3/8/8/8/8/8/P7/3RK3 w - - 0 1"
    line = "a4 Rd7 Rxd7 Kxd7 a5"
    hit  = false
    """,
    """
    offer = "queen with stalemate"
    [[example]]
    fen  = "7k/8/8/8/8/8/1Q6/6K1 b - - 0 1"
    line = "Kg8 Qb7 Kh8"
    hit  = false
    [[example]]
    fen  = "7k/8/8/6Q1/8/8/8/6K1 w - - 0 1"
    line = "Qg6"
    hit  = true
    [[example]]
    fen  = "6k1/8/6KQ/8/8/8/8/8 w - - 0 1"
    line = "Qg7#"
    hit  = false
    """,
    """
    files = "any"
    wings = "both"
    offer = "rook takes knight on c6"
    when  = ["defender pawn on b7", "attacker bishop on light squares"]
    requires = ["back"]
    follow-ups.back = "defender pawn takes on c6 from b-file at once"
    [[example]]  # As written; f1 is a light square.
    fen  = "6k1/1p6/2n5/8/8/8/8/2R2BK1 w - - 0 1"
    line = "Rxc6 bxc6"
    hit  = true
    [[example]]  # One file to the right, where the bishop must stand on dark squares: f2 is one.
    fen  = "6k1/2p5/3n4/8/8/8/8/3R1BK1 w - - 0 1"
    line = "Rxd6 cxd6"
    hit  = false
    [[example]]
    fen  = "6k1/2p5/3n4/8/8/8/5B2/3R2K1 w - - 0 1"
    line = "Rxd6 cxd6"
    hit  = true
    [[example]]  # Mirrored, d6 is e6, two files to the right, and f2 is c2, a light square.
    fen  = "6k1/4p3/3n4/8/8/8/5B2/3R2K1 w - - 0 1"
    line = "Rxd6 exd6"
    hit  = true
    [[example]]
    fen  = "6k1/4p3/3n4/8/8/8/8/3R1BK1 w - - 0 1"
    line = "Rxd6 exd6"
    hit  = false
    [[example]]  # On the edge, only mirrored: there a6 is h6, and f1 is c1, a dark square.
    fen  = "6k1/1p6/n7/8/8/8/8/R4BK1 w - - 0 1"
    line = "Rxa6 bxa6"
    hit  = true
    """,
    """
    offer = "knight takes on any square was en prise offering knight giving up 2"
    [[example]]
    fen  = "N7/pkp5/8/8/8/8/8/6K1 w - - 0 1"
    line = "Nxc7"
    hit  = true
    [[example]]  # What it takes is worth as much.
    fen  = "N7/pk6/1n6/8/8/8/8/6K1 w - - 0 1"
    line = "Nxb6"
    hit  = false
    """,
)
