"""Check the short exercises of `hecatomb exercises` against python-chess.

    short_exercises_check.py SHEET.csv SHEET.epd

reads the same sheet in both formats, and works every answer out again by plain recursion: mates and the moves that run
into them, whether a check is mate and whether the way out is one, and who attacks and guards a square. Whether there is
a mate in three is not searched again, which would take hours; its lines are played out.
"""

import csv
import re
import sys
from collections import Counter
from pathlib import Path

import chess

NUMBERS = {"one": 1, "two": 2, "three": 3}
SEARCHED = 2


def mates(board: chess.Board, moves: int) -> bool:
    """Whether the side to move mates within so many moves."""
    for move in list(board.legal_moves):
        board.push(move)
        found = board.is_checkmate() or (moves > 1 and any(board.legal_moves) and all_mated(board, moves - 1))
        board.pop()
        if found:
            return True
    return False


def all_mated(board: chess.Board, moves: int) -> bool:
    """Whether every move runs into mate within so many moves."""
    return all(is_mated(board, move, moves) for move in list(board.legal_moves))


def is_mated(board: chess.Board, move: chess.Move, moves: int) -> bool:
    """Whether a move runs into mate within so many moves."""
    board.push(move)
    found = mates(board, moves)
    board.pop()
    return found


def keys(board: chess.Board, moves: int) -> set[chess.Move]:
    """The first moves that mate within so many moves."""
    found = set()
    for move in list(board.legal_moves):
        board.push(move)
        if board.is_checkmate() or (moves > 1 and any(board.legal_moves) and all_mated(board, moves - 1)):
            found.add(move)
        board.pop()
    return found


def within(question: str) -> int:
    """The number of moves that a question names."""
    return NUMBERS[re.search(r" in (one|two|three)\b", question)[1]]


def fault(row: dict[str, str], operations: dict) -> str | None:
    """What is wrong with an exercise; nothing if it is right."""
    board, kind = chess.Board(row["fen"]), row["kind"]
    line = operations.get("pv", [])
    end = board.copy()
    for move in line:
        if move not in end.legal_moves:
            return "line is not legal"
        end.push(move)
    if kind == "count":
        return count_fault(board, row)
    if kind == "check":
        return check_fault(board, line, row, operations)
    moves = within(row["question"])
    said = set(operations.get("am" if kind == "king" else "bm", []))
    if kind != "reply" and not end.is_checkmate():
        return "line does not mate"
    if moves > SEARCHED:
        return None
    if kind == "mate":
        wrong = keys(board, moves) != said or (moves > 1 and mates(board, moves - 1))
    else:
        if kind == "king" and any(map(board.is_castling, board.legal_moves)):
            return "the king may castle"
        tried = [
            move for move in board.legal_moves
            if kind == "reply" or board.piece_type_at(move.from_square) == chess.KING
        ]  # fmt: skip
        mated = {move for move in tried if is_mated(board, move, moves)}
        wrong = said != (mated if kind == "king" else set(tried) - mated) or not mated
    return "other moves" if wrong else None


def check_fault(board: chess.Board, line: list[chess.Move], row: dict[str, str], operations: dict) -> str | None:
    """What is wrong with a check that may be mate."""
    board.push(line[0])
    is_mate = "It is mate" in row["answer"]
    if not board.is_check() or board.is_checkmate() != is_mate or ("bm" in operations) != is_mate:
        return "not as said"
    if not is_mate:
        others = re.findall(r"Or: \d+[.…](\S+)", row["answer"])
        named = {line[1], *(board.parse_san(san) for san in others)}
        if named != set(board.legal_moves):
            return f"ways out: {named}"
    return None


def count_fault(board: chess.Board, row: dict[str, str]) -> str | None:
    """What is wrong with the men that attack and guard a square."""
    said = re.match(r"(\w+) attacks (\w\d) with \w+ m[ae]n \(([^)]*)\), (\w+) guards it with \w+ m[ae]n \(([^)]*)\)", row["answer"])
    square = chess.parse_square(said[2])
    for side, names in [(said[1], said[3]), (said[4], said[5])]:
        men = {chess.parse_square(name) for name in names.split(", ")}
        if men != set(board.attackers(side == "White", square)):
            return f"{side}: {names}"
    return None


def main() -> None:
    """Check one sheet."""
    rows = list(csv.DictReader(Path(sys.argv[1]).open(encoding="utf-8")))
    lines = Path(sys.argv[2]).read_text(encoding="utf-8").splitlines()
    if len(rows) != len(lines) or not rows:
        sys.exit("not the same sheet, or an empty one")
    checked, wrong = Counter(), 0
    for row, line in zip(rows, lines):
        board = chess.Board()
        operations = board.set_epd(line)
        found = "other position" if board.fen() != row["fen"] else fault(row, operations)
        checked[row["kind"]] += 1
        if found:
            wrong += 1
            print(f"{row['kind']}: {found}: {row['fen']}: {row['question']}: {row['answer']}")
    print(f"{dict(checked)}: {wrong} faults")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
