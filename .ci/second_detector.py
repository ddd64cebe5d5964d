#!/usr/bin/env python3
"""Check the hit tables of a run against a second detector, written with python-chess alone.

    second_detector.py PGN_FILE OUT_DIR

replays PGN_FILE, looks for the hits of the four built-in queries and compares them with
OUT_DIR/hits/QUERY.csv, row by row and both ways. Every difference is printed; the exit status is 1 if
there is one, or if no hit was compared at all. A game that cannot be replayed here is named. If the
tables have a hit in it, that is a difference; if not, it is none, for a run need not replay a game that
cannot hold an offer.

The sentences of the query files are written out by hand below: nothing is read from them, and nothing
is shared with the program.
"""

import csv
import io
import re
import sys
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import chess
import chess.pgn

MINORS = (chess.KNIGHT, chess.BISHOP)
WORTH = {
    chess.PAWN: 1,
    chess.KNIGHT: 3,
    chess.BISHOP: 3,
    chess.ROOK: 5,
    chess.QUEEN: 9,
    chess.KING: 0,
}
SCORES = {"1-0": ("1", "0"), "0-1": ("0", "1"), "1/2-1/2": ("0.5", "0.5")}
THIRD_RANK = "a3 b3 c3 d3 e3 f3 g3 h3"
G_FILE = "g1 g2 g3 g4 g5 g6 g7 g8"
H_FILE = "h1 h2 h3 h4 h5 h6 h7 h8"

Row = dict[str, str]
Key = tuple[str, int, int]


@dataclass(frozen=True)
class View:
    """The attacker's view: whose it is, and whether left and right are exchanged."""

    attacker: chess.Color
    mirrored: bool

    def turn(self, square: chess.Square) -> chess.Square:
        """Translate a square of the view to the board, or back: the turn undoes itself."""
        if self.attacker == chess.BLACK:
            square = chess.square_mirror(square)
        return square ^ 7 if self.mirrored else square

    def squares(self, names: str) -> chess.SquareSet:
        """Find on the board the squares that the view calls by these names."""
        return chess.SquareSet(self.turn(chess.parse_square(name)) for name in names.split())


@dataclass(frozen=True)
class Step:
    """A move of the main line, with what it takes and what it does to the other king."""

    ply: int
    color: chess.Color
    man: chess.PieceType
    target: chess.Square
    taken: chess.PieceType | None
    check: bool
    mate: bool


@dataclass(frozen=True)
class Watch:
    """A follow-up: the first move of its side that fits, within so many of that side's moves."""

    man: chess.PieceType | None
    squares: str | None = None
    takes: chess.PieceType | None = None
    quiet: bool = False
    check: bool = False
    mate: bool = False
    within: int | None = None
    by_defender: bool = False

    def fits(self, step: Step, view: View) -> bool:
        """Tell whether the move is the one described, the side and the window aside."""
        return (
            self.man in (None, step.man)
            and (self.squares is None or step.target in view.squares(self.squares))
            and self.takes in (None, step.taken)
            and not (self.quiet and step.taken)
            and step.check >= self.check
            and step.mate >= self.mate
        )

    def first(self, later: list[Step], view: View) -> int | None:
        """Find the ply of the first fitting move among those after the offer."""
        mover = view.attacker != self.by_defender
        own = [step for step in later if step.color == mover]
        return next((s.ply for s in own[: self.within] if self.fits(s, view)), None)


Factor = Callable[[chess.Board, View], bool]


@dataclass(frozen=True)
class Query:
    """What a query asks for after the offer, which all four queries share."""

    name: str
    requires: tuple[str, ...]
    follow_ups: dict[str, Watch]
    factors: dict[str, Factor]


@dataclass(frozen=True)
class Game:
    """A replayed game: every position with the move played in it."""

    number: int
    result: str
    boards: list[chess.Board]
    moves: list[chess.Move]


# Facts of a position. A man on a square, a man that can go there, a man that attacks it.


def side_of(view: View, defender: bool) -> chess.Color:
    """Name the colour of the attacker or of the defender."""
    return view.attacker != defender


def stands(man: chess.PieceType, names: str, defender: bool = False) -> Factor:
    """State that such a man stands on one of the squares."""

    def fact(board: chess.Board, view: View) -> bool:
        return bool(board.pieces(man, side_of(view, defender)) & view.squares(names))

    return fact


def reaches(man: chess.PieceType, names: str, defender: bool = False) -> Factor:
    """State that such a piece (no pawn) can go to one of the squares, pins and checks aside."""

    def fact(board: chess.Board, view: View) -> bool:
        color = side_of(view, defender)
        free = view.squares(names) - chess.SquareSet(board.occupied_co[color])
        return any(board.attacks(square) & free for square in board.pieces(man, color))

    return fact


def guards(men: Iterable[chess.PieceType], names: str, defender: bool = False) -> Factor:
    """State that a man of one of these kinds attacks one of the squares."""
    kinds = tuple(men)

    def fact(board: chess.Board, view: View) -> bool:
        return any(
            board.piece_type_at(square) in kinds
            for target in view.squares(names)
            for square in board.attackers(side_of(view, defender), target)
        )

    return fact


def outnumbers(name: str) -> Factor:
    """State that more men of the attacker than of the defender attack the square."""

    def fact(board: chess.Board, view: View) -> bool:
        target = view.turn(chess.parse_square(name))
        own = board.attackers(view.attacker, target)
        return len(own) > len(board.attackers(not view.attacker, target))

    return fact


def neither(*facts: Factor) -> Factor:
    """State that none of the facts holds."""
    return lambda board, view: not any(fact(board, view) for fact in facts)


# The queries.


def no_knight_to_f6() -> Factor:
    """No defending knight stands on f6 or can go there."""
    return neither(reaches(chess.KNIGHT, "f6", True), stands(chess.KNIGHT, "f6", True))


def diagonal_shut() -> Factor:
    """No defending queen or bishop attacks h7."""
    return neither(guards((chess.QUEEN, chess.BISHOP), "h7", True))


def double_bishop() -> Query:
    """Both bishops are given."""
    return Query(
        "double-bishop",
        ("second-bishop",),
        {
            "second-bishop": Watch(chess.BISHOP, "g7", takes=chess.PAWN, within=4),
            "second-taken": Watch(
                chess.KING, "g7", takes=chess.BISHOP, within=4, by_defender=True
            ),
            "queen-check": Watch(chess.QUEEN, "g4 g5 g3", check=True, within=6),
            "rook-lift": Watch(chess.ROOK, THIRD_RANK, quiet=True, within=7),
            "mate": Watch(None, mate=True),
        },
        {
            "second-aims-at-g7": stands(chess.BISHOP, "b2 c3 d4 e5 a1 f6"),
            "queen-to-h5": reaches(chess.QUEEN, "h5"),
            "no-minor-at-home": neither(guards(MINORS, "g7 h5", True)),
            "rook-ready": reaches(chess.ROOK, "f3 g3 h3 d3 e3"),
            "rook-on-f8": stands(chess.ROOK, "f8", True),
        },
    )


def knight_follow_up() -> Query:
    """The knight follows the bishop."""
    return Query(
        "knight-follow-up",
        ("knight-jump",),
        {
            "knight-jump": Watch(chess.KNIGHT, G_FILE, quiet=True, within=3),
            "queen-edge": Watch(chess.QUEEN, H_FILE, within=5),
            "queen-g-file": Watch(chess.QUEEN, G_FILE, within=5),
            "pawn-storm": Watch(chess.PAWN, "h4 h5", quiet=True, within=5),
            "mate": Watch(None, mate=True),
        },
        {
            "no-knight-to-f6": no_knight_to_f6(),
            "diagonal-shut": diagonal_shut(),
            "pawn-on-e5": stands(chess.PAWN, "e5"),
            "knight-to-g5": reaches(chess.KNIGHT, "g5"),
            "g5-held": outnumbers("g5"),
            "pawn-on-h4": stands(chess.PAWN, "h4"),
            "bishop-sees-g5": guards((chess.BISHOP,), "g5"),
            "rook-on-f8": stands(chess.ROOK, "f8", True),
        },
    )


def queen_lift() -> Query:
    """The queen goes to the edge."""
    return Query(
        "queen-lift",
        ("queen-edge",),
        {
            "queen-edge": Watch(chess.QUEEN, H_FILE, quiet=True, within=5),
            "queen-check": Watch(chess.QUEEN, H_FILE, check=True, within=5),
            "knight-check": Watch(chess.KNIGHT, "g5", check=True, within=3),
            "rook-lift": Watch(chess.ROOK, THIRD_RANK, quiet=True, within=6),
            "king-flees": Watch(chess.KING, "f8 e8 e7", within=6, by_defender=True),
            "mate": Watch(None, mate=True),
        },
        {
            "queen-to-h5": reaches(chess.QUEEN, "h5"),
            "queen-on-d1": stands(chess.QUEEN, "d1"),
            "no-knight-to-f6": no_knight_to_f6(),
            "diagonal-shut": diagonal_shut(),
            "rook-on-f8": stands(chess.ROOK, "f8", True),
            "rook-ready": reaches(chess.ROOK, THIRD_RANK),
        },
    )


def rook_pawn_bishop() -> Query:
    """The bishop takes the rook's pawn; nothing more is asked."""
    return Query(
        "rook-pawn-bishop",
        (),
        {
            "knight-check": Watch(chess.KNIGHT, "g5", check=True, within=3),
            "queen-edge": Watch(chess.QUEEN, H_FILE, within=5),
            "second-bishop": Watch(chess.BISHOP, "g7", takes=chess.PAWN, within=4),
            "rook-lift": Watch(chess.ROOK, THIRD_RANK, quiet=True, within=6),
            "mate": Watch(None, mate=True),
        },
        {
            "no-knight-to-f6": no_knight_to_f6(),
            "diagonal-shut": diagonal_shut(),
            "pawn-on-e5": stands(chess.PAWN, "e5"),
            "knight-to-g5": reaches(chess.KNIGHT, "g5"),
            "queen-to-h5": reaches(chess.QUEEN, "h5"),
            "g5-held": outnumbers("g5"),
            "rook-on-f8": stands(chess.ROOK, "f8", True),
        },
    )


# The offer and what comes of it.


def captured(board: chess.Board, move: chess.Move) -> chess.PieceType | None:
    """Name the man that the move captures."""
    if board.is_en_passant(move):
        return chess.PAWN
    return None if board.is_castling(move) else board.piece_type_at(move.to_square)


def after(board: chess.Board, move: chess.Move) -> chess.Board:
    """Play the move on a copy."""
    copy = board.copy(stack=False)
    copy.push(move)
    return copy


def offer_view(board: chess.Board, move: chess.Move) -> View | None:
    """Find the view in which the move is a bishop that takes a pawn on h7 with check."""
    if board.piece_type_at(move.from_square) != chess.BISHOP:
        return None
    if captured(board, move) != chess.PAWN or not board.gives_check(move):
        return None
    views = (View(board.turn, mirrored) for mirrored in (False, True))
    return next((view for view in views if view.turn(move.to_square) == chess.H7), None)


def exchange(board: chess.Board, move: chess.Move) -> int:
    """Count what the mover wins on the square, if both sides take there only as long as it pays."""
    taken = captured(board, move)
    gain = WORTH[taken] if taken else 0
    if move.promotion:
        gain += WORTH[move.promotion] - WORTH[chess.PAWN]
    following = after(board, move)
    answers = [m for m in following.generate_legal_captures() if m.to_square == move.to_square]
    return gain - max([0, *(exchange(following, answer) for answer in answers)])


def step_of(game: Game, index: int) -> Step:
    """Describe a move of the game."""
    board, move = game.boards[index], game.moves[index]
    following = after(board, move)
    man = board.piece_type_at(move.from_square)
    assert man is not None
    return Step(
        index + 1,
        board.turn,
        man,
        move.to_square,
        captured(board, move),
        following.is_check(),
        following.is_checkmate(),
    )


def reply_columns(game: Game, index: int, view: View, later: list[Step]) -> Row:
    """Fill the columns that tell how the offer was met."""
    if not later:
        return {"reply": "", "accepted": "", "king_goes": ""}
    reply = later[0]
    accepted = reply.target == game.moves[index].to_square
    flights = (s for s in later[1:] if (s.color, s.man) == (reply.color, chess.KING))
    flight = next(flights, None) if accepted and reply.man == chess.KING else None
    return {
        "reply": game.boards[index + 1].san(game.moves[index + 1]),
        "accepted": yes_or_no(accepted),
        "king_goes": chess.square_name(view.turn(flight.target)) if flight else "",
    }


def yes_or_no(value: bool) -> str:
    """Write a truth value as the tables do."""
    return "true" if value else "false"


def score(result: str, attacker: chess.Color) -> str:
    """Write the attacker's points, or nothing if the game has no result."""
    white, black = SCORES.get(result, ("", ""))
    return white if attacker == chess.WHITE else black


def shared_columns(game: Game, index: int, view: View, later: list[Step]) -> Row:
    """Fill the columns that do not depend on the query."""
    return {
        "side": chess.COLOR_NAMES[view.attacker],
        "wing": "mirrored" if view.mirrored else "as written",
        "cost": str(max(0, -exchange(game.boards[index], game.moves[index]))),
        "result": game.result,
        "score": score(game.result, view.attacker),
        "plies": str(len(game.moves)),
    } | reply_columns(game, index, view, later)


def hits_at(game: Game, index: int, queries: Iterable[Query]) -> Iterator[tuple[Key, Row]]:
    """Give the rows that the queries should have for the move at this place of the game."""
    board = game.boards[index]
    view = offer_view(board, game.moves[index])
    if view is None:
        return
    later = [step_of(game, at) for at in range(index + 1, len(game.moves))]
    shared = shared_columns(game, index, view, later)
    for query in queries:
        seen = {name: watch.first(later, view) for name, watch in query.follow_ups.items()}
        if all(seen[name] for name in query.requires):
            row = shared | {f"f_{name}": str(ply or "") for name, ply in seen.items()}
            for name, fact in query.factors.items():
                row[f"x_{name}"] = yes_or_no(fact(board, view))
            yield (query.name, game.number, index + 1), row


# Reading games and tables.


def replay(number: int, source: chess.pgn.Game) -> Game | None:
    """Replay the main line; nothing if it holds a move that is none, or is not standard chess."""
    board = source.board()
    moves = list(source.mainline_moves())
    if source.errors or not all(moves) or type(board) is not chess.Board:
        return None
    boards = []
    for move in moves:
        boards.append(board.copy(stack=False))
        board.push(move)
    return Game(number, source.headers.get("Result", "*"), boards, moves)


def read_games(path: Path) -> Iterator[tuple[int, Game | None]]:
    """Give every game of the file with its number.

    Runs of empty lines are cut down to one first: python-chess ends a game at the second empty line
    after the tags, and would take the moves that follow for a game of their own.
    """
    text = path.read_text(encoding="utf-8-sig", errors="replace")
    stream = io.StringIO(re.sub(r"\n(?:[ \t]*\n){2,}", "\n\n", text))
    number = 0
    while (source := chess.pgn.read_game(stream)) is not None:
        number += 1
        yield number, replay(number, source)


def read_csv(path: Path) -> tuple[list[str], list[Row]]:
    """Read a table: the names of its columns, and its rows."""
    with path.open(encoding="utf-8", newline="") as stream:
        reader = csv.DictReader(stream)
        return list(reader.fieldnames or ()), list(reader)


def read_hits(path: Path, query: Query) -> tuple[dict[Key, Row], list[str]]:
    """Read the offers played from a table of hits, and complain of rows that stand there twice."""
    columns, table = read_csv(path)
    faults = compare_columns(query, columns)
    rows: dict[Key, Row] = {}
    for row in table:
        key = (query.name, int(row["game"]), int(row["ply"]))
        if key in rows:
            faults.append(f"{place(key)}: in the table twice")
        if row["played"] == "true":
            rows[key] = row
    return rows, faults


# Comparing.


def place(key: Key) -> str:
    """Name a hit in a message."""
    query, game, ply = key
    return f"{query}, game {game}, ply {ply}"


def compare_columns(query: Query, columns: Iterable[str]) -> list[str]:
    """List the follow-ups and factors that only one side knows of, in tables without rows too."""
    here = {f"f_{name}" for name in query.follow_ups} | {f"x_{name}" for name in query.factors}
    there = {column for column in columns if column.startswith(("f_", "x_"))}
    missing = [f"{query.name}: no column {column}" for column in sorted(here - there)]
    unknown = [f"{query.name}: {column} is not known here" for column in sorted(there - here)]
    return missing + unknown


def compare_rows(key: Key, expected: Row, row: Row) -> list[str]:
    """List the columns in which two rows differ."""
    return [
        f"{place(key)}: {column} is {row.get(column)!r}, expected {value!r}"
        for column, value in expected.items()
        if row.get(column) != value
    ]


def compare_hits(expected: dict[Key, Row], table: dict[Key, Row]) -> list[str]:
    """List the differences between the expected hits and those of the tables, both ways."""
    faults = []
    for key in sorted(expected.keys() | table.keys()):
        if key not in table:
            faults.append(f"{place(key)}: missing from the table")
        elif key not in expected:
            faults.append(f"{place(key)}: in the table, but not found here")
        else:
            faults += compare_rows(key, expected[key], table[key])
    return faults


def read_rejects(path: Path) -> set[int]:
    """Read the numbers of the games that the run did not mine."""
    return {int(row["game"]) for row in read_csv(path)[1]}


def read_tables(out: Path, queries: Iterable[Query]) -> tuple[dict[Key, Row], list[str]]:
    """Read the tables of all queries; a table that is not there is a fault."""
    table: dict[Key, Row] = {}
    faults = []
    for query in queries:
        path = out / "hits" / f"{query.name}.csv"
        if path.exists():
            rows, complaints = read_hits(path, query)
            table |= rows
            faults += complaints
        else:
            faults.append(f"{query.name}: no table {path}")
    return table, faults


def unknown_tables(out: Path, queries: Iterable[Query]) -> list[str]:
    """Name the tables of queries that are not written out here."""
    known = {query.name for query in queries}
    return sorted(path.stem for path in (out / "hits").glob("*.csv") if path.stem not in known)


def run(pgn: Path, out: Path) -> int:
    """Compare, print what differs, and give the exit status."""
    queries = (double_bishop(), knight_follow_up(), queen_lift(), rook_pawn_bishop())
    expected: dict[Key, Row] = {}
    unplayable = set()
    number = 0
    for number, game in read_games(pgn):
        if game is None:
            unplayable.add(number)
            continue
        for index in range(len(game.moves)):
            expected.update(hits_at(game, index, queries))
    table, faults = read_tables(out, queries)
    rejected = read_rejects(out / "rejects.csv")
    faults += [f"game {n}: rejected, but replayed here" for n in sorted(rejected - unplayable)]
    faults += compare_hits(expected, table)
    for line in faults:
        print(line)
    for name in unknown_tables(out, queries):
        print(f"not compared: {name}")
    for n in sorted(unplayable - rejected):
        print(f"not compared: game {n}, which cannot be replayed here and was not rejected")
    compared = len(expected.keys() & table.keys())
    print(
        f"compared {compared} hits of {len(queries)} queries in {number} games: "
        f"{len(faults)} differences"
    )
    return 1 if faults or not compared else 0


def main(arguments: list[str]) -> int:
    """Read the command line."""
    if len(arguments) != 2:
        print("usage: second_detector.py PGN_FILE OUT_DIR", file=sys.stderr)
        return 2
    return run(Path(arguments[0]), Path(arguments[1]))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
