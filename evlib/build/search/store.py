"""A search in a folder: its plan as text, and one file for each chunk that is done, each there whole or not at all."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
from pathlib import Path
from typing import Any

import numpy as np

import evlib
from evlib.build.review import review
from evlib.build.schema import Build, declared
from evlib.build.search.piece import Piece
from evlib.build.search.plan import CHUNK, Alternatives, Plan, Span, plan
from evlib.ground.folder import write_atomically
from evlib.ground.tables import Curve

PLAN = "plan.json"
SAID = {"build": "another build", "reviewed": "other checks", "axes": "other quantities or alternatives",
        "builds": "another number of builds", "how": "another way of sampling", "seed": "another seed",
        "keep": "other results to keep", "checks": "other checks", "chunk": "chunks of another size",
        "version": "another version of evlib"}  # fmt: skip


def describe(made: Plan) -> dict[str, Any]:
    """A plan as JSON holds it, with a digest of the build and of its review: what must be alike to go on with it."""
    axes = [{"name": axis.name, "low": axis.low, "high": axis.high} if isinstance(axis, Span) else
            {"name": axis.name, "options": axis.options} for axis in made.axes]  # fmt: skip
    try:
        axes = json.loads(json.dumps(axes))
    except TypeError as error:
        raise ValueError(f"search: an alternative cannot be saved ({error}); give text, numbers or lists") from None
    return {
        "version": evlib.__version__, "build": _digest(_values(made.build)), "reviewed": _digest(_reviewed(made.build)),
        "axes": axes, "builds": made.builds, "how": made.how, "seed": made.seed, "keep": list(made.keep),
        "checks": list(made.checks), "chunk": CHUNK,
    }  # fmt: skip


def prepare(folder: Path, made: Plan) -> None:
    """Begin a search in a folder, or make sure that the one begun there is the same. Raises ``ValueError`` if not."""
    wanted = describe(made)
    if (folder / PLAN).exists():
        before = _read_plan(folder)
        other = [said for key, said in SAID.items() if before.get(key) != wanted[key]]
        if other:
            raise ValueError(f"{folder.name}: a search of that name was begun with {other[0]}; take another name, "
                             "or remove that folder")  # fmt: skip
        return
    folder.mkdir(parents=True, exist_ok=True)
    write_atomically(folder / PLAN, json.dumps(wanted, indent=1) + "\n")


def plan_in(folder: Path, build: Build) -> Plan:
    """The plan of a search in a folder, on the build it was begun with. Raises ``ValueError`` if that has changed."""
    if not (folder / PLAN).exists():
        raise ValueError(f"{folder.name}: there is no search of that name")
    told = _read_plan(folder)
    try:
        axes = {axis["name"]: axis["options"] if "options" in axis else (axis["low"], axis["high"])
                for axis in told["axes"]}  # fmt: skip
        made = plan(build, axes, builds=told["builds"], how=told["how"], seed=told["seed"], keep=tuple(told["keep"]))
    except (KeyError, TypeError) as error:
        raise ValueError(f"{folder.name}/{PLAN}: it does not hold a search ({error})") from None
    prepare(folder, made)
    return made


def _read_plan(folder: Path) -> dict[str, Any]:
    try:
        told = json.loads((folder / PLAN).read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise ValueError(f"{folder.name}/{PLAN}: it cannot be read ({error}); remove that folder") from None
    return told if isinstance(told, dict) else {}


def place(folder: Path, number: int) -> Path:
    """Where a chunk stands."""
    return folder / f"{number:05d}.npz"


def write(folder: Path, number: int, made: Piece, keep: tuple[str, ...]) -> None:
    """Save one chunk."""
    file = io.BytesIO()
    named = {f"kept{k}": made[name] for k, name in enumerate(keep)}
    np.savez(
        file, failed=made["failed"], unknown=made["unknown"], worst=made["worst"], governs=made["governs"], **named
    )
    write_atomically(place(folder, number), file.getvalue())


def read(folder: Path, number: int, keep: tuple[str, ...]) -> Piece:
    """One saved chunk. Raises ``ValueError`` where it is not there whole."""
    path = place(folder, number)
    try:
        with np.load(io.BytesIO(path.read_bytes()), allow_pickle=False) as file:  # a broken file is closed too
            found = {name: file[name] for name in ("failed", "unknown", "worst", "governs")}
            return found | {name: file[f"kept{k}"] for k, name in enumerate(keep)}
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
        said = "run the search again under the same name, and it is made anew"
        raise ValueError(f"{folder.name}/{path.name}: it cannot be read; {said}") from None


def whole(folder: Path, number: int, made: Plan) -> bool:
    """Whether a chunk is there and can be read."""
    if not place(folder, number).exists():
        return False
    _, start, end = made.chunks[number]
    try:
        found = read(folder, number, made.keep)
    except ValueError:
        return False
    return all(len(column) == end - start for column in found.values())


def _values(build: Build) -> list[Any]:
    told: list[Any] = []
    for path in declared():
        value = build.value(path)
        if isinstance(value, Curve):
            value = [value.x.tolist(), value.y.tolist()]
        told.append([path, value.tolist() if isinstance(value, np.ndarray) else value])
    return told


def _reviewed(build: Build) -> list[Any]:
    """The build's own review, rounded: another one means that the checks are other ones now."""
    found = sorted(review(build, figures=False).checks, key=lambda check: check.name)
    return [[check.name, *("" if s is None else f"{float(np.max(s)):.9g}" for s in (check.demand, check.capacity))]
            for check in found]  # fmt: skip


def _digest(told: Any) -> str:
    return hashlib.sha256(json.dumps(told, default=str).encode()).hexdigest()[:16]


__all__ = ["Alternatives", "describe", "place", "plan_in", "prepare", "read", "whole", "write"]
