#!/usr/bin/env python3
"""Check `hecatomb exercises` against python-chess.

    exercises_check.py [--program PATH] [--engine PATH] [--count N] [--every-query] COLLECTION...

mines the collections with a few queries, overlooked offers too, judges the hits, makes exercises of each kind in PGN, EPD and
CSV, and reads them back: all formats say the same, every move of a solution and of its variations is
legal, every mate that is said to be one is one at its end, and after a first move that is said to mate in
one or two moves the mate is found again by trying everything; about half of the offers to be judged work;
no position is another one with colours exchanged or mirrored; both colours come equally often as far as
there are enough; the page has a diagram and a solution for each. Needs chess 1.11.

Every fault is printed. The exit status is 1 if there is one.
"""

import argparse
import csv
import io
import re
import subprocess
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import chess
import chess.pgn

ROOT = Path(__file__).resolve().parents[1]
KINDS = ["find", "judge", "continue", "defend"]
QUERIES = ["bishop-takes-h7", "bishop-takes-f7", "knight-takes-g7", "knight-to-g6", "rook-decoy-corner",
           "rook-takes-g7", "rook-takes-guard-of-h7", "queen-takes-f6", "queen-takes-h6",
           "queen-back-rank", "queen-decoy-double-check", "queen-deflection-back-rank", "smothered-mate"]  # fmt: skip
ROSTER = ["Event", "Site", "Date", "Round", "White", "Black", "Result"]
MATE = re.compile(r"mates in (\d+)|mates(?! in)")


@dataclass
class Faults:
    """What was checked, and what is wrong."""

    kind: str
    found: list[str] = field(default_factory=list)
    checks: Counter = field(default_factory=Counter)

    def expect(self, what: str, holds: bool, place: object = "") -> None:
        """Count a check, and note it if it fails."""
        self.checks[what] += 1
        if not holds:
            self.found.append(f"{self.kind}: {what}: {place}")


def run(program: Path, *arguments: object) -> str:
    """What the program writes."""
    command = [str(program), *map(str, arguments)]
    return subprocess.run(command, check=True, capture_output=True).stdout.decode("utf-8")


def games(text: str) -> list[chess.pgn.Game]:
    """The games of a PGN text."""
    stream = io.StringIO(text)
    return list(iter(lambda: chess.pgn.read_game(stream), None))


def check_pgn_text(text: str, faults: Faults) -> None:
    """The export format of the standard, sections 8.1.1 and 8.2.1, as far as it shows in lines."""
    for block in text.strip("\n").split("\n\n"):
        lines = block.split("\n")
        if lines[0].startswith("["):
            names = [line[1 : line.index(" ")] for line in lines]
            faults.expect("tags in order", names[:7] == ROSTER, names)
            faults.expect("other tags in order", names[7:] == sorted(names[7:]), names)
        else:
            faults.expect("lines under 80", all(len(line) < 80 for line in lines), lines)
            faults.expect("no tag or escape in movetext", not re.search(r"^[\[%]", block, re.M), block)


def mates_within(board: chess.Board, moves: int) -> bool:
    """Whether the side to move mates within `moves` moves, by trying everything."""
    for move in list(board.legal_moves):
        board.push(move)
        mates = board.is_checkmate() or (
            moves > 1
            and any(board.legal_moves)
            and all(mates_after(board, reply, moves - 1) for reply in list(board.legal_moves))
        )
        board.pop()
        if mates:
            return True
    return False


def mates_after(board: chess.Board, reply: chess.Move, moves: int) -> bool:
    """Whether the other side mates within `moves` moves after a reply."""
    board.push(reply)
    mates = mates_within(board, moves)
    board.pop()
    return mates


def check_mates(game: chess.pgn.Game, kind: str, faults: Faults) -> None:
    """Lines that are said to end in mate do; short ones are searched again."""
    board = game.board()
    for node in [game, *walk(game)]:
        comment = " ".join(node.comment.split())
        said = MATE.search(comment)
        if not said or node is game:
            continue
        place = f"{board.fen()} {node.san()} {comment}"
        if "Also correct" in comment:
            moves = int(said[1] or 1)
            if moves <= 2:
                after = node.board()
                mates = after.is_checkmate() or all(
                    mates_after(after, reply, moves - 1) for reply in list(after.legal_moves)
                )
                faults.expect("other move mates", mates, place)
        elif not node.variations:
            faults.expect("mate at the end of the line", node.board().is_checkmate(), place)
    first = game.next()
    said = MATE.search(" ".join(game.end().comment.split()))
    if kind in ("find", "continue") and said and int(said[1] or 1) <= 2:
        after, moves = first.board(), int(said[1] or 1)
        mates = after.is_checkmate() or all(
            mates_after(after, reply, moves - 1) for reply in list(after.legal_moves)
        )
        faults.expect("solution mates", mates, board.fen())
        faults.expect("no shorter mate", moves == 1 or not mates_within(board, 1), board.fen())
        keys = {first.move} | {node.move for node in game.variations[1:]}
        for move in list(board.legal_moves):
            if move not in keys and moves == 1:
                board.push(move)
                faults.expect("only mate", not board.is_checkmate(), f"{board.fen()}")
                board.pop()
            elif move not in keys:
                board.push(move)
                replies = list(board.legal_moves)
                other = bool(replies) and all(mates_after(board, reply, 1) for reply in replies)
                board.pop()
                faults.expect("only mate", not other, f"{board.fen()} {move}")


def walk(game: chess.pgn.GameNode) -> list[chess.pgn.ChildNode]:
    """Every node after this one."""
    nodes = []
    for child in game.variations:
        nodes += [child, *walk(child)]
    return nodes


def likenesses(board: chess.Board) -> set[str]:
    """A position's men with White to move, and mirrored left to right."""
    turned = board if board.turn else board.mirror()
    return {turned.board_fen(), turned.transform(chess.flip_horizontal).board_fen()}


def check_kind(program: Path, folder: Path, kind: str, count: int, asked: list[str]) -> Faults:
    """Make exercises of a kind in every format, and check them."""
    faults = Faults(kind)
    made = {
        form: run(
            program, "exercises", folder, "--kind", kind, "--count", count, "--nodes", 20_000,
            "--format", form, "--quiet", *asked,
        )
        for form in ("pgn", "epd", "csv", "html")
    }  # fmt: skip
    check_pgn_text(made["pgn"], faults)
    exercises = games(made["pgn"])
    lines = made["epd"].splitlines()
    rows = list(csv.DictReader(io.StringIO(made["csv"])))
    numbers = [len(exercises), len(lines), len(rows), made["html"].count('<li id="exercise-'),
               made["html"].count('<li id="solution-')]  # fmt: skip
    faults.expect("as many in every format", len(set(numbers)) == 1 and numbers[0] > 0, numbers)
    seen: set[str] = set()
    works = 0
    for game, line, row in zip(exercises, lines, rows):
        board = game.board()
        faults.expect("pgn is read", not game.errors, game.errors)
        faults.expect("position is legal", board.is_valid(), board.fen())
        solution = list(game.mainline_moves())
        sans = [node.san() for node in game.mainline()]
        faults.expect("there is a solution", bool(solution), board.fen())
        epd_board = chess.Board()
        operations = epd_board.set_epd(line)
        faults.expect("epd is the same position", epd_board.fen() == board.fen(), line)
        faults.expect("epd has the same solution", operations["pv"] == solution, line)
        faults.expect("epd line is short enough", len(line) <= 1024, line)
        best = operations.get("bm") or operations.get("am")
        faults.expect("epd move is the first", solution[0] in best, line)
        faults.expect("nodes are told", operations["acn"] > 0, line)
        rest = line.split(" ", 4)[4]
        names = re.findall(r"(\w+) (?:\"[^\"]*\"|[^;]*);", rest)
        faults.expect("opcodes in order", names == sorted(names), names)
        faults.expect("csv is the same", row["line"].split() == sans, row)
        csv_board = chess.Board(row["fen"])
        faults.expect("csv is the same position", csv_board.fen() == board.fen(), row)
        if "dm" in operations and kind != "defend":
            end = game.end().board()
            faults.expect("mate is mate", end.is_checkmate(), line)
            faults.expect("mate in the stated number", len(solution) <= 2 * operations["dm"] - 1, line)
        check_mates(game, kind, faults)
        if kind == "judge":
            works += "bm" in operations
            nag = next(iter(game.next().nags))
            faults.expect("mark is the answer", nag == (1 if "bm" in operations else 2), line)
        like = likenesses(board)
        faults.expect("no two are equal", not like & seen, board.fen())
        seen |= like
    if kind == "judge":
        faults.expect("half of them work", abs(2 * works - len(exercises)) <= 1, works)
    white = sum(game.board().turn for game in exercises)
    if len(exercises) == count and kind in ("find", "judge"):
        faults.expect("colours are balanced", abs(2 * white - count) <= 2, white)
    print(f"{kind}: {len(exercises)} exercises, White to move in {white}", end="")
    print(f", {works} work" if kind == "judge" else "")
    return faults


def main() -> None:
    """Run the program and check what it made."""
    parser = argparse.ArgumentParser(description="check exercises with python-chess")
    parser.add_argument("--program", type=Path, default=ROOT / "target/debug/hecatomb")
    parser.add_argument("--engine", help="the engine that judges what no proof decides")
    parser.add_argument("--count", type=int, default=8)
    parser.add_argument("--every-query", action="store_true")
    parser.add_argument("collections", nargs="+", metavar="COLLECTION")
    options = parser.parse_args()
    program = options.program.resolve()
    names = [] if options.every_query else QUERIES
    asked = ["--engine", options.engine, "--engine-nodes", "4000"] if options.engine else []
    queries = [word for name in names for word in ("--query", name)]
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "out"
        run(program, "mine", *options.collections, "--overlooked", "--quiet", "--out", folder, *queries)
        run(program, "verify", folder, "--nodes", 20_000, "--quiet", *asked)
        checked = [check_kind(program, folder, kind, options.count, asked) for kind in KINDS]
    wrong = 0
    for faults in checked:
        wrong += len(faults.found)
        for fault in faults.found:
            print(fault)
    total = sum((faults.checks for faults in checked), Counter())
    needed = ["mate at the end of the line", "only mate", "mate is mate", "half of them work"]
    never = [what for what in needed if not total[what]]
    print(f"{total.total()} checks, {wrong} faults")
    if never:
        print(f"never checked: {', '.join(never)}")
    sys.exit(1 if wrong or never else 0)


if __name__ == "__main__":
    main()
