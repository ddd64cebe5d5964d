#!/usr/bin/env python3
"""Put the exercises of `hecatomb exercises` to an engine, as a strong player would go through a sheet.

    exercises_engine_check.py --engine PROGRAM [--nodes N] SHEET.pgn...

For each exercise: the solution is worth what is asked for, what is called correct is, nothing else is as good, what is
called a mistake is one, and no move of a line throws away what the line shows. Points are the expected points of a hundred of
the side to move, by the win-draw-loss figures that the engine gives (option UCI_ShowWDL). A mate at the end of a line is
checked by the board; it is the solution even if another move wins more slowly. Needs chess 1.11 and an engine that gives such figures.

A fault is what a second search finds as well, with ten times as many positions: the sheets were looked at for longer than
the first. Every fault is printed. The exit status is 1 if there is one, or if no exercise was checked.
"""

import argparse
import re
import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import chess
import chess.engine
import chess.pgn

# As the help of the program states them: an offer is sound from 60 points on, unsound if it loses 10; an item that fails
# loses 20, from a position that is worth 25 or more. The sheets were checked by these with fewer positions for each answer;
# whoever searches longer may differ a little, and is contradicted only by more than this.
SLACK = 5
SOUND, LOSS, FAILS, LOST, BETTER = 60 - SLACK, 10 + SLACK, 20 - SLACK, 25 - SLACK, 50 + SLACK

# How many times as many positions decide whether something is a fault.
LONGER = 10


@dataclass
class Engine:
    """An engine and what it said."""

    engine: chess.engine.SimpleEngine
    nodes: int
    known: dict[tuple[str, tuple[str, ...]], float] = field(default_factory=dict)

    def best(self, board: chess.Board, without: tuple[chess.Move, ...] = ()) -> float | None:
        """The points of the side to move, if some moves may not be played."""
        if board.is_checkmate():
            return 0.0
        if board.is_stalemate():
            return 50.0
        key = (board.fen(), tuple(sorted(move.uci() for move in without)))
        if key not in self.known:
            moves = [move for move in board.legal_moves if move not in without]
            if not moves:
                return None
            limit = chess.engine.Limit(nodes=self.nodes)
            info = self.engine.analyse(board, limit, root_moves=moves if without else None, game=object())
            self.known[key] = 100 * info["wdl"].pov(board.turn).expectation()
        return self.known[key]

    def after(self, board: chess.Board, move: chess.Move) -> float:
        """The points of the side that plays a move."""
        then = board.copy(stack=False)
        then.push(move)
        return 100 - (self.best(then) or 0.0)


def line_of(node: chess.pgn.GameNode) -> list[chess.Move]:
    """The first moves of a node and what follows them."""
    return [node.move, *(child.move for child in node.mainline())]


def is_mate(board: chess.Board, line: list[chess.Move]) -> bool:
    """Whether a line ends in mate."""
    then = board.copy(stack=False)
    for move in line:
        then.push(move)
    return then.is_checkmate()


def fault_in(
    engine: Engine, board: chess.Board, line: list[chess.Move], right: chess.Color, are_replies_best: bool
) -> str | None:
    """Where a line throws away what one side has, or, if its replies are said to be the best, where one is not."""
    then, before = board.copy(stack=False), None
    for move in line:
        points = engine.after(then, move)
        is_right = then.turn == right
        points = points if is_right else 100 - points
        change = points - before if before is not None else 0
        if (is_right and change < -LOSS) or (not is_right and are_replies_best and change > LOSS):
            return f"{then.san(move)} in a line: {before:.0f} to {points:.0f} points for the side that is right"
        before = points if before is None else before
        then.push(move)
    return None


def faults(engine: Engine, game: chess.pgn.Game) -> list[str]:
    """What is wrong with an exercise."""
    board, kind = game.board(), game.headers["Kind"]
    first = game.next()
    line = line_of(first)
    mates = is_mate(board, line)
    also = [node for node in game.variations[1:] if 2 not in node.nags]
    mistakes = [node for node in game.variations[1:] if 2 in node.nags]
    # Of an offer that fails, what should be played instead.
    better = also if kind == "judge" and 2 in first.nags else []
    fails = kind == "judge" and 2 in first.nags
    worth = engine.after(board, first.move)
    found = []
    if fails:
        best = engine.best(board, (first.move,))
        if best is None or best - worth < FAILS:
            found.append(f"does not fail: {worth:.0f} points, another move {best or 0:.0f}")
        elif best < LOST:
            found.append(f"lost anyway: {best:.0f} points")
        elif worth >= BETTER:
            found.append(f"better all the same: {worth:.0f} points")
        for node in better:
            points = engine.after(board, node.move)
            if points - worth < FAILS:
                found.append(f"better {board.san(node.move)}: {points:.0f}, not {worth:.0f} points")
    else:
        if mates and len(line) % 2:
            worth = 100.0
        if kind != "defend" and worth < SOUND:
            found.append(f"solution is worth {worth:.0f} points")
        for node in also:
            points = 100.0 if is_mate(board, line_of(node)) else engine.after(board, node.move)
            if points < worth - LOSS and not (mates and points >= 90):
                found.append(f"also {board.san(node.move)}: {points:.0f} of {worth:.0f} points")
        others = engine.best(board, (first.move, *(node.move for node in also)))
        if others is not None and kind == "judge" and others >= worth + LOSS:
            found.append(f"works, but another move has {others:.0f} points, not {worth:.0f}")
        if others is not None and kind != "judge" and not mates and others > worth - (LOSS - 2 * SLACK):
            found.append(f"another move has {others:.0f} of {worth:.0f} points")
        if others is not None and kind == "defend" and not mates and others > worth - FAILS:
            found.append(f"another reply has {others:.0f} of {worth:.0f} points")
        if kind == "defend" and worth < LOST:
            found.append(f"lost anyway: {worth:.0f} points")
        for node in mistakes:
            points = engine.after(board, node.move)
            if worth - points < FAILS:
                found.append(f"mistake {board.san(node.move)}: {points:.0f} of {worth:.0f} points")
    right = not board.turn if fails else board.turn
    if not mates:
        found += filter(None, [fault_in(engine, board, line, right, True)])
    for node in walk(game):
        start, variation = node.parent.board(), line_of(node)
        if node.parent.variations[0] is not node and not is_mate(start, variation):
            answers = board.turn if node in better else not right if node in mistakes else right
            found += filter(None, [fault_in(engine, start, variation, answers, False)])
    return [f"{kind} {board.fen()} {game.board().san(first.move)}: {fault}" for fault in found]


def walk(node: chess.pgn.GameNode) -> list[chess.pgn.ChildNode]:
    """Every node after this one."""
    return [each for child in node.variations for each in [child, *walk(child)]]


def main() -> None:
    """Ask about every exercise of the sheets."""
    parser = argparse.ArgumentParser(description="put exercises to an engine")
    parser.add_argument("--engine", required=True)
    parser.add_argument("--nodes", type=int, default=300_000)
    parser.add_argument("sheets", nargs="+", type=Path, metavar="SHEET.pgn")
    options = parser.parse_args()
    checked, doubted, wrong = Counter(), Counter(), Counter()
    # On a busy machine an engine may take a while to begin.
    with chess.engine.SimpleEngine.popen_uci(options.engine, timeout=60) as program:
        program.configure({"UCI_ShowWDL": True, "Threads": 1})
        engine, longer = Engine(program, options.nodes), Engine(program, LONGER * options.nodes)
        for sheet in options.sheets:
            with sheet.open(encoding="utf-8") as stream:
                while game := chess.pgn.read_game(stream):
                    kind = game.headers["Kind"]
                    found = faults(engine, game)
                    checked[kind] += 1
                    if found:
                        doubted[kind] += 1
                        found = faults(longer, game)
                    wrong[kind] += bool(found)
                    for fault in found:
                        print(fault, flush=True)
    for kind, count in sorted(checked.items()):
        print(f"{kind}: {count} exercises put to the engine, {doubted[kind]} doubted, {wrong[kind]} with faults")
    sys.exit(1 if wrong.total() or not checked else 0)


if __name__ == "__main__":
    main()
