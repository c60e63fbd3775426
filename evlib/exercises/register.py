"""Where exercises are found: each topic's file declares ``EXERCISES = [...]``, and its id begins with the topic."""

from __future__ import annotations

import difflib
import functools
import importlib
import pkgutil
from types import MappingProxyType

import evlib.exercises
from evlib.exercises.base import Exercise


@functools.cache
def topics() -> tuple[str, ...]:
    """The names of the files in this folder that declare exercises."""
    names = (found.name for found in pkgutil.iter_modules(evlib.exercises.__path__))
    return tuple(name for name in names if hasattr(importlib.import_module(f"evlib.exercises.{name}"), "EXERCISES"))


@functools.cache
def of_topic(topic: str) -> MappingProxyType[str, Exercise]:
    """A topic's exercises by id. Raises ``ValueError`` where two share an id or one belongs elsewhere."""
    found: dict[str, Exercise] = {}
    for exercise in importlib.import_module(f"evlib.exercises.{topic}").EXERCISES:
        if exercise.id in found or exercise.topic != topic:
            raise ValueError(f"{exercise.id}: declared twice, or not in the file of its topic")
        found[exercise.id] = exercise
    return MappingProxyType(found)


def everything() -> tuple[Exercise, ...]:
    """Every exercise of every topic."""
    return tuple(exercise for topic in topics() for exercise in of_topic(topic).values())


def find(name: str) -> Exercise:
    """The exercise with this id. Raises ``LookupError`` with one sentence that names near ones."""
    topic = str(name).partition(".")[0]
    if topic in topics() and name in of_topic(topic):
        return of_topic(topic)[name]
    known = [exercise.id for exercise in (of_topic(topic).values() if topic in topics() else everything())]
    near = difflib.get_close_matches(str(name), known, n=3, cutoff=0.5)
    hint = f"; near it: {', '.join(near)}" if near else ""
    raise LookupError(f"There is no exercise {str(name)[:40]!r}{hint}.")
