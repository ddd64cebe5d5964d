"""Offers in a game, made or not, as rows of the tables; and those that were made."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import chess

from exchange import balance, ledger
from facts import is_met
from games import Game
from kinds import kind_of
from meaning import Reading, comes, first_fit
from steps import Step
from views import View

SCORES = {"1-0": ("1", "0"), "0-1": ("0", "1"), "1/2-1/2": ("0.5", "0.5")}
AFTER_THE_OFFER = "reply accepted king_goes king_after_check invested recovered balance_end".split()
LINE_PLIES = 20

Row = dict[str, str]


@dataclass(frozen=True, order=True)
class Key:
    """What tells one row of the tables from another.

    The square of the offer stands for the offer: the documents do not say which of two moves to the
    same square is named when both are overlooked.
    """

    query: str
    source: str
    game: int
    ply: int
    square: str
    played: str

    def __str__(self) -> str:
        """Name the offer in a message."""
        made = "made" if self.played == "true" else "overlooked"
        return (
            f"{self.query}, {self.source}, game {self.game}, ply {self.ply}, {self.square} {made}"
        )


def square_in(san: str) -> str:
    """Find the square to which a move goes; castling is its own name."""
    squares = re.findall("[a-h][1-8]", san)
    return squares[-1] if squares else san.rstrip("+#")


Offers = dict[tuple[chess.Color, chess.PieceType], list[Reading]]


def by_man(all_readings: Iterable[Reading]) -> Offers:
    """Sort the queries in their views by the side and man that can make the offer."""
    offers: Offers = {(color, man): [] for color in chess.COLORS for man in chess.PIECE_TYPES}
    for reading in all_readings:
        for man in reading.offer.men:
            offers[reading.view.attacker, man].append(reading)
    return offers


# Columns.


def word(value: bool) -> str:
    """Write a truth value as the tables do."""
    return "true" if value else "false"


def shared_columns(game: Game, index: int, reading: Reading, offer: Step) -> Row:
    """Fill the columns that every row has, whether the offer was made or not."""
    view = reading.view
    white, black = SCORES.get(game.result, ("", ""))
    factors = {
        f"x_{name}": word(is_met(facts, board, view))
        for board, table in (
            (offer.board, reading.factors),
            (offer.following, reading.factors_after),
        )
        for name, facts in table.items()
    }
    return factors | {
        "offer": offer.board.san(offer.move),
        "side": chess.COLOR_NAMES[view.attacker],
        "wing": reading.place,
        "offered": offered(view, offer),
        "cost": str(offer.cost),
        "was_hanging": str(offer.was_hanging),
        "balance_before": str(balance(offer.board, view.attacker)),
        "result": game.result,
        "score": white if view.attacker == chess.WHITE else black,
        "plies": str(len(game.steps)),
        "fen": offer.board.fen(en_passant="fen"),
        "line": game.line(index, LINE_PLIES),
        "ends_in_mate": word(game.boards[-1].is_checkmate() and game.boards[-1].turn != view.attacker),
    }


def offered(view: View, offer: Step) -> str:
    """Name the man that is given up and its square in the attacker's view."""
    giving = offer.giving
    return f"{chess.piece_name(giving.man)} {chess.square_name(view.square(giving.square))}"


def king_goes(game: Game, index: int, reading: Reading) -> str:
    """Find where the king that accepted goes with its very next move, in the attacker's view."""
    later = game.steps[index + 1 : index + 4]
    if len(later) < 3 or later[0].man != chess.KING or later[2].man != chess.KING:
        return ""
    if not later[0].accepts(game.steps[index]):
        return ""
    return chess.square_name(reading.view.square(later[2].target))


def king_after_check(game: Game, index: int, reading: Reading) -> str:
    """Find where the king goes at the first check after acceptance, in the attacker's view."""
    later = game.steps[index + 1 :]
    if not later or not later[0].accepts(game.steps[index]):
        return ""
    answers = (s for s in later[1:] if s.color != reading.view.attacker and s.board.is_check())
    answer = next(answers, None)
    if answer is None or answer.man != chess.KING:
        return ""
    return chess.square_name(reading.view.square(answer.target))


def later_columns(game: Game, index: int, reading: Reading) -> Row:
    """Fill the columns that tell how an offer that was made went on, the follow-ups aside."""
    material = ledger(game.boards, index)
    reply = game.steps[index + 1] if index + 1 < len(game.steps) else None
    return {
        "kind": kind_of(game, index),
        "reply": reply.board.san(reply.move) if reply else "",
        "accepted": word(reply.accepts(game.steps[index])) if reply else "",
        "king_goes": king_goes(game, index, reading),
        "king_after_check": king_after_check(game, index, reading),
        "invested": str(material.invested),
        "recovered": str(material.recovered or ""),
        "balance_end": str(material.balance_end),
        "instead": "",
        "stayed": "",
    }


# Offers that were made.


def is_made(game: Game, index: int, reading: Reading) -> bool:
    """Tell whether the move there is the offer, whatever follow-ups are required."""
    step = game.steps[index]
    reply = game.steps[index + 1] if index + 1 < len(game.steps) else None
    return reading.is_offer(step, reply) and not is_back(game, index, reading.offer.not_back)


def is_back(game: Game, index: int, moves: int | None) -> bool:
    """Tell whether the attacker's balance of before is back within so many of its moves.

    It counts after the defender's answers to them, and at the end of a game that ends before.
    """
    if moves is None:
        return False
    attacker = game.steps[index].color
    end, last = len(game.boards) - 1, index + 2 * moves + 2
    counted = [*range(index + 4, min(end, last) + 1, 2), *([end] if end < last else [])]
    start = balance(game.boards[index], attacker)
    return any(balance(game.boards[ply], attacker) >= start for ply in counted)


def played_row(game: Game, index: int, reading: Reading) -> Row | None:
    """Fill the row of an offer that was made; nothing if a required follow-up is missing."""
    seen = {
        name: first_fit(move, reading.view, game.steps, index)
        for name, move in reading.follow_ups.items()
    }
    if not all(
        any(comes(row, reading, game.steps, index) for row in rows)
        for rows in reading.query.requires
    ):
        return None
    follow_ups = {f"f_{name}": str(ply or "") for name, ply in seen.items()}
    offer = game.steps[index]
    return (
        shared_columns(game, index, reading, offer)
        | later_columns(game, index, reading)
        | follow_ups
    )


def played_rows(game: Game, offers: Offers) -> Iterator[tuple[Key, list[Row]]]:
    """Give the rows of the offers that were made, each in the first view in which it is a hit."""
    for index, step in enumerate(game.steps):
        found = set()
        for reading in offers[step.color, step.man]:
            if reading.query.name in found or not is_made(game, index, reading):
                continue
            row = played_row(game, index, reading)
            if row:
                found.add(reading.query.name)
                yield key_of(game, index, reading, row), [row]


def key_of(game: Game, index: int, reading: Reading, row: Row) -> Key:
    """Name the row of an offer, made or not, in the position before the move at `index`."""
    return Key(
        reading.query.name,
        game.source,
        game.number,
        index + 1,
        square_in(row["offer"]),
        word(row["instead"] == ""),
    )
