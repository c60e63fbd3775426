"""The gearing lesson's tables on every build that comes with the course."""

import re

import pytest

from evlib.build.file import find_build, read_build
from evlib.lesson import gearing

TABLES = (gearing.road_table, gearing.members_table, gearing.holds_table, gearing.spinning_table, gearing.shift_table,
          gearing.change_table, gearing.gears_compared)  # fmt: skip


@pytest.fixture(scope="module", params=["orchard_van", "quarry_pickup", "college_hatch"])
def build(request):
    return read_build(find_build(request.param))


@pytest.mark.parametrize("table", TABLES)
def test_a_table_or_one_sentence(table, build):
    shown = table(build)
    text = repr(shown)
    assert text and "nan" not in text
    assert ("<table>" in shown._repr_html_()) != ("does not apply" in text)
    assert ("does not apply" in text) == (build.name == "College hatchback" and table in TABLES[1:3] + TABLES[4:6])


def test_sentences_of_the_panels(build):
    assert "starts on" in gearing.say_pull(build)
    assert "takes" in gearing.say_run_up(build)
    heavier = gearing.say_map(build, mass=float(build.vehicle.mass) + 500.0)
    shares = [int(word) for word in re.findall(r"(\d+) %", heavier)]
    assert len(shares) >= 8 and all(after <= before for before, after in zip(shares[::2], shares[1::2], strict=True))


def test_the_holds_are_the_ratios_by_torque_balance():
    text = repr(gearing.holds_table(read_build(find_build("orchard_van"))))
    low = 1 + 22 / 29
    for wanted in (low - 1, 1 - 1 / low, low + 1):
        assert f"{wanted:.3f}" in text


def test_a_log_that_is_not_there_is_one_sentence(build):
    with pytest.raises(ValueError, match=r"nowhere\.csv: there is no such log"):
        gearing.drive(build, "nowhere.csv")
    with pytest.raises(ValueError, match="urban"):
        gearing.drive(build, "moon")


def test_the_masses_of_the_van_add_up():
    text = repr(gearing.spinning_table(read_build(find_build("orchard_van"))))
    j_in, j_p, wheels = 2 * 0.12 + 0.02, 0.02, 4.0  # kg m2, as the build's file states them
    turns = (1 + 22 / 29) * 3.70 / 0.30
    rotors, shaft, axle = 0.95 * 0.96 * j_in * turns**2, 0.96 * j_p * (3.70 / 0.30) ** 2, wheels / 2 / 0.30**2
    for kilograms in (rotors, shaft, axle, rotors + shaft + axle, rotors + shaft + 2 * axle):
        assert f"{float(f'{kilograms:.3g}'):g} kg" in text


def test_a_log_in_the_learners_own_folder_is_found(tmp_path, monkeypatch):
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path))
    lines = ["time [s],speed [km/h]"] + [f"{t},{90 - 0.9 * t}" for t in range(40)]
    for name in ("my_out.csv", "my_back.csv"):
        (tmp_path / name).write_text("\n".join(lines), encoding="utf-8")
    found = gearing.coast_down(read_build(find_build("orchard_van")), out="my_out.csv", back="my_back.csv", air=False)
    assert found.values["grade"] == pytest.approx(0.0, abs=1e-4)  # alike both ways: no slope


def test_a_speed_that_is_never_reached_says_so(tmp_path):
    import re as regular

    from evlib.build.review import review
    from evlib.lesson import parts

    text = find_build("orchard_van").read_text(encoding="utf-8")
    path = tmp_path / "fast.toml"
    path.write_text(regular.sub(r'(?m)^speed = "60 km/h"', 'speed = "200 km/h"', text), encoding="utf-8")
    fast = read_build(path)
    shown = repr(parts.checks(fast, "gearing"))
    assert "not reached" in shown and "no limit" not in shown and "nan" not in shown
    check = review(fast, topics=("gearing",)).check("time to speed")
    assert check.verdict == "fail" and check.margin == -1.0 and check.working.text().endswith("gives not reached")


def test_the_picture_of_the_set_or_one_sentence(build, monkeypatch):
    from evlib.panels import gearing_pictures, markup

    seen = []
    monkeypatch.setattr(markup, "_display", lambda page, text: seen.append(page + text))
    said = gearing_pictures.show_set(build)
    if build.name == "College hatchback":
        assert not seen and "does not apply" in repr(said)
    else:
        assert said is None and 'alt="Left, the set from its end' in seen[0] and "1 input sun" in seen[0]
