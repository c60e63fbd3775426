"""The set-up check of lesson 0: does what the lessons need work here, and what to do where it does not."""

from __future__ import annotations

import sys
from collections.abc import Callable

from evlib.ground.shown import Shown


def check_setup() -> Shown:
    """One row for each thing that the lessons need: ``works``, or what to do."""
    from evlib.lesson.parts import table

    rows = []
    for what, probe, advice in PROBES:
        try:
            good = probe()
        except Exception as error:  # whatever fails, the learner gets a row with what to do
            good, advice = False, f"{advice} ({type(error).__name__}: {str(error)[:120]})"
        rows.append((what, "works" if good else f"does not work: {advice}"))
    return table(("what the lessons need", "here"), rows)


def _python() -> bool:
    return (3, 11) <= sys.version_info < (3, 14)


def _units() -> bool:
    from evlib.ground import units

    return abs(units.read("1 1/2 in", "m") - 0.0381) < 1e-12  # 25.4 mm to the inch, exactly


def _folder() -> bool:
    from evlib.ground.folder import folder, write_atomically

    probe = folder() / "set-up-check.txt"
    write_atomically(probe, "written by the set-up check\n")
    good = probe.read_text(encoding="utf-8").startswith("written")
    probe.unlink()
    return good


def _picture() -> bool:
    from evlib.figures import base

    figure, _ = base.figure()
    return base.png(figure).startswith(b"\x89PNG")


def _boxes() -> bool:
    from evlib.exercises.live import Live

    return bool(Live._esm)


AGAIN = "close this, run the start script again, and look at what it says"
PROBES: tuple[tuple[str, Callable[[], bool], str], ...] = (
    ("Python 3.11, 3.12 or 3.13", _python, "install one of these and run the start script again"),
    ("numbers with units: 1 1/2 in is 38.1 mm", _units, AGAIN),
    ("your own folder, for builds and answers", _folder, "set EVLIB_FOLDER to a folder where you may write"),
    ("pictures", _picture, AGAIN),
    ("panels and boxes to answer in", _boxes, AGAIN),
)
