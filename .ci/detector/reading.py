"""A reader for query files. Nothing here knows a query by its name."""

import tomllib
from pathlib import Path

import chess

from sentences import ANY_MAN, Amount, Condition, Example, Fact, Lead, Move, Query, Row, Squares
from words import (
    ACTS,
    CHECKS,
    EN_PRISE,
    RELATIONS,
    Words,
    read_amount,
    read_kinds,
    read_men,
    read_side,
    read_squares,
)


def read_act(words: Words) -> dict[str, object]:
    """Read how and where to a man goes, if that is said."""
    if words.take_one(("takes", "take")):
        victims = ANY_MAN if words.take("on") else read_men(words)
        if victims is not ANY_MAN:
            words.need("on")
        return {"act": "takes", "victims": victims, "squares": read_squares(words)}
    act = words.take_one(ACTS)
    if act is None:
        return {}
    return {"act": act.replace("move ", "moves "), "squares": read_squares(words)}


def read_clause(words: Words) -> dict[str, object]:
    """Read one clause of a move."""
    check = words.take_one(CHECKS)
    if check:
        return {"check": CHECKS[check]}
    if words.take("from"):
        return {"start": read_squares(words)}
    if words.take("giving up"):
        return {"giving_up": read_amount(words)}
    if words.take("uncovering"):
        return {"uncovering": read_amount(words)}
    if words.take("offering"):
        return {"offering": read_men(words)}
    if words.take("was en prise"):
        return {"was_en_prise": True}
    if words.take("between"):
        one = read_men(words)
        words.need("and")
        return {"between": (one, read_men(words))}
    if words.take("not taken back within"):
        return {"not_back": read_moves(words)}
    if words.take("and is taken"):
        return {"taken_by": read_men(words) if words.take("by") else ANY_MAN}
    if words.take("at once"):
        return {"window": 1}
    if words.take("within"):
        return {"window": read_moves(words)}
    raise words.wrong("a clause")


def read_moves(words: Words) -> int:
    """Read a number of moves."""
    number = words.number()
    if not words.take_one(("moves", "move")):
        raise words.wrong("`moves`")
    return number


def read_move(sentence: str) -> Move:
    """Read a sentence about a move."""
    words = Words(sentence)
    same_man = words.take("the same")
    by_defender = not same_man and bool(read_side(words))
    said = {"by_defender": by_defender, "men": read_men(words)} | read_act(words)
    while words.rest:
        clause = read_clause(words)
        if clause.keys() & said.keys():
            raise words.wrong("another clause, and not the same twice,")
        said |= clause
    return Move(**said, same_man=same_man)


def read_fact(words: Words) -> Fact | Lead:
    """Read one fact."""
    if words.take("material is level"):
        return Lead(False, Amount(0, 0))
    more = words.take("more")
    amount = Amount(1) if more else read_number(words)
    of_defender = need_side(words)
    if words.take("ahead"):
        return Lead(of_defender, read_amount(words) if words.take("by") else Amount(1))
    kinds = read_kinds(words)
    relation, squares = read_stance(words)
    past = read_men(words) if words.take("past") else frozenset()
    if more:
        words.need("than")
    rival = (need_side(words), read_kinds(words)) if more else None
    return Fact(amount, rival, of_defender, kinds, relation, squares, past)


def read_number(words: Words) -> Amount:
    """Read how many men a fact asks for, if that is said."""
    if words.take("no"):
        return Amount(0, 0)
    if words.take("at least"):
        return Amount(words.number())
    return Amount(0, words.number()) if words.take("at most") else Amount(1)


def need_side(words: Words) -> bool:
    """Read whose man it is, which must be said: whether the defender's."""
    side = read_side(words)
    if side is None:
        raise words.wrong("a side")
    return side


def read_stance(words: Words) -> tuple[str, Squares]:
    """Read how men stand, and to which squares."""
    if words.take_one(EN_PRISE):
        return "en prise", Squares(chess.BB_ALL)
    relation = words.take_one(RELATIONS)
    if relation is None:
        raise words.wrong("a relation")
    squares = read_squares(words)
    if relation == "on" and words.take_one(EN_PRISE):
        return "en prise", squares
    return RELATIONS[relation], squares


def read_facts(words: Words) -> tuple[Fact | Lead, ...]:
    """Read facts with `and` between them."""
    facts = [read_fact(words)]
    while words.take("and"):
        facts.append(read_fact(words))
    return tuple(facts)


def read_condition(sentence: str) -> Condition:
    """Read a sentence of facts: alternatives with `or else` between them."""
    words = Words(sentence)
    alternatives = [read_facts(words)]
    while words.take("or else"):
        alternatives.append(read_facts(words))
    if words.rest:
        raise words.wrong("`and`, `or else` or nothing more")
    return tuple(alternatives)


def read_required(sentence: str) -> tuple[Row, ...]:
    """Read what must come, or must not: rows with `or` between them."""
    rows = []
    for text in sentence.split(" or "):
        names = tuple(text.removeprefix("no ").split(" then "))
        rows.append(Row(names, not text.startswith("no ")))
    return tuple(rows)


def read_factors(said: dict[str, str]) -> dict[str, Condition]:
    """Read a table of factors."""
    return {name: read_condition(text) for name, text in said.items()}


def read_query(path: Path) -> Query:
    """Read a query file."""
    return read_text(path.stem, path.read_text(encoding="utf-8"))


def read_text(name: str, text: str) -> Query:
    """Read the text of a query file."""
    said = tomllib.loads(text)
    return Query(
        name=name,
        both_wings={"both": True, "as written": False}[said.get("wings", "as written")],
        offer=read_move(said["offer"]),
        when=tuple(read_condition(text) for text in said.get("when", ())),
        after=tuple(read_condition(text) for text in said.get("after", ())),
        requires=tuple(read_required(text) for text in said.get("requires", ())),
        follow_ups={name: read_move(text) for name, text in said.get("follow-ups", {}).items()},
        factors=read_factors(said.get("factors", {})),
        factors_after=read_factors(said.get("factors-after", {})),
        examples=tuple(Example(**example) for example in said.get("example", ())),
    )
