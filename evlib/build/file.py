"""The build file: read with every mistake in one report, written whole or not at all."""

from __future__ import annotations

import dataclasses
import difflib
import sys
import tomllib
import typing
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from evlib.build.schema import Build, Origin, Parts, curve_of, declared, fields_of, part_of
from evlib.ground.quantity import SPREAD, quantity_of

LARGEST = 1_000_000  # bytes; a build with every value and note stays far below
SOURCES = tuple(SPREAD)
NOTED = {"value", "from", "spread", "note"}
TRUE_FALSE = "true or false"


@dataclasses.dataclass(frozen=True)
class Problem:
    """One mistake in a build file: where, what was given, what is allowed."""

    field: str
    given: str
    allowed: str

    def __str__(self) -> str:
        given = f"{self.given} was given; " if self.given else ""
        return f"{self.field}: {given}{self.allowed}"


class BadBuild(ValueError):
    """A build file that cannot be used: holds every problem found, reads as one report."""

    def __init__(self, name: str, problems: list[Problem]) -> None:
        self.name, self.problems = name, problems
        count = f"{len(problems)} mistake" + ("s" if len(problems) > 1 else "")
        super().__init__(f"{name}: {count}\n" + "\n".join(f"  {problem}" for problem in problems))


def read_build(path: str | Path) -> Build:
    """Read a build file. Raises :class:`BadBuild` with every mistake in it."""
    path = Path(path)
    try:
        if path.stat().st_size > LARGEST:
            raise BadBuild(path.name, [Problem("file", f"{path.stat().st_size} bytes", f"at most {LARGEST} bytes")])
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadBuild(
            path.name, [Problem("file", f"byte {error.start} is not UTF-8", "save it as UTF-8 text")]
        ) from None
    except (OSError, ValueError) as error:
        if isinstance(error, BadBuild):
            raise
        what = getattr(error, "strerror", None) or str(error)
        raise BadBuild(path.name, [Problem("file", "", f"cannot be read: {what}")]) from None
    return parse_build(text, name=path.name)


def parse_build(text: str, *, name: str = "build") -> Build:
    """Read a build from text. Raises :class:`BadBuild` with every mistake in it."""
    if not text.strip():
        raise BadBuild(name, [Problem("file", "an empty file", "make a blank one with: python -m evlib.build blank")])
    try:
        raw = tomllib.loads(text)
    except RecursionError:
        raise BadBuild(
            name, [Problem("file", "brackets nested too deep", "a build has at most three levels")]
        ) from None
    except ValueError as error:  # TOMLDecodeError, and numbers too long for int()
        raise BadBuild(name, [Problem("file", "", f"is not TOML: {error}")]) from None
    problems: list[Problem] = []
    origins: dict[str, Origin] = {}
    parts = _part(raw, Parts, "", problems, origins)
    if problems:
        raise BadBuild(name, problems)
    return Build(parts, origins)


def _part(raw: dict[str, Any], kind: Any, path: str, problems: list[Problem], origins: dict[str, Origin]) -> Any:
    """One table of the file as a part; mistakes are gathered, not raised."""
    hints, values, before = fields_of(kind), {}, len(problems)
    for name, given in raw.items():
        where = f"{path}.{name}" if path else name
        if name not in hints:
            problems.append(Problem(where, "", _unknown(name, hints, path)))
            continue
        inner = part_of(hints[name])
        if inner is not None and isinstance(given, dict):
            values[name] = _part(given, inner, where, problems, origins)
        elif inner is not None:
            problems.append(Problem(where, _short(given), f"wanted a table: [{where}]"))
        else:
            values[name] = _value(given, hints[name], where, problems, origins)
    if len(problems) > before:
        return None
    try:
        return kind(**values)
    except ValueError as error:
        problems.append(Problem(path or "file", "", _reason(error)))
        return None


def _value(given: Any, hint: Any, where: str, problems: list[Problem], origins: dict[str, Origin]) -> Any:
    noted = given if isinstance(given, dict) and "value" in given else {"value": given}
    plain = noted["value"]
    origins[where] = _origin(noted, where, problems)
    quantity, curve = quantity_of(hint), curve_of(hint)
    try:
        if curve is not None:
            return curve.accept(plain)
        if quantity is not None and not is_list(hint):
            return quantity.accept(plain)
        return _other(plain, hint)
    except (ValueError, OverflowError) as error:
        problems.append(Problem(where, _short(plain), _reason(error)))
        return None


def is_list(hint: Any) -> bool:
    """Whether an annotation declares a list of values."""
    return any(typing.get_origin(inner) in (tuple, list) for inner in (hint, *typing.get_args(hint)))


def _other(value: Any, hint: Any) -> Any:
    """A value that is no single quantity: a choice, a word, yes or no, or a list. Raises ``ValueError``."""
    from pydantic import TypeAdapter

    choices = [c for inner in (hint, *typing.get_args(hint)) if typing.get_origin(inner) is typing.Literal
               for c in typing.get_args(inner)]  # fmt: skip
    if choices:
        if value not in choices:
            near = difflib.get_close_matches(str(value), map(str, choices), n=1)
            hint_text = f"; did you mean {near[0]!r}?" if near else ""
            raise ValueError(f"allowed: {', '.join(map(repr, choices))}{hint_text}")
        return value
    if bool in (hint, *typing.get_args(hint)) and not isinstance(value, bool):
        raise ValueError(f"allowed: {TRUE_FALSE}")
    return TypeAdapter(hint).validate_python(value, strict=not is_list(hint))


def _origin(noted: dict[str, Any], where: str, problems: list[Problem]) -> Origin:
    for key in noted.keys() - NOTED:
        problems.append(Problem(f"{where}.{key}", "", _unknown(key, dict.fromkeys(NOTED), where)))
    source = noted.get("from", "")
    if source and source not in SOURCES:
        problems.append(Problem(f"{where}.from", _short(source), f"allowed: {', '.join(SOURCES)}"))
    spread = noted.get("spread")
    if spread is not None:
        from evlib.ground import units

        try:
            spread = units.read(spread, "") if isinstance(spread, str) else float(spread)
            if not 0 <= spread <= 1 or isinstance(noted["spread"], bool):
                raise ValueError
        except (ValueError, TypeError, OverflowError):
            allowed = "a relative spread from 0 to 100 %, as '3 %'"
            problems.append(Problem(f"{where}.spread", _short(noted["spread"]), allowed))
            spread = None
    note = noted.get("note", "")
    if not isinstance(note, str):
        problems.append(Problem(f"{where}.note", _short(note), "wanted words in quotes"))
    return Origin(_short(noted["value"]), str(source), spread, str(note))


def _unknown(name: str, known: dict[str, Any], path: str) -> str:
    elsewhere = [place for place in declared() if place.split(".")[-1] == name]
    if elsewhere:
        return f"no such name here; it belongs at {elsewhere[0]}"
    near = difflib.get_close_matches(name, known, n=1)
    if near:
        return f"no such name; did you mean {near[0]!r}?"
    return f"no such name; known {'in ' + path if path else 'sections'}: {', '.join(known)}"


def _reason(error: Exception) -> str:
    from pydantic import ValidationError

    if isinstance(error, ValidationError):
        return "; ".join(item["msg"].removeprefix("Value error, ") for item in error.errors())
    return str(error)


def _short(value: Any) -> str:
    """What was given, short enough for a report."""
    try:
        text = value if isinstance(value, str) else repr(value)
    except ValueError:  # an integer with more digits than Python will print
        text = "a number with thousands of digits"
    text = "".join(c if c.isprintable() else "?" for c in text)
    return text if len(text) <= 60 else text[:57] + "..."


def save_values(path: str | Path, changes: Mapping[str, Any]) -> None:
    """Set values in a build file, keeping its comments and order; None removes a value.

    A value is what the file itself would hold: text, true or false, or a dict such as
    ``{"value": "1650 kg", "from": "guess"}``, which replaces what stood there, note and all. The new text is read back
    first: if it has a mistake, :class:`BadBuild` is raised and the file stays as it was.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    from evlib.ground.folder import write_atomically

    path = Path(path)
    read_build(path)  # a file that cannot be read is never written over
    try:
        document = tomlkit.parse(path.read_text(encoding="utf-8-sig"))
        for dotted, value in changes.items():
            _set(document, dotted.split("."), value)
        text = tomlkit.dumps(document)
    except TOMLKitError as error:
        raise BadBuild(path.name, [Problem("file", "", f"cannot be changed in place: {error}")]) from None
    parse_build(text, name=path.name)
    write_atomically(path, text)


def _set(document: Any, steps: list[str], value: Any) -> None:
    import tomlkit

    table = document
    for step in steps[:-1]:
        if step not in table:
            table[step] = tomlkit.table()
        table = table[step]
    old = table.get(steps[-1])
    if value is None:
        table.pop(steps[-1], None)
    elif isinstance(value, dict):
        table[steps[-1]] = tomlkit.inline_table()
        table[steps[-1]].update(value)
    elif isinstance(old, dict) and "value" in old:
        old["value"] = value
    else:
        table[steps[-1]] = value


def blank() -> str:
    """A build file with every value that it can hold, none of them filled in: each says how to get it."""
    lines = ["# A blank build. Remove the # before a line and fill in the value, with its unit.",
             '# Where it comes from may be added: mass = { value = "1400 kg", from = "measured", spread = "1 %" }',
             "# A part that the vehicle does not have is declared so: fitted = false"]  # fmt: skip
    section = ""
    for path, hint in declared().items():
        place, name = path.rsplit(".", 1)
        if place != section:
            lines += ["", f"[{place}]"]
            section = place
        lines.append(f"# {name} = {_blank_value(hint)}")
    return "\n".join(lines) + "\n"


def _blank_value(hint: Any) -> str:
    quantity, curve = quantity_of(hint), curve_of(hint)
    if curve is not None:
        return f"{{ x = [], y = [], source = '' }}  # {curve.text}" + (f"; {curve.how}" if curve.how else "")
    if quantity is not None:
        span = ""
        if quantity.slider:
            span = f"; typically {quantity.show(quantity.slider[0])} to {quantity.show(quantity.slider[1])}"
        how = f"; {quantity.how}" if quantity.how else ""
        return f'"{quantity.shown_unit()}"  # {quantity.text}{span}{how}'
    choices = [c for inner in (hint, *typing.get_args(hint)) if typing.get_origin(inner) is typing.Literal
               for c in typing.get_args(inner)]  # fmt: skip
    if choices:
        return " or ".join(f'"{choice}"' if isinstance(choice, str) else str(choice) for choice in choices)
    return TRUE_FALSE if bool in (hint, *typing.get_args(hint)) else '""'


def find_build(name: str) -> Path:
    """A build by name: a path, a file in the learner's folder, or one of the builds that come with the course.

    Raises :class:`BadBuild` in one sentence naming what there is.
    """
    from evlib.ground.folder import folder

    shipped = Path(sys.modules["evlib"].__file__ or "").resolve().parents[1] / "data" / "builds"
    places = [Path(name), folder() / "builds" / f"{name}.toml", shipped / f"{name}.toml"]
    for place in places:
        if place.suffix == ".toml" and place.is_file():
            return place
    there = sorted({p.stem for where in (folder() / "builds", shipped) if where.is_dir() for p in where.glob("*.toml")})
    near = difflib.get_close_matches(name, there, n=1)
    meant = f"; did you mean {near[0]}?" if near else ""
    raise BadBuild(name, [Problem("build", "", f"no build of that name; there are: {', '.join(there)}{meant}")])
