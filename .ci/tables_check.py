#!/usr/bin/env python3
"""Run the examples of `hecatomb help tables` in the programs that they are for, and compare what these read.

    tables_check.py --program HECATOMB SAMPLE-DATA...

Each example stands in the topic's text, so that what a reader copies is what is tried. Then every table is read as Parquet
by DuckDB, Polars and pandas and as comma-separated values by pandas, and must be the same everywhere: names, rows, blanks and
types. The dictionary must have each column, and call `never` blank only what never is. The example for R is not run.
Needs duckdb, polars, pandas and pyarrow.
"""

import argparse
import io
import json
import re
import subprocess
import sys
import tempfile
from contextlib import chdir, redirect_stdout
from pathlib import Path

import duckdb
import pandas as pd
import polars as pl
import pyarrow.parquet as pq

TOPIC = Path(__file__).parent.parent / "src/commands/help/topics/tables.md"
ARROW = {"text": "string", "integer": "int64", "decimal": "double", "true or false": "bool"}


def examples() -> dict[str, list[str]]:
    """The blocks of code of each section."""
    sections = re.split(r"^## (.+)$", TOPIC.read_text(), flags=re.M)[1:]
    blocks = lambda text: [
        "\n".join(line[4:] for line in block.strip("\n").split("\n"))
        for block in re.findall(r"(?:^    .*\n|^\n(?=    ))+", text, flags=re.M)
        if block.strip()
    ]
    return {name: blocks(text) for name, text in zip(sections[::2], sections[1::2])}


def run_examples() -> int:
    """Runs each example; an example that prints nothing of what it should is a fault."""
    ran = 0
    for section, blocks in examples().items():
        for block in blocks:
            if section == "R":
                continue
            if section == "DuckDB":
                rows = duckdb.sql(block).fetchall()
                assert rows, f"{section}: no rows from {block}"
            else:
                printed = io.StringIO()
                with redirect_stdout(printed):
                    exec(compile(block, section, "exec"), {})
                assert len(printed.getvalue().splitlines()) > 3, f"{section}: {printed.getvalue()}"
            ran += 1
    return ran


def kind_of(name: str, table: str, dictionary: pd.DataFrame) -> pd.Series:
    """The line of the dictionary for a column."""
    known = dictionary[dictionary.table == table].set_index("column")
    own = re.sub("^([fx])_.*", r"\1_NAME", name) if table == "hits" else name
    return known.loc[own]


def compare(table: str, parquet: Path, separated: Path, dictionary: pd.DataFrame) -> int:
    """Compares one table in all readers. How many rows it has."""
    arrow = pq.read_table(parquet)
    meanings = json.loads(arrow.schema.metadata[b"hecatomb.columns"])
    assert list(meanings) == arrow.column_names, parquet
    for field in arrow.schema:
        entry = kind_of(field.name, table, dictionary)
        assert str(field.type) == ARROW[entry.type], f"{parquet}: {field}"
        meaning = meanings[field.name]
        assert (meaning["unit"], meaning["meaning"], meaning["blank"]) == (entry.unit, entry.meaning, entry.blank)
        # Of a hit that was not judged all is blank but its name.
        is_judged = [value is not None for value in arrow["verdict"].to_pylist()] if table == "verdicts" else None
        blank = [value is None for value in arrow[field.name].to_pylist()]
        blank = [it for it, judged in zip(blank, is_judged) if judged] if is_judged else blank
        assert entry.blank != "never" or not any(blank), f"{parquet}: {field.name} is blank"
    rows = arrow.to_pylist()
    assert pl.read_parquet(parquet).to_dicts() == rows, f"{parquet}: Polars reads it otherwise"
    cursor = duckdb.execute("SELECT * FROM read_parquet(?)", [str(parquet)])
    assert [name for name, *_ in cursor.description] == arrow.column_names
    assert cursor.fetchall() == [tuple(row.values()) for row in rows], f"{parquet}: DuckDB reads it otherwise"
    pandas = {"text": "string", "integer": "Int64", "decimal": "Float64", "true or false": "boolean"}
    types = {name: pandas[kind_of(name, table, dictionary).type] for name in arrow.column_names}
    plain = pd.read_csv(separated, dtype=types, keep_default_na=False, na_values=[""])
    plain = plain.assign(**{name: plain[name].str.removeprefix("'") for name, kind in types.items() if kind == "string"})
    plain = [{name: None if value is pd.NA else value for name, value in row.items()} for row in plain.to_dict("records")]
    assert plain == rows, f"{separated}: pandas reads it otherwise"
    return len(rows)


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--program", type=Path, required=True)
    parser.add_argument("sources", nargs="+", type=Path)
    args = parser.parse_args()
    program, sources = str(args.program.resolve()), [str(path.resolve()) for path in args.sources]
    with tempfile.TemporaryDirectory() as folder, chdir(folder):
        for out, kind in [("run", "parquet"), ("run-csv", "csv")]:
            mine = [program, "mine", *sources, "--overlooked", "--out", out, "--table", kind, "--quiet"]
            subprocess.run(mine, check=True, stdout=subprocess.DEVNULL)
            for query in ["smothered-mate", "bishop-takes-h7"]:
                verify = [program, "verify", out, "--query", query, "--nodes", "3000", "--quiet"]
                subprocess.run(verify, check=True, stdout=subprocess.DEVNULL)
        columns = subprocess.run([program, "help", "columns", "--format", "csv"], check=True, capture_output=True, text=True).stdout
        Path("columns.csv").write_text(columns)
        dictionary = pd.read_csv(io.StringIO(columns), keep_default_na=False)
        assert dictionary.meaning.str.len().gt(5).all()
        ran, rows, tables = run_examples(), 0, 0
        for parquet in sorted(Path("run").rglob("*.parquet")):
            separated = Path("run-csv", *parquet.parts[1:]).with_suffix(".csv")
            table = parquet.parts[1] if len(parquet.parts) > 2 else parquet.stem
            rows += compare(table, parquet, separated, dictionary)
            tables += 1
    assert ran >= 5 and tables > 100 and rows > 1000, (ran, tables, rows)
    print(f"{ran} examples run; {tables} tables with {rows} rows read alike by all")


if __name__ == "__main__":
    sys.exit(main())
