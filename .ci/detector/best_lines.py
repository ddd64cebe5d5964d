#!/usr/bin/env python3
"""Check the column `line_fits` of verdicts: whether best play after offers that nobody made shows what the queries require.

    best_lines.py [--queries DIR] RUN

reads the hits and verdicts of a run whose tables are comma-separated, plays each offer that was overlooked and its best line
in python-chess, and looks there for the follow-ups as it would in a game. Every difference is printed. The exit status is 1
if there is one, or if not both answers came up.
"""

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import chess

from games import replay_line
from meaning import Reading, comes, readings
from offers import Row, word
from reading import read_query
from second_detector import ROOT, read_csv


def expected(hit: Row, verdict: Row, views: list[Reading]) -> str:
    """Say what the column should hold."""
    if hit["played"] == "true" or not views[0].query.requires:
        return ""
    game = replay_line(hit["id"], 1, hit["fen"], f"{hit['offer']} {verdict['best_line']}")
    if game is None:
        return "a line that can be replayed"
    place = (hit["side"], hit["wing"])
    view = next(it for it in views if (chess.COLOR_NAMES[it.view.attacker], it.place) == place)
    required = view.query.requires
    return word(all(any(comes(row, view, game.steps, 0) for row in rows) for rows in required))


def compared(run: Path, queries: Path) -> Iterator[tuple[str, str, str]]:
    """Give what each verdict says and what it should say, and which one it is."""
    for path in sorted((run / "verdicts").glob("*.csv")):
        views = readings(read_query(queries / f"{path.stem}.toml"))
        for hit, verdict in zip(read_csv(run / "hits" / path.name), read_csv(path), strict=True):
            if verdict["verdict"]:
                yield verdict["line_fits"], expected(hit, verdict, views), verdict["id"]


def main() -> int:
    """Compare, print what differs, and give the exit status."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    parser.add_argument("run", type=Path)
    parser.add_argument("--queries", type=Path, default=ROOT / "queries")
    chosen = parser.parse_args()
    answers: Counter[str] = Counter()
    faults = 0
    for said, should, hit in compared(chosen.run, chosen.queries):
        answers[should] += 1
        if said != should:
            faults += 1
            print(f"{hit}: line_fits is {said!r}, expected {should!r}")
    told = ", ".join(f"{answers[answer]} {answer or 'blank'}" for answer in ("true", "false", ""))
    print(f"best lines: {told}, {faults} differences")
    return 1 if faults or not (answers["true"] and answers["false"]) else 0


if __name__ == "__main__":
    sys.exit(main())
