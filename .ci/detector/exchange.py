"""Material: what is won and lost on a square, and the ledger of a game. All in pawns.

Exchanges are played out over all legal captures on the square, so that a pinned man does not take,
and nobody takes who must parry a check and would not.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import chess

WORTH = {
    chess.PAWN: 1,
    chess.KNIGHT: 3,
    chess.BISHOP: 3,
    chess.ROOK: 5,
    chess.QUEEN: 9,
    chess.KING: 0,
}


def landing(board: chess.Board, move: chess.Move) -> chess.Square:
    """Find where the man that moves comes to stand; when castling, the king."""
    if not board.is_castling(move):
        return move.to_square
    file = 6 if chess.square_file(move.to_square) > chess.square_file(move.from_square) else 2
    return chess.square(file, chess.square_rank(move.from_square))


def captured(board: chess.Board, move: chess.Move) -> chess.PieceType | None:
    """Name the man that the move captures."""
    if board.is_en_passant(move):
        return chess.PAWN
    return None if board.is_castling(move) else board.piece_type_at(move.to_square)


def after(board: chess.Board, move: chess.Move) -> chess.Board:
    """Play the move on a copy."""
    copy = board.copy(stack=False)
    copy.push(move)
    return copy


def passing(board: chess.Board) -> chess.Board:
    """Give the position in which the other side is to move, though nothing was played."""
    return after(board, chess.Move.null())


def gain(board: chess.Board, move: chess.Move) -> int:
    """Count what the move takes, and what a promotion adds."""
    taken = captured(board, move)
    won = WORTH[taken] if taken else 0
    return won + (WORTH[move.promotion] - WORTH[chess.PAWN] if move.promotion else 0)


def exchange(board: chess.Board, move: chess.Move) -> int:
    """Count what the mover wins if both sides go on capturing on the square as long as it pays."""
    return gain(board, move) - winnable(after(board, move), landing(board, move))


def winnable(board: chess.Board, square: chess.Square) -> int:
    """Count what the side to move wins at most by capturing on the square; 0 if that never pays."""
    takers = board.attackers_mask(board.turn, square)
    if not takers:
        return 0
    captures = board.generate_legal_captures(takers, chess.BB_SQUARES[square])
    return max([0, *(exchange(board, move) for move in captures)])


def winnable_in_passing(board: chess.Board) -> int:
    """Count what the side to move wins at most by taking a pawn in passing."""
    return max([0, *(exchange(board, move) for move in board.generate_legal_ep())])


def losses(board: chess.Board, squares: chess.Bitboard = chess.BB_ALL) -> dict[chess.Square, int]:
    """Count what the side to move can win on the square of each man of the other side.

    Only men on `squares` that can be won are there. A pawn that has just made its double step may
    be taken in passing instead.
    """
    men = board.occupied_co[not board.turn] & ~board.kings & squares
    found = {square: winnable(board, square) for square in chess.scan_forward(men)}
    if board.ep_square is not None:
        stepped = board.ep_square ^ 8  # The pawn stands beyond the square that it passed over.
        if chess.BB_SQUARES[stepped] & men:
            found[stepped] = max(found.get(stepped, 0), winnable_in_passing(board))
    return {square: loss for square, loss in found.items() if loss}


def balance(board: chess.Board, color: chess.Color) -> int:
    """Count the material of the colour less that of the other."""
    return sum(
        worth * (len(board.pieces(kind, color)) - len(board.pieces(kind, not color)))
        for kind, worth in WORTH.items()
    )


@dataclass(frozen=True)
class Ledger:
    """How the attacker's material went after an offer."""

    invested: int
    recovered: int | None
    balance_end: int


def ledger(boards: Sequence[chess.Board], index: int) -> Ledger:
    """Follow the material from just before the offer, `boards[index]`, to the end of the game.

    A balance counts once the side that is worse off has had the chance to take back: a deficit
    after a move of the attacker, a recovery after a move of the defender, and either at the end of
    the game.
    The first recovery after the greatest deficit has made it good.
    """
    attacker = boards[index].turn
    start = balance(boards[index], attacker)
    end = len(boards) - 1
    balances = {ply: balance(boards[ply], attacker) - start for ply in range(index + 1, end + 1)}
    deficits = [ply for ply in balances if boards[ply].turn != attacker or ply == end]
    recoveries = [ply for ply in balances if boards[ply].turn == attacker or ply == end]
    worst = min(deficits, key=balances.__getitem__)
    invested = max(0, -balances[worst])
    later = (ply for ply in recoveries if ply > worst and balances[ply] >= 0)
    recovered = next(later, None) if invested else None
    return Ledger(invested, recovered, balances[end])
