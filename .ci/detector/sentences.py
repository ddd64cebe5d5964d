"""Query files as data. Squares are in the attacker's view, as they are written."""

from dataclasses import dataclass

import chess

Kind = int  # A type of piece, or the kind of men that a position makes of one:
PASSED_PAWN = 7
PIECES = frozenset({chess.KNIGHT, chess.BISHOP, chess.ROOK, chess.QUEEN})
ANY_MAN = frozenset(chess.PIECE_TYPES)


@dataclass(frozen=True)
class Amount:
    """A number that a sentence asks for: at least so many, and at most."""

    least: int
    most: int | None = None

    def holds(self, number: int) -> bool:
        """Tell whether the number is one of those asked for."""
        return self.least <= number and (self.most is None or number <= self.most)


@dataclass(frozen=True)
class Squares:
    """A set of squares as a mask, and names of squares that the defender's king tells."""

    mask: chess.Bitboard = 0
    by_king: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Move:
    """What a sentence says of a move; `None` stands for what it does not say."""

    by_defender: bool
    men: frozenset[Kind]
    act: str | None = None  # "takes", "moves to" or "to"
    victims: frozenset[Kind] = ANY_MAN
    squares: Squares | None = None
    start: Squares | None = None
    check: str | None = None  # a value of CHECKS
    was_en_prise: bool = False
    between: tuple[frozenset[Kind], frozenset[Kind]] | None = None
    giving_up: Amount | None = None
    uncovering: Amount | None = None
    offering: frozenset[Kind] | None = None
    taken_by: frozenset[Kind] | None = None
    not_back: int | None = None  # the attacker's moves within which no material comes back
    window: int | None = None  # in the mover's own moves after the offer
    same_man: bool = False  # as made the offer


@dataclass(frozen=True)
class Fact:
    """So many men of a side stand so to one of the squares; or more than men of the `rival`."""

    amount: Amount
    rival: tuple[bool, frozenset[Kind]] | None
    of_defender: bool
    kinds: frozenset[Kind]
    relation: str
    squares: Squares
    past: frozenset[Kind] = frozenset()


@dataclass(frozen=True)
class Lead:
    """A side has so much more material than the other."""

    of_defender: bool
    amount: Amount


Condition = tuple[tuple[Fact | Lead, ...], ...]  # All the facts of one of the alternatives.


@dataclass(frozen=True)
class Example:
    """A game that a query must, or must not, find an offer in."""

    fen: str
    line: str
    hit: bool
    verdict: str = ""  # What is to be proved of it; nothing to a detector.


@dataclass(frozen=True)
class Row:
    """Follow-ups that must come one after the other; or one that must not come."""

    names: tuple[str, ...]
    must_come: bool = True


@dataclass(frozen=True)
class Query:
    """A query file."""

    name: str
    both_wings: bool
    offer: Move
    when: tuple[Condition, ...]
    after: tuple[Condition, ...]
    requires: tuple[tuple[Row, ...], ...]  # One row of each group.
    follow_ups: dict[str, Move]
    factors: dict[str, Condition]
    factors_after: dict[str, Condition]
    examples: tuple[Example, ...]
    elsewhere: "tuple[Elsewhere, ...]" = ()  # The same on other files, in the order they are tried.


@dataclass(frozen=True)
class Elsewhere:
    """A query with its letters moved: the letter by which that is told, and the file it becomes."""

    letter: str
    file: str
    query: Query
