"""What `hecatomb tally` should say, computed again from the tables of a run alone.

The definitions are those of the README and of the program's doc comments. Where statsmodels or
scipy has the method, its function is called; the score interval with the share of draws held is in
no library, so the two means that are z standard errors away are searched for; groups and trees are
plain Python.

A row of figures is a dict with the keys of the program's JSON, in their order.
"""

from collections.abc import Callable, Iterator
from math import hypot, sqrt
from statistics import median

import numpy as np
from scipy import stats
from statsmodels.regression.linear_model import OLS
from statsmodels.stats.contingency_tables import StratifiedTable
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.proportion import confint_proportions_2indep, proportions_ztest

from tally_hits import (
    Games,
    Hits,
    Results,
    Row,
    balance_band,
    band,
    gives_up,
    key_of,
    moves_left,
    place,
    results_of,
)

Figures = dict[str, str | int | float | None]

# With fewer games no rate is given.
ENOUGH = 10


def rate(results: Results, figure: Callable[[], float]) -> float | None:
    """A figure, if there are enough games for one."""
    return figure() if results.decided >= ENOUGH else None


def share(part: int, whole: int) -> float | None:
    """A part of a whole."""
    return part / whole if whole else None


# What hits came to.


def gain(rated: list[Row]) -> tuple[float, float, float]:
    """The mean of score less expected score with its interval: Student's, if the results differ."""
    scores, expected = (
        np.array([float(row[column]) for row in rated]) for column in ("score", "expected")
    )
    differences = scores - expected
    if np.ptp(scores) == 0 or np.ptp(differences) < 1e-9:
        ends = results_of(rated).interval()
        return differences.mean(), *(end - expected.mean() for end in ends)
    ends = stats.ttest_1samp(differences, 0).confidence_interval(0.95)
    return differences.mean(), ends.low, ends.high


def measures(rows: list[Row], games: Games) -> Figures:
    """All that is said of a group of hits."""
    played = [row for row in rows if row["played"] == "true"]
    given = [row for row in rows if gives_up(row)]
    answered = [row["accepted"] for row in given if row["accepted"]]
    accepted = answered.count("true")
    results = results_of(given)
    decided = [row for row in given if row["score"]]
    rated = [row for row in decided if row["expected"]]
    mates = sum(row["ends_in_mate"] == "true" and row["score"] == "1" for row in decided)
    lower, upper = results.interval() if results.decided >= ENOUGH else (None, None)
    has_ratings = len(rated) >= ENOUGH
    value, least, most = gain(rated) if has_ratings else (None, None, None)
    hits = share(len(played), games.count())
    return {
        "hits": len(played),
        "per_10000_games": hits if hits is None else 10_000 * hits,
        "overlooked": len(rows) - len(played),
        "given_up": len(given),
        **{kind: sum(row["kind"] == kind for row in given) for kind in ("desperado", "sham", "real")},
        "accepted": accepted,
        "accepted_share": share(accepted, len(answered)) if len(answered) >= ENOUGH else None,
        "wins": results.wins,
        "draws": results.draws,
        "losses": results.losses,
        "undecided": results.open,
        "score": rate(results, lambda: results.score),
        "score_lower": lower,
        "score_upper": upper,
        "unrated": len(decided) - len(rated),
        "expected": np.mean([float(row["expected"]) for row in rated]) if has_ratings else None,
        "gain": value,
        "gain_lower": least,
        "gain_upper": most,
        "base": rate(results, lambda: np.mean([games.score(row["side"]) for row in decided])),
        "median_moves_left": rate(results, lambda: median(map(moves_left, given))),
        "mate_share": rate(results, lambda: mates / results.decided),
    }


def overview(query: str, hits: Hits, games: Games) -> list[Figures]:
    """One row for a query."""
    return [{"query": query, "games": games.count(), **measures(hits.rows, games)}]


def groups(names: list[str], query: str, hits: Hits, games: Games) -> list[Figures]:
    """A row for each combination of values."""
    keys = [key_of(name) for name in names]
    sorted_rows: dict[tuple[str, ...], list[Row]] = {}
    for row in hits.rows:
        sorted_rows.setdefault(tuple(key(row) for key in keys), []).append(row)
    figures = []
    for values in sorted(sorted_rows, key=lambda values: list(map(place, values))):
        known = dict(zip(names, values))
        beside = games.of(known)
        counted = measures(sorted_rows[values], beside)
        figures.append({"query": query, **known, "games": beside.count(), **counted})
    return figures


# Factors.


def difference(one: Results, other: Results) -> tuple[float, float, float, float]:
    """The first score less the second: the value, its interval and the p-value of the z test."""
    value = one.score - other.score
    if not one.draws and not other.draws:
        counts = (one.wins, one.decided), (other.wins, other.decided)
        (wins, games), (other_wins, other_games) = counts
        ends = confint_proportions_2indep(
            wins, games, other_wins, other_games, method="newcomb", compare="diff"
        )
        differ = 0 < wins + other_wins < games + other_games
        p = proportions_ztest([wins, other_wins], [games, other_games])[1] if differ else 1.0
        return value, *ends, p
    (l1, u1), (l2, u2) = one.interval(), other.interval()
    below = hypot(one.score - l1, u2 - other.score)
    above = hypot(u1 - one.score, other.score - l2)
    mean = np.average([one.score, other.score], weights=[one.decided, other.decided])
    variance = 0.0
    for results in (one, other):
        held = min(results.held, 2 * mean, 2 - 2 * mean)
        variance += (mean * (1 - mean) - held / 4) / results.decided
    p = 2 * stats.norm.sf(abs(value) / sqrt(variance)) if abs(value) > 1e-12 else 1.0
    return value, value - below, value + above, p


def odds_ratio(rows: list[Row], column: str) -> tuple[float | None, float | None, float | None]:
    """The odds ratio of a win by Mantel and Haenszel, with its interval.

    Over the bands of rating and of the balance before.
    """
    tables: dict[tuple[str, str], np.ndarray] = {}
    for row in rows:
        if row["score"]:
            table = tables.setdefault((band(row), balance_band(row)), np.zeros((2, 2)))
            table[int(row[column] == "false"), int(row["score"] != "1")] += 1
    if not sum(t[0, 0] * t[1, 1] for t in tables.values()):
        return None, None, None
    if not sum(t[0, 1] * t[1, 0] for t in tables.values()):
        return None, None, None
    pooled = StratifiedTable(list(tables.values()))
    return pooled.oddsratio_pooled, *pooled.oddsratio_pooled_confint()


def within_balance(rows: list[Row], column: str) -> tuple[float | None, float | None]:
    """The difference of scores within bands of the balance before, and its p-value.

    The difference is the factor's coefficient in a regression on factor and bands. Without draws
    the p-value is that of the test of Mantel and Haenszel.
    """
    by_band: dict[str, list[tuple[bool, float]]] = {}
    for row in rows:
        if row["score"]:
            pair = row[column] == "true", float(row["score"])
            by_band.setdefault(balance_band(row), []).append(pair)
    strata = [np.array(pairs) for pairs in by_band.values()]
    strata = [pairs for pairs in strata if np.ptp(pairs[:, 0])]
    holds = np.concatenate([pairs[:, 0] for pairs in strata]) if strata else np.array([])
    if min(np.sum(holds == 1), np.sum(holds == 0)) < ENOUGH:
        return None, None
    scores = np.concatenate([pairs[:, 1] for pairs in strata])
    bands = np.repeat(np.arange(len(strata)), [len(pairs) for pairs in strata])
    design = np.column_stack([holds, bands[:, None] == np.arange(len(strata))])
    value = OLS(scores, design).fit().params[0]
    if abs(value) < 1e-12:
        return value, 1.0
    if 0.5 not in scores:
        # Rows and columns from false to true, from lost to won.
        tables = [np.histogram2d(*pairs.T, bins=2, range=[(0, 1), (0, 1)])[0] for pairs in strata]
        return value, StratifiedTable(tables).test_null_odds(correction=False).pvalue
    variance = max(sum(map(variance_alike, strata)), sum(map(variance_apart, strata)))
    return value, 2 * stats.norm.sf(abs(value) * sum(map(weight, strata)) / sqrt(variance))


def weight(pairs: np.ndarray) -> float:
    """The weight of Mantel and Haenszel: half the harmonic mean of the numbers of games."""
    with_it = np.sum(pairs[:, 0] == 1)
    return stats.hmean([with_it, len(pairs) - with_it]) / 2


def variance_alike(pairs: np.ndarray) -> float:
    """The variance of a weighted difference over all ways to deal out the factor: Mantel's."""
    return weight(pairs) * np.var(pairs[:, 1], ddof=1)


def variance_apart(pairs: np.ndarray) -> float:
    """The same if both kinds have one mean, but each its own share of draws.

    For that mean `m` the mean of `x(1 - y)` over all pairs of different games estimates `m(1 - m)`.
    """
    scores = pairs[:, 1]
    n = len(scores)
    products = np.outer(scores, 1 - scores)
    spread = (products.sum() - np.trace(products)) / (n * (n - 1))
    variance = 0.0
    for kind in (0, 1):
        games = scores[pairs[:, 0] == kind]
        variance += (spread - np.mean(games == 0.5) / 4) / len(games)
    return weight(pairs) ** 2 * variance


def worth(query: str, factor: str, rows: list[Row]) -> Figures:
    """What a factor is worth among offers that give something up, its p-values not yet adjusted."""
    column = f"x_{factor}"
    told = [row for row in rows if row[column]]
    with_it, without = (
        results_of([row for row in told if row[column] == word]) for word in ("true", "false")
    )
    is_enough = min(with_it.decided, without.decided) >= ENOUGH
    value, lower, upper, p = difference(with_it, without) if is_enough else [None] * 4
    ratio, least, most = odds_ratio(told, column) if is_enough else [None] * 3
    within, p_within = within_balance(told, column)
    return {
        "query": query,
        "factor": factor,
        "with_games": with_it.decided,
        "with_score": rate(with_it, lambda: with_it.score),
        "without_games": without.decided,
        "without_score": rate(without, lambda: without.score),
        "difference": value,
        "difference_lower": lower,
        "difference_upper": upper,
        "p_alone": p,
        "adjusted_p": None,
        "within_balance": within,
        "within_balance_p": p_within,
        "odds_ratio": ratio,
        "odds_ratio_lower": least,
        "odds_ratio_upper": most,
    }


def factors(query: str, hits: Hits, _: Games) -> list[Figures]:
    """A row for each factor, by name; none without an offer that gives something up."""
    given = hits.given_up()
    names = sorted(hits.names("x_")) if given else []
    return [worth(query, factor, given) for factor in names]


def adjust_together(figures: list[Figures]) -> None:
    """Adjust the p-values of all factors for their number."""
    for single, adjusted in ("p_alone", "adjusted_p"), ("within_balance_p", "within_balance_p"):
        tested = [row for row in figures if row[single] is not None]
        p_values = [row[single] for row in tested]
        for row, p in zip(tested, multipletests(p_values, method="fdr_bh")[1] if tested else []):
            row[adjusted] = p


# What was played after the offer.


def as_attacker(row: Row) -> list[str]:
    """The moves of a hit's line in the attacker's view."""
    files = str.maketrans("abcdefgh", "hgfedcba")
    ranks = str.maketrans("12345678", "87654321")

    def turned(san: str) -> str:
        if row["side"] == "black":
            san = san.translate(ranks)
        if row["wing"].startswith("mirrored"):
            castling, mark = san.rstrip("+#"), san[len(san.rstrip("+#")) :]
            other = {"O-O": "O-O-O", "O-O-O": "O-O"}.get(castling)
            san = other + mark if other else san.translate(files)
        return san

    return [turned(san) for san in row["line"].split()]


def model(rows: list[Row]) -> Row:
    """The first of the games with a result whose weaker player is best and which ended soonest."""

    def rank(row: Row) -> tuple[bool, int, int]:
        weaker = min(int(row["white_elo"] or 0), int(row["black_elo"] or 0))
        return row["score"] != "", weaker, -moves_left(row)

    return max(rows, key=rank)


def continuations(depth: int, least: int, query: str, hits: Hits, _: Games) -> list[Figures]:
    """A row for each move of the tree."""

    def below(rows: list[tuple[list[str], Row]], line: list[str]) -> Iterator[Figures]:
        if len(line) > depth:
            return
        by_move: dict[str, list[tuple[list[str], Row]]] = {}
        for moves, row in rows:
            if len(moves) > len(line):
                by_move.setdefault(moves[len(line)], []).append((moves, row))
        kept = [move for move in by_move if len(by_move[move]) >= least]
        for move in sorted(kept, key=lambda move: (-len(by_move[move]), move)):
            yield figures(by_move[move], [*line, move], len(rows))
            yield from below(by_move[move], [*line, move])
        rare = [
            (moves, row)
            for moves, row in rows
            if len(moves) > len(line) and moves[len(line)] not in kept
        ]
        if kept and rare:
            yield figures(rare, [*line, "other"], len(rows))

    def figures(branch: list[tuple[list[str], Row]], line: list[str], parent: int) -> Figures:
        games = [row for _, row in branch]
        results, best = results_of(games), model(games)
        return {
            "query": query,
            "line": " ".join(line),
            "move": "  " * (len(line) - 1) + line[-1],
            "games": len(games),
            "share": len(games) / parent,
            "wins": results.wins,
            "draws": results.draws,
            "losses": results.losses,
            "score": rate(results, lambda: results.score),
            "model_white": best["white"],
            "model_black": best["black"],
            "model_game": int(best["game"]),
            "model_source": best["source"],
        }

    return list(below([(as_attacker(row), row) for row in hits.given_up()], []))
