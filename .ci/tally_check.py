#!/usr/bin/env python3
"""Check `hecatomb tally` against its figures computed again from the tables.

    tally_check.py [--program PATH] COLLECTION...

mines the collections with every built-in query, overlooked offers too, and tallies the run: as a
whole, by several columns, by a follow-up and a factor of each query, the factors and the trees.
Every figure of the JSON is computed again (`tally_hits.py`, `tally_figures.py`) and compared: words
and counts must be the same, other numbers within a millionth, as the JSON has six decimals. Needs
scipy and statsmodels.

Every difference is printed. The exit status is 1 if there is one.
"""

import argparse
import csv
import json
import subprocess
import sys
import tempfile
import warnings
from collections import Counter
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from tally_figures import Figures, adjust_together, continuations, factors, groups, overview
from tally_hits import Games, Hits, Row

ROOT = Path(__file__).resolve().parents[1]
TOLERANCE = 1e-6
DEPTH, LEAST = 5, 3

GROUPINGS = [
    ["rating"],
    ["balance"],
    ["side", "king_goes"],
    ["year"],
    ["eco-letter"],
    ["time-category"],
]
NEVER_BLANK = ["gain", "p_alone", "within_balance_p", "odds_ratio", "model_game"]


@dataclass(frozen=True)
class Run:
    """A run's folder and its tables."""

    program: Path
    folder: Path
    hits: dict[str, Hits]
    games: Games

    def tally(self, options: list[str]) -> list[Figures]:
        """What the program says of it."""
        command = [self.program, "tally", self.folder, "--format", "json", *options]
        out = subprocess.run(command, check=True, capture_output=True, text=True).stdout
        return json.loads(out)


@dataclass(frozen=True)
class View:
    """Options of a tally, the queries they are for, and how the figures of a query are made."""

    options: list[str]
    queries: list[str]
    figures: Callable[[str, Hits, Games], list[Figures]]


def mined(program: Path, collections: list[str], folder: Path) -> Run:
    """Mine collections, and read the tables."""
    command = [program, "mine", *collections, "--overlooked", "--quiet", "--out", folder]
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    manifest = json.loads((folder / "run.json").read_text(encoding="utf-8"))
    names = [query["name"] for query in manifest["queries"]]
    hits = {name: Hits(*read_csv(folder / "hits" / f"{name}.csv")) for name in names}
    return Run(program, folder, hits, Games(read_csv(folder / "collection.csv")[1]))


def read_csv(path: Path) -> tuple[list[str], list[Row]]:
    """Read the columns and rows of a table, without the apostrophes that guard texts."""
    with path.open(encoding="utf-8", newline="") as stream:
        reader = csv.DictReader(stream)
        rows = [{name: cell.removeprefix("'") for name, cell in row.items()} for row in reader]
        return list(reader.fieldnames), rows


def views(run: Run) -> list[View]:
    """Everything that is asked of a run."""
    every = list(run.hits)

    one_by_one = [View(["--factors", "--query", query], [query], factors) for query in every]
    asked = [
        View([], every, overview),
        View(["--factors"], every, factors),
        *one_by_one,
        View(
            ["--continuations", "--depth", str(DEPTH)], every, partial(continuations, DEPTH, LEAST)
        ),
    ]
    for names in GROUPINGS:
        asked.append(View(["--by", ",".join(names)], every, partial(groups, names)))
    for query, hits in run.hits.items():
        for name in hits.names("f_")[:1] + hits.names("x_")[:1]:
            options = ["--query", query, "--by", name]
            asked.append(View(options, [query], partial(groups, [name])))
    return asked


# Comparing.


def differences(said: list[Figures], expected: list[Figures]) -> list[str]:
    """How rows differ."""
    found = []
    if len(said) != len(expected):
        found.append(f"{len(said)} rows where {len(expected)} were expected")
    for one, other in zip(said, expected):
        place = {name: value for name, value in one.items() if isinstance(value, str)}
        if list(one) != list(other):
            found.append(f"{place}: columns {list(one)}\n    expected {list(other)}")
            continue
        for name in one:
            if not is_same(one[name], other[name]):
                found.append(f"{place}: {name} is {one[name]!r}, expected {other[name]!r}")
    return found


def is_same(said: object, expected: object) -> bool:
    """Whether two figures are the same, as far as the JSON tells."""
    if said is None or expected is None or isinstance(expected, (str, int)):
        return said == expected
    return isinstance(said, (int, float)) and abs(said - expected) <= TOLERANCE


def in_order_of_names(rows: list[Figures]) -> tuple[list[Figures], list[str]]:
    """The factors of each query by name, and complaints of those that were out of order."""
    complaints = []
    for one, other in zip(rows, rows[1:]):
        sizes = [
            -1 if row["difference"] is None else abs(row["difference"]) for row in (one, other)
        ]
        if one["query"] == other["query"] and sizes[0] < sizes[1] - TOLERANCE:
            complaints.append(f"{other['query']}: {other['factor']} stands after {one['factor']}")
    queries = list(dict.fromkeys(row["query"] for row in rows))
    by_name = sorted(rows, key=lambda row: (queries.index(row["query"]), row["factor"]))
    return by_name, complaints


def check(run: Run, view: View) -> tuple[str, Counter, list[str]]:
    """The name of a view, the figures compared in it by column, and the differences."""
    said, complaints = run.tally(view.options), []
    if view.figures is factors:
        said, complaints = in_order_of_names(said)
    expected = []
    for query in view.queries:
        expected += view.figures(query, run.hits[query], run.games)
    if view.figures is factors:
        adjust_together(expected)
    filled = (name for row in expected for name, value in row.items() if value is not None)
    name = " ".join(view.options) or "overview"
    return name, Counter(filled), complaints + differences(said, expected)


def main() -> None:
    """Run the program, compute everything again, and compare."""
    parser = argparse.ArgumentParser(description="check the figures of a tally")
    parser.add_argument("--program", type=Path, default=ROOT / "target/debug/hecatomb")
    parser.add_argument("collections", nargs="+", metavar="COLLECTION")
    options = parser.parse_args()
    # Strata without wins or losses, of which nothing is asked.
    warnings.simplefilter("ignore")
    with tempfile.TemporaryDirectory() as folder:
        run = mined(options.program.resolve(), options.collections, Path(folder) / "out")
        with ThreadPoolExecutor(2) as pool:
            checked = list(pool.map(partial(check, run), views(run)))
    compared: Counter = Counter()
    wrong = 0
    for name, filled, faults in checked:
        compared += filled
        wrong += len(faults)
        for fault in faults:
            print(f"{name}: {fault}")
    never = [name for name in NEVER_BLANK if not compared[name]]
    rows = sum(len(hits.rows) for hits in run.hits.values())
    print(f"{len(checked)} tallies of {rows} hits, {compared.total()} figures, {wrong} differences")
    if never:
        print(f"nothing was compared of: {', '.join(never)}")
    sys.exit(1 if wrong or never else 0)


if __name__ == "__main__":
    main()
