"""Query files as data: a reader for the sentences of the query language.

Squares are in the attacker's view, as they are written. Nothing here knows a query by its name.
Every sentence that cannot be read raises `ValueError` with the sentence and the place in it.
"""

import tomllib
from dataclasses import dataclass
from pathlib import Path

import chess

PIECES = frozenset({chess.KNIGHT, chess.BISHOP, chess.ROOK, chess.QUEEN})
ANY_MAN = frozenset(chess.PIECE_TYPES)
MEN = {
    "minor piece": frozenset({chess.KNIGHT, chess.BISHOP}),
    "any man": ANY_MAN,
    "man": ANY_MAN,
    "men": ANY_MAN,
    "piece": PIECES,
} | {chess.piece_name(kind): frozenset({kind}) for kind in chess.PIECE_TYPES}
RANKS = ("1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th")
SQUARES = (
    {name: chess.BB_SQUARES[square] for square, name in enumerate(chess.SQUARE_NAMES)}
    | {f"{name}-file": chess.BB_FILES[file] for file, name in enumerate(chess.FILE_NAMES)}
    | {f"{name} rank": chess.BB_RANKS[rank] for rank, name in enumerate(RANKS)}
    | {
        "light squares": chess.BB_LIGHT_SQUARES,
        "dark squares": chess.BB_DARK_SQUARES,
        "any square": chess.BB_ALL,
    }
)
ACTS = ("moves to", "move to", "to")
RELATIONS = {
    "pinned on": "pinned on",
    "on": "on",
    "reaches": "reaches",
    "reach": "reaches",
    "guards": "guards",
    "guard": "guards",
    "bears on": "bears on",
    "bear on": "bears on",
}
CHECKS = {
    "with check": "check",
    "with double check": "double",
    "with discovered check": "discovered",
    "with mate": "mate",
    "without check": "none",
}


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
    """A set of squares as a mask; the squares next to the defender's king may belong to it."""

    mask: chess.Bitboard = 0
    beside_king: bool = False


@dataclass(frozen=True)
class Move:
    """What a sentence says of a move; `None` stands for what it does not say."""

    by_defender: bool
    men: frozenset[chess.PieceType]
    act: str | None = None  # "takes", "moves to" or "to"
    victims: frozenset[chess.PieceType] = ANY_MAN
    squares: Squares | None = None
    start: Squares | None = None
    check: str | None = None  # a value of CHECKS
    giving_up: Amount | None = None
    uncovering: Amount | None = None
    offering: frozenset[chess.PieceType] | None = None
    taken_by: frozenset[chess.PieceType] | None = None
    window: int | None = None  # in the mover's own moves after the offer


@dataclass(frozen=True)
class Fact:
    """So many men of a side stand so to one of the squares.

    `least` of them, or none at all if it is 0, or more than there are of the `rival`.
    """

    least: int
    rival: tuple[bool, frozenset[chess.PieceType]] | None
    of_defender: bool
    men: frozenset[chess.PieceType]
    relation: str
    squares: Squares


Condition = tuple[tuple[Fact, ...], ...]  # All the facts of one of the alternatives.


@dataclass(frozen=True)
class Example:
    """A game that a query must, or must not, find an offer in."""

    fen: str
    line: str
    hit: bool
    verdict: str = ""  # What is to be proved of it; nothing to a detector.


@dataclass(frozen=True)
class Query:
    """A query file."""

    name: str
    both_wings: bool
    offer: Move
    when: tuple[Condition, ...]
    requires: tuple[tuple[str, ...], ...]  # One of each group of follow-ups.
    follow_ups: dict[str, Move]
    factors: dict[str, Condition]
    examples: tuple[Example, ...]


class Words:
    """The words of a sentence, taken from left to right."""

    def __init__(self, sentence: str) -> None:
        self.sentence = sentence
        self.rest = sentence.split()

    def take(self, phrase: str) -> bool:
        """Take the words of the phrase if they come next."""
        words = phrase.split()
        if self.rest[: len(words)] != words:
            return False
        del self.rest[: len(words)]
        return True

    def take_one(self, phrases: "dict[str, object] | tuple[str, ...]") -> str | None:
        """Take the longest of the phrases that comes next."""
        return next((p for p in sorted(phrases, key=len, reverse=True) if self.take(p)), None)

    def take_or(self) -> bool:
        """Take an `or` between men or squares, which an `or else` is not."""
        return self.rest[1:2] != ["else"] and self.take("or")

    def number(self) -> int:
        """Take a number."""
        if not self.rest or not self.rest[0].isdecimal():
            raise self.wrong("a number")
        return int(self.rest.pop(0))

    def need(self, phrase: str) -> None:
        """Take the words of the phrase, which must come next."""
        if not self.take(phrase):
            raise self.wrong(f"`{phrase}`")

    def wrong(self, expected: str) -> ValueError:
        """Tell what was expected here."""
        return ValueError(f"`{self.sentence}`: expected {expected} before `{' '.join(self.rest)}`")


def read_side(words: Words) -> bool | None:
    """Read whose man it is: whether the defender's, or nothing if that is not said."""
    side = words.take_one(("attacker", "defender"))
    return None if side is None else side == "defender"


def read_men(words: Words) -> frozenset[chess.PieceType]:
    """Read kinds of men, in the singular or plural, with `or` between them."""
    names = MEN | {f"{name}s": kinds for name, kinds in MEN.items()}
    name = words.take_one(names)
    if name is None:
        raise words.wrong("a man")
    return names[name] | (read_men(words) if words.take_or() else frozenset())


def read_squares(words: Words) -> Squares:
    """Read squares, with `or` between them."""
    beside_king = words.take("beside the king")
    name = None if beside_king else words.take_one(SQUARES)
    if name is None and not beside_king:
        raise words.wrong("a square")
    more = read_squares(words) if words.take_or() else Squares()
    return Squares(more.mask | SQUARES.get(name, 0), more.beside_king or beside_king)


def read_act(words: Words) -> dict[str, object]:
    """Read how and where to a man goes, if that is said."""
    if words.take_one(("takes", "take")):
        victims = ANY_MAN if words.take("on") else read_men(words)
        if victims is not ANY_MAN:
            words.need("on")
        return {"act": "takes", "victims": victims, "squares": read_squares(words)}
    act = words.take_one(ACTS)
    if act is None:
        return {}
    return {"act": act.replace("move ", "moves "), "squares": read_squares(words)}


def read_amount(words: Words) -> Amount:
    """Read the amount of a clause: `N or more`, `N to M`, `at most N` or `N`."""
    if words.take("at most"):
        return Amount(0, words.number())
    least = words.number()
    if words.take("or more"):
        return Amount(least)
    return Amount(least, words.number() if words.take("to") else least)


def read_clause(words: Words) -> dict[str, object]:
    """Read one clause of a move."""
    check = words.take_one(CHECKS)
    if check:
        return {"check": CHECKS[check]}
    if words.take("from"):
        return {"start": read_squares(words)}
    if words.take("giving up"):
        return {"giving_up": read_amount(words)}
    if words.take("uncovering"):
        return {"uncovering": read_amount(words)}
    if words.take("offering"):
        return {"offering": read_men(words)}
    if words.take("and is taken"):
        return {"taken_by": read_men(words) if words.take("by") else ANY_MAN}
    if words.take("at once"):
        return {"window": 1}
    if words.take("within"):
        window = words.number()
        if not words.take_one(("moves", "move")):
            raise words.wrong("`moves`")
        return {"window": window}
    raise words.wrong("a clause")


def read_move(sentence: str) -> Move:
    """Read a sentence about a move."""
    words = Words(sentence)
    said = {"by_defender": bool(read_side(words)), "men": read_men(words)} | read_act(words)
    while words.rest:
        clause = read_clause(words)
        if clause.keys() & said.keys():
            raise words.wrong("another clause, and not the same twice,")
        said |= clause
    return Move(**said)


def read_fact(words: Words) -> Fact:
    """Read one fact."""
    rival = None
    least = 1
    more = words.take("more")
    if words.take("no"):
        least = 0
    elif words.take("at least"):
        least = words.number()
    of_defender = read_side(words)
    if of_defender is None:
        raise words.wrong("a side")
    men = read_men(words)
    relation = words.take_one(RELATIONS)
    if relation is None:
        raise words.wrong("a relation")
    squares = read_squares(words)
    if more:
        words.need("than")
        side = read_side(words)
        if side is None:
            raise words.wrong("a side")
        rival = (side, read_men(words))
    return Fact(least, rival, of_defender, men, RELATIONS[relation], squares)


def read_facts(words: Words) -> tuple[Fact, ...]:
    """Read facts with `and` between them."""
    facts = [read_fact(words)]
    while words.take("and"):
        facts.append(read_fact(words))
    return tuple(facts)


def read_condition(sentence: str) -> Condition:
    """Read a sentence of facts: alternatives with `or else` between them."""
    words = Words(sentence)
    alternatives = [read_facts(words)]
    while words.take("or else"):
        alternatives.append(read_facts(words))
    if words.rest:
        raise words.wrong("`and`, `or else` or nothing more")
    return tuple(alternatives)


def read_query(path: Path) -> Query:
    """Read a query file."""
    with path.open("rb") as stream:
        said = tomllib.load(stream)
    follow_ups = {name: read_move(text) for name, text in said.get("follow-ups", {}).items()}
    return Query(
        path.stem,
        {"both": True, "as written": False}[said.get("wings", "as written")],
        read_move(said["offer"]),
        tuple(read_condition(text) for text in said.get("when", ())),
        tuple(tuple(names.split(" or ")) for names in said.get("requires", ())),
        follow_ups,
        {name: read_condition(text) for name, text in said.get("factors", {}).items()},
        tuple(Example(**example) for example in said.get("example", ())),
    )
