#!/usr/bin/env python3
"""Check `hecatomb mine` against a second detector, written with python-chess alone.

    second_detector.py [--program PATH] [--queries DIR] [--every N] [--overlooked] PGN...

runs the program over the PGN files (plain or packed with zstd) with every query of the folder;
reads the same query files with a reader of its own; replays every Nth game and looks for the offers
that were made, and with `--overlooked` for those that were not; and compares them with the tables,
row by row and both ways. The examples of the query files are tried as well.

Every difference is printed. The exit status is 1 if there is one, or if no offer was found at all.
A game that cannot be replayed here is named: if the tables have a row of it, that is a difference;
if not, it is none, for a run need not replay a game that cannot hold an offer.
"""

import argparse
import csv
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from multiprocessing import Pool
from pathlib import Path

from games import cut, read_text, replay, replay_line
from meaning import readings
from offers import Key, Row, by_man, played_rows, square_in, word
from overlooked import overlooked_rows, possible
from reading import read_query
from sentences import Query

ROOT = Path(__file__).resolve().parents[2]


# The work on many games.


@dataclass(frozen=True)
class Task:
    """Games to look through, as text, and what to look for."""

    queries: tuple[Query, ...]
    overlooked: bool
    texts: list[tuple[str, int, str]]


@dataclass(frozen=True)
class Found:
    """What was found in the games of a task: to each key the rows that it may have."""

    rows: dict[Key, list[Row]]
    unplayable: list[tuple[str, int]]


def look_through(task: Task) -> Found:
    """Find all rows of some games."""
    all_readings = [reading for query in task.queries for reading in readings(query)]
    offers, chances = by_man(all_readings), by_man(possible(all_readings))
    found = Found({}, [])
    for source, number, text in task.texts:
        game = replay(source, number, text)
        if game is None:
            found.unplayable.append((source, number))
            continue
        found.rows.update(played_rows(game, offers))
        if task.overlooked:
            found.rows.update(overlooked_rows(game, chances))
    return found


def sampled(paths: Iterable[Path], every: int) -> Iterator[tuple[str, int, str]]:
    """Give the source, number and text of every so manieth game of each file."""
    for path in paths:
        for number, text in enumerate(cut(read_text(path)), 1):
            if number % every == 0:
                yield str(path), number, text


def batches(items: Iterable, size: int) -> Iterator[list]:
    """Divide items into lists of a given length."""
    iterator = iter(items)
    while batch := list(islice(iterator, size)):
        yield batch


# Tables.


def read_csv(path: Path) -> list[Row]:
    """Read a table."""
    with path.open(encoding="utf-8", newline="") as stream:
        return [unguarded(row) for row in csv.DictReader(stream)]


def unguarded(row: Row) -> Row:
    """Take away the apostrophe that keeps a spreadsheet from running a text."""
    return {column: cell.removeprefix("'") for column, cell in row.items()}


def read_tables(out: Path, queries: Iterable[Query]) -> tuple[dict[Key, Row], list[str]]:
    """Read the tables of all queries, and complain of rows that stand there twice."""
    table: dict[Key, Row] = {}
    faults = []
    for query in queries:
        for row in read_csv(out / "hits" / f"{query.name}.csv"):
            number, ply = int(row["game"]), int(row["ply"])
            square = square_in(row["offer"])
            key = Key(query.name, row["source"], number, ply, square, row["played"])
            if key in table:
                faults.append(f"{key}: in the table twice")
            table[key] = row
    return table, faults


def mine(program: Path, queries: Path, overlooked: bool, paths: list[Path], out: Path) -> None:
    """Run the program."""
    command = [program, "mine", *paths, "--out", out, "--quiet", "--keep-duplicates"]
    for path in sorted(queries.glob("*.toml")):
        command += ["--query", path]
    subprocess.run(
        [*command, *(["--overlooked"] if overlooked else [])], check=True, stdout=subprocess.DEVNULL
    )


# Comparing.


def compare(expected: dict[Key, list[Row]], table: dict[Key, Row]) -> Iterator[str]:
    """Give the differences between the rows expected and those of the tables, both ways."""
    for key in sorted(expected.keys() | table.keys()):
        if key not in table:
            yield f"{key}: missing from the table (FEN {expected[key][0]['fen']})"
        elif key not in expected:
            yield f"{key}: in the table, but not found here (FEN {table[key]['fen']})"
        else:
            same = (row for row in expected[key] if row["offer"] == table[key]["offer"])
            yield from compare_rows(key, next(same, expected[key][0]), table[key])


def compare_rows(key: Key, expected: Row, row: Row) -> Iterator[str]:
    """Give the columns in which two rows differ, and those of the query that only one side has."""
    for column in sorted(expected.keys() | {c for c in row if c.startswith(("f_", "x_"))}):
        here, there = expected.get(column), row.get(column)
        if here != there:
            yield f"{key}: {column} is {there!r}, expected {here!r} (FEN {row['fen']})"


def try_examples(query: Query) -> Iterator[str]:
    """Give the examples of a query file in which something else is found than they say."""
    for number, example in enumerate(query.examples, 1):
        game = replay_line(f"example of {query.name}", number, example.fen, example.line)
        if game is None:
            yield f"{query.name}, example {number}: cannot be replayed"
        elif any(played_rows(game, by_man(readings(query)))) != example.hit:
            yield f"{query.name}, example {number}: hit is not {word(example.hit)} here"


def options() -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    parser.add_argument("pgn", nargs="+", type=Path)
    parser.add_argument("--program", type=Path, default=ROOT / "target/release/hecatomb")
    parser.add_argument("--queries", type=Path, default=ROOT / "queries")
    parser.add_argument("--every", type=int, default=1, metavar="N", help="look at every Nth game")
    parser.add_argument("--overlooked", action="store_true", help="compare overlooked offers too")
    parser.add_argument("--jobs", type=int, default=os.cpu_count())
    return parser.parse_args()


def search(task: Task, jobs: int) -> Found:
    """Find all rows of many games, in several processes."""
    parts = (Task(task.queries, task.overlooked, batch) for batch in batches(task.texts, 20))
    all_found = Found({}, [])
    with Pool(jobs) as pool:
        for found in pool.imap_unordered(look_through, parts):
            all_found.rows.update(found.rows)
            all_found.unplayable.extend(found.unplayable)
    return all_found


def differences(chosen: argparse.Namespace, task: Task, found: Found) -> Iterator[str]:
    """Run the program and give all that its tables and `found` do not agree on."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "out"
        mine(chosen.program, chosen.queries, chosen.overlooked, chosen.pgn, out)
        table, complaints = read_tables(out, task.queries)
        rejected = {(row["source"], int(row["game"])) for row in read_csv(out / "rejects.csv")}
    seen = {(source, number) for source, number, _ in task.texts}
    yield from complaints
    for source, number in sorted((rejected & seen) - set(found.unplayable)):
        yield f"{source}, game {number}: rejected, but replayed here"
    yield from compare(
        found.rows, {k: row for k, row in table.items() if (k.source, k.game) in seen}
    )


def main() -> int:
    """Compare, print what differs, and give the exit status."""
    chosen = options()
    queries = tuple(read_query(path) for path in sorted(chosen.queries.glob("*.toml")))
    task = Task(queries, chosen.overlooked, list(sampled(chosen.pgn, chosen.every)))
    began = time.monotonic()
    found = search(task, chosen.jobs)
    rate = len(task.texts) / (time.monotonic() - began)
    faults = [fault for query in queries for fault in try_examples(query)]
    faults += differences(chosen, task, found)
    for line in faults:
        print(line)
    for source, number in sorted(found.unplayable):
        print(f"not compared: {source}, game {number}, which cannot be replayed here")
    made = sum(key.played == "true" for key in found.rows)
    print(
        f"{len(queries)} queries in {len(task.texts)} games, {rate:.0f} a second: {made} offers"
        f" made, {len(found.rows) - made} overlooked, {len(faults)} differences"
    )
    return 1 if faults or not found.rows else 0


if __name__ == "__main__":
    sys.exit(main())
