#!/usr/bin/env python3
"""Plays the season of the invented Harbour League.

Every game is played out by a UCI engine that thinks little, from the first few moves of a common
opening. By move eight it has left every game played before it. A player has a rating, which decides how far
from the best move they may stray, and a taste for offers: where a move of one of the well-known sacrifices is
legal, they play it more often than it deserves. So the games are rich in sacrifices, sound and unsound, and
stronger players score better.

Needs Python 3.11, the package `chess` (1.11) and an engine:

    make_season.py --engine PROGRAM --games 640 > season.pgn

The seed is fixed, but an engine's choices may differ between its versions, and so may the games.
"""

from __future__ import annotations

import argparse
import math
import random
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import chess
import chess.engine
import chess.pgn

SEED = 20310904
VALUE = {chess.PAWN: 1, chess.KNIGHT: 3, chess.BISHOP: 3, chess.ROOK: 5, chess.QUEEN: 9, chess.KING: 0}

FAMILIES = """Abrozzelin Brölvaskar Céluvarde Cobbravant Crandifell Druvenhask Dwimberlot Efterquell
Fnesterby Ghestrallow Gwendrosk Hjälsovar Humbraleth Ilvoctare Jaspenneck Kvorrist Lemnorwick Mevlastrom
Nøkkevarn Orrequand Ossibrax Ovrelaszt Pfremdal Plimsotter Quimmelby Rhuddovane Scharvello Skorrumby
Thaxelmere Tjüsterol Trondavel Ubbereth Ummerlotz Vorkandel Wazzelmint Xolbernay Yselquist Yttervask
Zwindelar Ästrovind""".split()
GIVEN = """Ada Bram Cosima Doran Elke Finn Greta Hanno Isolde Joris Katla Leif Mirela Nils Oona Piet
Romy Sven Tilda Ulf Vera Wim Ylva Zeno""".split()
CLUBS = """Bollardene Ebbinstrand Fathomwick Glimmerscar Grapnelby Hawserdyke Kittlebrine Murkwharf
Ombrequay Pintleholm Saltquimber Tidewrack""".split()
CONTROLS = [("40/5400+30:1800+30", 0.5), ("900+10", 0.25), ("180+2", 0.15), ("60", 0.1)]

# How common openings start, twelve plies at most, with their ECO codes where these are beyond doubt
# (common practice, no source). What comes after them is the players' own.
OPENINGS = """
C11 e4 e6 d4 d5 Nc3 Nf6 e5 Nfd7 Nf3 Be7 Bd3 O-O
C11 e4 e6 d4 d5 Nc3 Nf6 e5 Nfd7 Nf3 c5 Bd3 Nc6
C05 e4 e6 d4 d5 Nd2 Nf6 e5 Nfd7 Bd3 c5 c3 Nc6
C02 e4 e6 d4 d5 e5 c5 Nf3 Nc6 Bd3 Nge7 O-O Ng6
C15 e4 e6 d4 d5 Nc3 Bb4 Bd3 Ne7 Nf3 O-O
C02 e4 e6 d4 d5 e5 c5 c3 Nc6 Nf3 Nge7 Bd3 Ng6
C02 e4 e6 d4 d5 e5 Ne7 Bd3 b6 Nf3 c5
C01 e4 e6 d4 d5 exd5 exd5 Bd3 Bd6 Nf3 Ne7 O-O O-O
C01 e4 e6 d4 d5 exd5 exd5 Nf3 Nf6 Bd3 Be7 h3 O-O
C03 e4 e6 d4 d5 Nd2 Be7 Bd3 Nf6 e5 Nfd7
C00 e4 e6 d3 d5 Nd2 Nf6 Ngf3 Be7 g3 O-O
D05 d4 d5 Nf3 Nf6 e3 e6 Bd3 Be7 O-O O-O
D05 d4 d5 Nf3 Nf6 e3 e6 Bd3 Bd6 Nbd2 O-O
D05 d4 d5 Nf3 Nf6 e3 e6 Bd3 c5 b3 Be7
D04 d4 d5 Nf3 Nf6 e3 Bg4 Bd3 e6 Nbd2 Bd6
D02 d4 d5 Nf3 Nf6 Bf4 e6 e3 Be7 Bd3 O-O
D00 d4 d5 Bf4 e6 e3 Bd6 Bg3 Nf6 Bd3 O-O
D00 d4 d5 e3 Nf6 Bd3 e6 f4 Be7 Nf3 O-O
D00 d4 d5 e3 Nf6 Bd3 Nc6 f4 e6 Nf3 Bd6
A03 f4 d5 Nf3 Nf6 e3 e6 b3 c5 Bb2 Nc6 Bd3 Be7
A03 f4 d5 Nf3 c5 e3 Nf6 b3 e6 Bb2 Be7
D01 d4 d5 Nc3 Nf6 Bg5 Bf5 f3 c6 Qd2 Nbd7
- d4 Nf6 Nc3 d5 Bg5 e6 Nf3 Be7 e3 O-O
D50 d4 d5 c4 e6 Nc3 Nf6 Bg5 Be7 e3 O-O
D35 d4 d5 c4 e6 Nc3 Nf6 cxd5 exd5 Nf3 Be7 Bf4 O-O
D45 d4 d5 c4 c6 Nf3 Nf6 Nc3 e6 e3 Nbd7
E14 d4 Nf6 c4 e6 Nf3 b6 e3 Bb7 Bd3 Be7 O-O O-O
E48 d4 Nf6 c4 e6 Nc3 Bb4 e3 O-O Bd3 d5
A52 d4 Nf6 c4 e5 dxe5 Ng4 Nf3 Bc5 e3 Nc6
E91 d4 Nf6 c4 g6 Nc3 Bg7 e4 d6 Nf3 O-O Be2 Na6
- d4 d5 Nf3 c5 e3 Nc6 Be2 e6 O-O Bd6
- Nf3 d5 b3 Nf6 Bb2 e6 e3 Bd6 c4 O-O
A01 b3 d5 Bb2 Nf6 e3 e6 Nf3 Bd6 Bd3 O-O
- c4 e5 Nc3 Nf6 g3 d5 cxd5 Nxd5 Bg2 Nb6
C54 e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6 d3 d6
C50 e4 e5 Nf3 Nc6 Bc4 Be7 O-O d6 d3 Bg4
C50 e4 e5 Nf3 Nc6 Bc4 h6 O-O d6 c3 Bg4
C55 e4 e5 Nf3 Nc6 Bc4 Nf6 d3 Be7 O-O O-O
C41 e4 e5 Nf3 d6 Bc4 Be7 h3 Nf6 d3 c6
C41 e4 e5 Nf3 d6 d4 exd4 Nxd4 Nf6 Nc3 Be7
C41 e4 e5 Nf3 d6 d4 exd4 Qxd4 a6 Bg5 Nf6
C42 e4 e5 Nf3 Nf6 Nxe5 d6 Nf3 Nxe4 Nc3 Nxc3 dxc3 Be7
C42 e4 e5 Nf3 Nf6 Nxe5 d6 Nf3 Nxe4 d4 d5
C45 e4 e5 Nf3 Nc6 d4 exd4 Nxd4 Bc5 Nb3 Bb6
- e4 e5 Nc3 Nc6 Bc4 Nf6 d3 Bc5 f4 d6
C30 e4 e5 f4 d6 Nf3 Nf6 Nc3 Nbd7
C62 e4 e5 Nf3 Nc6 Bb5 d6 O-O Bd7 Nc3 Be7
C65 e4 e5 Nf3 Nc6 Bb5 Nf6 d3 Bc5 O-O O-O
B01 e4 d5 exd5 Qxd5 Nc3 Qa5 d4 c6 Bd2 Nf6
B17 e4 c6 d4 d5 Nc3 dxe4 Nxe4 Nd7 Bd3 Ngf6
B18 e4 c6 d4 d5 Nc3 dxe4 Nxe4 Bf5 Ng3 Bg6 Nf3 Nd7
B12 e4 c6 d4 d5 e5 Bf5 Nc3 e6 g4 Bg6
B12 e4 c6 d4 d5 e5 c5 Nf3 Nc6 c3 Bg4
B07 e4 d6 d4 Nf6 Nc3 g6 Be3 Bg7 Qd2 c6
B06 e4 g6 d4 Bg7 Nc3 d6 f4 a6 Nf3 b5
B95 e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Bg5 e6
B86 e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Bc4 e6
B72 e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 g6 Be3 Bg7
B80 e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 e6 Be3 Be7
- e4 c5 Nf3 e6 d4 cxd4 Nxd4 Nc6 Nc3 d6 Be3 Nf6
B41 e4 c5 Nf3 e6 d4 cxd4 Nxd4 a6 c4 Nf6
B46 e4 c5 Nf3 e6 d4 cxd4 Nxd4 Nc6 Nc3 a6 Be2 Nge7
- e4 c5 Nc3 Nc6 f4 e6 Nf3 d5 Bb5 Nge7
- e4 c5 c3 d5 exd5 Qxd5 d4 Nf6 Nf3 e6 Bd3 Be7
B23 e4 c5 Nc3 d6 f4 g6 Nf3 Bg7 Bc4 Nc6
""".strip().splitlines()

# A game that has not left all games before it by this ply is played again.
PARTED = 14


@dataclass
class Player:
    """A player of the league."""

    name: str
    club: str
    rating: int
    taste: float


@dataclass
class Position:
    """A board and what a motif asks about a move on it, in the attacker's view."""

    board: chess.Board
    move: chess.Move
    role: int = field(init=False)
    taken: int | None = field(init=False)
    square: str = field(init=False)
    king: str = field(init=False)

    def __post_init__(self) -> None:
        self.role = self.board.piece_type_at(self.move.from_square) or 0
        self.taken = self.board.piece_type_at(self.move.to_square)
        self.square = self.seen(self.move.to_square)
        king = self.board.king(not self.board.turn)
        self.king = self.seen(king) if king is not None else ""

    def seen(self, square: int) -> str:
        """The name of a square in the attacker's view."""
        return chess.square_name(square if self.board.turn else chess.square_mirror(square))

    def can_be_taken(self) -> bool:
        """Whether the defender can legally take the man that moved."""
        after = self.board.copy(stack=False)
        after.push(self.move)
        return any(reply.to_square == self.move.to_square for reply in after.legal_moves)


B, N, R, Q, P = chess.BISHOP, chess.KNIGHT, chess.ROOK, chess.QUEEN, chess.PAWN


def takes(role: int, taken: int, *squares: str) -> Callable[[Position], bool]:
    """A motif: a man takes another on one of these squares."""
    return lambda at: at.role == role and at.taken == taken and at.square in squares


def goes(role: int, *squares: str) -> Callable[[Position], bool]:
    """A motif: a man moves to one of these squares without taking."""
    return lambda at: at.role == role and at.taken is None and at.square in squares


MOTIFS: list[tuple[float, Callable[[Position], bool]]] = [
    (1.0, lambda at: takes(B, P, "h7")(at) and at.king in ("g8", "h8")),
    (1.0, lambda at: takes(B, P, "a7")(at) and at.king in ("b8", "a8")),
    (1.0, takes(B, P, "g7")),
    (0.5, takes(B, P, "f7")),
    (0.6, takes(B, P, "h6")),
    (0.4, takes(B, P, "e6")),
    (0.4, takes(B, P, "b5")),
    (0.4, takes(N, P, "f7")),
    (0.4, takes(N, P, "e6")),
    (0.35, goes(N, "d5")),
    (0.35, goes(N, "f5")),
    (0.7, takes(N, P, "g7")),
    (0.5, goes(N, "f6")),
    (0.5, goes(N, "g6")),
    (0.5, takes(R, N, "c6")),
    (0.5, takes(R, N, "f6")),
    (0.8, takes(R, P, "h7")),
    (0.8, takes(R, P, "g7")),
    (0.5, takes(R, P, "e6")),
    (0.7, goes(R, "d8", "e8", "h8")),
    (0.8, goes(Q, "e8", "d8", "g8", "b8")),
    (0.7, takes(Q, P, "c6")),
    (0.8, takes(Q, P, "h7")),
    (0.7, takes(Q, P, "h6")),
    (0.7, takes(Q, N, "f6")),
    (0.7, takes(N, P, "e5")),
]


def offers(board: chess.Board) -> Iterator[tuple[float, chess.Move]]:
    """The moves that offer something in the manner of a motif, with how tempting each is."""
    for move in board.legal_moves:
        at = Position(board, move)
        for weight, fits in MOTIFS:
            if fits(at) and at.can_be_taken():
                yield weight, move
                break


def after_offer(board: chess.Board) -> Iterator[chess.Move]:
    """The usual moves after a bishop's offer on the rook's pawn: knight, queen, second bishop."""
    recent = range(2, min(9, len(board.move_stack) + 1), 2)
    past = board.copy()
    offered = False
    for _ in recent:
        past.pop()
        move = past.pop()
        at = Position(past, move)
        offered |= takes(B, P, "h7", "a7")(at)
    if not offered:
        return
    for move in board.legal_moves:
        at = Position(board, move)
        is_knight = at.role == N and at.square[0] in "gb" and at.taken is None
        is_queen = at.role == Q and at.square[0] in "ha" and at.taken is None
        if is_knight or is_queen or takes(B, P, "g7", "b7")(at):
            yield move


class Table:
    """A board with an engine next to it."""

    def __init__(self, engine: chess.engine.SimpleEngine, dice: random.Random) -> None:
        self.engine = engine
        self.dice = dice

    def lines(self, board: chess.Board, nodes: int) -> list[tuple[chess.Move, int]]:
        """The best moves with their worth for the side to move, in hundredths of a pawn."""
        infos = self.engine.analyse(board, chess.engine.Limit(nodes=nodes), multipv=5)
        return [(info["pv"][0], info["score"].relative.score(mate_score=3000) or 0) for info in infos]

    def worth(self, board: chess.Board, move: chess.Move, nodes: int) -> int:
        """The worth of one move."""
        info = self.engine.analyse(board, chess.engine.Limit(nodes=nodes), root_moves=[move])
        return info["score"].relative.score(mate_score=3000) or 0

    def choose(self, board: chess.Board, player: Player) -> tuple[chess.Move, int]:
        """A player's move and its worth."""
        nodes = 150 + max(0, player.rating - 1100)
        lines = self.lines(board, nodes)
        best = lines[0][1]
        slack = max(40, 420 - player.rating // 8)
        for move in after_offer(board):
            worth = self.worth(board, move, nodes)
            if best - worth < 2 * slack and self.dice.random() < 0.8:
                return move, worth
        for weight, move in offers(board):
            if self.dice.random() < weight * player.taste:
                worth = self.worth(board, move, nodes)
                if best - worth < slack * (1 + weight / 4):
                    return move, worth
        if self.dice.random() < max(0.0, (1900 - player.rating) / 9000):
            move = self.dice.choice(list(board.legal_moves))
            return move, self.worth(board, move, nodes)
        in_opening = len(board.move_stack) < 20 and board.root() == chess.Board()
        heat = max(40.0 if in_opening else 8.0, (2600 - player.rating) / 16)
        weights = [math.exp((worth - best) / heat) for _, worth in lines]
        return self.dice.choices(lines, weights)[0]


def play(table: Table, white: Player, black: Player, opening: str, notes: str) -> chess.pgn.Game:
    """Plays one game."""
    game = chess.pgn.Game()
    node: chess.pgn.GameNode = game
    board = game.board()
    for san in opening.split()[1:]:
        node = node.add_variation(board.parse_san(san))
        board.push(node.move)
    clock = [5400.0, 5400.0]
    hopeless = [0, 0]
    level = 0
    result = "*"
    while result == "*":
        mover = white if board.turn else black
        move, worth = table.choose(board, mover)
        turn = board.turn
        node = node.add_variation(move)
        board.push(move)
        if notes == "evaluations":
            score = chess.engine.PovScore(to_score(worth), turn)
            node.set_eval(score)
        if notes == "clocks":
            clock[turn] = max(20.0, clock[turn] + 30 - table.dice.expovariate(1 / 110))
            node.set_clock(float(int(clock[turn])))
        hopeless[turn] = hopeless[turn] + 1 if worth < -700 else 0
        level = level + 1 if abs(worth) < 60 else 0
        result = verdict(board, turn, hopeless[turn], level, table.dice)
    game.headers["Result"] = result
    return game


def to_score(worth: int) -> chess.engine.Score:
    """An engine's score from its worth."""
    if abs(worth) > 2900:
        moves = (3000 - abs(worth)) or 1
        return chess.engine.Mate(moves if worth > 0 else -moves)
    return chess.engine.Cp(worth)


def verdict(board: chess.Board, turn: bool, hopeless: int, level: int, dice: random.Random) -> str:
    """The result, or a star if the game goes on."""
    if board.is_game_over(claim_draw=True):
        return board.result(claim_draw=True)
    if hopeless >= 6:
        return "0-1" if turn else "1-0"
    is_late = board.fullmove_number > 26
    if is_late and level >= 6 and dice.random() < 0.2 or board.fullmove_number > 110:
        return "1/2-1/2"
    return "*"


def league(dice: random.Random) -> list[Player]:
    """The players of the league, six a club."""
    names = [f"{family}, {given}" for family in FAMILIES for given in dice.sample(GIVEN, 2)]
    dice.shuffle(names)
    ratings = [round(1100 + 1400 * rank / 71) for rank in range(72)]
    dice.shuffle(ratings)
    clubs = [club for club in CLUBS for _ in range(6)]
    return [
        Player(name, club, rating, dice.uniform(0.35, 0.95))
        for name, club, rating in zip(names, clubs, ratings)
    ]


def tags(number: int, white: Player, black: Player, eco: str, dice: random.Random) -> dict[str, str]:
    """The tags of a game, but for its result: those of the roster, then the others by name."""
    control = dice.choices([name for name, _ in CONTROLS], [weight for _, weight in CONTROLS])[0]
    event = "Harbour League 2031" if control.startswith("40/") else "Harbour League Open Evening"
    day = number * 260 // 500
    roster = {
        "Event": event,
        "Site": white.club,
        "Date": f"2031.{1 + day // 28 % 12:02}.{1 + day % 28:02}",
        "Round": str(1 + number // 36),
        "White": white.name,
        "Black": black.name,
    }
    others = {
        "BlackElo": str(black.rating),
        "BlackTeam": black.club,
        "ECO": eco,
        "TimeControl": control,
        "WhiteElo": str(white.rating),
        "WhiteTeam": white.club,
    }
    return roster | {name: value for name, value in others.items() if value != "-"}


def main() -> None:
    """Plays the season and writes it to standard output."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--engine", required=True, help="a UCI engine")
    parser.add_argument("--games", type=int, default=640, help="how many games (default: 640)")
    parser.add_argument("--seed", type=int, default=SEED, help="the seed of the dice")
    options = parser.parse_args()
    dice = random.Random(options.seed)
    players = league(dice)
    with chess.engine.SimpleEngine.popen_uci(options.engine) as engine:
        engine.configure({"Threads": 1, "Hash": 16})
        table = Table(engine, dice)
        opened = set()
        for number in range(options.games):
            white, black = dice.sample(players, 2)
            while white.club == black.club or abs(white.rating - black.rating) > 500:
                white, black = dice.sample(players, 2)
            notes = dice.choices(["", "evaluations", "clocks"], [8, 1, 1])[0]
            opening = OPENINGS[number % len(OPENINGS)]
            while True:
                game = play(table, white, black, opening, notes)
                start = tuple(move.uci() for move in game.mainline_moves())[:PARTED]
                if start not in opened:
                    break
            opened.add(start)
            game.headers.update(tags(number, white, black, opening.split()[0], dice))
            print(game.accept(chess.pgn.StringExporter(columns=79)), end="\n\n", flush=True)
            print(f"\r{number + 1} of {options.games} games", end="", file=sys.stderr)


if __name__ == "__main__":
    main()
