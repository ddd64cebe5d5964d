"""Games of PGN files, cut and replayed with python-chess."""

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import chess
import chess.pgn
import zstandard

from steps import Step

TAG = re.compile(r'\[[A-Za-z0-9_]+\s*"')
ZSTD = b"\x28\xb5\x2f\xfd"


@dataclass(frozen=True)
class Game:
    """A replayed game. `boards` has one position more than there are `steps`."""

    source: str
    number: int
    result: str
    boards: list[chess.Board]
    steps: list[Step]

    def line(self, index: int, plies: int) -> str:
        """Write the moves from there on in SAN."""
        return " ".join(step.board.san(step.move) for step in self.steps[index : index + plies])


class MainLine(chess.pgn.BaseVisitor["MainLine"]):
    """Collects the main line of a game, and whether it could be read to its end."""

    def begin_game(self) -> None:
        """Start with nothing."""
        self.headers = chess.pgn.Headers({})
        self.boards: list[chess.Board] = []
        self.moves: list[chess.Move] = []
        self.is_whole = True
        self.last: chess.Board | None = None

    def begin_headers(self) -> chess.pgn.Headers:
        """Tell the parser where the tags are."""
        return self.headers

    def visit_header(self, tagname: str, tagvalue: str) -> None:
        """Keep a tag."""
        self.headers[tagname] = tagvalue

    def visit_board(self, board: chess.Board) -> None:
        """Keep the position: the last of the main line stays."""
        self.last = board.copy(stack=False)

    def begin_variation(self) -> chess.pgn.SkipType:
        """Pass over variations."""
        return chess.pgn.SKIP

    def visit_move(self, board: chess.Board, move: chess.Move) -> None:
        """Keep a move of the main line with the position it is played in."""
        self.is_whole &= bool(move)
        self.boards.append(board.copy(stack=False))
        self.moves.append(move)

    def handle_error(self, error: Exception) -> None:
        """Remember that something could not be read."""
        self.is_whole = False

    def result(self) -> "MainLine":
        """Give itself."""
        return self


def read_text(path: Path) -> str:
    """Read a file, packed with zstd or plain."""
    data = path.read_bytes()
    if data.startswith(ZSTD):
        with zstandard.ZstdDecompressor().stream_reader(data, read_across_frames=True) as stream:
            data = stream.read()
    return data.decode("utf-8-sig", errors="replace")


def cut(text: str) -> Iterator[str]:
    """Cut a text into games: one starts at a tag pair after a line that is none.

    Empty lines are left out, but for one after the tags, at which python-chess ends them; it would
    end the game at a second one.
    """
    tags: list[str] = []
    moves: list[str] = []
    for line in filter(str.strip, text.splitlines()):
        if not TAG.match(line):
            moves.append(line)
        elif moves:
            yield "\n".join([*tags, "", *moves])
            tags, moves = [line], []
        else:
            tags.append(line)
    if tags or moves:
        yield "\n".join([*tags, "", *moves])


def replay_line(name: str, number: int, fen: str, line: str) -> Game | None:
    """Replay a line of moves from a position."""
    return replay(name, number, f'[FEN "{fen}"]\n[SetUp "1"]\n\n{line} *')


def replay(source: str, number: int, text: str) -> Game | None:
    """Replay the main line; nothing if it cannot be read to its end, or is not chess."""
    line = chess.pgn.read_game(io.StringIO(text), Visitor=MainLine)
    if line is None or not line.is_whole or type(line.last) is not chess.Board:
        return None
    boards = [*line.boards, line.last]
    steps = [Step(board, move) for board, move in zip(line.boards, line.moves, strict=True)]
    return Game(source, number, line.headers.get("Result", "*"), boards, steps)
