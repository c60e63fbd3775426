"""What the lesson on choosing calls: the bar, saved searches, tables, and both panels on any build."""

import _thread
import math
import re

import numpy as np
import pytest

from evlib.build.file import find_build, read_build
from evlib.build.review import review
from evlib.build.schema import Build, Parts
from evlib.build.search.trade_map import LEVELS
from evlib.ground.checks import FAIL
from evlib.lesson import trade
from evlib.panels import markup
from evlib.panels.trade import front_panel, trade_map

VAN, HATCH, PICKUP = (read_build(find_build(name)) for name in ("orchard_van", "college_hatch", "quarry_pickup"))
AXES = {"final_drive.final_drive_ratio": ("3.2", "4.6"), "controller.motor_current_limit": ("450 A", "700 A")}


@pytest.fixture
def mine(tmp_path, monkeypatch):
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path))
    return tmp_path


@pytest.fixture
def shown(monkeypatch):
    """What a kernel is asked to display, in order."""
    import IPython.display

    told = []
    monkeypatch.setattr(markup, "in_kernel", lambda: True)
    monkeypatch.setattr(IPython.display, "display", lambda data, **more: told.append((data, more)))
    return told


# --- a search -------------------------------------------------------------------------------------------------------


def test_a_search_says_what_it_found_and_never_that_a_build_passes(capsys):
    found = trade.search(VAN, AXES, builds=300)
    said = capsys.readouterr().out
    good = int(found.feasible.sum())
    assert said.startswith(f"Reviewed 300 builds. On {good} of them ({good / 3:.1f} %) no check fails. What fails most")
    assert "pass" not in said and "safe" not in said


def test_the_bar_moves_and_leaves_what_stood_there_first(shown):
    trade.search(VAN, AXES, builds=30_000, keep=())
    marks = {more["display_id"] for _, more in shown}
    assert len(marks) == 1 and len(shown) > 3
    assert [more["update"] for _, more in shown] == [False] + [True] * (len(shown) - 1)
    assert shown[0][0] == shown[-1][0], "a saved lesson compares what was shown first with what stands there in the end"
    values = [int(re.search(r'value="(\d+)" max="30000"', data["text/html"])[1]) for data, _ in shown[1:-1]]
    assert values == sorted(values) and values[0] > 0 and values[-1] == 30_000
    assert all('aria-label="builds reviewed"' in data["text/html"] for data, _ in shown[1:-1])


def test_a_stopped_search_says_so_and_goes_on_under_its_name(mine, monkeypatch, capsys):
    moved = trade._Bar.moved
    monkeypatch.setattr(trade._Bar, "moved", lambda self, found: _thread.interrupt_main())
    part = trade.search(VAN, AXES, builds=20_000, keep=(), name="first_look")
    assert "of 20,000: stopped, and what is done is kept" in capsys.readouterr().out
    monkeypatch.setattr(trade._Bar, "moved", moved)
    assert trade.reload(VAN, "first_look").count == part.count
    whole = trade.search(VAN, AXES, builds=20_000, keep=(), name="first_look")
    assert whole.complete and 0 < part.count < whole.count
    assert (mine / "searches" / "first_look" / "plan.json").exists()


@pytest.mark.parametrize("name", ["../x", "A b", "", "x" * 41, "ä"])
def test_a_bad_name_is_refused(mine, name):
    with pytest.raises(ValueError, match=r"name: .* was given; allowed: small letters"):
        trade.reload(VAN, name)


def test_tables_tell_what_fails_the_front_and_the_driven_builds():
    found = trade.search(VAN, AXES, builds=500)
    one = trade.front(found)
    rows = trade.along(one, 3)
    assert rows[0] == one.rows[0] and rows[-1] == one.rows[-1] and len(set(rows)) == len(rows)
    first = str(trade.fails(found)).splitlines()[1]
    assert first.startswith(found.fails()[0].check)
    table = str(trade.front_table(found, one))
    assert table.splitlines()[-1].startswith("as it is") and "600 A" in table.splitlines()[-1]
    driven = str(trade.driven(found, rows[:1]))
    assert re.search(rf"^{rows[0]} +\d\.\d\d s +\d\d\.\d\d s +\d+ Wh/km +\d+ km \(\d+ mi\) +yes +none", driven, re.M)


def test_a_search_on_a_build_of_which_little_is_known_still_runs():
    bare = Build(Parts(vehicle=VAN.parts.vehicle, targets=VAN.parts.targets))
    found = trade.search(bare, {"vehicle.mass": None, "vehicle.grip": None}, builds=20)
    assert found.complete and np.isnan(found.column("top speed")).all()
    with pytest.raises(ValueError, match="no build of this search has a number for both"):
        front_panel(bare, found)


# --- the map --------------------------------------------------------------------------------------------------------


def at(panel, x, y, which="time to the target speed", how="compute"):
    first, second, _ = panel.controls
    return getattr(panel, how)(**{first.name: x, second.name: y, "result": which})


def test_the_point_of_the_map_is_a_review_of_its_own():
    panel = trade_map(VAN, {"final_drive.final_drive_ratio": (2.5, 6.0), "vehicle.mass": ("1400 kg", "2400 kg")})
    for x, y in ((3.7, 1650.0), (5.9, 1500.0), (2.6, 2350.0)):
        case = at(panel, x, y)
        alone = review(VAN.changed({"final_drive.final_drive_ratio": x, "vehicle.mass": y}))
        assert set(case.failed) == {check.name for check in alone.checks if check.verdict == FAIL}
        assert case.value == next(f.value for f in alone.stated if f.name == "time to the target speed")
        lowest = min(check.margin for check in alone.checks if check.margin is not None and check.name in
                     case.picture.moving)  # fmt: skip
        assert case.governing[0][1] == pytest.approx(lowest, rel=1e-9) and case.exact


def test_while_it_is_dragged_the_nearest_build_of_the_map_stands_for_the_point():
    panel = trade_map(VAN)
    case = at(panel, 3.7, 600.0, how="coarse")
    x, y = case.picture.x, case.picture.y
    nearest = {"final_drive.final_drive_ratio": float(x[np.argmin(abs(x - 3.7))]),
               "controller.motor_current_limit": float(y[np.argmin(abs(y - 600))])}  # fmt: skip
    alone = review(VAN.changed(nearest))
    assert set(case.failed) == {check.name for check in alone.checks if check.verdict == FAIL}
    assert case.value == pytest.approx(next(f.value for f in alone.stated if f.unit == "s" and "target" in f.name))
    assert not case.exact and panel.say(case).sentence.startswith("Near here: ")
    assert str(LEVELS) in panel.coarse_note


def test_the_shaded_region_is_where_none_of_the_checks_fails_that_can_be_mended_here():
    panel = trade_map(PICKUP, {"controller.motor_current_limit": (200, 1300), "final_drive.final_drive_ratio": (3, 6)})
    picture = at(panel, 900.0, 4.1).picture
    assert "brush advance" in picture.never and "launch in low" not in picture.never
    for row, column in ((0, 0), (20, 20), (40, 3), (7, 40)):
        here = {picture.across: float(picture.x[column]), picture.up: float(picture.y[row])}
        made = review(PICKUP.changed(here), figures=False).checks
        failing = {check.name for check in made if check.verdict == FAIL}
        assert set(picture.never) <= failing
        assert bool(failing - set(picture.never)) == bool(picture.worst[row, column] < 0)
    for name in picture.limits:
        assert (picture.margins[name] < 0).any() and (picture.margins[name] >= 0).any()


def test_a_limit_lies_where_a_finer_sweep_of_one_quantity_has_it():
    from contourpy import contour_generator

    panel = trade_map(VAN, {"final_drive.final_drive_ratio": (3.0, 5.5), "controller.motor_current_limit": (400, 700)})
    picture = at(panel, 3.7, 600.0).picture
    line = contour_generator(picture.x, picture.y, picture.margins["grip"]).lines(0.0)[0]
    amps = np.linspace(300.0, 800.0, 2001)
    for x, y in line[2:-2:8]:
        swept = VAN.changed({picture.across: float(x), picture.up: amps})
        met = review(swept, topics=("gearing",), figures=False).check("grip").margin >= 0
        assert y == pytest.approx(amps[met].max(), rel=2e-3)


def test_a_map_of_a_build_with_one_machine_and_no_gearbox():
    panel = trade_map(HATCH)
    assert [control.path for control in panel.controls[:2]] == ["final_drive.final_drive_ratio", "vehicle.mass"]
    assert math.isfinite(at(panel, 5.8, 1200.0).value)


@pytest.mark.parametrize(("spans", "said"), [
    ({"vehicle.mass": None}, "map: 1 quantities were given; allowed: two"),
    ({"vehicle.mass": None, "gearbox.ring_teeth": None}, r"gearbox\.ring_teeth: it takes no value between two others"),
    ({"vehicle.mass": None, "machine.kind": None}, r"machine\.kind: it takes no value between two others"),
    ({"vehicle.mass": None, "vehicle.wheels": None}, r"vehicle\.wheels: no such value in a build"),
    ({"vehicle.mass": (2000, 1000), "vehicle.grip": None}, "from 2000 kg to 1000 kg was given; allowed: rising"),
    ({"vehicle.mass": "1500 kg", "vehicle.grip": None}, "allowed: None, or a pair of ends"),
    ({"vehicle.mass": ("1 m", "2 m"), "vehicle.grip": None}, r"vehicle\.mass: "),
])  # fmt: skip
def test_what_is_wrong_with_a_map_is_said(spans, said):
    with pytest.raises(ValueError, match=said) as caught:
        trade_map(VAN, spans)
    assert "\n" not in str(caught.value)


def test_a_map_of_a_build_of_which_little_is_known_says_so():
    panel = trade_map(Build(Parts(vehicle=VAN.parts.vehicle)))
    case = panel.compute(**panel.start)
    assert case.value is None and panel.say(case).table.rows[0][1] == "not known"


# --- the front ------------------------------------------------------------------------------------------------------


def test_the_front_panel_walks_along_the_searchs_front():
    found = trade.search(VAN, AXES, builds=600)
    one = trade.front(found)
    panel = front_panel(VAN, found, aims=trade.AIMS, kept=trade.along(one, 2))
    assert [control.name for control in panel.controls] == ["place"]
    ends = [panel.compute(place=place) for place in (0.0, 1.0)]
    assert [case.row for case in ends] == [one.rows[0], one.rows[-1]] == trade.along(one, 2)
    assert f"Build {one.rows[0]}: " in panel.say(ends[0]).sentence
    assert (
        dict(zip([r[0] for r in panel.say(ends[0]).table.rows], panel.say(ends[0]).table.rows, strict=True))[
            "checks that fail"
        ][1]
        == "none"
    )


def test_the_front_panel_offers_every_pair_of_aims():
    found = trade.search(VAN, AXES, builds=200)
    aims = {"time to the target speed": "least", "top speed": "most", "smallest margin": "most"}
    panel = front_panel(VAN, found, aims=aims)
    assert len(panel.controls[1].options) == 3
    with pytest.raises(ValueError, match="aims: 1 were given"):
        front_panel(VAN, found, aims={"top speed": "most"})
