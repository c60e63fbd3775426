"""A build filled in value by value: what is asked, how to find it out, and each answer saved at once or refused.

What a learner types goes to the build file and nowhere else; the file is read anew before every question and written
whole at every answer, so nothing is lost when the program that asked is gone.
"""

from __future__ import annotations

import dataclasses
import re
import tomllib
import typing
from pathlib import Path
from typing import Any, Literal

from evlib.build.file import SOURCES, BadBuild, blank, read_build, save_values
from evlib.build.schema import curve_of, declared
from evlib.ground import units
from evlib.ground.folder import folder, write_atomically
from evlib.ground.quantity import Quantity, quantity_of

Kind = Literal["number", "choice", "points", "words"]
NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}")
NUMBER = re.compile(r"[\d.,]+")
YES_NO = {"yes": True, "no": False}


@dataclasses.dataclass(frozen=True)
class Entry:
    """One value that a build can hold, as it is asked for, with what the file says of it now.

    ``options`` are the allowed words of a choice; ``typical`` is the usual span, in words; ``typed`` is the value as
    the file has it (empty: not known), ``source`` where it comes from.
    """

    path: str
    kind: Kind
    words: str
    symbol: str = ""
    unit: str = ""
    how: str = ""
    typical: str = ""
    options: tuple[str, ...] = ()
    typed: str = ""
    source: str = ""
    note: str = ""


def own_build(name: str) -> Path:
    """The learner's own build file of this name, made blank if it is not there. Raises ``ValueError``, ``OSError``."""
    if not NAME.fullmatch(name):
        raise ValueError(
            f"name: {name[:40]!r} was given; allowed: small letters, digits, - and _, at most 40, such as my_van"
        )
    path = folder() / "builds" / f"{name}.toml"
    path.parent.mkdir(exist_ok=True)
    if not path.exists():
        write_atomically(path, f"{blank()}\n")
        save_values(path, {"build.name": name.replace("_", " ").replace("-", " ")})
    return path


def entries(path: str | Path, *sections: str) -> tuple[Entry, ...]:
    """What the named parts of a build file can hold, in the file's order. Raises :class:`BadBuild`, ``ValueError``."""
    known = {place.rsplit(".", 1)[0] for place in declared()}
    for section in sections:
        if section not in known:
            raise ValueError(f"part: {section!r} was given; there are: {', '.join(sorted(known))}")
    build = read_build(path)
    raw = tomllib.loads(Path(path).read_bytes().decode("utf-8-sig"))
    return tuple(
        _entry(place, hint, raw, build.origins.get(place))
        for place, hint in declared().items()
        if place.rsplit(".", 1)[0] in sections
    )


def enter(path: str | Path, place: str, typed: str, *, source: str = "guess") -> Entry:
    """Save one answer in a build file; an empty one makes the value not known again.

    Returns the entry as the file has it now. Raises ``ValueError`` in one sentence, and then the file is as it was.
    """
    hints = declared()
    if place not in hints:
        raise ValueError(f"{place}: a build has no such value")
    if source not in SOURCES:
        raise ValueError(f"{place}: {source!r} was given as its source; allowed: {', '.join(SOURCES)}")
    entry = next(one for one in entries(path, place.rsplit(".", 1)[0]) if one.path == place)
    value = _value(entry, hints[place], " ".join(typed.split()) if entry.kind != "points" else typed.strip())
    if value is not None and _has_source(entry):
        value = {"value": value, "from": source} | ({"note": entry.note} if entry.note else {})
    try:
        save_values(path, {place: value})
    except BadBuild as error:
        raise ValueError(f"{entry.words}: {_only(error, entry)}") from None
    return next(one for one in entries(path, place.rsplit(".", 1)[0]) if one.path == place)


def _only(error: BadBuild, entry: Entry) -> str:
    """What a report says of one place, without its path; all of it where the mistake is elsewhere."""
    here = [problem.allowed for problem in error.problems if problem.field == entry.path]
    return "; ".join(reason.removeprefix(f"{entry.words}: ") for reason in here) or str(error)


def _has_source(entry: Entry) -> bool:
    """Words, and whether a part is there at all, are facts of their own."""
    return entry.kind != "words" and not entry.path.endswith((".fitted", ".invented"))


def _value(entry: Entry, hint: Any, typed: str) -> Any:
    """What the file is to hold for this answer. Raises ``ValueError``."""
    if not typed:
        return None
    if entry.kind == "choice":
        if typed not in entry.options:
            raise ValueError(f"{entry.words}: {typed[:40]!r} was given; allowed: {', '.join(entry.options)}")
        return YES_NO.get(typed, typed) if _is_bool(hint) else typed
    if entry.kind == "points":
        return _points(entry, hint, typed)
    quantity = quantity_of(hint)
    if quantity is not None:
        _wants_unit(quantity, typed, entry.words)
    return typed


def _wants_unit(quantity: Quantity, typed: str, words: str) -> None:
    """A file may hold a bare SI number; a person who types 450 for a pressure does not mean 450 pascals."""
    if quantity.kind in ("wire", "hose") and not NUMBER.fullmatch(typed):
        return  # 2/0 and dash 6 say their unit by themselves
    try:
        bare = not units.split(typed)[1]
    except ValueError as error:
        raise ValueError(f"{words}: {error}") from None
    if bare and quantity.shown_unit():
        if quantity.shown_unit() == "percent":  # 0.3 may be a share of 0.3 or 0.3 %
            raise ValueError(f"{words}: {typed} has no unit; write it in per cent, for example 30 %")
        raise ValueError(f"{words}: {typed} has no unit; write for example {typed} {quantity.shown_unit()}")


def _points(entry: Entry, hint: Any, typed: str) -> dict[str, Any]:
    """Lines such as ``20 %, 3.2 V`` as a curve's points."""
    curve = curve_of(hint)
    assert curve is not None  # an entry of this kind is a curve
    rows = [line for line in typed.splitlines() if line.strip()]
    pairs = [re.split(r"\s*[,;]\s+|\s*;\s*|\t", line.strip()) for line in rows]
    for number, pair in enumerate(pairs, 1):
        if len(pair) != 2:
            raise ValueError(f"{entry.words}: line {number}: {rows[number - 1][:40]!r}; wanted two values with a comma")
        for axis, text in zip((curve.x, curve.y), pair, strict=True):
            _wants_unit(axis, text, f"{entry.words}, line {number}, {axis.text}")
    return {"x": [pair[0] for pair in pairs], "y": [pair[1] for pair in pairs], "source": "typed in"}


def _entry(place: str, hint: Any, raw: dict[str, Any], origin: Any) -> Entry:
    quantity, curve = quantity_of(hint), curve_of(hint)
    kind, options = _kind(hint)
    words = place.rsplit(".", 1)[-1].replace("_", " ")
    fields: dict[str, Any] = {}
    if curve is not None:
        words = curve.text
        fields = {"how": curve.how, "unit": f"{_named(curve.x)}, {_named(curve.y)}"}
    elif quantity is not None:
        words = quantity.text
        typical = " to ".join(map(quantity.show, quantity.slider)) if quantity.slider else ""
        fields = {"symbol": quantity.symbol, "unit": quantity.shown_unit(), "how": quantity.how, "typical": typical}
    elif place.endswith(".fitted"):
        words = "does the vehicle have this part?"
    return Entry(
        place, kind, words, options=options, typed=_typed(raw, place),
        source=origin.source if origin else "", note=origin.note if origin else "", **fields,
    )  # fmt: skip


def _named(quantity: Quantity) -> str:
    """An axis of a curve with its unit: ``state of charge (%)``."""
    unit = quantity.shown_unit()
    return f"{quantity.text} ({unit})" if unit else quantity.text


def _kind(hint: Any) -> tuple[Kind, tuple[str, ...]]:
    if curve_of(hint) is not None:
        return "points", ()
    if quantity_of(hint) is not None:
        return "number", ()
    if _is_bool(hint):
        return "choice", tuple(YES_NO)
    choices = [str(choice) for inner in _flat(hint) if typing.get_origin(inner) is Literal
               for choice in typing.get_args(inner)]  # fmt: skip
    return ("choice", tuple(choices)) if choices else ("words", ())


def _is_bool(hint: Any) -> bool:
    return bool in (hint, *typing.get_args(hint))


def _flat(hint: Any) -> tuple[Any, ...]:
    """An annotation and what a union in it holds."""
    return (hint, *typing.get_args(hint))


def _typed(raw: dict[str, Any], place: str) -> str:
    """The value at a place as the file has it, or an empty text."""
    found: Any = raw
    for step in place.split("."):
        found = found.get(step) if isinstance(found, dict) else None
    if isinstance(found, dict) and "value" in found:
        found = found["value"]
    if found is None:
        return ""
    if isinstance(found, dict):
        return "\n".join(f"{x}, {y}" for x, y in zip(found["x"], found["y"], strict=True))
    return {True: "yes", False: "no"}[found] if isinstance(found, bool) else str(found)


def sections_of(*parts: str) -> tuple[str, ...]:
    """The named parts and every part inside them, in the file's order."""
    places = dict.fromkeys(place.rsplit(".", 1)[0] for place in declared())
    return tuple(place for place in places if any(place == one or place.startswith(f"{one}.") for one in parts))
