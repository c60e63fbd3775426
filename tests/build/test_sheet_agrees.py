"""The sheet's pages agree: one number for each size, no setting and no band past what another page allows unsaid."""

import html
import re

import pytest

from evlib.build.changes import changed_by, changes_of, made_on, title
from evlib.build.commissioning import card
from evlib.build.cut_card import cut_body, stops
from evlib.build.file import find_build, read_build
from evlib.build.review import review
from evlib.build.schema import Build
from evlib.build.sheet import sheet
from evlib.build.sheet.listed import changed, groups, sections
from evlib.build.sheet.owner import handbrake_short
from evlib.build.sheet.page import drawn
from evlib.build.sheet.pictures import joint_drawing
from evlib.build.sheet.settings import hydraulic_card, protections_card
from evlib.build.sheet.summary import summary
from evlib.build.sheet.upkeep import parts_list
from evlib.build.view import View
from evlib.ground import units

PICKUP = read_build(find_build("quarry_pickup"))
REPAIRED = changed_by(PICKUP, changes_of("quarry_pickup")).changed(
    {"final_drive.final_drive_ratio": 3.75, "controller.motor_current_limit": "515 A"}
)
BUILDS = {"van": read_build(find_build("orchard_van")), "pickup": PICKUP, "repaired": REPAIRED}
EACH = pytest.mark.parametrize("build", BUILDS.values(), ids=BUILDS)


def first(text: str, unit: str) -> float:
    """The SI value that a cell begins with."""
    return float(units.read(text.split(" (")[0], unit))


# --- the cut -------------------------------------------------------------------------------------------------------
@EACH
def test_every_page_that_names_a_cut_line_says_the_same_number(build: Build):
    card_text, drawing = html.unescape(" ".join(cut_body(build))), drawn(joint_drawing, build)
    figures = dict(dict(groups(review(build)))["Cut plan"])
    for side in ("far", "near"):
        length = build.value(f"coupling.{side}_shaft.cut_length")
        step = length - build.value(f"coupling.{side}_shaft.step_height")
        for place, size in (("face", length), ("step", step)):
            wanted = f"{1000 * size:.2f} mm"  # as the build file states it, to a hundredth
            row = rf"{side.capitalize()} shaft, from the {place}</th><td class=\"n\">([^<]*)<"
            assert re.search(row, card_text)[1] == wanted
            assert figures[f"cut line, {side} shaft, from the {place}"].startswith(f"{wanted} (")
        assert f">{1000 * length:.2f}</text>" in drawing.svg
        put_in = {label: text for label, text, _ in dict(sections(build))[f"coupling.{side}_shaft"]}
        assert put_in["shaft left standing from the face after the cut"].startswith(f"{1000 * length:.2f} mm")


def test_the_changes_leave_the_plan_and_what_was_measured_alike():
    # By hand from the file: faces 76.20 mm apart, near shaft 37.83, far shaft cut again to 37.22.
    assert pytest.approx(1.15) == 76.20 - 37.83 - 37.22
    assert REPAIRED.value("coupling.cut.measured_gap") == pytest.approx(1.15e-3)
    assert stops(View(REPAIRED.parts)) == []
    page = " ".join(cut_body(REPAIRED))
    assert "a gap of 1.15 mm" in page and "cut nothing more off it" in page


def test_a_prohibition_stands_boxed_above_the_lines_and_on_the_first_page():
    old_plan = REPAIRED.changed({"coupling.far_shaft.cut_length": "37.85 mm"})  # plans 0.52 where 1.15 was measured
    for build, words in ((PICKUP, "less than it must be"), (old_plan, "1.15 mm was measured on the pair")):
        page = " ".join(cut_body(build))
        assert page.index('class="stop"') < page.index("Cut lines (the finished end)")
        assert words in page
        assert any(words in each for each in summary(build, review(build))["stops"])
        assert "Do not cut" in drawn(joint_drawing, build).sentence
    assert summary(BUILDS["van"], review(BUILDS["van"]))["stops"] == []


# --- settings and bands ----------------------------------------------------------------------------------------------
LIMITS = (  # a setting, the line that bounds it, and on which side it must lie
    ("Electric pump on below (gearbox input)", "the same, at the least", 1),
    ("Electric pump off above", "Electric pump on below (gearbox input)", 1),
    ("Pressure switch set to", "what launch needs", 1),
    ("Motor current set for launch in low", "pressure at rest allows in low", -1),
    ("Motor current set for launch in reverse", "pressure at rest allows in reverse", -1),
    ("Motor current set for launch in low", "Motor current limit of the controller", -1),
    ("Precharge wait set to", "precharge needs", 1),
    ("it is detected in", "Over-speed must be detected within", -1),
)
WRONG = {
    "hydraulics.switch.switch_on_speed": "300 rpm",
    "hydraulics.switch.switch_off_speed": "250 rpm",
    "hydraulics.switch.inhibit_pressure": "900 kPa",
    "hydraulics.launch.launch_current_reverse": "590 A",
    "protection.precharge.precharge_wait": "0.2 s",
    "protection.overspeed_trip.detection_delay": "0.5 s",
    "protection.overspeed_trip.trip_speed": "6000 rpm",
}


@pytest.mark.parametrize("build", [*BUILDS.values(), BUILDS["van"].changed(WRONG)], ids=[*BUILDS, "all wrong"])
def test_no_setting_lies_past_what_the_sheet_allows_without_a_note(build: Build):
    b = View(build.parts)
    rows = {row.what: row for row in (*hydraulic_card(b)[0].rows, *protections_card(b).rows)}
    unit = {"rpm": "rad/s", "kPa": "Pa", "ms": "s"}
    for setting, limit, side in LIMITS:
        of = rows[setting].text.split()[1]
        is_set, bound = (first(rows[name].text, unit.get(of, of)) for name in (setting, limit))
        said = any(word in rows[setting].note for word in ("TOO LOW", "TOO HIGH", "own limit is lower"))
        if side * (is_set - bound) < -1e-6 * abs(bound):
            assert said, setting


def test_wrong_settings_are_named_and_right_ones_are_not():
    b = View(BUILDS["van"].changed(WRONG).parts)
    rows = {row.what: row.note for row in (*hydraulic_card(b)[0].rows, *protections_card(b).rows)}
    assert sum("TOO" in note for note in rows.values()) == len(WRONG)
    b = View(BUILDS["van"].parts)
    assert not any("TOO" in row.note for row in (*hydraulic_card(b)[0].rows, *protections_card(b).rows))


@pytest.mark.parametrize("build", BUILDS.values(), ids=BUILDS)
def test_no_band_reaches_below_what_drive_needs(build: Build):
    b = View(build.parts)
    rows = {row.what: row.text for row in hydraulic_card(b)[0].rows}
    least = max(first(rows["what launch needs"], "Pa"), first(rows["Pressure switch set to"], "Pa"))
    lines = [line for line in card(b)[0] if line.task.startswith("Pressure, selector in")]
    assert len(lines) == 4
    for line in lines:
        assert line.low >= least * 0.999 and line.high > line.low  # cells show three figures
    handover = next(line for line in card(b)[0] if line.task.startswith("Handover"))
    assert handover.low >= first(rows["Electric pump on below (gearbox input)"], "rad/s") * 0.999


def test_a_pressure_that_does_not_suffice_is_said_on_its_line():
    lines = [line for line in card(View(PICKUP.parts))[0] if line.task.startswith("Pressure, selector in low")]
    assert "mend it first" in lines[0].stop_if
    lines = [line for line in card(View(REPAIRED.parts))[0] if line.task.startswith("Pressure, selector in low")]
    assert "mend it first" not in lines[0].stop_if


# --- what was changed ------------------------------------------------------------------------------------------------
def test_a_changed_build_is_told_from_the_one_it_was_made_from():
    assert title(PICKUP) == "Quarry pickup" and title(REPAIRED) == "Quarry pickup, changed"
    page = sheet(REPAIRED, today="2026-11-30")
    assert "it does not come out yet" not in page and "it does not come out yet" in sheet(PICKUP, today="2026-11-30")
    assert f"Changed from “Quarry pickup” in {len(made_on(REPAIRED))} values." in html.unescape(page)
    back = PICKUP.changed({"final_drive.final_drive_ratio": 3.75}).changed({"final_drive.final_drive_ratio": "4.10"})
    assert made_on(back) == () and title(back) == "Quarry pickup"


def test_what_was_changed_stands_on_the_sheet_with_what_it_was_and_why():
    rows = {what: (was, now, why) for what, was, now, why in changed(REPAIRED)}
    assert rows["ratio of the final drive"] == ("4.10", "3.75", "")
    assert rows["pull on the cable over force on the lever (handbrake)"] == ("6.50", "9.00", "longer lever")
    assert len(rows) == len(made_on(REPAIRED)) == len(changes_stated()) + 2
    assert changed(BUILDS["van"]) == []


def changes_stated() -> list[str]:
    changes = changes_of("quarry_pickup")
    return [path for path in changes.origins if changes.value(path) is not None]


def test_changed_parts_are_among_the_parts():
    paths = [each.path for each in made_on(REPAIRED)]
    parts = {what: sizes for what, _, sizes in parts_list(View(REPAIRED.parts), changed=paths)}
    for what in ("Final drive", "Blower, duct and filter for the motors", "Handbrake, lever and cables"):
        assert parts[what].startswith("CHANGED: ")
    limit = parts_list(View(PICKUP.parts), changed=["controller.motor_current_limit"])
    assert [what for what, _, sizes in limit if sizes.startswith("CHANGED")] == ["Controller or inverter"]
    assert parts["Electric oil pump"].startswith("CHANGED: ") and not parts["Vacuum pump"].startswith("CHANGED")


# --- hills and bolts -------------------------------------------------------------------------------------------------
def test_a_start_steeper_than_the_handbrake_holds_is_said():
    found = review(REPAIRED)
    assert "no more than 22.9 %, and a start on 30.0 %" in handbrake_short(View(REPAIRED.parts), found)
    flat = REPAIRED.changed({"targets.start_grade": "22 %"})
    assert handbrake_short(View(flat.parts), review(flat)) == ""
    assert handbrake_short(View(BUILDS["van"].parts), review(BUILDS["van"])) == ""


def test_both_sides_of_the_plate_have_their_bolts_among_the_parts():
    # From the file: machine's holes 8 on 230 mm, gearbox's 6 on 295 mm; the adapter's bolts are 8 on 230 mm.
    parts = {what: (count, sizes) for what, count, sizes in parts_list(View(PICKUP.parts))}
    assert parts["Bolts, adapter at the machine"][0] == "8"
    count, sizes = parts["Bolts, plate at the gearbox"]
    assert count == "6" and "295 mm" in sizes and "no check is made" in sizes
    turned = PICKUP.changed({"coupling.adapter.bolt_circle": "295 mm", "coupling.adapter.bolt_count": 6})
    parts = {what: (count, sizes) for what, count, sizes in parts_list(View(turned.parts))}
    assert parts["Bolts, adapter at the gearbox"][0] == "6" and parts["Bolts, plate at the machine"][0] == "8"
    neither = PICKUP.changed({"coupling.adapter.bolt_circle": "250 mm"})
    assert any("NEITHER" in what for what, _, _ in parts_list(View(neither.parts)))


def test_marginal_checks_that_do_not_fit_on_the_first_page_are_counted():
    found = review(REPAIRED)
    shown = summary(REPAIRED, found)
    marginal = sum(check.verdict == "marginal" for check in found.checks)
    on_page = sum(row["check"].verdict == "marginal" for row in shown["worst"])
    assert on_page + shown["more_marginal"] == marginal > on_page
    assert all(" " in guess.what and "_" not in guess.what for guess in shown["guesses"])
