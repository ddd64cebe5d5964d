#!/usr/bin/env python3
"""Write seeds for the targets of tests/fuzz: games, query files, tables, positions, lines.

    fuzz_seeds.py --program PATH --out DIR PGN...

The games are taken at equal steps from the PGN files, one a seed, and from the sample data. A target that
takes numbers before its text finds some at the start of its seeds.
"""

import argparse
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]

LINES = """id name Example 1.0
option name Hash type spin default 16 min 1 max 1024
option name Style type combo default Solid var Solid var Wild
uciok
readyok
info depth 12 seldepth 20 multipv 1 score cp -37 upperbound nodes 12345 nps 99999 pv e2e4 e7e5 g1f3
info depth 30 score mate -3 nodes 1 pv e7e8q
info string anything score cp 5
bestmove e2e4 ponder e7e5
bestmove (none)
Hash=64"""

COMMENTS = ["[%eval 0.25]", "[%eval #-3]", "{ [%clk 0:01:00] [%eval -6.05,18] lost }", "; to the end\n"]

ODD_GAMES = [
    '[Event "a"]\n\n1. e4 { never closed\n\n[Event "b"]\n\n1. d4 d5 *\n',
    '[Event "crlf"]\r\n[White "A"]\r\n\r\n1. d4 d5\r\n2. c4 *\r\n',
    '1. e4 {a game\n\n[Event "fake"]\n\n1. d4 1-0\n} (1. d4 (1. c4)) e5 $1 0-1 1. e4 *\n',
    '% an escape\n[Event "two"] [Site "s"]\n[Broken\n"b"]\n; x\n\n1... 0-0 \xbd-\xbd\n',
]


def games(path: Path, every: int) -> Iterator[str]:
    """Give every so manieth game of a file."""
    text = path.read_text(encoding="utf-8", errors="replace")
    yield from re.split(r"\n(?=\[Event )", text)[::every]


def positions() -> Iterator[str]:
    """Give positions with the moves of a line."""
    for path in sorted((ROOT / "queries").glob("*.toml")):
        for example in tomllib.loads(path.read_text(encoding="utf-8")).get("example", []):
            yield f"{example['fen']}\n{example['line']}"
    fen = re.compile(r"[1-8a-zA-Z/]{15,} [wb] [-KQkq]+ (?:-|[a-h][36])(?: \d+ \d+)?")
    for path in sorted((ROOT / "tests" / "verdicts" / "data").glob("*.txt")):
        yield from fen.findall(path.read_text(encoding="utf-8"))


def tables(program: Path, out: Path) -> Iterator[bytes]:
    """Give the starts of tables of a small run, and its manifest, each with the number of its format."""
    for number, form in enumerate(["csv", "jsonl"]):
        run = out / f"run-{form}"
        command = [program, "mine", ROOT / "sample-data", "--limit", "300", "--table", form]
        command += ["--quiet", "--replace", "--out", run]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        for path in sorted((run / "hits").iterdir()):
            lines = path.read_bytes().splitlines(keepends=True)
            if len(lines) > number:
                yield bytes([number]) + b"".join(lines[:4])
    yield bytes([3]) + (out / "run-csv" / "run.json").read_bytes()


def write(folder: Path, seeds: Iterator[bytes]) -> None:
    """Write the seeds of a target."""
    folder.mkdir(parents=True, exist_ok=True)
    for number, seed in enumerate(seeds):
        (folder / f"seed-{number:04}").write_bytes(seed)


def main() -> int:
    """Write all seeds."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--program", type=Path, required=True)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("pgn", type=Path, nargs="*")
    options = parser.parse_args()
    out = options.out
    texts = [game for path in options.pgn for game in games(path, 12)] + ODD_GAMES
    texts += ["\n\n".join(texts[at : at + 3]) for at in range(0, len(texts) - 3, 20)]
    texts = [text.encode("utf-8") for text in texts]
    lines = [f'[FEN "{fen}"]\n[SetUp "1"]\n\n{line} *\n' for fen, _, line in
             (position.partition("\n") for position in positions())]
    of_examples = [line.encode() for line in lines]
    write(out / "cutting", (b"\x40\x00\x05" + text for text in texts))
    write(out / "mining", (b"\x40\x00" + text for text in texts + of_examples))
    write(out / "comments", (text[text.find(b"\n\n") + 2 :] for text in texts))
    write(out / "comments", (comment.encode() for comment in COMMENTS))
    write(out / "queries", (path.read_bytes() for path in sorted((ROOT / "queries").glob("*.toml"))))
    plans = [ROOT / ".ci" / "browser" / name for name in ("plan.toml", "own.pgn")]
    write(out / "plans", (path.read_bytes() for path in plans))
    write(out / "plans", iter(texts[::10]))
    write(out / "positions", (position.encode() for position in positions()))
    write(out / "engine-lines", (line.encode() for line in [*LINES.splitlines(), LINES]))
    write(out / "foreign-tables", tables(options.program.resolve(), out))
    write(out / "tables", iter([b"=1+1"]))
    return 0


if __name__ == "__main__":
    sys.exit(main())
