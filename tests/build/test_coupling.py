"""The coupling put together with its machines, and the drawings that leave the computer, read back and measured."""

import collections
import io
import math
import re

import ezdxf
import pytest

from evlib.build import coupling, drawings
from evlib.build.cut_card import cut_card, hub_card
from evlib.build.file import find_build, read_build
from evlib.build.line import torque_at_rest
from evlib.build.review import review
from evlib.build.view import View
from evlib.ground.errors import NotKnown
from evlib.shafts import vibration

near = pytest.approx


@pytest.fixture(scope="module")
def sound():
    return read_build(find_build("orchard_van"))


def check_of(build, name):
    """One check of the shafts topic on a build."""
    return next(c for c in review(build, topics=("shafts",), figures=False).checks if c.name == name)


@pytest.fixture(scope="module")
def plate(sound):
    """The adapter plate's drawing, read back from its text."""
    return ezdxf.read(io.StringIO(drawings.adapter_dxf(sound)))


def test_torque_of_the_line_is_that_of_the_machines(sound):
    b = View(sound.parts)
    line = coupling.line(b)
    assert line.gearbox_input == near(1.5 * torque_at_rest(b))
    assert line.sleeve == near(line.gearbox_input / 2)


def test_growth_goes_one_way_or_the_other(sound):
    """What does not grow toward the far machine grows toward the pump: the located bearing decides."""
    changed = sound.changed({"coupling.near_shaft.located_bearing": "far end"})
    before, after = View(sound.parts), View(changed.parts)
    assert coupling.closing(after).worst > coupling.closing(before).worst
    assert coupling.growth_to_pump(after) < coupling.growth_to_pump(before)


def test_a_locked_spline_pushes_though_a_gap_is_left(sound):
    """Force by hand: friction x torque / (pitch radius x cos 30); 18 teeth of 2 mm make a pitch radius of 18 mm."""
    found = check_of(sound, "axial lock")
    by_hand = 0.12 * float(coupling.one_torque(View(sound.parts))) / (0.018 * math.cos(math.radians(30)))
    assert found.demand == near(by_hand, rel=1e-6)
    assert float(coupling.closing(View(sound.parts)).worst) < 2 * 0.08e-3  # less than both floats: still it pushes


def test_the_check_has_the_mode_of_the_whole_chain(sound):
    """Against the eigenvalues of the three inertias: the gearbox input pulls the mode below that of two rotors."""
    b = View(sound.parts)
    c = coupling.chain(b)
    chain = vibration.torsional_modes(
        [c.rotor, c.rotor, c.gearbox_input], stiffnesses=[float(c.between), float(c.to_gearbox)]
    )  # fmt: skip
    assert check_of(sound, "torsional mode").capacity == near(float(chain.frequencies[1]), rel=1e-9)
    alone = vibration.two_mass_frequency(c.between, first_inertia=c.rotor, second_inertia=c.rotor)
    assert 0.9 * alone < coupling.first_mode(b) < alone


def test_planned_gap_carries_its_tolerances(sound):
    gap, tolerance, measured = coupling.cold_gap(View(sound.changed({"coupling.cut.measured_gap": None}).parts))
    assert not measured
    assert gap == near(0.0762 - 0.03785 - 0.03783)
    assert tolerance == near(0.05e-3 + 2 * 0.05e-3)


def test_plate_is_in_millimetres_on_its_layers(plate):
    assert plate.units == 4
    counts = collections.Counter(circle.dxf.layer for circle in plate.modelspace().query("CIRCLE"))
    assert counts == {"outline": 1, "pilot": 1, "machine_holes": 8, "gearbox_holes": 6}


@pytest.mark.parametrize(
    ("layer", "circle", "hole", "first"), [("machine_holes", 210.0, 10.5, 22.5), ("gearbox_holes", 270.0, 12.5, 0.0)]
)
def test_bolt_circles_measured_on_the_drawing(plate, layer, circle, hole, first):
    """Sizes as the build file states them: every hole on its circle, evenly round it, the first at its angle."""
    holes = [c for c in plate.modelspace().query("CIRCLE") if c.dxf.layer == layer]
    angles = sorted(math.degrees(math.atan2(c.dxf.center.y, c.dxf.center.x)) % 360 for c in holes)
    for c in holes:
        assert 2 * math.hypot(c.dxf.center.x, c.dxf.center.y) == near(circle, abs=1e-6)
        assert 2 * c.dxf.radius == near(hole, abs=1e-6)
    assert min(abs(a - first) for a in angles) < 1e-6
    steps = [(b - a) % 360 for a, b in zip(angles, angles[1:] + angles[:1], strict=True)]
    assert steps == near([360 / len(holes)] * len(holes), abs=1e-6)


def test_outline_and_pilot_measured_on_the_drawing(plate):
    sizes = {c.dxf.layer: 2 * c.dxf.radius for c in plate.modelspace().query("CIRCLE") if c.dxf.center.magnitude == 0}
    assert sizes == {"outline": near(300.0), "pilot": near(150.02)}


@pytest.mark.parametrize(
    ("change", "words"),
    [({"coupling.plate.gearbox_circle": 0.292}, "edge"), ({"coupling.plate.pilot_bore": 0.2005}, "edge"),
     ({"coupling.plate.gearbox_circle": 0.215, "coupling.plate.gearbox_first_hole": "7.5 deg"}, "run into each other")],
)  # fmt: skip
def test_a_plate_that_cannot_be_cut_is_refused(sound, change, words):
    with pytest.raises(ValueError, match=words):
        drawings.plate_cuts(sound.changed(change))


def test_side_view_is_to_scale(sound):
    """On the A4 page 1 to 10, 1371 mm of bare line measure 137.1 mm."""
    from evlib.figures.shafts import side_view_page
    from evlib.panels.shafts import side_result

    side = side_result(sound)
    page = side_view_page(side, title=sound.name)
    assert page.get_size_inches() * 25.4 == near([297, 210])
    axes = page.axes[0]
    dots = axes.transData.transform([(1000 * side.starts[1], 0), (1000 * side.total, 0), (0, 100), (0, 200)])
    per_mm = page.dpi / 25.4
    assert (dots[1][0] - dots[0][0]) / per_mm == near(137.12, abs=0.02)
    assert (dots[3][1] - dots[2][1]) / per_mm == near(10.0, abs=0.002)
    with pytest.raises(ValueError, match="does not fit"):
        side_view_page(side, scale=4)


def test_the_weight_of_the_boxes_is_that_of_the_line(sound):
    for name in ("orchard_van", "quarry_pickup", "college_hatch"):
        build = read_build(find_build(name))
        row = drawings.line_parts(build)
        assert sum(row.masses) == near(float(coupling.line_mass(View(build.parts))))
        assert row.starts[-1] + row.lengths[-1] == near(float(coupling.length(View(build.parts)).whole))


def test_cut_card_states_both_units_that_agree(sound):
    page = cut_card(sound)
    pairs = re.findall(r">([\d.]+) mm</td><td class=\"n\">([\d.]+) in<", page)
    assert len(pairs) == 11
    for millimetres, inches in pairs:
        assert float(millimetres) == near(25.4 * float(inches), abs=0.007)
    assert {("37.85", "1.4902"), ("37.83", "1.4894")} <= set(pairs)  # as the file states each shaft
    assert {("25.15", "0.9902"), ("25.13", "0.9894")} <= set(pairs)  # less the step of 12.70
    assert "never from the pack" in page and "http" not in page


def test_hub_card_leaves_the_clearance_wanted(sound):
    page = hub_card(sound)
    sizes = [float(v) for v in re.findall(r">([\d.]+) mm</td>", page)]
    depth, wanted, _, clearance, grown, float_, _ = sizes
    assert depth - wanted - grown - float_ == near(clearance, abs=0.011)


def test_a_card_without_its_numbers_says_which(sound):
    with pytest.raises(NotKnown, match="face_distance"):
        cut_card(sound.changed({"coupling.cut.face_distance": None}))
