"""What the shafts lessons show, against sums made here by hand, and the drawings on every build that has a sleeve."""

import math
import re

import numpy as np
import pytest

from evlib.build import coupling
from evlib.build.file import find_build, read_build
from evlib.build.review import review
from evlib.build.view import View
from evlib.lesson import parts, shafts, shafts_more, shafts_pictures
from evlib.panels import shafts as shafts_panels

near = pytest.approx


@pytest.fixture(scope="module")
def van():
    return read_build(find_build("orchard_van"))


def row(shown, start):
    """The cells of the row that starts so, from the table as text."""
    line = next(line for line in repr(shown).splitlines() if line.startswith(start))
    return re.split(r"\s{2,}", line.strip())


def number(text):
    return float(re.match(r"[-\d.]+", text).group())


def test_key_and_spline_stand_on_one_footing(van):
    """One torque and one length in both columns; pressure by hand.

    Key 10 x 8 mm (ISO 773 over 30 to 38 mm, from memory) on 32.4 mm: 2 T / 0.0324 / (4 mm x Le). Spline: 2 T / 0.036 /
    (18 x 2 mm x Le).
    """
    shown = shafts.key_beside_spline(van)
    torque, length = (row(shown, name)[1:] for name in ("torque", "length"))
    assert torque[0] == torque[1] and length[0] == length[1]
    t, le = 1.2 * float(coupling.one_torque(View(van.parts))), 0.02124
    pressure = [number(cell) for cell in row(shown, "pressure")[1:]]
    assert pressure == near([2 * t / 0.0324 / (0.004 * le) / 1e6, 2 * t / 0.036 / (18 * 0.002 * le) / 1e6], rel=5e-3)
    assert pressure[0] / pressure[1] == near(10, rel=0.02)


def test_factors_multiply_to_what_the_check_has(van):
    """Dudley: Ka 1.2; Km 1 at 0.8 mm/m; Kw at 5e8 turns 0.7^0.699; Kf 0.5 at 1e5; fixed a ninth."""
    shown = shafts.factor_table(van)
    bare = number(row(shown, "pressure")[1])
    assert number(row(shown, "= flexible")[1]) == near(bare * 1.2 / 0.7 ** math.log10(5), rel=5e-3)
    assert number(row(shown, "= fixed")[1]) == near(bare * 1.2 / 0.5 / 9, rel=5e-3)


def test_dudleys_tables_are_shown_whole():
    text = repr(shafts.dudley_tables())
    for words in ("even (turbine, motor)", "8 mm/m", "10,000,000,000", "case hardened 58-63 HRC"):
        assert words in text


def test_the_lock_at_both_ends_of_its_luck(van):
    """Float free: 0.0705 mm of growth is less than 0.16 mm of float, nothing is pushed. No float free: mu T / rb."""
    shown = shafts.lock_table(van)
    by_hand = 0.12 * float(coupling.one_torque(View(van.parts))) / (0.018 * math.cos(math.radians(30)))
    assert number(row(shown, "pushed, none")[1]) == near(by_hand, rel=1e-3)
    assert number(row(shown, "pushed, all")[1]) == 0


def test_three_ways_lie_in_their_order(van):
    """All at their worst leaves least; measured, the tolerances (0.05 + 2 x 0.05 mm) are gone."""
    planned, measured = (row(shafts.gap_ways(van), f"as {name}") for name in ("planned", "measured"))
    worst, squares = number(planned[2]), number(planned[3])
    assert worst < squares
    assert number(measured[2]) - worst == near(0.15, abs=0.002)


def test_both_goodman_margins_stand_side_by_side(van):
    goodman = row(shafts_more.rules_table(van), "Goodman")
    assert number(goodman[3]) == near(1 / number(goodman[2]), rel=3e-3)
    assert number(goodman[2]) > number(goodman[1])


def test_dial_readings_are_angle_times_circle(van):
    shown = shafts_more.dial_limits(van)
    assert number(row(shown, "face: reading at")[2]) == near(0.8 * 0.180, rel=1e-3)
    assert number(row(shown, "face: reading from")[2]) == near(2.0 * 0.180, rel=1e-3)  # table IV: 1 in stays 1 at 0.002


def test_a_stub_costs_the_adapters_difference(van):
    """203.2 mm in place of 30 mm: 173.2 mm more shaft, and stiffness goes inversely with the length."""
    reaching, stub = (row(shafts_more.short_or_long(van), name) for name in ("this build", "stub input"))
    assert number(stub[2]) - number(reaching[2]) == near(173.2, abs=0.5)
    assert number(reaching[3]) / number(stub[3]) == near(293.2 / 120, rel=3e-3)


def test_a_stub_pulls_the_second_mode_down_and_hardly_the_first(van):
    """Second method: eigenvalues of J^-1 K of three inertias in a chain, k2 scaled by 120/293.2, made here by numpy."""
    c = coupling.chain(View(van.parts))
    rotor, third = float(c.rotor), float(c.gearbox_input)
    for start, length in (("this build", 120.0), ("stub input", 293.2)):
        k1, k2 = float(c.between), float(c.to_gearbox) * 120 / length
        stiff = np.array([[k1, -k1, 0], [-k1, k1 + k2, -k2], [0, -k2, k2]])
        found = np.sqrt(np.abs(np.sort(np.linalg.eigvals(stiff / np.array([[rotor], [rotor], [third]])).real)))
        modes = [number(cell) for cell in row(shafts_more.short_or_long(van), start)[-2:]]
        assert modes == near(found[1:] / (2 * math.pi), abs=0.6)


def test_an_overhung_machine_pulls_as_the_working_says(van):
    """80 kg x 9.81 x 0.2025 m on 8 bolts of a 180 mm circle: the worst of n bolts takes 4 M / (n Dc)."""
    shown = shafts_more.overhang_table(van)
    moment = 80 * 9.81 * 0.2025
    assert number(row(shown, "moment")[-1]) == near(moment, rel=3e-3)
    assert number(row(shown, "pull on the worst")[-1]) == near(4 * moment / (8 * 0.18), rel=3e-3)


def test_the_spline_panel_starts_where_the_checks_stand(van):
    """The panel works the sleeve out anew; at its start it must say what the review says, way by way."""
    panel = shafts_panels.spline_panel(van)
    found = panel.compute(**panel.start)
    used = dict(zip(found.modes, found.used, strict=True))
    made = {check.name: check.demand / check.capacity for check in review(van, topics=("shafts",)).checks}
    for mode, name in (("sleeve wall, tension", "sleeve burst"), ("compression, flexible", "spline compression"),
                       ("teeth, shear", "spline tooth shear"), ("shaft roots, shear", "spline roots")):  # fmt: skip
        assert used[mode] == near(made[name], rel=1e-6)


def test_a_shim_is_rounded_up_to_what_is_sold(van):
    assert "next thicker" in row(shafts.measured(van, "0.30 mm"), "verdict")[1]
    assert "next thicker" not in row(shafts.measured(van, "0.52 mm"), "verdict")[1]


def test_checks_by_name_are_shown_alone_and_the_others_counted(van):
    shown = repr(parts.checks(van, "shafts", "hub key", "pump drive"))
    assert "hub key" in shown and "pump drive" in shown and "axial lock" not in shown
    every = re.search(r"(\d+) checks of this topic", repr(parts.checks(van, "shafts")))[1]
    assert f"2 of {every} checks of this topic" in shown
    with pytest.raises(ValueError, match="No check of shafts is called hub kee"):
        parts.checks(van, "shafts", "hub kee")


def test_bending_costs_endless_life(van):
    """32 M / (pi d^3) at 35 mm: 100 N m make 23.8 MPa; more moment, less margin."""
    shown = shafts_more.bending_table(van, moments=(0.0, 100.0, 200.0))
    rows = [re.split(r"\s{2,}", line.strip()) for line in repr(shown).splitlines()[1:]]
    assert number(rows[1][1]) == near(32 * 100 / (math.pi * 0.035**3) / 1e6, rel=3e-3)
    margins = [number(cells[-1]) for cells in rows]
    assert margins == sorted(margins, reverse=True) and margins[0] > margins[2]


@pytest.mark.parametrize("name", ["orchard_van", "quarry_pickup"])
@pytest.mark.parametrize("draw", ["show_cutaway", "show_hub", "show_plate", "show_dials"])
def test_drawings_say_what_they_show(name, draw, monkeypatch):
    """Every drawing is made, has alternative text, a sentence and its sizes, in both units."""
    caught = {}
    monkeypatch.setattr(shafts_pictures, "show", lambda *given, **look: caught.update(given=given, look=look))
    getattr(shafts_pictures, draw)(read_build(find_build(name)))
    made, picture, twin = caught["given"]
    from evlib.figures import base

    figure, axes = base.figure(**{k: caught["look"][k] for k in ("size", "layout", "room") if k in caught["look"]})
    base.call_draw(made, picture, axes)
    assert len(base.png(figure)) < base.LARGEST_PNG
    assert len(twin.alt) > 60 and twin.sentence.endswith(".")
    assert all(cells[0] for cells in twin.table.rows)  # a row header may not be empty
    assert all(re.search(r"mm \([\d.]+ (in|thou)\)", cells[-1]) for cells in twin.table.rows)


def test_the_cutaway_has_the_builds_sizes(van, monkeypatch):
    caught = {}
    monkeypatch.setattr(shafts_pictures, "show", lambda *given, **look: caught.update(twin=given[2]))
    shafts_pictures.show_cutaway(van)
    sizes = {cells[0]: number(cells[-1]) for cells in caught["twin"].table.rows}
    assert sizes["Df"] - sizes["c far"] - sizes["c near"] == near(sizes["gap"], abs=0.006)
    assert sizes["c far"] - sizes["hs"] == near(sizes["c - hs"], abs=0.006)
    assert sizes["Lm"] == near((48 - 0.52) / 2 - 2, abs=0.006)


def test_the_panels_fully_warm_is_the_sum_of_the_lesson(van):
    """By hand: shafts 11.7e-6 x 115.68 mm x 90 K, frames 10.5e-6 x 40 mm x 45 K, ring 23e-6 x 76.2 mm x 45 K."""
    panel = shafts_panels.cut_panel(van)
    found = panel.compute(**panel.start)
    closed = 11.7e-6 * 115.68e-3 * 90 - 10.5e-6 * 40e-3 * 45 - 23e-6 * 76.2e-3 * 45
    assert found.final_gap == near(0.52e-3 - 2 * 0.08e-3 - closed, abs=1e-9)


def test_the_sleeve_has_the_stress_of_a_tube(van):
    """16 T D / (pi (D^4 - d^4)): 56 mm outside, bored to (18 + 1.8) x 2 mm at its roots."""
    panel = shafts_panels.line_panel(van)
    found = panel.compute(**panel.start)
    tube = 16 * found.torques[1] * 0.056 / (math.pi * (0.056**4 - 0.0396**4))
    assert found.stresses[1] == near(tube, rel=1e-9)
    assert found.stresses[0] == found.stresses[2] > 3 * found.stresses[1]
