"""The attacker's view of a board, and the squares that a sentence names in it."""

from dataclasses import dataclass, replace

import chess

from sentences import Condition, Fact, Lead, Move, Squares


@dataclass(frozen=True)
class View:
    """The attacker's view: whose it is, and whether left and right are exchanged."""

    attacker: chess.Color
    mirrored: bool

    def color(self, is_defender: bool) -> chess.Color:
        """Name the colour of the defender or of the attacker."""
        return self.attacker != is_defender

    def square(self, square: chess.Square) -> chess.Square:
        """Translate a square between the view and the board: the turn undoes itself."""
        if self.attacker == chess.BLACK:
            square = chess.square_mirror(square)
        return square ^ 7 if self.mirrored else square

    def turned(self, squares: Squares | None) -> Squares | None:
        """Translate squares of the view to the board."""
        if squares is None:
            return None
        mask = squares.mask
        if self.attacker == chess.BLACK:
            mask = chess.flip_vertical(mask)
        if self.mirrored:
            mask = chess.flip_horizontal(mask)
        return replace(squares, mask=mask)

    def move(self, move: Move) -> Move:
        """Translate the squares of a sentence to the board."""
        return replace(move, squares=self.turned(move.squares), start=self.turned(move.start))

    def condition(self, condition: Condition) -> Condition:
        """Translate the squares of facts to the board."""
        return tuple(tuple(self.fact(fact) for fact in facts) for facts in condition)

    def fact(self, fact: Fact | Lead) -> Fact | Lead:
        """Translate the squares of a fact to the board."""
        if isinstance(fact, Lead):
            return fact
        return replace(fact, squares=self.turned(fact.squares))


def told_by_king(name: str, board: chess.Board, defender: chess.Color) -> chess.Bitboard:
    """Find the squares of that name, which the place of the defender's king tells."""
    king = board.king(defender)
    if king is None:
        return 0
    beside = chess.BB_KING_ATTACKS[king]
    file, rank = chess.square_file(king), chess.square_rank(king)
    if name == "the king's file":
        return chess.BB_FILES[file]
    if name == "the king's rank":
        return chess.BB_RANKS[rank]
    if name == "in front of the king":
        front = rank + (1 if defender == chess.WHITE else -1)
        return beside & chess.BB_RANKS[front] if 0 <= front < 8 else 0
    return beside


def contains(squares: Squares, square: chess.Square, board: chess.Board, view: View) -> bool:
    """Tell whether the squares, in this position, hold the square."""
    return bool(chess.BB_SQUARES[square] & all_of(squares, board, view))


def all_of(squares: Squares, board: chess.Board, view: View) -> chess.Bitboard:
    """Find all the squares in this position."""
    mask = squares.mask
    for name in squares.by_king:
        mask |= told_by_king(name, board, not view.attacker)
    return mask
