"""The kind of an offer: whether it gives anything up, had to, was taken, and was made good."""

from exchange import balance
from games import Game
from steps import Step

WINDOW = 10  # The last position that counts, in plies from just before the offer.


def kind_of(game: Game, index: int) -> str:
    """Name the kind of the offer that the move at `index` makes."""
    offer = game.steps[index]
    cheap = kind_of_cheap(offer)
    if cheap:
        return cheap
    if index + 1 == len(game.steps) or not game.steps[index + 1].accepts(offer):
        return "declined"
    return "sham" if is_sham(game, index) else "real"


def kind_of_cheap(offer: Step) -> str:
    """Name the kind of an offer that no reply changes; nothing if it is of another."""
    if not offer.cost:
        return "free"
    return "desperado" if offer.is_desperado else ""


def is_sham(game: Game, index: int) -> bool:
    """Tell whether an accepted offer mates, wins or is made good within four moves after that."""
    attacker = game.steps[index].color
    end = len(game.boards) - 1
    in_time = end <= index + WINDOW
    if in_time and (has_won(game, attacker) or mates(game, attacker)):
        return True
    start = balance(game.boards[index], attacker)
    answered = [i for i in range(index + 4, index + WINDOW + 1, 2) if i <= end]
    counted = {*answered, end} if in_time else answered
    return any(balance(game.boards[i], attacker) >= start for i in counted)


def has_won(game: Game, attacker: bool) -> bool:
    """Tell whether the result gives the attacker the point."""
    return game.result == ("1-0" if attacker else "0-1")


def mates(game: Game, attacker: bool) -> bool:
    """Tell whether the game ends with mate by the attacker."""
    return game.boards[-1].is_checkmate() and game.boards[-1].turn != attacker
