"""Offers that nobody made, as rows of the tables."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import chess

from exchange import landing
from games import Game
from kinds import kind_of_cheap
from meaning import Reading, fits
from offers import AFTER_THE_OFFER, Key, Offers, Row, key_of, shared_columns
from sentences import Squares
from steps import Step


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
    if not fits(reading.chance, reading.view, step):
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
