"""What the parking lesson's cells say."""

import pytest

from evlib.build.file import find_build, read_build
from evlib.build.registry import CHECKS
from evlib.build.review import load
from evlib.exercises.parking import EXERCISES
from evlib.lesson import parking
from evlib.panels import parking as panels

BUILDS = ("orchard_van", "quarry_pickup", "college_hatch")


def build(name="orchard_van"):
    return read_build(find_build(name))


@pytest.mark.parametrize("name", BUILDS)
def test_every_cell_speaks_on_every_build(name, capsys):
    made = build(name)
    for shown in (
        parking.story(made),
        parking.pawl(made),
        parking.strengths(made),
        parking.dropping_in(made),
        parking.rolling_back(made),
        parking.ways_on_paper(made),
        parking.rolled_on(made),
        parking.gripped(made),
        parking.taken_up(made),
        parking.requests(made),
        parking.braked(made),
        parking.pressed(made),
        parking.shoes(made),
        parking.slowing(made),
        panels.ways(made),
    ):
        assert "nan" not in repr(shown) and "None" not in repr(shown) and "inf" not in repr(shown).replace("info", "")
    parking.proof(made)
    parking.forgotten(made, to="low", before="drive", condition="speed")
    parking.caught(made, 0.5)
    parking.rolls(made, seconds=3, grade=0.1)
    said = capsys.readouterr().out
    assert "all 16 rules hold" in said and "1 of 16 rules broken" in said and "12800 states (every combination" in said


def test_the_story_names_checks_that_there_are_and_all_of_parking():
    load()
    told = [name for _, names in parking.STORY for name in names]
    assert set(told) <= set(CHECKS) and len(told) == len(set(told))
    assert {name for name, spec in CHECKS.items() if spec.topic == "parking"} <= set(told)


def test_what_does_not_apply_says_why():
    text = repr(parking.story(build("college_hatch")))
    assert "does not apply: parking.selector is declared as not fitted" in text
    assert "reverses by inverter" in text


def test_the_selectors_settings_of_the_build_are_used(capsys):
    parking.proof(build().changed({"parking.selector.low_speed_limit": "110 km/h"}))
    said = capsys.readouterr().out
    assert "medium: up to 110 km/h" in said and "- low is never entered too fast" in said


def test_forgetting_what_is_not_there_is_refused():
    with pytest.raises(ValueError, match="no line lets park be entered from drive"):
        parking.forgotten(build(), to="park", before="drive", condition="brake")


def test_a_caught_car_by_hand(capsys):
    # 1650 kg at 2 m/s: 3300 J; twist 2 x sqrt(5000 x 1650) = 5745 N m. Skid: mu x 0.52 x 1650 x 9.80665 x 0.30 / 3.70,
    # with grip 0.8 on dry road 546 N m, with the worse wheel's 0.55 for both (open differential) 375 N m.
    parking.caught(build(), 2.0)
    said = capsys.readouterr().out
    assert "3.30 kJ" in said and "5745 N m" in said
    assert "grip 0.8 under both driven wheels, they skid at 546 N m" in said
    assert "grip 0.55 under the worse one, it lets go for both at 375 N m" in said
    assert "weakest part stands 776 N m" in said  # wheel studs: 2 x 5 x 42 kN x 0.12 x 57 mm / 3.70


def test_the_ways_say_where_it_slips_and_both_speed_limits():
    # 267 N m and 381 N m against the 228 N m that low holds backward: more than held, it slips.
    lines = repr(panels.ways(build())).splitlines()[1:4]
    assert ["slips and burns" in line for line in lines] == [False, True, True]
    assert all("95.6 km/h" in line and "3.00 km/h" in line for line in lines)


def test_a_car_taken_up_by_hand():
    # v = sqrt(2 x 9.80665 x 0.19612 x 0.03538 m); 257.3 + sqrt(257.3^2 + 2 x 5000 x 257.3 x 0.4363); skid at grip x
    # load x 0.30 / 3.70 of 8983 N nose up, 7518 N nose down. On 0.55, nose down: 335.3 N m, and 118.3 J left to rub
    # away by 4135 - 3173 = 962 N in 123 mm, after 40.8 mm.
    shown = parking.taken_up(build())
    assert "1.33 km/h" in _row(shown, "grip 0.8, nose up") and "1348 N m" in _row(shown, "grip 0.8, nose up")
    assert "583 N m" in _row(shown, "grip 0.8, nose up") and "488 N m" in _row(shown, "grip 0.8, nose down")
    assert "335 N m" in _row(shown, "grip 0.55, nose down") and "164 mm" in _row(shown, "grip 0.55, nose down")


def test_the_force_needed_to_back_up_by_hand():
    # 16182 N x (0.1772 + 0.013 x 0.9842), 18 % being 10.2 degrees.
    (line,) = [each for each in repr(parking.ways_on_paper(build())).splitlines() if "needed to back up" in each]
    assert "18 %" in line and line.endswith("3074\u00a0N")


def _row(shown, word):
    return next(line for line in repr(shown).splitlines() if line.startswith(word))


def test_the_pawls_sums_by_hand():
    # 257.3 N m / 45 mm; tan and cos of 10 degrees; 60 mm2 of contact; a pin of 10 mm in two planes: 157.1 mm2.
    shown = parking.pawl(build())
    for word, result in (("force along", "5718 N"), ("throws", "1008 N"), ("presses", "5806 N"),
                         ("pressure", "96.8 MPa"), ("shear", "37.0 MPa")):  # fmt: skip
        assert f" {result}" in _row(shown, word)
    assert "guess, hardened steel" in _row(shown, "pressure")  # where the allowed value comes from
    # 0.15 rad / 12 ms / 3.70 x 0.30 m x 3.6
    assert "3.65 km/h" in _row(parking.dropping_in(build()), "that is")


def test_the_weakest_part_comes_first():
    # Studs 2 x 5 x 42 kN x 0.12 x 57 mm / 3.70; 3000 / 3.70, 2 x 1600 / 3.70, 900; pin 157.1 mm2 x 200 MPa x cos 10
    # degrees x 45 mm.
    lines = repr(parking.strengths(build())).splitlines()[1:]
    assert [line.split("  ")[0] for line in lines] == [
        "wheel studs of both wheels", "final drive", "both axle shafts", "propeller shaft", "pawl, tooth and pin",
    ]  # fmt: skip
    assert all(force in line for force, line in zip(("776", "811", "865", "900", "1392"), lines, strict=True))


def test_each_sum_of_the_ways_comes_out_at_the_tables_numbers():
    # Two routes: the table of the library, and the lines on paper, to the digits that the table shows.
    for name in BUILDS:
        made = build(name)
        paper = repr(parking.ways_on_paper(made)).replace("\u00a0", " ")
        for line in repr(panels.ways(made)).split("\n\n")[0].splitlines()[1:]:
            *_, pull, _slips, speed, _selector = (cell for cell in line.split("  ") if cell)
            assert pull.strip() in paper and speed.strip() in paper, (name, line)


def test_a_ramp_met_by_stepping_through_time():
    # Independent of the closed form: small steps of the build's hill start, sine of arctan 0.15, 1786.7 kg to be moved.
    way, speed, step = 0.0, 0.0, 1e-5
    for count in range(100_000):
        pull = 7536.5 * min(max((count * step - 0.15) / 0.30, 0.0), 1.0)
        speed += (1650 * 9.80665 * (0.148340 - 0.013 * 0.988936) - pull) / 1786.7 * step
        if speed < 0:
            break
        way += speed * step
    assert f"{way:.4f}0 m" in repr(parking.rolling_back(build()))


def test_the_selector_table_is_printed_as_the_file_has_it():
    text = repr(parking.selector_table())
    assert "park, reverse, neutral, low, drive" in text and "position park or neutral" in text
    (line,) = [line for line in text.splitlines() if line.startswith("low ") and "  drive  " in line]
    assert line.split()[2:] == ["rest", "or", "walking", "or", "medium", "any", "any", "any", "on", "good"]
    assert "pedal down" in text and "plug out" in text and "pressure good" in text


def test_the_tables_answers_in_words():
    shown = repr(parking.requests(build()))
    assert "refused: speed is unknown" in shown and "refused: pressure is low, wanted good" in shown
    assert shown.count("granted") == 2


def test_low_at_110_is_past_the_motors_limit_and_at_the_setting_is_not():
    # Exercise 10: 110 km/h / 0.30 m x 1.7586 x 3.70 is 6330 rpm, past 5500; 60 km/h is 3453 rpm.
    for speed, past in ((110, True), (60, False), (90, False)):
        assert (speed / 3.6 / 0.30 * 1.7586 * 3.70 * 60 / 6.2832 > 5500) is past
    assert "At 110 km/h" in next(e for e in EXERCISES if e.id == "parking.10").text


def test_two_leading_shoes_hold_one_way_and_an_oily_lining_little():
    # Textbook drum brake: with two leading shoes the ratio of both ways is that of a leading to a trailing shoe,
    # 481.3 / 172.0 by the sum in the lesson; forces, not grades, so tan(arcsin) lies between.
    rows = [line.split("  ") for line in repr(parking.braked(build())).splitlines()[1:]]
    rows = {(cells[0], [c.strip() for c in cells if c.strip()][1]): [c.strip() for c in cells if c.strip()][2:]
            for cells in rows}  # fmt: skip
    up, down = (float(cell.removesuffix(" %")) / 100 for cell in rows["two leading drum", "0.35"])
    force = [grade / (1 + grade**2) ** 0.5 * 1650 * 9.80665 for grade in (up, down)]
    assert force[0] == pytest.approx(2 * 2 * 172.0 / 0.30, rel=0.005)  # nose up it wants to roll backward: both trail
    # Nose down the tyres let go before the 6417 N of the brakes: 0.8 x 0.52 / (1 + 0.8 x 0.60 / 2.60) = 35.1 %.
    assert down == pytest.approx(0.351, abs=1e-3)
    assert float(rows["leading and trailing drum", "0.14"][0].removesuffix(" %")) < 12


def test_pressure_takes_the_gearbox_ways_down():
    text = repr(parking.pressed(build()))
    assert (
        "3074 N" in text
        and "too little" in text.splitlines()[3]
        and "no clutch" in repr(parking.pressed(build("college_hatch")))
    )
