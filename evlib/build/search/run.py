"""Runs a search, chunk by chunk: in a folder or in memory, here or on an engine that is already there."""

from __future__ import annotations

import contextlib
import functools
import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, Protocol

from evlib.build.review import load
from evlib.build.schema import Build
from evlib.build.search import store
from evlib.build.search.found import Found
from evlib.build.search.piece import Piece, piece
from evlib.build.search.plan import Plan

HERE = min(2, os.cpu_count() or 1)  # threads: arrays leave Python free, so two take about half the time; see benchmarks
AT_ONCE = 16  # chunks handed to an engine before looking at what came back: what is done is then saved

Progress = Callable[[Found], Any]


class Engine(Protocol):
    """What can work on chunks: an object with ``map`` and ``gather``, as the client of a Dask cluster has them."""

    def map(self, function: Any, /, *iterables: Any) -> Any:
        """Begin the function on each item."""

    def gather(self, futures: Any, /) -> Any:
        """The results, in the same order."""


def run(made: Plan, *, folder: Path | None = None, client: Engine | None = None,
        progress: Progress | None = None) -> Found:  # fmt: skip
    """Review every build of a plan that is not yet done, and give what was found.

    ``folder``: where each chunk is saved as soon as it is done; a search that was stopped or killed there goes on, and
    one that was begun with another plan or build is refused with ``ValueError``. Without it all stays in memory.
    ``client``: an engine with ``map`` and ``gather`` that works on the chunks instead of two threads here; the numbers
    are the same. ``progress(found)`` is called as it goes on. Where it returns False, or at an interrupt from the
    keyboard or the notebook's stop button, the search ends: what is done is kept and given, and ``found.complete`` is
    false.
    """
    load()
    if folder is not None:
        store.prepare(folder, made)
        for left in folder.glob(".*.part"):  # of a search that was killed while it wrote
            left.unlink(missing_ok=True)
    found = Found(made, folder)
    work = functools.partial(piece, made)
    todo = [number for number in range(len(made.chunks)) if number not in found.done]
    if client is not None:
        return _through(client, AT_ONCE, work, todo, found, progress)
    with ThreadPoolExecutor(HERE) as pool:
        return _through(_Threads(pool), 2 * HERE, work, todo, found, progress)


def _through(engine: Engine, width: int, work: Callable[[int], Piece], todo: Sequence[int], found: Found,
             progress: Progress | None) -> Found:  # fmt: skip
    with contextlib.suppress(KeyboardInterrupt):
        for start in range(0, len(todo), width):
            numbers = list(todo[start : start + width])
            for number, made in zip(numbers, engine.gather(engine.map(work, numbers)), strict=True):
                found.add(number, made)
            if progress is not None and progress(found) is False:
                break
    return found


class _Threads:
    """A pool of threads with the words of an engine."""

    def __init__(self, pool: ThreadPoolExecutor) -> None:
        self.pool = pool

    def map(self, function: Any, items: Any, /) -> Any:
        return [self.pool.submit(function, item) for item in items]

    def gather(self, futures: Any, /) -> Any:
        return [future.result() for future in futures]


def reload(folder: Path, build: Build) -> Found:
    """What a search in a folder has found so far. Raises ``ValueError`` where it was begun with another build."""
    return Found(store.plan_in(folder, build), folder)
