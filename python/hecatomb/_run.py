"""A run of the program over a collection, and its tables."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ._program import options, program

if TYPE_CHECKING:
    import pyarrow

__all__ = ["Run", "mine"]

#: A path, as the standard library takes it.
PathLike = str | os.PathLike[str]


def mine(
    paths: PathLike | Iterable[PathLike],
    queries: Sequence[PathLike] | None = None,
    *,
    out: PathLike = "hecatomb-out",
    overlooked: bool = False,
    replace: bool = False,
    **more: object,
) -> Run:
    """Mines collections for sacrifices.

    Args:
        paths: Files or folders of games in PGN, compressed or not.
        queries: Names of built-in queries or files of your own; every built-in one by default.
        out: The folder that is written.
        overlooked: Look for chances that nobody took, too.
        replace: Write over an earlier run in that folder.
        more: Further options of ``hecatomb mine`` by their names, such as ``min_rating=2000``.

    Returns:
        The run, its tables in Parquet.

    Raises:
        HecatombError: The program refused; the error says why.
    """
    sources = [paths] if isinstance(paths, str | os.PathLike) else list(paths)
    names = [os.fspath(query) for query in queries or ()]
    chosen = options(query=names, overlooked=overlooked, replace=replace, out=os.fspath(out))
    program("mine", *chosen, *options(**{"table": "parquet"} | more), "--quiet", "--", *sources)
    return Run(out)


@dataclass(frozen=True)
class Run:
    """A folder that ``hecatomb mine`` wrote.

    Attributes:
        path: The folder.
    """

    path: Path

    def __init__(self, path: PathLike) -> None:
        object.__setattr__(self, "path", Path(path))
        if not (self.path / "run.json").is_file():
            raise FileNotFoundError(f"`{self.path}` does not hold a run")

    @property
    def manifest(self) -> dict[str, Any]:
        """What the run was: sources, queries, options, counts, and the checksums of its tables."""
        manifest: dict[str, Any] = json.loads((self.path / "run.json").read_text(encoding="utf-8"))
        return manifest

    @property
    def queries(self) -> list[str]:
        """The names of its queries, in their order."""
        return [query["name"] for query in self.manifest["queries"]]

    def hits(self, query: str | None = None) -> pyarrow.Table:
        """The hits of a query, or of all, with the column ``query`` before the others.

        Follow-ups and factors are columns of their own (``f_NAME``, ``x_NAME``); where tables of several queries are
        put together, they are null for the queries that do not have them. ``hecatomb help columns`` explains the rest.
        Needs ``pyarrow`` (``pip install 'hecatomb[tables]'``).
        """
        return self._tables("hits", query)

    def verdicts(self, query: str | None = None) -> pyarrow.Table:
        """The verdicts on the hits of a query, or of all that were verified, with the column ``query`` before the others.

        The column ``id`` says which hit a row is on. Empty if nothing was verified.
        """
        return self._tables("verdicts", query)

    def games(self) -> pyarrow.Table:
        """The games with hits, each whole and once."""
        return self._table("games")

    def verify(self, *, cluster: str | None = None, queries: Sequence[str] = (), **more: object) -> None:
        """Finds out what the offers are worth.

        Args:
            cluster: ``"local"`` or the address of a scheduler of Dask; without it, the threads of this machine.
            queries: Only the hits of these; of all by default.
            more: Further options of ``hecatomb verify`` by their names, such as ``nodes=50_000`` or ``engine="..."``.

        Raises:
            HecatombError: The program refused or failed; what was found before is kept, and ``resume=True`` goes on.
        """
        program("verify", self.path, *options(query=queries, cluster=cluster, **more), "--quiet")

    def tally(self, **more: object) -> list[dict[str, Any]]:
        """Counts the hits, as ``hecatomb tally --format json`` does.

        Args:
            more: Options of ``hecatomb tally`` by their names, such as ``by="rating"``.

        Returns:
            A row for each group.
        """
        rows: list[dict[str, Any]] = json.loads(program("tally", self.path, "--format", "json", *options(**more)))
        return rows

    def _tables(self, folder: str, query: str | None) -> pyarrow.Table:
        import pyarrow as pa

        names = self.queries if query is None else [query]
        if query is not None and query not in self.queries:
            raise KeyError(f"`{query}` is not a query of this run")
        tables = []
        for name in names:
            if any(self.path.glob(f"{folder}/{name}.*")):
                table = self._table(f"{folder}/{name}")
                named = pa.array([name] * len(table), pa.string())
                tables.append(table.add_column(0, "query", named))
        return pa.concat_tables(tables, promote_options="default") if tables else pa.table({"query": pa.array([], pa.string())})

    def _table(self, name: str) -> pyarrow.Table:
        import pyarrow.parquet

        place = self.path / f"{name}.parquet"
        if not place.is_file():
            raise ValueError(f"`{self.path}` holds no `{name}.parquet`: it is read here if it was mined with `table=\"parquet\"`")
        return pyarrow.parquet.read_table(place)
