"""Where the program is, and how it is run."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Sequence
from pathlib import Path

__all__ = ["HecatombError", "path", "program", "version"]

#: The environment variable that names another program than the one that was installed.
VARIABLE = "HECATOMB_PROGRAM"


class HecatombError(RuntimeError):
    """The program ended with an error.

    Attributes:
        status: Its exit status: 1 if something went wrong, 2 if it was asked for what can't be, 130 if it was interrupted.
        message: What it said.
    """

    def __init__(self, status: int, message: str) -> None:
        super().__init__(message or f"hecatomb ended with status {status}")
        self.status = status
        self.message = message


def path() -> str:
    """The path of the program: the one that ``HECATOMB_PROGRAM`` names, the one that was installed with this package, or
    the first on the search path.

    Raises:
        FileNotFoundError: There is none.
    """
    named = os.environ.get(VARIABLE)
    if named:
        return named
    name = "hecatomb.exe" if sys.platform == "win32" else "hecatomb"
    schemes = [sysconfig.get_default_scheme(), sysconfig.get_preferred_scheme("user")]
    folders = [Path(sysconfig.get_path("scripts", scheme)) for scheme in schemes]
    # An installation into a folder of its own has the scripts beside the package.
    folders.append(Path(__file__).parent.parent / "bin")
    for folder in folders:
        if (folder / name).is_file():
            return str(folder / name)
    found = shutil.which("hecatomb")
    if found:
        return found
    raise FileNotFoundError(f"the program `hecatomb` is neither installed with this package nor on PATH; set {VARIABLE}")


def program(*arguments: str | os.PathLike[str], cwd: str | os.PathLike[str] | None = None) -> str:
    """Runs the program with these arguments and waits for its end.

    Args:
        arguments: What would stand on the command line, such as ``"tally", "run", "--by", "rating"``.
        cwd: The folder in which it runs; the current one by default.

    Returns:
        What it wrote to standard output.

    Raises:
        HecatombError: It ended with another status than 0.
        FileNotFoundError: There is no program.
    """
    command = [path(), *(os.fspath(argument) for argument in arguments)]
    ended = subprocess.run(command, cwd=cwd, capture_output=True, text=True, encoding="utf-8", check=False)
    if ended.returncode != 0:
        raise HecatombError(ended.returncode, ended.stderr.strip())
    return ended.stdout


def version() -> str:
    """The version of the program, such as ``"0.1.0"``."""
    return program("--version").split()[-1]


def options(**given: object) -> list[str]:
    """Options of the program by their names: ``min_rating=2000`` is ``--min-rating 2000``, a sequence repeats the option, ``True``
    stands for the option alone, ``None`` and ``False`` for none."""
    arguments: list[str] = []
    for name, value in given.items():
        option = f"--{name.replace('_', '-')}"
        if value is None or value is False:
            continue
        if value is True:
            arguments.append(option)
        elif isinstance(value, Sequence) and not isinstance(value, str):
            arguments += [word for one in value for word in (option, str(one))]
        else:
            arguments += [option, str(value)]
    return arguments
