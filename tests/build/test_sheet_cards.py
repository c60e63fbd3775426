"""The sheet's cards: their numbers by another way than the code's, blanks where nothing is known, and the summary."""

import math
import random
import re

import pytest

from evlib.build.__main__ import main
from evlib.build.cut_card import cut_body
from evlib.build.file import blank, find_build, parse_build, read_build
from evlib.build.review import review
from evlib.build.schema import declared
from evlib.build.sheet import sheet
from evlib.build.sheet.listed import check_row
from evlib.build.sheet.owner import owner_page
from evlib.build.sheet.page import css_text, trouble, unready
from evlib.build.sheet.settings import bench_card, hydraulic_card, protections_card
from evlib.build.sheet.summary import governing_guesses, summary
from evlib.build.sheet.upkeep import maintenance_card, parts_list
from evlib.build.sheet.words import BLANK, Line, fill, said
from evlib.build.view import View
from evlib.ground import units
from evlib.ground.checks import Check
from evlib.ground.errors import DoesNotApply
from evlib.ground.quantity import SPREAD

RPM = 2 * math.pi / 60

# By hand, from data/builds/orchard_van.toml alone.
LOW = 1 + 22 / 29  # low sun held, input sun drives, carrier out: the Willis equation
TURNS = LOW * 3.70 / 0.30  # input turns for a metre of road [rad/m]


@pytest.fixture(scope="module")
def van():
    return read_build(find_build("orchard_van"))


@pytest.fixture(scope="module")
def pickup():
    return read_build(find_build("quarry_pickup"))


@pytest.fixture(scope="module")
def hatch():
    return read_build(find_build("college_hatch"))


@pytest.fixture(scope="module")
def empty():
    return parse_build(blank())


def first(text, unit, kind=""):
    """The SI value that a cell begins with."""
    return units.read(text.split(" (")[0], unit, kind=kind)


def near(value, rel=0.006):  # cells show three figures
    return pytest.approx(value, rel=rel)


# --- hydraulic settings and the bench ----------------------------------------------------------------------------
def test_switch_speeds_as_road_speeds(van):
    card, _, _ = hydraulic_card(View(van.parts))
    assert first(card.text("as road speed in low: off above"), "m/s") == near(725 * RPM / TURNS)
    assert first(card.text("as road speed in low: on below"), "m/s") == near(650 * RPM / TURNS)


def test_main_pressures_are_sums(van):
    card, _, _ = hydraulic_card(View(van.parts))  # 750 kPa set, 400 more in reverse, the load signal is "none"
    assert first(card.text("Main pressure under load, low and direct"), "Pa") == near(750e3)
    assert first(card.text("Main pressure under load, reverse"), "Pa") == near(1150e3)


def test_settings_are_the_review_s_figures(van):
    found, (card, pressures, oils) = review(van), hydraulic_card(View(van.parts))
    stated = {figure.name: figure.value for figure in found.stated}
    assert first(card.text("the same, at the least"), "rad/s") == near(found.check("handover margin").demand)
    assert first(card.text("what launch needs"), "Pa") == near(found.check("pressure switch").demand)
    assert first(card.text("Pump current at rest, oil hot"), "A") == near(stated["pump current at rest"])
    by_position = dict((position, (hot, cold)) for position, hot, cold in pressures)
    assert first(by_position["low"][0], "Pa") == near(stated["pressure at rest, oil hot"])
    assert first(by_position["low"][1], "Pa") == near(stated["pressure at rest, oil cold"])
    assert oils == "hot is 95.0 °C (203 °F), cold is -10.0 °C (14.0 °F)"


def test_bench_card_by_hand(van):
    card = bench_card(View(van.parts))
    assert float(card.text("Turns of the input for ten of the output, low")) == near(10 * LOW)
    assert float(card.text("the same, reverse, the other way round")) == near(10 * (80 / 29 - 1))
    for gear, force, outer, inner in (
        ("Low", 350, 0.075, 0),
        ("Direct", 700, 0.130, 0.080),
        ("Reverse", 800, 0.160, 0.098),
    ):
        area = math.pi / 4 * (outer**2 - inner**2)
        assert first(card.text(f"{gear}: piston moves from"), "Pa") == near(force / area)
    assert first(card.text("Seals and valve body take"), "m3/s") == near(1.9e-3 / 60)  # 0.5 + 1.4 + 0 L/min
    assert first(card.text("the standing internal pump takes"), "m3/s") == near(1.2e-3 / 60 * 1.05**3)


def test_a_shut_outlet_takes_its_line_off_the_bench_card(van):
    card = bench_card(View(van.changed({"hydraulics.internal_pump.back_flow": "outlet valve"}).parts))
    assert "the standing internal pump takes" not in [row.what for row in card.rows]
    assert "an outlet valve shuts off the standing internal pump" in card.left_out


# --- protections -------------------------------------------------------------------------------------------------
def test_protections_by_hand(van):
    card = protections_card(View(van.parts))
    full = 96 * 3.40
    assert first(card.text("Full pack"), "V") == near(full)
    assert first(card.text("Insulation asked, each leak"), "ohm") == near(100 * full)  # 100 ohm/V
    part = 8200 / 8300  # the discharge resistor divides: to 95 % of the pack, out of 98.8 %
    assert first(card.text("precharge needs"), "s") == near(0.3 * part * math.log(part / (part - 0.95)))
    off = 8200 * 3000e-6 * math.log(full / 60)
    assert first(card.text("Switched off, below 60 V after"), "s") == near(off)


# --- for whoever drives it ----------------------------------------------------------------------------------------
def page_of(build):
    found = review(build)
    return {heading: " ".join(words) for heading, words in owner_page(View(build.parts), found)}


def number_before(unit, text):
    return float(re.search(rf"([\d.]+) {re.escape(unit)}", text)[1])


def test_range_and_use_add_up_to_the_charge(van):
    # 0.8 of 160 Ah at 96 cells of 3.29 V, half way between the points of the file's curve at 40 % and 60 %
    usable = 0.8 * 160 * 96 * 3.29  # Wh
    pairs = re.findall(r"about ([\d.]+) km \([\d.]+ mi\), ([\d.]+) Wh/km", page_of(van)["Range"])
    assert len(pairs) == 3
    for kilometres, use in pairs:
        assert float(kilometres) * float(use) == near(usable, rel=0.01)


def test_foot_off_by_hand(van):
    turns = TURNS * 40 / 3.6  # rad/s at the rotors
    drag = 2 * (1.5 + 1.0e-5 * turns**2) * TURNS  # N at the tyres, two machines
    said_ = page_of(van)["Slowing down"]
    assert number_before("km/h", said_.split("take ")[1]) == near(3.6 * drag / 1650, rel=0.05)  # two figures
    assert "no engine braking" in said_


def test_towing_by_hand(van, hatch, empty):
    words = page_of(van)["Towing"]
    assert "rear wheels off the ground" in words
    assert number_before("km/h", words) == near(3.6 * 5500 * RPM / TURNS)
    one = page_of(hatch)["Towing"]
    assert "front wheels off the ground" in one
    assert number_before("rpm", one) == near(50 / 3.6 / 0.28 * 5.8 / RPM)
    assert "all four wheels on a trailer" in page_of(empty)["Towing"]


def test_an_ac_car_is_not_told_of_brushes(hatch, van):
    page = page_of(hatch)
    assert "engine braking" not in page["Slowing down"] and "brush" not in " ".join(page.values()).lower()
    assert "oil pump" not in page["Noise"] and "oil pump" in page_of(van)["Noise"]


# --- maintenance and parts ---------------------------------------------------------------------------------------
def test_maintenance_is_of_what_is_fitted(van, hatch):
    tasks = {what: expect for what, _, _, expect in maintenance_card(View(van.parts))}
    assert {"Brushes", "Low band", "Splined sleeve", "Gearbox oil", "Contactors", "Bolts of the frames"} <= set(tasks)
    assert tasks["Bolts of the frames"].startswith("ring 36.0 N m (26.6 lbf ft); adapter 36.0 N m (26.6 lbf ft); ")
    assert tasks["Insulation of pack and motors"] == "at least 32.6 kohm"
    other = {what for what, *_ in maintenance_card(View(hatch.parts))}
    assert not {"Brushes", "Commutator and its dust", "Low band", "Splined sleeve", "Gearbox oil"} & other
    plates = van.changed({"hydraulics.low.holds_by": "plates"})
    assert "Low band" not in {what for what, *_ in maintenance_card(View(plates.parts))}


def test_parts_say_number_and_rating(van):
    parts = {what: (count, sizes) for what, count, sizes in parts_list(View(van.parts))}
    assert parts["Cells"][0] == "96" and parts["Main contactor"][0] == "2"
    assert parts["Drive motor"] == ("2", "series-wound, direct current; up to 5500 rpm; 80.0 kg (176 lb)")
    assert parts["Bolts, ring between the frames"][0] == "8"
    assert "thread 10 mm x 1.5 mm" in parts["Bolts, ring between the frames"][1]
    each = van.changed({"controller.arrangement": "one each"})
    assert {w: c for w, c, _ in parts_list(View(each.parts))}["Controller or inverter"] == "2"
    one = van.changed({"protection.shutdown.contactor_poles": "positive pole"})
    assert {w: c for w, c, _ in parts_list(View(one.parts))}["Main contactor"] == "1"


# --- cut card ------------------------------------------------------------------------------------------------------
def test_the_cut_card_warns_of_a_gap_that_is_too_narrow(van, pickup):
    assert "Do not cut" not in "".join(cut_body(van))
    wide = van.changed({"coupling.near_shaft.cut_length": "38.3 mm", "coupling.far_shaft.cut_length": "37.8 mm"})
    assert "Do not cut" in "".join(cut_body(wide))  # 76.2 - 38.3 - 37.8 = 0.1 mm: the reserve alone is 0.1
    assert "Do not cut" in "".join(cut_body(pickup))


def test_no_sleeve_no_cut_card(hatch):
    with pytest.raises(DoesNotApply):
        cut_body(hatch)


# --- the summary ---------------------------------------------------------------------------------------------------
def test_the_summary_counts_as_the_review(pickup):
    found = review(pickup)
    shown = summary(pickup, found)
    assert {word: number for word, number, _ in shown["counts"]} == {
        "passed": sum(c.verdict in ("pass", "marginal") for c in found.checks),
        "failed": sum(c.verdict == "fail" for c in found.checks),
        "not known": 0,
        "do not apply": sum(c.verdict == "does not apply" for c in found.checks),
    }
    margins = [row["check"].margin for row in shown["worst"]]
    assert margins == sorted(margins) and max(margins) < 0
    assert shown["more"] + len(margins) == sum(check.demand is not None for check in found.checks)


@pytest.mark.parametrize(
    ("demand", "capacity", "start", "wide"),
    [(2.0, 1.0, 25, 25), (1.0, 2.0, 50, 50), (1.0, 9.0, 50, 50), (1.0, 1.5, 50, 25)],
)
def test_bars_start_at_the_middle(demand, capacity, start, wide):
    row = check_row(Check("x", "motors", demand, capacity, "N"))
    assert (row["bar_from"], row["bar_wide"]) == (start, wide)


def test_a_governing_guess_does_what_is_said(pickup):
    found = review(pickup)
    guesses = governing_guesses(pickup, found)
    assert guesses[0].target_crossed
    for guess in [g for g in guesses if pickup.origins[g.path].source][:3]:
        origin = pickup.origins[guess.path]
        assert origin.source not in ("measured", "catalogue")
        spread = SPREAD["guess"] if origin.spread is None else origin.spread
        ends = [
            review(pickup.changed({guess.path: pickup.value(guess.path) * (1 + side * spread)}))
            .check(guess.check)
            .margin
            for side in (-2, 2)
        ]
        assert sorted([guess.low, guess.high]) == pytest.approx(sorted(ends), rel=1e-6)
        verdict_moves = min(ends) < 0 <= max(ends)
        assert guess.target_crossed or not verdict_moves


def test_trouble_names_the_failed_checks(van, pickup, empty):
    assert trouble(review(van), "hydraulics") == ""
    words = trouble(review(pickup), "hydraulics")
    assert "pressure switch" in words and "launch in low" in words and "grip" not in words
    assert "of this topic are not known" in trouble(review(empty), "shafts")


def test_the_driver_s_page_is_held_back_while_checks_fail(van, pickup, empty):
    assert unready(review(van)) == ""
    failed = sum(check.verdict == "fail" for check in review(pickup).checks)
    assert unready(review(pickup)).startswith(f"{failed} checks failed and 0 are not known") and failed > 0
    assert "not to be handed to anyone yet" in sheet(empty) and "handed to anyone" not in sheet(van)


# --- what is not known, and what comes from outside -----------------------------------------------------------------
def plain(page):
    return re.sub(r"<[^>]*>", " ", re.sub(r"<(style|script)>.*?</\1>", "", page, flags=re.DOTALL))


def clean(page):
    assert not re.search(r"\b(None|nan|inf)\b|Traceback|\{\{|\}\}", plain(page))
    assert not re.search(r"\b(is|are) safe\b|build passes|build has passed", plain(page), re.IGNORECASE)


def test_a_blank_build_prints_lines_to_fill_in(empty):
    page = sheet(empty, today="2026-11-25")
    clean(page)
    assert plain(page).count(BLANK) > 100
    assert "______ mm" in page and "Not drawn: " in page and "No check can be made yet" in page


@pytest.mark.parametrize("seed", range(5))
def test_a_build_of_which_some_is_known_prints(van, seed):
    draw = random.Random(seed)
    known = [
        path
        for path in declared()
        if van.value(path) is not None and not path.startswith("build.") and not path.endswith(".fitted")
    ]
    gone = draw.sample(known, draw.choice((3, 30, 150, 300)))
    clean(sheet(van.changed({path: None for path in gone})))


@pytest.mark.parametrize("section", ["gearbox", "hydraulics", "parking", "protection", "coupling"])
def test_a_build_without_a_section_prints(van, section):
    clean(sheet(van.changed({f"{section}.fitted": False})))


def test_values_that_do_not_fit_together_are_no_traceback(van):
    page = sheet(
        van.changed({"coupling.plate.gearbox_circle": "215 mm", "coupling.plate.gearbox_first_hole": "22.5 deg"})
    )
    clean(page)
    assert "two holes run into each other" in page


def test_paper_is_taken_or_fixed(van):
    assert "@page { margin:" in sheet(van)
    assert "@page { size: Letter;" in sheet(van, paper="Letter")
    with pytest.raises(ValueError, match="paper: 'A5' was given; allowed: A4, Letter"):
        sheet(van, paper="A5")


def test_a_name_cannot_leave_the_page_s_header():
    name = '"; } body { display: none } </style><script>alert(1)</script>'
    page = sheet(parse_build(f"[build]\nname = '{name}'\n"))
    assert page.count("</style>") == 1 and page.count("<script>") == 1
    assert not re.search(r'[<>"{};\n]', css_text(name))


def test_long_names_do_not_push_the_summary_off_its_page():
    shown = summary(
        build := parse_build(f"[build]\nname = '{'long ' * 60}'\nnote = '{'word ' * 200}'\n"), review(build)
    )
    assert len(shown["name"]) <= 70 and len(shown["note"]) <= 160


def test_lines_say_why_they_are_blank(empty, hatch):
    own = fill(View(empty.parts), [Line("mass", "vehicle.mass", note="weigh it")])
    assert [(row.text, row.note) for row in own.rows] == [("", "weigh it")]
    worked = fill(View(empty.parts), [Line("force", lambda b: b.vehicle.mass * b.vehicle.grip, "N")])
    assert worked.rows[0].note == "not known: needs vehicle.grip, vehicle.mass"
    absent = fill(View(hatch.parts), [Line("pump", "hydraulics.electric_pump.rated_flow")])
    assert absent.rows == () and absent.left_out == ("hydraulics is declared as not fitted",)
    assert said(View(empty.parts), "vehicle.mass") == BLANK


def test_the_commands_take_paper_and_write_the_plate(tmp_path, capsys):
    out = tmp_path / "sheet.html"
    assert main(["sheet", "orchard_van", "-o", str(out), "--paper", "A4"]) == 0
    assert "@page { size: A4;" in out.read_text(encoding="utf-8")
    plate = tmp_path / "plate.dxf"
    assert main(["plate", "orchard_van", "-o", str(plate)]) == 0
    assert plate.read_text(encoding="utf-8").count("\nCIRCLE\n") == 2 + 8 + 6  # outline, bore and the file's holes
    (tmp_path / "blank.toml").write_text(blank(), encoding="utf-8")
    assert main(["plate", str(tmp_path / "blank.toml"), "-o", str(tmp_path / "no.dxf")]) == 2
    assert "no plate is drawn: coupling.plate" in capsys.readouterr().err
    assert not (tmp_path / "no.dxf").exists()
