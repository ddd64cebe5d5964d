"""Offers in a game, made and overlooked, as rows of the tables."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

import chess

from exchange import balance, landing, ledger
from facts import is_met
from games import Game
from kinds import kind_of, kind_of_cheap
from meaning import Reading, first_fit, fits
from sentences import Squares
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
        "wing": "mirrored" if view.mirrored else "as written",
        "offered": offered(view, offer),
        "cost": str(offer.cost),
        "was_hanging": str(offer.was_hanging),
        "balance_before": str(balance(offer.board, view.attacker)),
        "result": game.result,
        "score": white if view.attacker == chess.WHITE else black,
        "plies": str(len(game.steps)),
        "fen": offer.board.fen(en_passant="fen"),
        "line": game.line(index, LINE_PLIES),
        "ends_in_mate": word(game.boards[-1].is_checkmate()),
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
    return reading.is_offer(step, reply)


def played_row(game: Game, index: int, reading: Reading) -> Row | None:
    """Fill the row of an offer that was made; nothing if a required follow-up is missing."""
    seen = {
        name: first_fit(move, reading.view, game.steps, index)
        for name, move in reading.follow_ups.items()
    }
    if not all(any(seen[name] for name in names) for names in reading.query.requires):
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


# Offers that were overlooked.


@dataclass(frozen=True)
class Chance:
    """An offer that could be made in the position before the move at `index`."""

    index: int
    reading: Reading
    offer: Step


Place = tuple[str, chess.Color, chess.Square]


def possible(all_readings: Iterable[Reading]) -> list[Reading]:
    """List the queries whose offer can be overlooked, those that name squares.

    `any square`, and squares told by the king, are no names.
    """
    return [reading for reading in all_readings if names_squares(reading.offer.squares)]


def can_be(reading: Reading, step: Step) -> bool:
    """Tell whether the move fits an offer; where it must be taken, whether it legally can be."""
    if not fits(replace(reading.offer, taken_by=None), reading.view, step):
        return False
    if reading.offer.taken_by is None:
        return True
    replies = (Step(step.following, reply) for reply in step.following.legal_moves)
    return any(
        reply.man in reading.offer.taken_by and reply.takes_man_of(step) for reply in replies
    )


def names_squares(squares: Squares | None) -> bool:
    """Tell whether the squares are named one by one, or by file, rank or colour."""
    return squares is not None and squares.mask != chess.BB_ALL and not squares.by_king


def gives(reading: Reading, step: Step) -> bool:
    """Tell whether the move gives something up, elsewhere only if that is asked for."""
    return step.cost > 0 or (reading.offer.uncovering is not None and step.uncovered > 0)


def moves_of(board: chess.Board, man: chess.PieceType, offers: list[Reading]) -> list[Step]:
    """List the legal moves of such men that may be one of the offers, by their squares alone."""
    aims = chess.BB_EMPTY
    for reading in offers:
        aims |= reading.offer.squares.mask
    moves = board.generate_legal_moves(board.pieces_mask(man, board.turn))
    return [Step(board, move) for move in moves if aims & chess.BB_SQUARES[landing(board, move)]]


def chances_at(game: Game, index: int, offers: Offers) -> Iterator[Chance]:
    """Give every offer that is possible in a position, each once a query, in its first view."""
    board = game.steps[index].board
    for man in chess.PIECE_TYPES:
        of_man = offers[board.turn, man]
        for step in moves_of(board, man, of_man) if of_man else ():
            found = set()
            for reading in of_man:
                if (
                    reading.query.name not in found
                    and can_be(reading, step)
                    and reading.is_ready(step)
                    and gives(reading, step)
                ):
                    found.add(reading.query.name)
                    yield Chance(index, reading, step)


def overlooked_rows(game: Game, offers: Offers) -> Iterator[tuple[Key, list[Row]]]:
    """Give the first chance of every query, side and square that no move of the game took."""
    chances: dict[Place, list[Chance]] = {}
    made = set()
    for index, step in enumerate(game.steps):
        for reading in offers[step.color, step.man]:
            is_offer = can_be(reading, step) and reading.is_ready(step)
            if is_offer and gives(reading, step):
                made.add((reading.query.name, step.color, step.target))
        for chance in chances_at(game, index, offers):
            place = (chance.reading.query.name, step.color, chance.offer.target)
            chances.setdefault(place, []).append(chance)
    for place, found in chances.items():
        if place not in made:
            yield first_of(game, found)


def first_of(game: Game, found: list[Chance]) -> tuple[Key, list[Row]]:
    """Give the rows that may stand for a chance: one for each move when it first comes."""
    first = [chance for chance in found if chance.index == found[0].index]
    rows = [overlooked_row(game, chance, stayed(found)) for chance in first]
    return key_of(game, first[0].index, first[0].reading, rows[0]), rows


def stayed(found: list[Chance]) -> int:
    """Count the plies from the first chance to the last of those that follow move by move."""
    indexes = {chance.index for chance in found}
    last = found[0].index
    while last + 2 in indexes:
        last += 2
    return last - found[0].index + 1


def overlooked_row(game: Game, chance: Chance, plies: int) -> Row:
    """Fill the row of a chance that nobody took and that was there for a number of plies."""
    instead = game.steps[chance.index]
    blank = [*AFTER_THE_OFFER, *(f"f_{name}" for name in chance.reading.follow_ups)]
    return (
        shared_columns(game, chance.index, chance.reading, chance.offer)
        | dict.fromkeys(blank, "")
        | {
            "kind": kind_of_cheap(chance.offer),
            "instead": instead.board.san(instead.move),
            "stayed": str(plies),
        }
    )
