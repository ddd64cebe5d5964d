"""What sentences mean on a board: moves that fit a description, and a query in each view."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import chess

from facts import is_en_prise, is_met, of_kinds
from sentences import Condition, Elsewhere, Kind, Move, Query, Row
from steps import Step
from views import View, contains


def acts(move: Move, step: Step) -> bool:
    """Tell whether the move takes, or does not, as the sentence has it."""
    if move.act == "takes":
        return step.victim in move.victims
    return step.victim is None if move.act == "moves to" else True


def checks(kind: str, step: Step) -> bool:
    """Tell whether the move does to the other king what the sentence says."""
    checkers = step.following.checkers()
    if kind == "none":
        return not checkers
    if kind == "mate":
        return bool(checkers) and step.following.is_checkmate()
    if kind == "stalemate":
        return step.following.is_stalemate()
    if kind == "double":
        return len(checkers) > 1
    if kind == "discovered":
        return any(s != step.target and step.board.piece_at(s) for s in checkers)
    return bool(checkers)


def is_taken(move: Move, step: Step, reply: Step | None) -> bool:
    """Tell whether the next move takes the man that moved, with a man that the sentence allows."""
    return reply is not None and reply.man in move.taken_by and reply.takes_man_of(step)


def is_between(kinds: tuple[frozenset[Kind], frozenset[Kind]], step: Step) -> bool:
    """Tell whether the man comes between two men of the other side, of which one moves so."""
    one, other = (of_kinds(step.following, named, not step.color) for named in kinds)
    return any(
        chess.between(first, second) & chess.BB_SQUARES[step.target]
        and not chess.between(first, second) & step.board.occupied
        and (moves_along(step.board, first, second) or moves_along(step.board, second, first))
        for first in chess.scan_forward(one)
        for second in chess.scan_forward(other)
    )


def moves_along(board: chess.Board, square: chess.Square, other: chess.Square) -> bool:
    """Tell whether the man on the square moves along the line to the other."""
    straight = chess.square_file(square) == chess.square_file(other) or (
        chess.square_rank(square) == chess.square_rank(other)
    )
    return board.piece_type_at(square) in (chess.QUEEN, chess.ROOK if straight else chess.BISHOP)


def fits(move: Move, view: View, step: Step, reply: Step | None = None) -> bool:
    """Tell whether a step is the move that the sentence, turned to the board, describes.

    `reply` is the step after it, which only `and is taken` asks for. The window is the caller's.
    """
    return (
        step.color == view.color(move.by_defender)
        and step.man in move.men
        and acts(move, step)
        and (move.squares is None or contains(move.squares, step.target, step.board, view))
        and (move.start is None or contains(move.start, step.move.from_square, step.board, view))
        and (move.check is None or checks(move.check, step))
        and (not move.was_en_prise or is_en_prise(step.board, step.move.from_square))
        and (move.giving_up is None or move.giving_up.holds(step.cost))
        and (move.uncovering is None or move.uncovering.holds(step.uncovered))
        and (move.offering is None or step.giving.man in move.offering)
        and (move.between is None or is_between(move.between, step))
        and (move.taken_by is None or is_taken(move, step, reply))
    )


def first_fit(
    move: Move, view: View, steps: Sequence[Step], offer: int, after: int = 0
) -> int | None:
    """Find the first step after the offer that fits, within the window; give its ply.

    It comes after the ply `after` too, from which the window does not count.
    """
    own = [
        i for i in range(offer + 1, len(steps)) if steps[i].color == view.color(move.by_defender)
    ]
    for index in own[: move.window]:
        reply = steps[index + 1] if index + 1 < len(steps) else None
        if (
            index + 1 > after
            and fits(move, view, steps[index], reply)
            and (not move.same_man or moves_again(steps, offer, index))
        ):
            return index + 1
    return None


def moves_again(steps: Sequence[Step], offer: int, index: int) -> bool:
    """Tell whether the step there is by the very man that made the offer.

    A rook that made it has moved, and can't castle any more.
    """
    place = steps[offer].target
    for step in steps[offer + 1 : index]:
        if step.takes_one_on({place}):
            return False
        if step.move.from_square == place:
            place = step.target
    return steps[index].move.from_square == place


def comes(row: Row, reading: "Reading", steps: Sequence[Step], offer: int) -> bool:
    """Tell whether the follow-ups of a row come in order; or that it does not, if it must not."""
    after = 0
    for name in row.names:
        after = first_fit(reading.follow_ups[name], reading.view, steps, offer, after)
        if after is None:
            return not row.must_come
    return row.must_come


@dataclass(frozen=True)
class Reading:
    """A query in one view: its sentences turned to the board."""

    query: Query
    view: View
    offer: Move
    chance: Move  # The offer, but for what can only be told once it was made.
    when: tuple[Condition, ...]
    after: tuple[Condition, ...]
    follow_ups: dict[str, Move]
    factors: dict[str, Condition]
    factors_after: dict[str, Condition]
    place: str = "as written"  # On which wing and files.

    def is_offer(self, step: Step, reply: Step | None) -> bool:
        """Tell whether the move is the offer, in its place, whatever must follow."""
        return fits(self.offer, self.view, step, reply) and self.is_ready(step)

    def is_ready(self, step: Step) -> bool:
        """Tell whether all that the query asks for just before and after the offer is there."""
        before = all(is_met(condition, step.board, self.view) for condition in self.when)
        return before and all(
            is_met(condition, step.following, self.view) for condition in self.after
        )


def readings(query: Query) -> list[Reading]:
    """Give the views in which a query is tried: as written before mirrored, in each on all files."""
    wings = (False, True) if query.both_wings else (False,)
    views = [View(color, mirrored) for color in chess.COLORS for mirrored in wings]
    return [
        reading(elsewhere.query if elsewhere else query, view, place(view, elsewhere))
        for view in views
        for elsewhere in (None, *query.elsewhere)
    ]


def place(view: View, elsewhere: Elsewhere | None) -> str:
    """Tell on which wing and files a query is looked for, as the column `wing` does."""
    wing = "mirrored" if view.mirrored else "as written"
    if elsewhere is None:
        return wing
    file = chr(ord("a") + ord("h") - ord(elsewhere.file)) if view.mirrored else elsewhere.file
    files = f"{elsewhere.letter} as {file}"
    return f"{wing}, {files}" if view.mirrored else files


def reading(query: Query, view: View, place: str) -> Reading:
    """Turn the sentences of a query to the board."""
    return Reading(
        query,
        view,
        view.move(query.offer),
        replace(view.move(query.offer), taken_by=None),
        tuple(view.condition(condition) for condition in query.when),
        tuple(view.condition(condition) for condition in query.after),
        {name: view.move(move) for name, move in query.follow_ups.items()},
        {name: view.condition(facts) for name, facts in query.factors.items()},
        {name: view.condition(facts) for name, facts in query.factors_after.items()},
        place,
    )
