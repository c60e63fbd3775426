"""The build as JSON: it fits its published schema, says what the build file says, and holds no number that is none."""

import copy
import json
import math
from pathlib import Path

import jsonschema
import pytest

from evlib.build.__main__ import main
from evlib.build.as_json import build_data, build_json, number
from evlib.build.file import find_build, parse_build, read_build
from evlib.build.json_schema import schema, schema_text
from evlib.build.schema import declared

PUBLISHED = Path(__file__).parents[2] / "data" / "schema" / "build_sheet.schema.json"
BUILDS = ("orchard_van", "quarry_pickup", "college_hatch")


def refuse(word):
    raise AssertionError(f"{word} is not JSON")


@pytest.fixture(scope="module")
def judge():
    return jsonschema.Draft202012Validator(json.loads(PUBLISHED.read_text(encoding="utf-8")))


@pytest.fixture(scope="module")
def van():
    text = build_json(read_build(find_build("orchard_van")), today="2026-11-25")
    return json.loads(text, parse_constant=refuse)


def test_the_published_schema_is_what_the_declarations_give():
    assert PUBLISHED.read_text(encoding="utf-8") == schema_text(), (
        "write it anew: python -m evlib.build schema -o data/schema/build_sheet.schema.json"
    )


def test_the_schema_is_a_schema():
    jsonschema.Draft202012Validator.check_schema(schema())
    assert set(schema()["properties"]["values"]["properties"]) == {p for p in declared() if not p.startswith("build.")}


@pytest.mark.parametrize("name", BUILDS)
def test_every_shipped_build_fits_the_schema(name, judge):
    data = json.loads(build_json(read_build(find_build(name))), parse_constant=refuse)
    assert [f"{e.json_path}: {e.message}" for e in judge.iter_errors(data)] == []
    assert sum(data["counts"].values()) == len(data["checks"])


def test_a_build_of_which_nothing_is_known_fits_too(judge):
    data = json.loads(build_json(parse_build('[build]\nname = "empty"\n')), parse_constant=refuse)
    assert list(judge.iter_errors(data)) == []
    assert data["values"] == {}
    assert data["counts"]["not known"] == len(data["checks"])
    assert all(check["demand"]["value"] is None and check["demand"]["reason"] for check in data["checks"])


BROKEN = {
    "mass below its limit": lambda d: d["values"]["vehicle.mass"].update(value=-1.0),
    "a text for a number": lambda d: d["values"]["vehicle.mass"].update(value="1650 kg"),
    "another unit": lambda d: d["values"]["vehicle.mass"].update(unit="lb"),
    "part of a cell": lambda d: d["values"]["pack.cells_in_series"].update(value=95.5),
    "an unknown choice": lambda d: d["values"]["machine.kind"].update(value="steam"),
    "an unknown origin": lambda d: d["values"]["vehicle.mass"].update({"from": "hearsay"}),
    "a value that no build has": lambda d: d["values"].update({"vehicle.wings": d["values"]["vehicle.mass"]}),
    "a verdict that there is not": lambda d: d["checks"][0].update(verdict="safe"),
    "null without a reason": lambda d: d["checks"][0].update(demand={"value": None, "unit": "N"}),
    "a number with a reason": lambda d: d["checks"][0].update(demand={"value": 1.0, "unit": "N", "reason": "?"}),
    "no working field": lambda d: d["checks"][0].pop("working"),
    "a word more": lambda d: d.update(approved=True),
    "a curve of one point": lambda d: d["values"]["pack.cell_open_voltage"]["value"].update(x=[0.5]),
}


@pytest.mark.parametrize("name", BROKEN)
def test_the_schema_refuses(name, van, judge):
    data = copy.deepcopy(van)
    BROKEN[name](data)
    assert list(judge.iter_errors(data))


def test_values_are_the_build_files_in_si(van):
    # beside each: what stands in data/builds/orchard_van.toml, turned into SI by hand
    found = {path: van["values"][path] for path in van["values"]}
    assert found["vehicle.mass"] == {
        "value": 1650.0, "unit": "kg", "as_given": "1650 kg", "from": "measured", "spread": None,
        "note": "public scale, driver aboard",
    }  # fmt: skip
    trip = found["protection.overspeed_trip.trip_speed"]  # "4600 rpm"
    assert trip["value"] == pytest.approx(4600 * 2 * math.pi / 60, rel=1e-12)
    assert (trip["unit"], trip["as_given"], trip["spread"]) == ("rad/s", "4600 rpm", 0.005)
    assert found["targets.hottest_air"]["value"] == pytest.approx(308.15)  # "35 °C"
    assert found["hydraulics.regulator.regulator_set"]["value"] == pytest.approx(750e3)  # "750 kPa"
    assert found["protection.pack_cable.conductor_area"]["value"] == pytest.approx(67.43e-6, rel=1e-3)  # 2/0, ASTM B258
    assert found["pack.cell_open_voltage"]["value"]["y"][-1] == 3.40
    assert found["gearbox.arrangement"] == {
        "value": "two-sun planetary", "unit": None, "as_given": "two-sun planetary", "from": None, "spread": None,
        "note": None,
    }  # fmt: skip


def test_checks_carry_demand_capacity_margin_and_working(van):
    checks = {check["name"]: check for check in van["checks"]}
    fuse = checks["fuse voltage"]  # 96 cells of 3.40 V full; the fuse is marked 500 V
    assert fuse["demand"] == {"value": pytest.approx(326.4), "unit": "V"}
    assert fuse["capacity"] == {"value": 500.0, "unit": "V"}
    assert fuse["margin"]["value"] == pytest.approx(500 / 326.4 - 1)
    assert fuse["verdict"] == "pass"
    assert {"pack.cells_in_series", "protection.fuse.fuse_voltage_rating"} <= set(fuse["needs"])
    assert checks["released clutch"]["margin"]["value"] is None
    assert "nothing is asked" in checks["released clutch"]["margin"]["reason"]
    assert all(check["working"] for check in van["checks"])
    wanting = [n for c in van["checks"] for n in c["working"]["numbers"].values() if not isinstance(n, str)]
    assert all(
        set(n) == ({"value", "unit"} if n["value"] is not None else {"value", "unit", "reason"}) for n in wanting
    )


def test_what_is_not_known_is_null_and_says_why(judge):
    data = build_data(parse_build('[vehicle]\nmass = { value = "900 kg", from = "guess", spread = "10 %" }\n'))
    assert data["values"]["vehicle.mass"]["spread"] == 0.1
    grip = next(check for check in data["checks"] if check["name"] == "grip")
    assert grip["verdict"] == "not known"
    assert "machine.rotor_inertia" in grip["demand"]["reason"]
    assert "machine.rotor_inertia" in grip["missing"]


@pytest.mark.parametrize(
    ("value", "reason"), [(math.inf, "infinite"), (-math.inf, "infinite, below zero"), (math.nan, "no number"),
                          (None, "not known")],
)  # fmt: skip
def test_a_number_that_is_none_has_its_reason(value, reason):
    assert number(value, "A") == {"value": None, "unit": "A", "reason": reason}
    assert number(4, "A") == {"value": 4.0, "unit": "A"}


def test_a_column_of_builds_is_refused():
    build = read_build(find_build("orchard_van")).changed({"vehicle.mass": [1600.0, 1700.0]})
    with pytest.raises(ValueError, match="one build at a time"):
        build_data(build)


def test_the_commands_write_both_files(tmp_path, capsys):
    out = tmp_path / "van.json"
    assert main(["json", "orchard_van", "-o", str(out)]) == 0
    assert json.loads(out.read_text(encoding="utf-8"))["build"]["name"] == "Orchard van"
    assert main(["json", "no_such_build", "-o", str(out)]) == 2
    assert main(["schema", "-o", str(tmp_path / "s.json")]) == 0
    assert (tmp_path / "s.json").read_text(encoding="utf-8") == schema_text()
    assert main(["json", "orchard_van", "-o", str(tmp_path / "no" / "van.json")]) == 2
    assert "cannot be written" in capsys.readouterr().err
