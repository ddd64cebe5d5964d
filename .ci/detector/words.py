"""The words of the query language, and what is made of a few of them.

What cannot be read raises `ValueError` with the sentence and the place in it.
"""

import chess

from sentences import ANY_MAN, PASSED_PAWN, PIECES, Amount, Kind, Squares

MEN = {
    "minor piece": frozenset({chess.KNIGHT, chess.BISHOP}),
    "any man": ANY_MAN,
    "man": ANY_MAN,
    "men": ANY_MAN,
    "piece": PIECES,
} | {chess.piece_name(kind): frozenset({kind}) for kind in chess.PIECE_TYPES}
RANKS = ("1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th")
BY_KING = ("beside the king", "in front of the king", "the king's file", "the king's rank")
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
EN_PRISE = ("is en prise", "are en prise")
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
    "with stalemate": "stalemate",
    "without check": "none",
}


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


def read_men(words: Words) -> frozenset[Kind]:
    """Read men, in the singular or plural, with `or` between them."""
    return read_named(words, MEN)


def read_kinds(words: Words) -> frozenset[Kind]:
    """Read men as `read_men` does; they may be passed pawns."""
    return read_named(words, MEN | {"passed pawn": frozenset({PASSED_PAWN})})


def read_named(words: Words, kinds: dict[str, frozenset[Kind]]) -> frozenset[Kind]:
    """Read kinds of men by these names."""
    names = kinds | {f"{name}s": kind for name, kind in kinds.items()}
    name = words.take_one(names)
    if name is None:
        raise words.wrong("a man")
    return names[name] | (read_named(words, kinds) if words.take_or() else frozenset())


def read_squares(words: Words) -> Squares:
    """Read squares, with `or` between them."""
    name = words.take_one((*SQUARES, *BY_KING))
    if name is None:
        raise words.wrong("a square")
    more = read_squares(words) if words.take_or() else Squares()
    by_king = more.by_king | ({name} & set(BY_KING))
    return Squares(more.mask | SQUARES.get(name, 0), by_king)


def read_amount(words: Words) -> Amount:
    """Read the amount of a clause: `N or more`, `N to M`, `at most N` or `N`."""
    if words.take("at most"):
        return Amount(0, words.number())
    least = words.number()
    if words.take("or more"):
        return Amount(least)
    return Amount(least, words.number() if words.take("to") else least)
