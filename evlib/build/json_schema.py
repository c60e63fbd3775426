"""The schema of a build's JSON (JSON Schema 2020-12), made from the declarations of quantities and checks."""

from __future__ import annotations

import json
import math
import typing
from typing import Any

from evlib.build.as_json import FORMAT, VERSION
from evlib.build.file import SOURCES, is_list
from evlib.build.registry import GROUPS
from evlib.build.review import TOPICS
from evlib.build.schema import curve_of, declared
from evlib.ground.checks import FAIL, MARGINAL, NOT_APPLICABLE, NOT_KNOWN, PASS, VERDICTS
from evlib.ground.quantity import Quantity, quantity_of

DIALECT = "https://json-schema.org/draft/2020-12/schema"
TEXT: dict[str, Any] = {"type": "string"}
TEXTS: dict[str, Any] = {"type": "array", "items": TEXT}


def schema_text() -> str:
    """The schema as JSON text, as it stands in ``data/schema/build_sheet.schema.json``."""
    return json.dumps(schema(), indent=1, ensure_ascii=False) + "\n"


def schema() -> dict[str, Any]:
    """The schema as plain data."""
    counts = {
        verdict: {"type": "integer", "minimum": 0} for verdict in (PASS, MARGINAL, FAIL, NOT_KNOWN, NOT_APPLICABLE)
    }
    return {
        "$schema": DIALECT,
        "title": "Build sheet of an electric conversion",
        "description": "One build and its review. All numbers are SI. It is arithmetic on the numbers given: not an "
        "approval.",
        **_object(
            format={"const": FORMAT}, format_version={"const": VERSION}, written_by=TEXT,
            worked_out_on={"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"},
            build=_object(name=TEXT, note=_maybe(TEXT), date=_maybe(TEXT), invented=_maybe({"type": "boolean"})),
            summary=TEXT, counts=_object(**counts),
            values={"type": "object", "additionalProperties": False, "properties": _values()},
            checks={"type": "array", "items": {"$ref": "#/$defs/check"}},
            figures={"type": "array", "items": {"$ref": "#/$defs/figure"}},
            not_reviewed=TEXTS,
        ),
        "$defs": {
            "number": _number(), "check": _check(), "working": _working(), "figure": _figure(), "stated": _stated(),
        },
    }  # fmt: skip


def _object(**fields: Any) -> dict[str, Any]:
    return {"type": "object", "additionalProperties": False, "required": list(fields), "properties": fields}


def _maybe(kind: dict[str, Any]) -> dict[str, Any]:
    return {"anyOf": [kind, {"type": "null"}]}


def _ref(name: str) -> dict[str, Any]:
    return {"$ref": f"#/$defs/{name}"}


def _number() -> dict[str, Any]:
    """A finite number, or null with a reason."""
    return {
        "description": "A number in SI with its unit ('' for a plain ratio); null with a reason where there is none.",
        "type": "object",
        "additionalProperties": False,
        "required": ["value", "unit"],
        "properties": {"value": _maybe({"type": "number"}), "unit": TEXT, "reason": {"type": "string", "minLength": 1}},
        "if": {"properties": {"value": {"type": "null"}}},
        "then": {"required": ["reason"]},
        "else": {"not": {"required": ["reason"]}},
    }


def _check() -> dict[str, Any]:
    made = _object(
        name=TEXT, topic={"enum": list(TOPICS)}, verdict={"enum": list(VERDICTS)}, demand=_ref("number"),
        capacity=_ref("number"), margin=_ref("number"), target_margin=_ref("number"), working=_maybe(_ref("working")),
        source=_maybe(TEXT), advice=_maybe(TEXT), needs=TEXTS, missing=TEXTS, reason=_maybe(TEXT),
    )  # fmt: skip
    return {"description": "Demand must not exceed capacity; margin is (capacity - demand) / |demand|.", **made}


def _working() -> dict[str, Any]:
    either = {"anyOf": [_ref("number"), TEXT]}
    return _object(
        equation=TEXT, numbers={"type": "object", "additionalProperties": either}, result=_maybe(either), text=TEXT
    )


def _figure() -> dict[str, Any]:
    return _object(name=TEXT, group={"enum": list(GROUPS)}, figure={"anyOf": [_ref("number"), TEXT]}, needs=TEXTS)


def _values() -> dict[str, Any]:
    """One entry for each value that a build can state, with its unit and limits."""
    return {path: _entry(path, hint) for path, hint in declared().items() if not path.startswith("build.")}


def _entry(path: str, hint: Any) -> dict[str, Any]:
    quantity, curve = quantity_of(hint), curve_of(hint)
    words = curve.text if curve else quantity.text if quantity else path.rsplit(".", 1)[-1].replace("_", " ")
    value = _curve(curve.x, curve.y) if curve else _value(hint, quantity)
    unit = {"const": quantity.unit if quantity and not curve else None}
    return {"description": words, "$ref": "#/$defs/stated", "properties": {"value": value, "unit": unit}}


def _stated() -> dict[str, Any]:
    """What stands beside every value: each path adds its own limits and unit to this."""
    spread = {"type": "number", "minimum": 0, "maximum": 1}
    origin = {"from": {"enum": [*SOURCES, None]}}
    made = _object(
        value=True, unit=_maybe(TEXT), as_given=_maybe(TEXT), **origin, spread=_maybe(spread), note=_maybe(TEXT)
    )
    return {"description": "A value as the build states it, and where it comes from.", **made}


def _curve(x: Quantity, y: Quantity) -> dict[str, Any]:
    points = {}
    for axis, quantity in (("x", x), ("y", y)):
        words = f"{quantity.text} [{quantity.unit or '1'}]"
        points[axis] = {"description": words, "type": "array", "minItems": 2, "items": _limits(quantity)}
    return _object(**points, source=TEXT)


def _value(hint: Any, quantity: Quantity | None) -> dict[str, Any]:
    if quantity is not None:
        one = _limits(quantity)
        return {"type": "array", "items": one} if is_list(hint) else one
    choices = [
        c for inner in (hint, *typing.get_args(hint)) if typing.get_origin(inner) is typing.Literal
        for c in typing.get_args(inner)
    ]  # fmt: skip
    if choices:
        return {"enum": choices}
    return {"type": "boolean"} if bool in (hint, *typing.get_args(hint)) else {"type": ["string", "array"]}


def _limits(quantity: Quantity) -> dict[str, Any]:
    bounds = {
        "minimum": quantity.low, "maximum": quantity.high, "exclusiveMinimum": quantity.above,
        "exclusiveMaximum": quantity.below,
    }  # fmt: skip
    kind = {"type": "number", "multipleOf": 1} if quantity.whole else {"type": "number"}
    return kind | {name: limit for name, limit in bounds.items() if math.isfinite(limit)}
