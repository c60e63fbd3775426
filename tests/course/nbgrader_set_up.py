"""Makes the place where nbgrader is, so that its packages and ours never meet: part of the set-up of `start.py test`.

Only one test wants it. It is installed as start.py installs everything: pinned, with hashes, from wheels.
"""

from __future__ import annotations

import hashlib
import sys

import start

PINS = start.HERE / "requirements-nbgrader.txt"
PLACE = start.VENV / "nbgrader"
ROOM = 0.8e9  # free bytes wanted


def main() -> int:
    """Make it, unless it is there as it should be."""
    if start.WHEELS.is_dir():
        print("A packed folder holds no nbgrader: its round trip is not tested here.")
        return 0
    stamp, wanted = PLACE / "stamp", hashlib.sha256(PINS.read_bytes() + str(PLACE).encode()).hexdigest()
    if not stamp.exists() or stamp.read_text() != wanted:
        start.refuse_full_disk(start.HERE, ROOM)
        start.VENV = PLACE  # where start.py's functions make a place and keep their log
        start.pip(start.make_venv(), "install", PINS)
        stamp.write_text(wanted)
    return 0


if __name__ == "__main__":
    sys.exit(main())
