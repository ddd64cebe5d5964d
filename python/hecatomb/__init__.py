"""Mines chess game collections for sacrifices and measures how they fare.

The work is done by the program ``hecatomb``, which this package carries. ``hecatomb.mine`` runs it over collections and gives a
:class:`Run`; a run gives its tables as Arrow tables and can be verified. Whatever the program can do besides is a call of
:func:`program` away::

    import hecatomb

    run = hecatomb.mine(["games.pgn.zst"], queries=["bishop-takes-h7"], out="run")
    hits = run.hits("bishop-takes-h7")
    run.verify(nodes=20_000)
"""

from ._program import HecatombError, program, version
from ._run import Run, mine

__all__ = ["HecatombError", "Run", "mine", "program", "version"]
