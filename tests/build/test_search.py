"""A search: what it tries, what it refuses, stopping and going on, the same numbers on an engine of its own."""

import _thread
import json

import numpy as np
import pytest

from evlib.build.file import find_build, read_build
from evlib.build.search import run as running
from evlib.build.search import store
from evlib.build.search.found import MARGIN, of_build
from evlib.build.search.plan import Alternatives, plan
from evlib.build.search.run import reload, run
from evlib.build.sheet import both

VAN = read_build(find_build("orchard_van"))
TIME = "time to the target speed"
AXES = {
    "final_drive.final_drive_ratio": ("3.2", "4.6"),
    "controller.motor_current_limit": ("450 A", "700 A"),
    "pack cable": {f"{area} mm2": {"protection.pack_cable.conductor_area": f"{area} mm2"} for area in (35, 50)},
}  # fmt: skip
KEEP = (TIME, "margin of grip")


@pytest.fixture
def small(monkeypatch):
    """Chunks of 64 builds, so that a short search has many."""
    from evlib.build.search import plan as planning

    for module in (planning, store):
        monkeypatch.setattr(module, "CHUNK", 64)


def searched(**more):
    return plan(VAN, AXES, builds=640, keep=KEEP, **more)


def columns(found):
    return {name: found.column(name) for name in (*KEEP, MARGIN, *AXES)} | {
        "feasible": found.feasible, "rows": found.rows, "governs": np.array(found.governs)}  # fmt: skip


def hold_same(one, other):
    for name, column in columns(one).items():
        np.testing.assert_array_equal(column, columns(other)[name], err_msg=name)
    assert [(f.check, f.builds, f.alone) for f in one.fails()] == [(f.check, f.builds, f.alone) for f in other.fails()]


# --- what is tried --------------------------------------------------------------------------------------------------


def test_a_sample_fills_the_spans_evenly_and_every_alternative_gets_all_of_it(small):
    made = plan(VAN, AXES, builds=256)
    found = run(made)
    ratio, cable = found.column("final_drive.final_drive_ratio"), found.column("pack cable")
    assert made.rows == 256 and set(cable) == {0.0, 1.0}
    for which in (0.0, 1.0):
        here = np.sort((ratio[cable == which] - 3.2) / 1.4)
        # a Sobol sequence of 2^m points has one point in each of 2^m equal stretches (Sobol 1967, from memory)
        np.testing.assert_array_equal(np.floor(here * 128), np.arange(128))


def test_a_grid_has_every_combination_once():
    made = plan(VAN, {"vehicle.mass": (1500, 1700), "vehicle.grip": (0.6, 0.8), "final_drive.stud_count": ["4", "5"]},
                builds=50, how="grid")  # fmt: skip
    found = run(made)
    points = {tuple(np.round(row, 9)) for row in np.column_stack([found.column(axis.name) for axis in made.axes])}
    assert made.rows == 50 == len(points)
    assert {p[0] for p in points} == {1500, 1550, 1600, 1650, 1700}


def test_a_logarithmic_quantity_is_spread_over_its_logarithm():
    made = plan(VAN, {"machine.winding_resistance": (0.002, 0.2), "vehicle.mass": None}, builds=256)
    assert made.spans[0].quantity.scale == "log"
    assert np.median(run(made).column("machine.winding_resistance")) == pytest.approx(0.02, rel=0.03)


def test_a_row_is_the_build_that_its_columns_say():
    made = searched()
    found = run(made)
    for row in (0, 77, 639):
        build = found.build(row)
        assert build.value("controller.motor_current_limit") == found.column("controller.motor_current_limit")[row]
        area = 35e-6 if found.column("pack cable")[row] == 0 else 50e-6
        assert build.value("protection.pack_cable.conductor_area") == pytest.approx(area)
        said = made.words(row)
        assert said["pack cable"] == f"{area * 1e6:.0f} mm2"
        assert both(build.value("controller.motor_current_limit"), "A").startswith(
            said["controller.motor_current_limit"]
        )


def test_the_smallest_margin_is_of_the_checks_that_what_moves_can_touch():
    # independent: every check of builds reviewed alone; touched are those whose margin differs between builds
    from evlib.build.review import review

    found = run(searched())
    alone = [{c.name: c for c in review(found.build(row), figures=False).checks} for row in range(0, 640, 61)]
    margins = {name: np.array([np.nan if made[name].margin is None else made[name].margin for made in alone])
               for name in alone[0]}  # fmt: skip
    moving = [m for name, m in margins.items() if len(set(m)) > 1 and np.max(alone[0][name].target) > 0]
    assert found.column(MARGIN)[::61] == pytest.approx(np.min(moving, axis=0), rel=1e-9)
    assert of_build(found.plan, TIME) == pytest.approx(
        next(f.value for f in review(VAN).stated if f.name == TIME), rel=1e-12
    )


def test_a_figure_that_is_not_reached_on_some_builds_stays_a_number_on_the_others():
    found = run(
        plan(VAN, {"controller.motor_current_limit": (40, 700), "vehicle.mass": (1500, 3000)}, builds=256, keep=(TIME,))
    )
    time = found.column(TIME)
    assert 0 < np.isfinite(time).sum() < len(time)
    assert np.nanmin(time) > 0


# --- stopping, going on, and another plan ---------------------------------------------------------------------------


def test_a_stopped_search_goes_on_to_the_same_numbers(small, tmp_path):
    made, calls = searched(), []

    def stop_at_once(found):
        calls.append(found.count)
        return len(calls) < 2

    part = run(made, folder=tmp_path / "s", progress=stop_at_once)
    assert not part.complete and 0 < part.count < made.rows and len(calls) == 2
    before = {file.name: file.stat().st_mtime_ns for file in (tmp_path / "s").glob("*.npz")}
    half = reload(tmp_path / "s", VAN)
    assert half.count == part.count and len(half.column(TIME)) == part.count
    whole = run(searched(), folder=tmp_path / "s")
    assert whole.complete
    assert all((tmp_path / "s" / name).stat().st_mtime_ns == stamp for name, stamp in before.items()), "made again"
    hold_same(whole, run(searched()))
    hold_same(reload(tmp_path / "s", VAN), whole)


def test_the_notebooks_stop_button_keeps_what_is_done(small):
    found = run(searched(), progress=lambda so_far: _thread.interrupt_main() if so_far.count >= 256 else True)
    assert not found.complete and 256 <= found.count < 640
    assert len(found.column(TIME)) == found.count


def test_a_search_that_was_killed_while_it_wrote_makes_that_chunk_again(small, tmp_path):
    whole = run(searched(), folder=tmp_path)
    store.place(tmp_path, 3).write_bytes(store.place(tmp_path, 3).read_bytes()[:100])
    (tmp_path / ".00004.npz.x.part").write_bytes(b"half")
    store.place(tmp_path, 4).unlink()
    assert reload(tmp_path, VAN).done == set(range(len(whole.plan.chunks))) - {3, 4}
    hold_same(run(searched(), folder=tmp_path), run(searched()))
    assert not list(tmp_path.glob(".*.part"))


@pytest.mark.parametrize(("other", "said"), [
    (lambda: plan(VAN, AXES, builds=641, keep=KEEP), "another number of builds"),
    (lambda: searched(seed=2), "another seed"),
    (lambda: searched(how="grid"), "another way of sampling"),
    (lambda: plan(VAN, AXES, builds=640), "other results to keep"),
    (lambda: plan(VAN, AXES | {"vehicle.mass": None}, builds=640, keep=KEEP), "other quantities"),
    (lambda: plan(VAN.changed({"vehicle.mass": 1700}), AXES, builds=640, keep=KEEP), "another build"),
])  # fmt: skip
def test_a_folder_of_another_plan_is_refused_in_one_sentence_and_left_as_it_is(other, said, tmp_path):
    store.prepare(tmp_path / "mine", searched())
    before = (tmp_path / "mine" / "plan.json").read_bytes()
    with pytest.raises(ValueError, match=f"mine: a search of that name was begun with {said}.*take another name"):
        run(other(), folder=tmp_path / "mine")
    assert (tmp_path / "mine" / "plan.json").read_bytes() == before


def test_a_folder_without_a_search_or_with_a_broken_one_says_so(tmp_path):
    with pytest.raises(ValueError, match="no search of that name"):
        reload(tmp_path / "nothing", VAN)
    store.prepare(tmp_path, searched())
    for text in ("{", "[]", '{"axes": 3}', json.dumps({"axes": [{"name": "vehicle.mass"}]})):
        (tmp_path / "plan.json").write_text(text)
        with pytest.raises(ValueError, match=r"plan\.json|search"):
            reload(tmp_path, VAN)


# --- an engine of its own -------------------------------------------------------------------------------------------


def test_a_local_cluster_gives_the_same_numbers(small, tmp_path):
    from distributed import Client, LocalCluster

    with (
        LocalCluster(n_workers=2, threads_per_worker=1, processes=False, dashboard_address=None) as cluster,
        Client(cluster) as client,
    ):
        through = run(searched(), client=client)
        kept = run(searched(), client=client, folder=tmp_path)
    here = run(searched())
    hold_same(through, here)
    hold_same(kept, here)


@pytest.mark.slow
def test_so_do_processes_of_a_cluster():
    from distributed import Client, LocalCluster

    with (
        LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as cluster,
        Client(cluster) as client,
    ):
        through = run(plan(VAN, AXES, builds=10_000, keep=KEEP), client=client)
    hold_same(through, run(plan(VAN, AXES, builds=10_000, keep=KEEP)))


def test_the_library_needs_no_engine():
    import subprocess
    import sys

    code = (
        "import sys; sys.modules['dask'] = sys.modules['distributed'] = None\n"
        "from evlib.build.file import find_build, read_build\n"
        "from evlib.lesson import trade\n"
        "build = read_build(find_build('orchard_van'))\n"
        "print(trade.search(build, {'vehicle.mass': None, 'vehicle.grip': None}, builds=8).complete)"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.strip().endswith("True")


def test_an_error_in_a_chunk_is_not_swallowed(small, monkeypatch):
    def fail(made, number):
        raise RuntimeError("no")

    monkeypatch.setattr(running, "piece", fail)
    with pytest.raises(RuntimeError, match="no"):
        run(searched())


# --- bad input ------------------------------------------------------------------------------------------------------

TWO = {"vehicle.mass": None, "vehicle.grip": None}


@pytest.mark.parametrize(("axes", "more", "said"), [
    ({"vehicle.mass": None}, {}, "search: 1 quantities or lists were given; allowed: 2 to 6"),
    (TWO | {"vehicle.masss": None}, {}, r"vehicle\.masss: no such value in a build; did you mean vehicle\.mass\?"),
    (TWO | {"machine.kind": None}, {}, r"machine\.kind: it is no number, so it has no span; allowed: a list"),
    (TWO | {"vehicle.wheel_radius": ("1 m", "0.3 m")}, {}, "from 1000 mm to 300 mm was given; allowed: rising"),
    (TWO | {"vehicle.wheel_radius": ("0.3 kg", "0.4 m")}, {}, r"vehicle\.wheel_radius: .*kg"),
    (TWO | {"vehicle.wheel_radius": "0.3 m"}, {}, "allowed: None, a pair of ends, a list, or named alternatives"),
    (TWO | {"vehicle.wheel_radius": ("0.3 m", float("nan"))}, {}, r"vehicle\.wheel_radius: .*nan was given"),
    (TWO | {"machine.wiring": ["series", "series"]}, {}, "the same value stands twice"),
    (TWO | {"machine.wiring": ["series"]}, {}, "1 alternatives were given; allowed: two or more"),
    (TWO | {"machine.wiring": ["series", "star"]}, {}, "'star' was given; allowed: 'series', 'parallel'"),
    (TWO | {"pump": {"a": {"vehicle.mass": 1500}, "b": {}}}, {}, r"vehicle\.mass: two parts of the search move it"),
    (TWO | {"pump": {"a": {"vehicle.wheel_radius": "-3 m"}, "b": {}}}, {}, r"pump, a: vehicle\.wheel_radius: "),
    (TWO | {"pump": {"a": "large", "b": {}}}, {}, "pump, a: 'large' was given; allowed: values that it changes"),
    (TWO | {"pump": {"a": {}, "b": {}}}, {}, "pump: none of its alternatives changes anything"),
    (TWO, {"builds": 0}, "builds: 0 was given; allowed: a whole number from 1 to 10000000"),
    (TWO, {"builds": 1e5}, r"builds: 100000\.0 was given"),
    (TWO, {"how": "random"}, "how: 'random' was given; allowed: 'sample', 'grid'"),
    (TWO, {"keep": ("time to the target sped",)}, "no such result; did you mean 'time to the target speed'"),
    (TWO, {"keep": ("first machine",)}, "first machine: it is words, not a number"),
    (TWO, {"seed": -1}, "seed: -1 was given; allowed: a whole number from 0"),
    (TWO | {f"list {k}": {str(n): {path: n + 20} for n in range(11)} for k, path in enumerate(
        ("gearbox.ring_teeth", "pack.cells_in_series", "pack.cells_in_parallel"))}, {}, "1331 combinations"),
])  # fmt: skip
def test_what_is_wrong_with_a_search_is_said_in_one_sentence(axes, more, said):
    with pytest.raises(ValueError, match=said) as caught:
        plan(VAN, axes, **more)
    assert "\n" not in str(caught.value)


def test_a_result_that_was_not_kept_and_a_row_that_is_not_there_say_what_there_is():
    found = run(plan(VAN, TWO, builds=8))
    with pytest.raises(ValueError, match=r"top speed: this search did not keep it; there are: smallest margin"):
        found.column("top speed")
    with pytest.raises(ValueError, match="row: 8 was given; allowed: 0 to 7"):
        found.build(8)


def test_a_whole_number_is_a_list_of_counts():
    made = plan(VAN, {"pack.cells_in_series": (90, 93), "vehicle.mass": None}, builds=8)
    assert isinstance(made.axes[0], Alternatives) and made.axes[0].names == ("90", "91", "92", "93")
