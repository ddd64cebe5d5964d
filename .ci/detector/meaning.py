"""What sentences mean on a board: moves that fit a description, and a query in each view."""

from collections.abc import Sequence
from dataclasses import dataclass

import chess

from facts import is_en_prise, is_met
from sentences import Condition, Move, Query
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
        and (move.taken_by is None or is_taken(move, step, reply))
    )


def first_fit(move: Move, view: View, steps: Sequence[Step], offer: int) -> int | None:
    """Find the first step after the offer that fits, within the window; give its ply."""
    own = [
        i for i in range(offer + 1, len(steps)) if steps[i].color == view.color(move.by_defender)
    ]
    for index in own[: move.window]:
        reply = steps[index + 1] if index + 1 < len(steps) else None
        if fits(move, view, steps[index], reply):
            return index + 1
    return None


@dataclass(frozen=True)
class Reading:
    """A query in one view: its sentences turned to the board."""

    query: Query
    view: View
    offer: Move
    when: tuple[Condition, ...]
    after: tuple[Condition, ...]
    follow_ups: dict[str, Move]
    factors: dict[str, Condition]
    factors_after: dict[str, Condition]

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
    """Give the views in which a query is tried: as written before mirrored."""
    wings = (False, True) if query.both_wings else (False,)
    views = [View(color, mirrored) for color in chess.COLORS for mirrored in wings]
    return [
        Reading(
            query,
            view,
            view.move(query.offer),
            tuple(view.condition(condition) for condition in query.when),
            tuple(view.condition(condition) for condition in query.after),
            {name: view.move(move) for name, move in query.follow_ups.items()},
            {name: view.condition(facts) for name, facts in query.factors.items()},
            {name: view.condition(facts) for name, facts in query.factors_after.items()},
        )
        for view in views
    ]
