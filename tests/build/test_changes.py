"""Changes kept in a file of their own: they state only what differs, say why, and leave a window on the map."""

from __future__ import annotations

import pytest

from evlib.build.changes import SHIPPED, changed_by, changes_of, differences
from evlib.build.file import find_build, read_build
from evlib.build.review import review
from evlib.ground.checks import FAIL

FINAL, CURRENT = "final_drive.final_drive_ratio", "controller.motor_current_limit"


@pytest.fixture(scope="module")
def pickup():
    return read_build(find_build("quarry_pickup"))


@pytest.fixture(scope="module")
def mended(pickup):
    return changed_by(pickup, changes_of("quarry_pickup"))


def failed(build):
    return {check.name for check in review(build, figures=False).checks if check.verdict == FAIL}


def test_the_changed_build_has_the_changes_and_everything_else(pickup, mended):
    changes = changes_of("quarry_pickup")
    listed = {each.path: each for each in differences(pickup, changes)}
    assert len(listed) > 10
    for path, each in listed.items():
        assert each.before is not each.after
        assert mended.value(path) is not None
    assert mended.value("hydraulics.electric_pump.rated_flow") == pytest.approx(8.5 / 60_000)  # 8.5 L/min
    assert mended.value("vehicle.mass") == pickup.value("vehicle.mass") == 2300
    assert mended.name == pickup.name
    assert mended.origins["machine.frame_conductance"].source == "guess"


def test_every_number_that_is_changed_says_why(pickup):
    silent = [each.path for each in differences(pickup, changes_of("quarry_pickup")) if not each.note]
    assert all(path.startswith("protection.fuse.") for path in silent)  # the fuse's own rating says it for all of it


def test_the_mends_leave_current_and_final_drive_to_choose_on_the_map(pickup, mended):
    before, after = failed(pickup), failed(mended)
    assert len(before) > 20 and after < before and len(after) < 11
    assert failed(mended.changed({FINAL: 3.8, CURRENT: "520 A"})) == set()
    # What closes the window in, side by side.
    assert "main pressure in low" in failed(mended.changed({FINAL: 3.8, CURRENT: "560 A"}))
    assert "steepest start" in failed(mended.changed({FINAL: 3.8, CURRENT: "440 A"}))
    assert "downshift over-speed" in failed(mended.changed({FINAL: 4.2, CURRENT: "520 A"}))
    assert "winding after an hour's climb" in failed(mended.changed({FINAL: 3.4, CURRENT: "520 A"}))


def test_the_pickup_as_it_came_has_no_such_window(pickup):
    assert len(failed(pickup.changed({FINAL: 3.8, CURRENT: "520 A"}))) > 8


def test_an_unknown_name_is_told_what_there_is():
    for name in ("pickup", "../quarry_pickup", ""):
        with pytest.raises(ValueError, match=r"changes: .* was given; there are: quarry_pickup"):
            changes_of(name)
    assert {path.stem for path in SHIPPED.glob("*.toml")} == {"quarry_pickup"}
