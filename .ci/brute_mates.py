#!/usr/bin/env python3
"""Checks tests/verdicts/data/mates.txt (mates of three moves and less), and perpetuals.txt and exchanges.txt
beside it, with python-chess 1.11.2, by methods that share nothing with the program: plain recursion, no
tables.

Usage: python3 brute_mates.py    (exit status 1 if anything disagrees)
"""

import collections
import pathlib
import sys

import chess

DATA = pathlib.Path(__file__).parent.parent / "tests/verdicts/data"
MOST_MOVES = 3  # longer mates take plain recursion too long
MOST_POSITIONS = 1_000
MOST_CHECKS = 5
VALUE = {chess.PAWN: 1, chess.KNIGHT: 3, chess.BISHOP: 3, chess.ROOK: 5, chess.QUEEN: 9, chess.KING: 0}


def rows(name):
    for line in (DATA / name).read_text().splitlines():
        if not line.startswith("#"):
            yield line.split(";")


def mates(board, moves, checks_only=False):
    """Whether the side to move mates within `moves` moves."""
    legal = board.legal_moves
    return moves > 0 and any(is_key(board, move, moves, checks_only) for move in legal)


def is_key(board, move, moves, checks_only=False):
    """Whether a move mates within `moves` moves, itself the first."""
    if (checks_only or moves == 1) and not board.gives_check(move):
        return False
    board.push(move)
    try:
        replies = list(board.legal_moves)
        if not replies:
            return board.is_check()
        return moves > 1 and all(answers(board, reply, moves - 1, checks_only) for reply in replies)
    finally:
        board.pop()


def answers(board, reply, moves, checks_only):
    board.push(reply)
    try:
        return mates(board, moves, checks_only)
    finally:
        board.pop()


def check_mate(moves, fen, keys, checks):
    board = chess.Board(fen)
    assert not mates(board, moves - 1), "shorter mate"
    found = {board.san(m).rstrip("+#") for m in board.legal_moves if is_key(board, m, moves)}
    assert found == {key.rstrip("+#") for key in keys.split(",")}, found
    for n in range(1, MOST_MOVES + 1):
        expected = checks != "-" and int(checks) <= n
        assert mates(board, n, checks_only=True) == expected, f"checks only within {n}"


def checks_for_ever(fen):
    """Whether the side to move has perpetual check: positions in the order in which they are met, then what
    remains after striking out those without a good check. Positions beyond the limit count as struck out,
    so only a yes is certain."""
    start = chess.Board(fen)
    edges, to_do = {}, collections.deque([start])
    while to_do and len(edges) < MOST_POSITIONS:
        board = to_do.popleft()
        if board.epd() in edges:
            continue
        edges[board.epd()] = options = []
        for move in [m for m in board.legal_moves if board.gives_check(m)]:
            afters = [after(after(board, move), reply) for reply in after(board, move).legal_moves]
            options.append([a.epd() for a in afters])
            to_do.extend(afters)
    alive = set(edges)
    while dead := {e for e in alive if not any(all(n in alive for n in o) for o in edges[e])}:
        alive -= dead
    return start.epd() in alive


def after(board, move):
    board = board.copy(stack=False)
    board.push(move)
    return board


def checks_end(board, checks):
    """Whether the side to move runs out of checks after at most `checks` of them, whatever it does."""
    for move in [m for m in board.legal_moves if board.gives_check(m)]:
        checked = after(board, move)
        if checks == 0 or not any(checks_end(after(checked, r), checks - 1) for r in checked.legal_moves):
            return False
    return True


def balance(board, move):
    """What a capture nets, the two sides going on with legal captures on its square as long as it pays."""
    passed = chess.PAWN if board.is_en_passant(move) else None
    won = VALUE.get(passed or board.piece_type_at(move.to_square), 0)
    won += VALUE[move.promotion] - VALUE[chess.PAWN] if move.promotion else 0
    board.push(move)
    replies = [m for m in board.legal_moves if m.to_square == move.to_square]
    lost = max([0] + [balance(board, reply) for reply in replies])
    board.pop()
    return won - lost


def main():
    failures = 0
    done = 0
    for moves, fen, keys, checks, source in rows("mates.txt"):
        if int(moves) > MOST_MOVES:
            continue
        done += 1
        try:
            check_mate(int(moves), fen, keys, checks)
        except AssertionError as error:
            failures += 1
            print(f"disagrees: {fen} [{source}]: {error}")
    for answer, fen, about in rows("perpetuals.txt"):
        done += 1
        if answer == "endless":
            agrees = checks_for_ever(fen)
        else:
            agrees = any(checks_end(chess.Board(fen), checks) for checks in range(MOST_CHECKS))
        if not agrees:
            failures += 1
            print(f"disagrees: {fen} [{about}]")
    for fen, san, expected in rows("exchanges.txt"):
        done += 1
        board = chess.Board(fen)
        found = balance(board, board.parse_san(san))
        if found != int(expected):
            failures += 1
            print(f"disagrees: {fen} {san}: {found}")
    print(f"{done} positions, {failures} disagreements")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
