"""The attacker's view of a board, and the squares that a sentence names in it."""

from dataclasses import dataclass, replace

import chess

from sentences import Condition, Move, Squares


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
        return tuple(
            tuple(replace(fact, squares=self.turned(fact.squares)) for fact in facts)
            for facts in condition
        )


def beside_king(board: chess.Board, defender: chess.Color) -> chess.Bitboard:
    """Find the squares next to the defender's king."""
    king = board.king(defender)
    return 0 if king is None else chess.BB_KING_ATTACKS[king]


def contains(squares: Squares, square: chess.Square, board: chess.Board, view: View) -> bool:
    """Tell whether the squares, in this position, hold the square."""
    return bool(chess.BB_SQUARES[square] & all_of(squares, board, view))


def all_of(squares: Squares, board: chess.Board, view: View) -> chess.Bitboard:
    """Find all the squares in this position."""
    beside = beside_king(board, not view.attacker) if squares.beside_king else 0
    return squares.mask | beside
