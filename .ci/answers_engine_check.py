#!/usr/bin/env python3
"""Put what else could have been replied, as `hecatomb games` writes it, to an engine.

    answers_engine_check.py --engine PROGRAM [--nodes N] GAMES.pgn...

Each variation that ends with a claim ("White mates in 3.", "Black is winning.", "White is better, 71 of 100 points expected.") is
looked at after its first move, with the expected points of a hundred by the win-draw-loss figures that the engine gives
(option UCI_ShowWDL). Needs chess 1.11.

Every fault is printed. The exit status is 1 if there is one, or if there was no claim.
"""

import argparse
import re
import sys
from pathlib import Path

import chess
import chess.engine
import chess.pgn

# Whoever searches longer may differ a little, and is contradicted only by more than this.
SLACK = 12
WINNING = 90


def points(engine, board, nodes, side):
    told = engine.analyse(board, chess.engine.Limit(nodes=nodes), game=object())
    wdl = told["wdl"].pov(side)
    return (wdl.wins + wdl.draws / 2) / 10


def is_borne_out(claim, engine, board, nodes):
    """Whether a claim about a position agrees with the engine; None if it is no claim."""
    def of(side):
        return points(engine, board, nodes, chess.WHITE if side == "White" else chess.BLACK)

    if found := re.match(r"(White|Black) mates", claim):
        return of(found[1]) >= 99
    if found := re.search(r"(?:(White|Black) is [a-z ]+|chances are about even), (\d+) of 100 points expected(?: for (White|Black))?", claim):
        return abs(of(found[1] or found[3]) - int(found[2])) <= SLACK
    if found := re.match(r"(White|Black) is winning", claim):
        return of(found[1]) >= WINNING
    if claim.startswith("The chances are even"):
        return abs(of("White") - 50) <= SLACK
    return None


def claims(game):
    """The first position and the claim of each variation."""
    for node in game.mainline():
        for variation in node.parent.variations[1:] if node.parent.variations[0] is node else []:
            end = variation
            while end.variations:
                end = end.variations[0]
            yield variation.board(), " ".join(end.comment.split())


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--engine", required=True)
    parser.add_argument("--nodes", type=int, default=300_000)
    parser.add_argument("games", nargs="+", type=Path)
    options = parser.parse_args()
    engine = chess.engine.SimpleEngine.popen_uci(options.engine, timeout=60)
    engine.configure({"UCI_ShowWDL": True, "Threads": 1})
    looked_at = faults = 0
    for path in options.games:
        with path.open(encoding="utf-8") as text:
            while game := chess.pgn.read_game(text):
                faults += len(game.errors)
                for board, claim in claims(game):
                    told = is_borne_out(claim, engine, board, options.nodes)
                    if told is None:
                        continue
                    looked_at += 1
                    if not told:
                        faults += 1
                        print(f"{path}: {board.fen()}: {claim}")
    engine.quit()
    print(f"{looked_at} answers, {faults} faults")
    sys.exit(1 if faults or not looked_at else 0)


if __name__ == "__main__":
    main()
