"""What sentences mean on a board: views, facts of a position, and moves that fit a description."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import chess

from exchange import after, captured, cost, exposed, landing
from sentences import Condition, Fact, Move, Query, Squares


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
    def cost(self) -> int:
        """What the move gives up on its square, in pawns."""
        return cost(self.board, self.move)

    @cached_property
    def uncovered(self) -> int:
        """What it gives up elsewhere, in pawns."""
        return max(self.exposed.values(), default=0)

    @cached_property
    def exposed(self) -> dict[chess.Square, int]:
        """Where men stand that can be won since, and what each is worth, in pawns."""
        return exposed(self.board, self.move)

    def takes_man_of(self, earlier: "Step") -> bool:
        """Tell whether this move, the next one, takes the man that made the earlier move."""
        if self.board.is_en_passant(self.move):
            return True  # Only the pawn that moved just now can be taken so.
        return self.victim is not None and self.target == earlier.target

    def accepts(self, offer: "Step") -> bool:
        """Tell whether this move, the next one, takes what an offer leaves to be taken.

        That is the man that made it, or one that it exposed, if that man is worth two pawns or more
        and no less than what the offer gives up on its own square.
        """
        if self.takes_man_of(offer):
            return True
        return self.victim is not None and offer.exposed.get(self.target, 0) >= max(2, offer.cost)


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


# Facts.


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
    return relation == "on" or board.is_pinned(board.color_at(square), square)


def count(
    fact: Fact, board: chess.Board, view: View, of_defender: bool, men: frozenset[chess.PieceType]
) -> int:
    """Count the men of a side and kind that stand as the fact says."""
    squares = all_of(fact.squares, board, view)
    color = view.color(of_defender)
    return sum(
        relates(fact.relation, board, square, squares)
        for kind in men
        for square in chess.scan_forward(board.pieces_mask(kind, color))
    )


def holds(fact: Fact, board: chess.Board, view: View) -> bool:
    """Tell whether the fact, its squares turned to the board, is true in the position."""
    number = count(fact, board, view, fact.of_defender, fact.men)
    if fact.rival:
        return number > count(fact, board, view, *fact.rival)
    return number >= fact.least if fact.least else number == 0


def is_met(condition: Condition, board: chess.Board, view: View) -> bool:
    """Tell whether all the facts of one alternative are true in the position."""
    return any(all(holds(fact, board, view) for fact in facts) for facts in condition)


# Moves.


def acts(move: Move, step: Step) -> bool:
    """Tell whether the move takes, or does not, as the sentence has it."""
    if move.act == "takes":
        return step.victim in move.victims
    return step.victim is None if move.act == "moves to" else True


def checks(kind: str, step: Step) -> bool:
    """Tell whether the move does to the other king what the sentence says."""
    checkers = step.following.checkers()
    if kind == "none":
        return not checkers
    if kind == "mate":
        return bool(checkers) and step.following.is_checkmate()
    if kind == "double":
        return len(checkers) > 1
    if kind == "discovered":
        return any(s != step.target and step.board.piece_at(s) for s in checkers)
    return bool(checkers)


def is_taken(move: Move, step: Step, reply: Step | None) -> bool:
    """Tell whether the next move takes the man that moved, with a man that the sentence allows."""
    return reply is not None and reply.man in move.taken_by and reply.takes_man_of(step)


def fits(move: Move, view: View, step: Step, reply: Step | None = None) -> bool:
    """Tell whether a step is the move that the sentence, turned to the board, describes.

    `reply` is the step after it, which only `and is taken` asks for. The window is the caller's.
    """
    return (
        step.color == view.color(move.by_defender)
        and step.man in move.men
        and acts(move, step)
        and (move.squares is None or contains(move.squares, step.target, step.board, view))
        and (move.start is None or contains(move.start, step.move.from_square, step.board, view))
        and (move.check is None or checks(move.check, step))
        and (not move.giving_up or step.cost >= move.giving_up)
        and (not move.uncovering or step.uncovered >= move.uncovering)
        and (move.taken_by is None or is_taken(move, step, reply))
    )


def first_fit(move: Move, view: View, steps: Sequence[Step], offer: int) -> int | None:
    """Find the first step after the offer that fits, within the window; give its ply."""
    own = [
        i for i in range(offer + 1, len(steps)) if steps[i].color == view.color(move.by_defender)
    ]
    for index in own[: move.window]:
        reply = steps[index + 1] if index + 1 < len(steps) else None
        if fits(move, view, steps[index], reply):
            return index + 1
    return None


@dataclass(frozen=True)
class Reading:
    """A query in one view: its sentences turned to the board."""

    query: Query
    view: View
    offer: Move
    when: tuple[Condition, ...]
    follow_ups: dict[str, Move]
    factors: dict[str, Condition]

    def is_ready(self, board: chess.Board) -> bool:
        """Tell whether all that the query asks for just before the offer is there."""
        return all(is_met(condition, board, self.view) for condition in self.when)


def readings(query: Query) -> list[Reading]:
    """Give the views in which a query is tried: as written before mirrored."""
    wings = (False, True) if query.both_wings else (False,)
    views = [View(color, mirrored) for color in chess.COLORS for mirrored in wings]
    return [
        Reading(
            query,
            view,
            view.move(query.offer),
            tuple(view.condition(condition) for condition in query.when),
            {name: view.move(move) for name, move in query.follow_ups.items()},
            {name: view.condition(facts) for name, facts in query.factors.items()},
        )
        for view in views
    ]
