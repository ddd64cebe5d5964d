#!/usr/bin/env python3
"""Check the second detector on positions whose results were worked out by hand.

    self_check.py

prints whatever comes out otherwise; the exit status is 1 if anything does.
"""

import sys
from collections.abc import Iterator

import chess

from exchange import balance
from facts import is_met
from games import Game, replay
from kinds import kind_of, kind_of_cheap
from offers import offered
from reading import read_condition, read_text
from second_detector import try_examples
from steps import Step
from views import View
from worked_out import COURSES, OFFERS, QUERIES, SAYINGS, Course, Offer, Saying


def differences(name: str, expected: dict[str, object], found: dict[str, object]) -> Iterator[str]:
    """Give whatever was found otherwise than expected."""
    for what, value in expected.items():
        if found[what] != value:
            yield f"{name}: {what} is {found[what]!r}, expected {value!r}"


def try_offer(case: Offer) -> Iterator[str]:
    """Give the faults of what is said of a move."""
    board = chess.Board(case.fen)
    step = Step(board, board.parse_san(case.san))
    expected = {k: v for k, v in vars(case).items() if k not in ("fen", "san")}
    found = {
        "offered": offered(View(board.turn, False), step),
        "cost": step.cost,
        "squares": " ".join(sorted(chess.square_name(s) for s in step.giving.squares)),
        "was_hanging": step.was_hanging,
        "cheap": kind_of_cheap(step),
    }
    yield from differences(f"{case.san} in {case.fen}", expected, found)


def try_saying(case: Saying) -> Iterator[str]:
    """Give the faults of what a condition says."""
    condition = read_condition(case.text)
    for fen, expected in ((case.holds, True), (case.fails, False)):
        if fen and is_met(condition, chess.Board(fen), View(chess.WHITE, False)) != expected:
            yield f"{case.text}: is not {expected} in {fen}"


def game_of(case: Course) -> Game | None:
    """Replay the line of a case."""
    tags = f'[FEN "{case.fen}"]\n[SetUp "1"]\n[Result "{case.result}"]'
    return replay("self check", 1, f"{tags}\n\n{case.line} {case.result}")


def try_course(case: Course) -> Iterator[str]:
    """Give the faults of what is said of the course of an offer."""
    game = game_of(case)
    if game is None:
        yield f"{case.line} in {case.fen}: cannot be replayed"
        return
    found = {
        "accepted": game.steps[1].accepts(game.steps[0]) if game.steps[1:] else None,
        "kind": kind_of(game, 0),
    }
    expected = {"accepted": case.accepted, "kind": case.kind}
    yield from differences(f"{case.line} in {case.fen}", expected, found)


def try_views() -> Iterator[str]:
    """Give the faults of squares in a view with left and right exchanged, and of a balance."""
    board = chess.Board("6k1/8/1b1R1b2/3n4/8/8/7K/8 b - - 0 1")
    step = Step(board, board.parse_san("Nc3"))
    found = {"offered": offered(View(chess.BLACK, True), step), "balance": balance(board, False)}
    yield from differences("mirrored", {"offered": "bishop g3", "balance": 4}, found)


def main() -> int:
    """Try everything, print what differs, and give the exit status."""
    faults = [fault for case in OFFERS for fault in try_offer(case)]
    faults += [fault for case in COURSES for fault in try_course(case)]
    faults += [fault for case in SAYINGS for fault in try_saying(case)]
    queries = [read_text(f"query {number}", text) for number, text in enumerate(QUERIES, 1)]
    faults += [fault for query in queries for fault in try_examples(query)]
    faults += try_views()
    for fault in faults:
        print(fault)
    examples = sum(len(query.examples) for query in queries)
    number = len(OFFERS) + len(COURSES) + len(SAYINGS) + examples
    print(f"{number} cases worked out by hand: {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
