"""A move of a game, and what it does to the men of its side."""

from functools import cached_property

import chess

from exchange import after, captured, gain, landing, losses
from giving import Giving, giving, hanging, newly_lost


class Step:
    """A move in its position and what it does there, worked out when asked for if it is dear."""

    def __init__(self, board: chess.Board, move: chess.Move) -> None:
        self.board = board
        self.move = move
        self.color = board.turn
        self.man = board.piece_type_at(move.from_square)
        self.target = landing(board, move)
        self.victim = captured(board, move)

    @cached_property
    def following(self) -> chess.Board:
        """The position after the move."""
        return after(self.board, self.move)

    @cached_property
    def giving(self) -> Giving:
        """What the move gives up."""
        return giving(self.board, self.move, self.following)

    @property
    def cost(self) -> int:
        """What the man is worth that it gives up, less what it takes, in pawns."""
        return self.giving.cost

    @cached_property
    def uncovered(self) -> int:
        """What can be won elsewhere since, in pawns, whatever the move takes."""
        return max(newly_lost(self.board, self.move, self.following).values(), default=0)

    @cached_property
    def was_hanging(self) -> int:
        """What its side would have lost by passing."""
        return hanging(self.board)

    @property
    def worst(self) -> int:
        """What its side loses at most after the move, less what the move takes."""
        return max(losses(self.following).values(), default=0) - gain(self.board, self.move)

    @cached_property
    def is_desperado(self) -> bool:
        """Whether it gives something up, and no other legal move loses less."""
        others = (Step(self.board, move) for move in self.board.legal_moves if move != self.move)
        return self.cost > 0 and all(other.worst >= self.cost for other in others)

    def takes_man_of(self, earlier: "Step") -> bool:
        """Tell whether this move, the next one, takes the man that made the earlier move."""
        return self.takes_one_on({earlier.target})

    def takes_one_on(self, squares: frozenset[chess.Square] | set[chess.Square]) -> bool:
        """Tell whether this move takes a man that stands on one of the squares."""
        if self.board.is_en_passant(self.move):
            return self.target ^ 8 in squares  # The pawn stands beside the taker.
        return self.victim is not None and self.target in squares

    def accepts(self, offer: "Step") -> bool:
        """Tell whether this move, the next one, takes a man that the offer gives up."""
        return self.takes_one_on(offer.giving.squares)
