"""``python -m hecatomb``: the program itself."""

import os
import sys

from ._program import path

if __name__ == "__main__":
    if sys.platform == "win32":
        import subprocess

        raise SystemExit(subprocess.call([path(), *sys.argv[1:]]))
    os.execv(path(), [path(), *sys.argv[1:]])
