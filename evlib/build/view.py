"""A look at a build that records what is read, and says what is missing."""

from __future__ import annotations

import dataclasses
import functools
import typing
from collections.abc import Callable
from typing import Any, TypeVar

from evlib.build.schema import fields_of, part_of
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.ground.quantity import quantity_of
from evlib.ground.tables import middle

R = TypeVar("R")


@dataclasses.dataclass
class _Session:
    """What one review shares: derived results, what was read, what was missing."""

    probing: bool = False
    cache: dict[Any, tuple[Any, frozenset[str]]] = dataclasses.field(default_factory=dict)
    needs: list[set[str]] = dataclasses.field(default_factory=lambda: [set()])
    missing: dict[str, str] = dataclasses.field(default_factory=dict)


class View:
    """A build, or a part of it, as a check sees it: ``b.machine.winding_resistance``.

    Reading a value that the build does not state raises :class:`NotKnown`; reading from a part that is declared
    as not fitted raises :class:`DoesNotApply`. While probing, a missing value is noted and a typical one is given
    instead, so that one pass finds everything that is missing; what a probing pass computes is thrown away.
    """

    def __init__(self, thing: Any, *, kind: Any = None, path: str = "", session: _Session | None = None) -> None:
        self._thing, self._path, self._kind = thing, path, kind or type(thing)
        self._session = session or _Session()

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):
            raise AttributeError(name)
        hints = fields_of(self._kind)
        if name not in hints:
            raise AttributeError(f"{self._kind.__name__} has no field {name!r}")
        path = f"{self._path}.{name}" if self._path else name
        if name != "fitted" and getattr(self._thing, "fitted", True) is False:
            raise DoesNotApply(f"{self._path} is declared as not fitted")
        value = getattr(self._thing, name, None)
        inner = part_of(hints[name])
        if inner is not None:
            if getattr(value, "fitted", True) is False:
                raise DoesNotApply(f"{path} is declared as not fitted")
            return View(value, kind=inner, path=path, session=self._session)
        self._session.needs[-1].add(path)
        return value if value is not None else self._absent(path, hints[name])

    def _absent(self, path: str, hint: Any) -> Any:
        quantity = quantity_of(hint)
        how = quantity.how if quantity else ""
        self._session.missing[path] = how
        if not self._session.probing:
            raise NotKnown(path, how)
        if quantity is not None:
            return middle(quantity)
        choices = [c for inner in (hint, *typing.get_args(hint)) for c in _choices(inner)]
        if choices:
            return choices[0]
        raise NotKnown(path, how)

    def known(self, name: str) -> bool:
        """Whether the part states this value, and is fitted; the answer counts as read."""
        if getattr(self._thing, "fitted", True) is False or name not in fields_of(self._kind):
            return False
        self._session.needs[-1].add(f"{self._path}.{name}" if self._path else name)
        return getattr(self._thing, name, None) is not None


def derived(function: Callable[[View], R]) -> Callable[[View], R]:
    """Mark a function of a View whose result several checks use: computed once a review, its needs remembered."""

    @functools.wraps(function)
    def once(b: View) -> R:
        session = b._session
        if function not in session.cache:
            session.needs.append(set())
            try:
                value = function(b)
            finally:
                read = session.needs.pop()
                session.needs[-1] |= read
            session.cache[function] = (value, frozenset(read))
        value, read_before = session.cache[function]
        session.needs[-1] |= read_before
        return typing.cast(R, value)

    return once


def _choices(hint: Any) -> tuple[Any, ...]:
    if typing.get_origin(hint) is typing.Literal:
        return typing.get_args(hint)
    return (True,) if hint is bool else ()
