"""The tables of a run as the check of the tallies reads them: hits, results, groups.

The band, year and so on of a hit are told here by other code than the program's; `score` and
`expected` are taken as they stand in the table.
"""

from bisect import bisect
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy import optimize, stats
from statsmodels.stats.proportion import proportion_confint

Row = dict[str, str]

Z = stats.norm.ppf(0.975)


# Wins, draws and losses.


@dataclass(frozen=True)
class Results:
    """How games ended for one side."""

    wins: int = 0
    draws: int = 0
    losses: int = 0
    open: int = 0

    @property
    def decided(self) -> int:
        """The games with a result."""
        return self.wins + self.draws + self.losses

    @property
    def score(self) -> float:
        """The mean score; there must be a game with a result."""
        return (self.wins + self.draws / 2) / self.decided

    @property
    def held(self) -> float:
        """The share of draws that intervals hold: none if there is nothing but draws."""
        return 0.0 if self.draws == self.decided else self.draws / self.decided

    def interval(self) -> tuple[float, float]:
        """Wilson's interval; with draws the means from which the score is z errors away."""
        n, score = self.decided, self.score
        if not self.draws:
            return proportion_confint(self.wins, n, method="wilson")

        def excess(mean: float) -> float:
            return (score - mean) ** 2 - Z**2 * (mean * (1 - mean) - self.held / 4) / n

        # The score itself lies between the two roots, and inside 0 to 1, since there is a draw.
        ends = (0, score), (score, 1)
        return tuple(optimize.brentq(excess, *range_, xtol=1e-14) for range_ in ends)


def results_of(rows: list[Row]) -> Results:
    """How the games of hits ended for the attacker."""
    scores = [row["score"] for row in rows]
    return Results(*map(scores.count, ("1", "0.5", "0", "")))


# Hits.


@dataclass(frozen=True)
class Hits:
    """The table of the hits of a query."""

    columns: list[str]
    rows: list[Row]

    def given_up(self) -> list[Row]:
        """The offers that were made and give something up."""
        return list(filter(gives_up, self.rows))

    def names(self, start: str) -> list[str]:
        """What follows in the names of the columns that start so."""
        return [name.removeprefix(start) for name in self.columns if name.startswith(start)]


def gives_up(row: Row) -> bool:
    """Whether an offer was made and gives something up."""
    return row["played"] == "true" and int(row["cost"]) > 0


def moves_left(row: Row) -> int:
    """The attacker's moves from the offer to the end, the offer included."""
    return len(range(int(row["ply"]), int(row["plies"]) + 1, 2))


def band(row: Row) -> str:
    """The lower end of the band of 200 points in which the mean rating lies."""
    if not row["white_elo"] or not row["black_elo"]:
        return "?"
    mean = (int(row["white_elo"]) + int(row["black_elo"])) / 2
    return str(int(mean - mean % 200))


BALANCE_BANDS = ["3+ behind", "1-2 behind", "level", "1-2 ahead", "3+ ahead"]


def balance_band(row: Row) -> str:
    """The band of the balance before the offer."""
    return BALANCE_BANDS[bisect([-2.5, -0.5, 0.5, 2.5], int(row["balance_before"]))]


def year(row: Row) -> str:
    """The year of the date."""
    return row["date"][:4] if row["date"][:4].isdigit() else "?"


def time_category(row: Row) -> str:
    """The category of the time control, by the time for 60 moves."""
    left, seconds = 60, 0
    if not row["time_control"] or row["time_control"][0] in "?-*":
        return "?"
    for period in row["time_control"].split(":"):
        moves, _, time = period.rpartition("/")
        here = min(int(moves or left), left)
        base, _, increment = time.partition("+")
        seconds += int(base) + here * int(increment or 0)
        left -= here
    limits = (180, "bullet"), (601, "blitz"), (3600, "rapid")
    return next((word for limit, word in limits if seconds < limit), "standard")


def key_of(name: str) -> Callable[[Row], str]:
    """How a row is described by the column of that name."""
    derived = {
        "rating": band,
        "balance": balance_band,
        "year": year,
        "eco-letter": lambda row: row["eco"][:1] or "?",
        "time-category": time_category,
    }

    def told(row: Row) -> str:
        if f"f_{name}" in row:
            return "yes" if row[f"f_{name}"] else "no"
        return row.get(name, row.get(f"x_{name}")) or "?"

    return derived.get(name, told)


def place(value: str) -> tuple[int, int, str]:
    """Where a value stands: numbers as numbers, then words, then what is not known."""
    if value == "?":
        return 2, 0, value
    if value in BALANCE_BANDS:
        return 1, BALANCE_BANDS.index(value), value
    is_number = value.removeprefix("-").isdigit()
    return (0, int(value), "") if is_number else (1, 0, value)


# All games of the collection.


@dataclass(frozen=True)
class Games:
    """Games of a collection, as rows of its table."""

    rows: list[Row]

    def of(self, known: dict[str, str]) -> "Games":
        """The games of a rating band, a year or both, as far as these are among what is known."""
        columns = {"rating": "rating_band", "year": "year"}
        wanted = {columns[name]: value for name, value in known.items() if name in columns}
        rows = self.rows
        for column, value in wanted.items():
            rows = [row for row in rows if (row[column] or "?") == value]
        return Games(rows)

    def count(self) -> int:
        """How many games there are."""
        return sum(int(row["games"]) for row in self.rows)

    def score(self, side: str) -> float:
        """What a side scored in the games with a result."""
        points = {"1-0": 1, "1/2-1/2": 0.5, "0-1": 0}
        decided = [row for row in self.rows if row["result"] in points]
        games = [int(row["games"]) for row in decided]
        white = np.average([points[row["result"]] for row in decided], weights=games)
        return white if side == "white" else 1 - white
