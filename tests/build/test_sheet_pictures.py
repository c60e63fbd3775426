"""The sheet's drawings: to the scale they state, where the build says, and their words say what they show."""

import math
import re

import numpy as np
import pytest

from evlib.build.file import find_build, parse_build, read_build
from evlib.build.sheet.page import drawn
from evlib.build.sheet.pictures import (
    SCALES,
    WIDEST,
    joint_drawing,
    package_drawing,
    plate_drawing,
    protection_chart,
)
from evlib.build.sheet.svg import Drawing

BUILDS = ("orchard_van", "quarry_pickup", "college_hatch")


@pytest.fixture(scope="module")
def builds():
    return {name: read_build(find_build(name)) for name in BUILDS}


def scale_of(picture):
    return int(re.search(r"1 to (\d+)", picture.svg)[1])


def boxes(picture):
    found = re.findall(r'<rect x="([\d.-]+)" y="([\d.-]+)" width="([\d.-]+)" height="([\d.-]+)"', picture.svg)
    return [tuple(map(float, box)) for box in found]


def paper(picture):
    return tuple(map(float, re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', picture.svg).groups()))


@pytest.mark.parametrize("name", BUILDS)
def test_the_line_is_drawn_to_its_scale(builds, name):
    build, picture = builds[name], package_drawing(builds[name])
    package, scale = build.parts.coupling.package, scale_of(picture)
    lengths = [package.tail_allowance]
    if build.parts.machine.machine_count > 1:
        lengths += [package.far_machine_length, build.parts.coupling.cut.face_distance]
    lengths += [package.near_machine_length, package.adapter_length, package.gearbox_length]
    drawn_ = boxes(picture)
    assert len(drawn_) == len(lengths)
    for (left, _, wide, _), length, before in zip(drawn_, lengths, np.cumsum([0, *lengths[:-1]]), strict=True):
        assert wide * scale == pytest.approx(1000 * length, abs=0.01 * scale)
        assert (left - drawn_[0][0]) * scale == pytest.approx(1000 * before, abs=0.02 * scale)
    assert scale in SCALES and paper(picture)[0] <= WIDEST
    words = f"{1000 * sum(lengths):.0f} mm"
    assert words in picture.sentence
    assert len(picture.rows) == len(lengths)


def test_a_line_that_does_not_fit_says_by_how_much(builds):
    tight = builds["orchard_van"].changed({"coupling.package.package_room": "1400 mm"})
    picture = package_drawing(tight)  # 50 + 405 + 76.2 + 405 + 30 + 455 = 1421.2
    assert "21.2 mm (0.835 in) too long" in picture.sentence
    assert "spare" in package_drawing(builds["orchard_van"]).sentence


def test_the_joint_is_at_full_size(builds):
    picture = joint_drawing(builds["orchard_van"])
    found = [round(wide, 2) for _, _, wide, _ in boxes(picture)]
    # at the gap that was measured: (76.2 - 0.52) / 2 = 37.84 of shaft in front of each face, 14 mm behind it
    assert found[-1] == 48.0 and found.count(14.0) == 2
    assert found[4:6] == pytest.approx([14 + 37.84] * 2, abs=0.011)
    assert picture.sentence.startswith("At full size") and "0.52 mm" in picture.sentence


def test_the_plate_has_its_holes_where_they_belong(builds):
    picture = plate_drawing(builds["orchard_van"])
    scale, middle = scale_of(picture), paper(picture)[0] / 2
    circles = [tuple(map(float, c)) for c in re.findall(r'cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"', picture.svg)]
    from_middle = [math.hypot(x - middle, y - middle) * scale for x, y, _ in circles]
    sizes = [2 * radius * scale for _, _, radius in circles]
    close = pytest.approx
    assert [*sizes[:2]] == close([300, 150.02], abs=0.02 * scale)  # from data/builds/orchard_van.toml
    assert from_middle[2:10] == close([105] * 8, abs=0.02 * scale) and sizes[2:10] == close(
        [10.5] * 8, abs=0.02 * scale
    )
    assert from_middle[10:] == close([135] * 6, abs=0.02 * scale) and sizes[10:] == close([12.5] * 6, abs=0.02 * scale)
    x, y, _ = circles[2]  # the first of the machine's holes: 22.5 degrees from the right, anticlockwise, so upward
    assert math.degrees(math.atan2(middle - y, x - middle)) == close(22.5, abs=0.1)
    assert ("pilot bore", "1", "150.02 mm (5.9063 in)", "") in picture.rows


def chart_scale(picture):
    """Current and time at a place of the chart, read off the numbers at its axes; they stand 1 mm below their lines."""
    marks = [(float(x), float(y), words) for x, y, words in
             re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>([\d.]+)</text>', picture.svg)]  # fmt: skip
    low = max(y for _, y, _ in marks)
    across = [(x, math.log(float(words))) for x, y, words in marks if y == low]
    up = [(y, math.log(float(words))) for _, y, words in marks if y < low - 1]
    current, time = (np.polyfit(*zip(*pairs, strict=True), 1) for pairs in (across, up))
    return lambda x, y: (math.exp(np.polyval(current, x)), math.exp(np.polyval(time, y + 1)))


def lines(picture, colour):
    found = re.findall(rf'<polyline points="([^"]*)"[^>]*stroke="{colour}"', picture.svg)
    return [[tuple(map(float, point.split(","))) for point in line.split()] for line in found]


def test_the_protection_chart_is_the_build_s(builds):
    picture = protection_chart(builds["orchard_van"])
    at = chart_scale(picture)
    contactor = lines(picture, "#b03a00")[0]
    current, time = at(*contactor[-1])
    assert (current, time) == (pytest.approx(3200, rel=0.01), pytest.approx(0.030, rel=0.03))
    curve = builds["orchard_van"].parts.protection.fuse.fuse_curve
    melts = np.log([at(*point) for point in lines(picture, "#0072b2")[0]])
    inside = curve.y > 1.1e-3
    seconds = np.exp(np.interp(np.log(curve.x[inside]), melts[:, 0], melts[:, 1]))
    assert seconds == pytest.approx(curve.y[inside], rel=0.06)  # drawn in 121 points, to a hundredth of a millimetre
    values = dict(picture.rows)
    assert values["contactor breaks up to"] == "3200 A" and values["contactor opens after"] == "0.0300 s"
    assert "band is closed" in picture.sentence


def test_an_open_band_is_drawn_and_said(builds):
    weak = builds["orchard_van"].changed({"protection.contactor.contactor_breaking_current": "700 A"})
    picture = protection_chart(weak)
    assert "band is open" in picture.sentence and "forbidden band" in picture.svg
    assert "forbidden band</text>" not in protection_chart(builds["orchard_van"]).svg


@pytest.mark.parametrize("draw", [package_drawing, joint_drawing, plate_drawing, protection_chart])
def test_what_is_not_known_is_not_drawn_and_says_what_it_wants(draw):
    words = drawn(draw, parse_build('[vehicle]\nmass = "900 kg"\n'))
    assert isinstance(words, str) and words.startswith("Not drawn: ") and "is not known" in words


def test_what_does_not_apply_says_so(builds):
    assert drawn(joint_drawing, builds["college_hatch"]).startswith("Does not apply to this build: ")


def test_words_on_a_drawing_are_escaped():
    made = Drawing(10, 10)
    made.text(1, 1, "<b>")
    assert "<b>" not in made.svg('"><script>') and "<script>" not in made.svg('"><script>')
