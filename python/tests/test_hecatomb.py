"""The package does what the program does: its tables are the program's, its errors are the program's."""

from __future__ import annotations

import csv
import subprocess
import sys
from pathlib import Path

import pytest

import hecatomb
from hecatomb._program import options, path

SAMPLE = Path(__file__).parents[2] / "sample-data"
QUERIES = ["bishop-takes-h7", "smothered-mate"]


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> hecatomb.Run:
    out = tmp_path_factory.mktemp("mined") / "run"
    return hecatomb.mine(SAMPLE, queries=QUERIES, out=out)


def test_hits_are_those_of_the_program(run: hecatomb.Run, tmp_path: Path) -> None:
    hecatomb.program("mine", SAMPLE, "--query", QUERIES[0], "--out", tmp_path / "plain", "--quiet")
    with open(tmp_path / "plain" / "hits" / f"{QUERIES[0]}.csv", encoding="utf-8", newline="") as file:
        plain = list(csv.DictReader(file))
    hits = run.hits(QUERIES[0])
    assert len(plain) > 5 and [row["id"] for row in plain] == hits["id"].to_pylist()
    assert [int(row["cost"]) for row in plain] == hits["cost"].to_pylist()
    assert {row["played"] for row in plain} == {"true"} and set(hits["played"].to_pylist()) == {True}


def test_tables_of_all_queries_are_put_together_by_name(run: hecatomb.Run) -> None:
    hits = run.hits()
    by_query = {query: len(run.hits(query)) for query in QUERIES}
    assert run.queries == QUERIES and len(hits) == sum(by_query.values())
    named = hits["query"].to_pylist()
    assert {query: named.count(query) for query in QUERIES} == by_query
    own = [name for name in hits.column_names if name.startswith("x_")]
    assert own and all(set(hits[name].to_pylist()) <= {True, False, None} for name in own)
    assert set(hits["game_id"].to_pylist()) == set(run.games()["game_id"].to_pylist())


def test_verdicts_stand_on_their_hits(run: hecatomb.Run) -> None:
    assert len(run.verdicts()) == 0
    run.verify(queries=[QUERIES[1]], nodes=2000)
    assert run.verdicts()["id"].to_pylist() == run.hits(QUERIES[1])["id"].to_pylist()
    assert {row["query"] for row in run.tally()} >= set(QUERIES)


def test_an_error_of_the_program_is_raised(run: hecatomb.Run, tmp_path: Path) -> None:
    with pytest.raises(hecatomb.HecatombError, match="no-such-motif") as raised:
        hecatomb.mine(SAMPLE, queries=["no-such-motif"], out=tmp_path / "none")
    assert raised.value.status == 1
    with pytest.raises(hecatomb.HecatombError, match="--replace"):
        hecatomb.mine(SAMPLE, queries=[QUERIES[1]], out=run.path)
    with pytest.raises(KeyError):
        run.hits("no-such-motif")
    with pytest.raises(FileNotFoundError):
        hecatomb.Run(tmp_path)


def test_options_are_written_as_on_the_command_line() -> None:
    given = options(query=["a", "b"], min_rating=2000, quiet=True, seed=None, replace=False)
    assert given == ["--query", "a", "--query", "b", "--min-rating", "2000", "--quiet"]


def test_the_program_is_found_and_is_a_module_too(monkeypatch: pytest.MonkeyPatch) -> None:
    as_module = subprocess.run([sys.executable, "-m", "hecatomb", "--version"], capture_output=True, text=True, check=True)
    assert as_module.stdout.split() == ["hecatomb", hecatomb.version()]
    monkeypatch.setenv("HECATOMB_PROGRAM", "/nowhere/hecatomb")
    assert path() == "/nowhere/hecatomb"
    with pytest.raises(FileNotFoundError):
        hecatomb.version()
