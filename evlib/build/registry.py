"""Where checks and stated figures are registered, and how one is worked out on a build."""

from __future__ import annotations

import contextlib
import dataclasses
from collections.abc import Callable
from typing import Any

from evlib.build.view import View, _Session
from evlib.ground.checks import Check, not_applicable, not_known
from evlib.ground.errors import DoesNotApply, NotKnown


@dataclasses.dataclass(frozen=True)
class CheckSpec:
    """A registered check: its name, its topic and the function that makes it."""

    name: str
    topic: str
    make: Callable[[View], Check]


@dataclasses.dataclass(frozen=True)
class StatedSpec:
    """A registered figure of the sheet: its name, the group it stands in, its SI unit and the function."""

    name: str
    group: str
    unit: str
    make: Callable[[View], Any]


@dataclasses.dataclass(frozen=True, eq=False)
class Stated:
    """A figure that the sheet states: a value in SI (or words), or why it is not known."""

    name: str
    group: str
    value: Any
    unit: str
    needs: tuple[str, ...] = ()
    reason: str = ""


CHECKS: dict[str, CheckSpec] = {}
STATED: dict[str, StatedSpec] = {}
GROUPS = ("Predicted figures", "Cut plan", "Pump and switch settings", "Parking and reverse", "Protections")


def check(name: str, *, topic: str) -> Callable[[Callable[[View], Check]], Callable[[View], Check]]:
    """Register a function of a View that makes a Check. The name is the check's name, used once."""

    def register(make: Callable[[View], Check]) -> Callable[[View], Check]:
        if name in CHECKS and CHECKS[name].make.__module__ != make.__module__:
            raise ValueError(f"check {name!r} is declared twice")
        CHECKS[name] = CheckSpec(name, topic, make)
        return make

    return register


def stated(name: str, *, group: str, unit: str = "") -> Callable[[Callable[[View], Any]], Callable[[View], Any]]:
    """Register a function of a View that gives a figure (or words) for a group of the sheet."""
    if group not in GROUPS:
        raise ValueError(f"group: {group!r}; allowed: {', '.join(GROUPS)}")

    def register(make: Callable[[View], Any]) -> Callable[[View], Any]:
        STATED[name] = StatedSpec(name, group, unit, make)
        return make

    return register


def evaluate(spec: CheckSpec, b: View) -> Check:
    """Make one check on a build; what is missing or not fitted becomes part of the answer."""
    made, needs, missing, reason = _attempt(spec.make, b)
    if isinstance(made, Check):
        return dataclasses.replace(made, name=spec.name, topic=spec.topic, needs=needs)
    if missing is None:
        return not_applicable(spec.name, topic=spec.topic, reason=reason)
    return dataclasses.replace(not_known(spec.name, topic=spec.topic, missing=missing, reason=reason), needs=needs)


def state(spec: StatedSpec, b: View) -> Stated:
    """Work out one stated figure on a build."""
    made, needs, missing, reason = _attempt(spec.make, b)
    if made is None and missing:
        reason = "needs " + ", ".join(missing)
    return Stated(spec.name, spec.group, made, spec.unit, needs, reason)


def _attempt(make: Callable[[View], Any], b: View) -> tuple[Any, tuple[str, ...], tuple[str, ...] | None, str]:
    """(result, needs, missing, reason); missing is None where the question does not apply."""
    session = b._session
    session.needs.append(set())
    try:
        return make(b), tuple(sorted(session.needs[-1])), (), ""
    except NotKnown:
        missing = _everything_missing(make, b)
        return None, tuple(sorted(session.needs[-1] | set(missing))), missing, ""
    except DoesNotApply as error:
        return None, tuple(sorted(session.needs[-1])), None, error.why
    except ValueError as error:  # outside a table, or values that contradict each other: not known, and says why
        return None, tuple(sorted(session.needs[-1])), ("a value within range",), str(error)
    finally:
        del session.needs[1:]


def _everything_missing(make: Callable[[View], Any], b: View) -> tuple[str, ...]:
    """Probe with typical values to name every missing value at once; what it computes is thrown away."""
    probe = View(b._thing, kind=b._kind, session=_Session(probing=True))
    with contextlib.suppress(Exception):  # placeholders may not fit together; what was noted so far still counts
        make(probe)
    return tuple(sorted(probe._session.missing))
