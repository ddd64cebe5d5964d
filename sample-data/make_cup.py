#!/usr/bin/env python3
"""Plays the cup of the invented Harbour League, whose games start from set positions.

A motif that comes up once in a thousand games would be missing from one season. So the cup starts from
the positions with which the queries explain themselves: the first two examples of each, played twice, the
second time with the colours changed. The first moves are those of the example; from then on an engine plays
as in the season. The games that are here were played before some examples were put right.

    make_cup.py --engine PROGRAM > cup.pgn
"""

from __future__ import annotations

import argparse
import random
import tomllib
from collections.abc import Iterator
from pathlib import Path

import chess
import chess.engine
import chess.pgn

from make_season import SEED, Player, Table, league, verdict

QUERIES = Path(__file__).parent.parent / "queries"

# As few examples of a query as give it three hits.
EXAMPLES = 2


def tasks() -> Iterator[tuple[chess.Board, list[chess.Move]]]:
    """The set positions with their prepared moves, each for both colours."""
    seen = set()
    for file in sorted(QUERIES.glob("*.toml")):
        query = tomllib.loads(file.read_text(encoding="utf-8"))
        if "finds" in query:  # Every sacrifice: they have hits in the other queries' games.
            continue
        for example in [example for example in query["example"] if example["hit"]][:EXAMPLES]:
            task = (example["fen"], example["line"])
            if task in seen:
                continue
            seen.add(task)
            board = chess.Board(example["fen"])
            line, on = [], board.copy()
            for san in example["line"].split():
                line.append(on.push_san(san))
            yield board, line
            yield board.mirror(), [turned(move) for move in line]


def turned(move: chess.Move) -> chess.Move:
    """The move of the other colour."""
    from_square, to_square = chess.square_mirror(move.from_square), chess.square_mirror(move.to_square)
    return chess.Move(from_square, to_square, move.promotion)


def play(table: Table, start: chess.Board, line: list[chess.Move], players: list[Player]) -> chess.pgn.Game:
    """Plays one game."""
    game = chess.pgn.Game()
    game.setup(start)
    node: chess.pgn.GameNode = game
    board = start.copy()
    prepared = iter(line)
    hopeless = [0, 0]
    level = 0
    result = verdict(board, board.turn, 0, 0, table.dice)
    while result == "*":
        turn = board.turn
        move, worth = next(prepared, None), 0
        if move is None:
            move, worth = table.choose(board, players[0] if turn else players[1])
        node = node.add_variation(move)
        board.push(move)
        hopeless[turn] = hopeless[turn] + 1 if worth < -700 else 0
        level = level + 1 if abs(worth) < 60 else 0
        result = verdict(board, turn, hopeless[turn], level, table.dice)
        if list(board.move_stack) == line[: len(board.move_stack)] and not board.is_game_over():
            result = "*"
    game.headers["Result"] = result
    return game


def main() -> None:
    """Plays the cup and writes it to standard output."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--engine", required=True, help="a UCI engine")
    options = parser.parse_args()
    dice = random.Random(SEED)
    players = league(dice)
    with chess.engine.SimpleEngine.popen_uci(options.engine) as engine:
        engine.configure({"Threads": 1, "Hash": 16})
        table = Table(engine, dice)
        for number, (start, line) in enumerate(tasks()):
            white, black = dice.sample(players, 2)
            game = play(table, start, line, [white, black])
            game.headers.update(
                {
                    "Event": "Harbour Cup 2031",
                    "Site": white.club,
                    "Date": f"2031.{10 + number // 168}.{1 + number // 6 % 28:02}",
                    "Round": str(1 + number // 12),
                    "White": white.name,
                    "Black": black.name,
                    "WhiteElo": str(white.rating),
                    "BlackElo": str(black.rating),
                    "TimeControl": "900+10",
                }
            )
            print(game.accept(chess.pgn.StringExporter(columns=79)), end="\n\n", flush=True)


if __name__ == "__main__":
    main()
