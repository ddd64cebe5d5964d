#!/usr/bin/env python3
"""Check with Python's own reader that texts of tables of comma-separated values are no formulas.

    csv_check.py --program PATH

mines games whose players, places and rounds are called like formulas, once to comma-separated values
and once to JSON, and compares the tables cell by cell under the rule of the README: one apostrophe is
taken from the start of a cell that has one.

Every difference, and every text that a spreadsheet would run (OWASP, "CSV Injection"), is printed. The
exit status is 1 if there is one.
"""

import argparse
import csv
import json
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

NAMES = [
    '=HYPERLINK(\\"http://x\\",\\"y\\")',
    "+1+1",
    "-2+3",
    "@SUM(A1:A9)",
    "'=1",
    "''",
    "-",
    "\uff1d1+1",
    "a;=1",
    "a,=1",
]
MOVES = (
    "1. e4 e6 2. d4 d5 3. Nc3 Nf6 4. e5 Nfd7 5. Nf3 Be7 6. Bd3 O-O 7. h4 c5 8. Bxh7+ Kxh7 9. Ng5+ Kg8"
    " 10. Qh5 Bxg5 11. hxg5 f6 12. g6 { [%eval -3.5] } 1-0"
)
FORMULA = tuple("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20")
QUERY = "knight-follow-up"


def game(name: str) -> str:
    """Write a game with an offer."""
    tags = ("Event", "Site", "Round", "White", "Black")
    return "".join(f'[{tag} "{name}"]\n' for tag in tags) + f"\n{MOVES}\n\n"


def mine(program: Path, folder: Path, form: str) -> Path:
    """Mine the games, and give the place of the table of hits."""
    out = folder / form
    command = [program, "mine", folder / "=games.pgn", "--query", QUERY, "--table", form]
    command += ["--keep-duplicates", "--quiet", "--out", out]
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return out / "hits" / f"{QUERY}.{form}"


def plain(value: object) -> str:
    """Write a value of JSON as a cell."""
    return "" if value is None else value if isinstance(value, str) else json.dumps(value)


def compare(table: Path, lines: Path) -> Iterator[str]:
    """Give what is wrong with the first table by the second."""
    with table.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    expected = [json.loads(line) for line in lines.read_text(encoding="utf-8").splitlines()]
    if len(rows) != len(NAMES) or len(expected) != len(NAMES):
        yield f"{len(rows)} and {len(expected)} rows, expected {len(NAMES)}"
    for row, values in zip(rows, expected, strict=False):
        for column, cell in row.items():
            if cell.removeprefix("'") != plain(values[column]):
                yield f"{column}: {cell!r}, expected {values[column]!r}"
            is_text = isinstance(values[column], str)
            if is_text and cell.startswith(FORMULA) and cell != "-":
                yield f"{column}: {cell!r} may be run"
            if not is_text and cell.startswith("'"):
                yield f"{column}: {cell!r} is a number with an apostrophe"


def main() -> int:
    """Run the check."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--program", type=Path, required=True)
    program = parser.parse_args().program.resolve()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        games = "".join(map(game, NAMES))
        (folder / "=games.pgn").write_text(games, encoding="utf-8")
        faults = list(compare(mine(program, folder, "csv"), mine(program, folder, "jsonl")))
    for fault in faults:
        print(fault)
    print(f"{len(NAMES)} rows compared, {len(faults)} faults")
    return bool(faults)


if __name__ == "__main__":
    sys.exit(main())
