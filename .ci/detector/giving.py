"""What a move gives up: the men that it offers, and which of them it is about."""

from dataclasses import dataclass

import chess

from exchange import WORTH, gain, landing, losses, passing


def newly_lost(
    board: chess.Board, move: chess.Move, following: chess.Board
) -> dict[chess.Square, int]:
    """Count what the other side can win after the move on the square of each man who stayed.

    A man who could be won before already, if the other side had been to move, does not count.
    """
    own = following.occupied_co[board.turn] & board.occupied_co[board.turn]
    lost = losses(following, own & ~chess.BB_SQUARES[landing(board, move)])
    hung = losses(passing(board), chess.SquareSet(lost).mask) if lost else {}
    return {square: loss for square, loss in lost.items() if square not in hung}


@dataclass(frozen=True)
class Giving:
    """What a move gives up. `nets` tells of each man that can be taken what it costs to lose it.

    That is what the taking wins less what the move took itself.
    """

    following: chess.Board
    target: chess.Square
    nets: dict[chess.Square, int]

    @property
    def cost(self) -> int:
        """What is given up at most."""
        return max([0, *self.nets.values()])

    @property
    def square(self) -> chess.Square:
        """Where the man stands that is given up; that of the man that moved if nothing is."""
        if not self.cost:
            return self.target
        return max((s for s, net in self.nets.items() if net == self.cost), key=self.claim)

    def claim(self, square: chess.Square) -> tuple[bool, int, int]:
        """Rank men that cost the same: the one that moved, the one of most worth, the lowest."""
        return square == self.target, WORTH[self.following.piece_type_at(square)], -square

    @property
    def man(self) -> chess.PieceType:
        """What kind of man is given up, after a promotion."""
        return self.following.piece_type_at(self.square)

    @property
    def squares(self) -> frozenset[chess.Square]:
        """Where the men stand by whose capture the offer is accepted."""
        if not self.cost:
            return frozenset({self.target})
        least = min(2, self.cost)
        return frozenset(square for square, net in self.nets.items() if net >= least)


def giving(board: chess.Board, move: chess.Move, following: chess.Board) -> Giving:
    """Tell what a move gives up."""
    target = landing(board, move)
    taken = gain(board, move)
    moved = {target: losses(following, chess.BB_SQUARES[target]).get(target, 0)}
    lost = moved | newly_lost(board, move, following)
    return Giving(following, target, {square: loss - taken for square, loss in lost.items()})


def hanging(board: chess.Board) -> int:
    """Count what the side to move would lose at most if it passed."""
    return max(losses(passing(board)).values(), default=0)
