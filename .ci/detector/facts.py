"""What the facts of a sentence mean in a position."""

import chess

from exchange import balance, passing, winnable
from sentences import PASSED_PAWN, Condition, Fact, Kind, Lead
from views import View, all_of


def reached(board: chess.Board, square: chess.Square) -> chess.Bitboard:
    """Find where the man on the square goes in one move, pins, checks and castling aside."""
    color = board.color_at(square)
    attacks = board.attacks_mask(square)
    if board.piece_type_at(square) != chess.PAWN:
        return attacks & ~board.occupied_co[color]
    prey = board.occupied_co[not color]
    if board.ep_square is not None and color == board.turn:
        prey |= chess.BB_SQUARES[board.ep_square]
    return attacks & prey | pushes(board, square, color)


def pushes(board: chess.Board, square: chess.Square, color: chess.Color) -> chess.Bitboard:
    """Find where the pawn on the square can be pushed."""
    step = 8 if color == chess.WHITE else -8
    if not 0 <= square + step < 64 or board.occupied & chess.BB_SQUARES[square + step]:
        return 0
    one = chess.BB_SQUARES[square + step]
    home = 1 if color == chess.WHITE else 6
    if chess.square_rank(square) != home or board.occupied & chess.BB_SQUARES[square + 2 * step]:
        return one
    return one | chess.BB_SQUARES[square + 2 * step]


def borne_on(board: chess.Board, square: chess.Square) -> chess.Bitboard:
    """Find what the man on the square attacks, also through own men that move along the line."""
    kind = board.piece_type_at(square)
    own = board.occupied_co[board.color_at(square)]
    found = board.attacks_mask(square)
    if kind in (chess.BISHOP, chess.QUEEN):
        seen = board.occupied & ~(own & (board.bishops | board.queens))
        found |= chess.BB_DIAG_ATTACKS[square][chess.BB_DIAG_MASKS[square] & seen]
    if kind in (chess.ROOK, chess.QUEEN):
        seen = board.occupied & ~(own & (board.rooks | board.queens))
        found |= chess.BB_RANK_ATTACKS[square][chess.BB_RANK_MASKS[square] & seen]
        found |= chess.BB_FILE_ATTACKS[square][chess.BB_FILE_MASKS[square] & seen]
    return found


def passed_pawns(board: chess.Board, color: chess.Color) -> chess.Bitboard:
    """Find the pawns with no pawn of the other side ahead on their file or one next to it."""
    others = board.pieces(chess.PAWN, not color)
    return chess.SquareSet(
        pawn
        for pawn in board.pieces(chess.PAWN, color)
        if not any(
            abs(chess.square_file(other) - chess.square_file(pawn)) <= 1
            and (other // 8 > pawn // 8 if color == chess.WHITE else other // 8 < pawn // 8)
            for other in others
        )
    ).mask


def of_kinds(board: chess.Board, kinds: frozenset[Kind], color: chess.Color) -> chess.Bitboard:
    """Find the men of a side of these kinds."""
    found = 0
    for kind in kinds:
        is_type = kind != PASSED_PAWN
        found |= board.pieces_mask(kind, color) if is_type else passed_pawns(board, color)
    return found


def is_en_prise(board: chess.Board, square: chess.Square) -> bool:
    """Tell whether the other side, if it were its move, would win something there."""
    if board.piece_type_at(square) == chess.KING:
        return False
    other_moves = board.turn != board.color_at(square)
    return winnable(board if other_moves else passing(board), square) > 0


def without(
    board: chess.Board, kinds: frozenset[Kind], color: chess.Color, but: chess.Square
) -> chess.Board:
    """Take away the men of a side of these kinds, but for the one on a square."""
    copy = board.copy(stack=False)
    for square in chess.scan_forward(of_kinds(board, kinds, color) & ~chess.BB_SQUARES[but]):
        copy.remove_piece_at(square)
    return copy


def relates(
    relation: str, board: chess.Board, square: chess.Square, squares: chess.Bitboard
) -> bool:
    """Tell whether the man on the square stands so to one of the squares."""
    if relation == "guards":
        return bool(board.attacks_mask(square) & squares)
    if relation == "reaches":
        return bool(reached(board, square) & squares)
    if relation == "bears on":
        return bool(borne_on(board, square) & squares)
    if not chess.BB_SQUARES[square] & squares:
        return False
    if relation == "en prise":
        return is_en_prise(board, square)
    return relation == "on" or board.is_pinned(board.color_at(square), square)


def count(
    fact: Fact, board: chess.Board, view: View, of_defender: bool, kinds: frozenset[Kind]
) -> int:
    """Count the men of a side and kind that stand as the fact says."""
    squares = all_of(fact.squares, board, view)
    color = view.color(of_defender)
    return sum(
        relates(
            fact.relation,
            without(board, fact.past, color, square) if fact.past else board,
            square,
            squares,
        )
        for square in chess.scan_forward(of_kinds(board, kinds, color))
    )


def holds(fact: Fact | Lead, board: chess.Board, view: View) -> bool:
    """Tell whether the fact, its squares turned to the board, is true in the position."""
    if isinstance(fact, Lead):
        return fact.amount.holds(balance(board, view.color(fact.of_defender)))
    number = count(fact, board, view, fact.of_defender, fact.kinds)
    if fact.rival:
        return number > count(fact, board, view, *fact.rival)
    return fact.amount.holds(number)


def is_met(condition: Condition, board: chess.Board, view: View) -> bool:
    """Tell whether all the facts of one alternative are true in the position."""
    return any(all(holds(fact, board, view) for fact in facts) for facts in condition)
