"""Runs one edition of all lessons: ``run_edition.py learner python -m pytest --nbval ...``, the words that test it.

Between them the two editions hold every cell of the notebooks with its saved outputs, so those are tested by this too.
Each edition has a learner's folder of its own, since a lesson may write there.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

from evlib.course.__main__ import main as course


def main(words: list[str]) -> int:
    """Write the editions, and run the given words on one of them."""
    which, *command = words
    with tempfile.TemporaryDirectory() as scratch:
        place = Path(scratch) / "editions"
        status = course(["editions", str(place), "--solutions", "out"])
        if status:
            return status
        here = ["-c", "pyproject.toml", "--rootdir", str(place), str(place / which)]
        environment = {**os.environ, "EVLIB_FOLDER": str(Path(scratch) / "mine")}
        return subprocess.call([*command, *here], env=environment)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
