"""A reader for query files. Nothing here knows a query by its name."""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import chess

from sentences import (
    ANY_MAN,
    Amount,
    Condition,
    Elsewhere,
    Example,
    Fact,
    Lead,
    Move,
    Query,
    Row,
    Squares,
)
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

LETTERED = re.compile("[a-h]([1-8]|-file)")
NO_SENTENCES = {
    *("title", "about", "also-called", "form-of", "finds", "chapter", "wings", "files"),
    *("requires", "example"),
}


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
    any_file = {"any": True, "as written": False}[said.get("files", "as written")]
    return replace(read_said(name, said), elsewhere=tuple(elsewhere(name, said)) if any_file else ())


def elsewhere(name: str, said: dict[str, object]) -> Iterator[Elsewhere]:
    """Read the query with its letters moved, to the nearest files first and to the left before the right."""
    letter = min(letters_in(said["offer"]) or letters_in(said))
    for by in sorted(range(-7, 8), key=lambda by: (abs(by), by)):
        if by and all("a" <= chr(ord(one) + by) <= "h" for one in letters_in(said)):
            yield Elsewhere(letter, chr(ord(letter) + by), read_said(name, moved(said, by)))


def letters_in(said: object) -> set[str]:
    """Find the files that sentences name; keys are names, and texts outside of them no sentences."""
    if isinstance(said, str):
        return {word[0] for word in said.split() if LETTERED.fullmatch(word)}
    parts = (said[key] for key in said if key not in NO_SENTENCES) if isinstance(said, dict) else said
    return set().union(*(letters_in(part) for part in parts))


def moved(said: object, by: int) -> object:
    """Move the letters of sentences so many files to the right."""
    if isinstance(said, str):
        return " ".join(moved_word(word, by) for word in said.split())
    if isinstance(said, dict):
        return {k: one if k in NO_SENTENCES else moved(one, by) for k, one in said.items()}
    return [moved(one, by) for one in said]


def moved_word(word: str, by: int) -> str:
    """Move the letter of a word, or change the colour of squares with that of those that are moved."""
    if LETTERED.fullmatch(word):
        return chr(ord(word[0]) + by) + word[1:]
    return {"light": "dark", "dark": "light"}.get(word, word) if by % 2 else word


def read_said(name: str, said: dict[str, object]) -> Query:
    """Read what a query file says, on the files that it names."""
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
