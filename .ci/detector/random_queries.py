#!/usr/bin/env python3
"""Write query files with sentences made at random, for the program and the second detector to read.

    random_queries.py FOLDER [--count N] [--seed N]

The same seed gives the same files. The sentences follow the grammar of the topic `query-files`.
"""

import argparse
import random
from pathlib import Path

MEN = ("king", "queen", "rook", "bishop", "knight", "pawn", "minor piece", "piece", "any man")
RANKS = ("1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th")
BY_KING = ("beside the king", "in front of the king", "the king's file", "the king's rank")
CHECKS = (
    "with check",
    "with double check",
    "with discovered check",
    "with mate",
    "with stalemate",
    "without check",
)
LEADS = ("ahead", "ahead by 2 or more", "ahead by 1 to 3", "ahead by 1")
# Offers that come often enough.
OFFERS = (
    "piece takes on any square with check",
    "any man takes on beside the king",
    "minor piece to 5th rank or 6th rank",
    "any man to in front of the king",
    "any man offering rook or knight giving up 2 to 4",
    "any man offering pawn giving up 1",
    "piece to any square giving up 2 or more",
    "any man to any square uncovering 2 to 5",
    "any man takes on any square was en prise",
    "minor piece takes pawn on any square not taken back within 2 moves",
    "piece takes on c-file or e5",
    "any man to d5 or d6 giving up 1 or more",
)
FOLLOW_UPS = FACTORS = 40


class Writer:
    """Makes sentences up."""

    def __init__(self, seed: str) -> None:
        self.dice = random.Random(seed)
        self.letters = "abcdefgh"

    def often(self, share: float) -> bool:
        """Say yes so often."""
        return self.dice.random() < share

    def some(self, words: tuple[str, ...], most: int) -> str:
        """Take a few of the words, with `or` between them."""
        return " or ".join(self.dice.sample(words, self.dice.randint(1, most)))

    def men(self) -> str:
        """Name men."""
        return self.some(MEN, 2)

    def kinds(self) -> str:
        """Name men who may be passed pawns."""
        return self.some((*MEN, "passed pawn", "passed pawn"), 2)

    def square(self) -> str:
        """Name squares in one way."""
        file, rank = self.dice.choice(self.letters), self.dice.randrange(8)
        names = (
            f"{file}{rank + 1}",
            f"{file}-file",
            f"{RANKS[rank]} rank",
            self.dice.choice(("light squares", "dark squares", "any square")),
            *BY_KING,
        )
        return self.dice.choice(names)

    def squares(self) -> str:
        """Name squares in a few ways."""
        return " or ".join(dict.fromkeys(self.square() for _ in range(self.dice.randint(1, 3))))

    def side(self) -> str:
        """Name a side."""
        return self.dice.choice(("attacker", "defender"))

    def pawns(self) -> str:
        """Name an amount of material."""
        least = self.dice.randint(1, 4)
        most = least + self.dice.randint(0, 3)
        return self.dice.choice(
            (f"{least} or more", f"{least} to {most}", f"at most {least}", f"{least}")
        )

    def stance(self) -> str:
        """Say how men stand."""
        relations = ("on", "pinned on", "reaches", "guards", "bears on", "en prise")
        relation = self.dice.choice(relations)
        if relation == "en prise":
            return self.dice.choice(("is en prise", f"on {self.squares()} is en prise"))
        is_seen_past = relation not in ("on", "pinned on") and self.often(0.4)
        past = f" past {self.men()}" if is_seen_past else ""
        return f"{relation} {self.squares()}{past}"

    def fact(self) -> str:
        """Make a fact up."""
        if self.often(0.08):
            lead = f"{self.side()} {self.dice.choice(LEADS)}"
            return self.dice.choice((lead, "material is level"))
        told = f"{self.side()} {self.kinds()} {self.stance()}"
        if self.often(0.15):
            return f"more {told} than {self.side()} {self.kinds()}"
        number = self.dice.randint(1, 3)
        amounts = ("", "", "no ", f"at least {number} ", f"at most {number} ")
        return self.dice.choice(amounts) + told

    def condition(self) -> str:
        """Make a condition up."""
        parts = [self.fact()]
        for word in (" and ", " or else "):
            if self.often(0.25):
                parts += [word, self.fact()]
        return "".join(parts)

    def act(self) -> str:
        """Say how and where to a man goes, or nothing of it."""
        acts = (
            "",
            f" takes {self.men()} on {self.squares()}",
            f" takes on {self.squares()}",
            f" moves to {self.squares()}",
            f" to {self.squares()}",
        )
        return self.dice.choice(acts)

    def follow_up(self) -> str:
        """Make a follow-up up."""
        whose = self.dice.choice(("the same ", "", "attacker ", "defender ", "defender "))
        clauses = (
            f" from {self.squares()}",
            f" {self.dice.choice(CHECKS)}",
            " was en prise",
            f" between {self.men()} and {self.men()}",
            f" giving up {self.pawns()}",
            f" uncovering {self.pawns()}",
            f" and is taken{self.dice.choice(('', f' by {self.men()}'))}",
            f" within {self.dice.randint(1, 8)} moves",
        )
        chosen = [clause for clause in clauses if self.often(0.2)]
        return f"{whose}{self.men()}{self.act()}{''.join(chosen)}"

    def query(self, offer: str) -> str:
        """Make a query up around an offer."""
        is_for_any_file = self.often(0.3) or "c-file" in offer
        if is_for_any_file:
            self.letters = "cde"
        names = [f"u{number}" for number in range(FOLLOW_UPS)]
        one, other, third, fourth = self.dice.sample(names, 4)
        required = f'requires = ["{one} or {other} then {third}", "no {fourth}"]'
        factors = [f'a{number} = "{self.condition()}"' for number in range(FACTORS)]
        later = [f'b{number} = "{self.condition()}"' for number in range(FACTORS)]
        lines = [
            'title = "Sentences made at random"',
            'chapter = "any"',
            f'wings = "{self.dice.choice(("both", "as written"))}"',
            f'files = "{"any" if is_for_any_file else "as written"}"',
            f'offer = "{offer}"',
            required if self.often(0.5) else "",
            "[follow-ups]",
            *(f'{name} = "{self.follow_up()}"' for name in names),
            "[factors]",
            *factors,
            "[factors-after]",
            *later,
        ]
        return "\n".join([*lines, ""])


def main() -> None:
    """Write the files."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--count", type=int, default=len(OFFERS))
    parser.add_argument("--seed", type=int, default=1)
    chosen = parser.parse_args()
    chosen.folder.mkdir(parents=True, exist_ok=True)
    for number in range(chosen.count):
        text = Writer(f"{chosen.seed}/{number}").query(OFFERS[number % len(OFFERS)])
        (chosen.folder / f"random-{number}.toml").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
