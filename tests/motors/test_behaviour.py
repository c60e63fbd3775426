"""Motors: errors that explain themselves, shapes, columns equal to singles, files that are refused."""

import inspect

import numpy as np
import pytest

from evlib.ground import runaway as ground_runaway
from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import quantities
from evlib.motors import (
    ac,
    bench,
    brushes,
    commutator,
    controller,
    duty,
    envelope,
    fit,
    heat,
    magnetisation,
    pack,
    pair,
    ratings,
    rotation,
    series,
    shunt,
    unloaded,
)
from evlib.motors.bench import BadSheet, parse_bench_table, read_bench_table, read_magnetisation
from evlib.motors.magnetisation import Froelich, Tabulated
from evlib.motors.parts import Controller, Machine, Pack

MODULES = (ac, brushes, commutator, controller, duty, envelope, ground_runaway, heat, magnetisation, pack, pair,
           ratings, rotation, series, shunt, unloaded)  # fmt: skip
K = Froelich(0.0016, 300.0)
MACHINE = {"magnetisation": K, "winding_resistance": 0.012, "brush_drop": 2.0, "friction_torque": 1.5,
           "windage_coefficient": 1e-5, "iron_conductance": 0.04}  # fmt: skip
FEED = {key: MACHINE[key] for key in ("magnetisation", "winding_resistance", "brush_drop")}


def calculations():
    for module in MODULES:
        for name, thing in vars(module).items():
            if inspect.isfunction(thing) and hasattr(thing, "__wrapped__") and thing.__module__ == module.__name__:
                yield pytest.param(thing, id=f"{module.__name__.split('.')[-1]}.{name}")


@pytest.mark.parametrize("function", list(calculations()))
def test_every_argument_is_declared_and_documented(function):
    text = inspect.getdoc(function)
    hints = inspect.signature(inspect.unwrap(function)).parameters
    assert "Source:" in text
    assert ">>>" in text or function is ratings.two_lumps  # that one is tested instead: it takes a while
    positional = [p for p in hints.values() if p.kind is p.POSITIONAL_OR_KEYWORD]
    assert len(positional) <= 1
    declared = quantities(function)
    for name, parameter in hints.items():
        is_number = "Magnetisation" not in str(parameter.annotation) and "Curve" not in str(parameter.annotation)
        if is_number and "Array" not in str(parameter.annotation) and name not in WORDS:
            assert name in declared, name


WORDS = {"wiring", "arrangement", "pump_turns", "drive_end_faces", "standard_rotation", "advanced_for",
         "first_drive_end_faces", "second_drive_end_faces", "first_advanced_for", "second_advanced_for"}  # fmt: skip


@pytest.mark.parametrize("bad", [np.nan, np.inf, -1.0, 1e9, "400 A", None, True])
def test_nonsense_current_is_refused_by_name(bad):
    with pytest.raises((ValueError, TypeError)) as error:
        series.volts_needed(bad, speed=100.0, **FEED)
    if bad is not None:
        assert "current" in str(error.value)


def test_a_mistyped_keyword_raises():
    with pytest.raises(TypeError):
        series.volts_needed(400.0, sped=100.0, **FEED)
    with pytest.raises(ValueError, match="series"):
        controller.layout(2, wiring="star", arrangement="one for all")


def test_messages_that_say_what_is_wrong():
    with pytest.raises(ValueError, match="without current a series machine has no definite speed"):
        series.speed_at(0.0, volts=100.0, **FEED)
    with pytest.raises(ValueError, match="needs more than that"):
        series.speed_at(600.0, volts=5.0, **FEED)
    with pytest.raises(ValueError, match="cannot give that at any current"):
        pack.current_for_power(60e3, open_volts=144.0, pack_resistance=0.1)
    with pytest.raises(ValueError, match="no largest power"):
        pack.largest_power(144.0, pack_resistance=0.0)
    with pytest.raises(ValueError, match="at least the base speed"):
        ac.ac_torque(1.0, peak_torque=1.0, base_speed=300.0, pull_out_speed=200.0)
    with pytest.raises(ValueError, match="not below the speed limit"):
        unloaded.runaway(400.0, start_speed=600.0, volts=150.0, speed_limit=576.0, rotor_inertia=0.1, **MACHINE)
    with pytest.raises(ValueError, match="never settles"):
        heat.cyclic_peak(3000.0, duty_fraction=0.9, cycle_time=3600.0, winding_resistance=0.012, other_loss=0.0,
                         air_temperature=300.0, winding_heat_capacity=5800.0, frame_heat_capacity=27e3,
                         winding_conductance=30.0, frame_conductance=25.0)  # fmt: skip


def test_winding_mass_is_asked_for_and_not_invented():
    case = {"continuous_current": 200.0, "hour_current": 260.0, "five_minute_current": 480.0, "winding_limit": 428.15,
            "winding_resistance": 0.012, "other_loss": 300.0, "air_temperature": 308.15}  # fmt: skip
    with pytest.raises(ValueError, match="Weigh the copper"):
        ratings.two_lumps(winding_mass=None, **case)
    with pytest.raises(ValueError, match="larger current"):
        ratings.two_lumps(winding_mass=15.0, **{**case, "hour_current": 150.0})
    with pytest.raises(ValueError, match="no two-lump machine"):
        ratings.two_lumps(winding_mass=15.0, **{**case, "five_minute_current": 4000.0})


def test_curves_are_not_read_beyond_their_ends():
    table = Tabulated(bench.Curve(x=np.array([0.0, 100.0]), y=np.array([0.0, 0.3]), source="a bench"))
    with pytest.raises(OutOfRange, match="a bench"):
        series.torque(101.0, speed=0.0, magnetisation=table, friction_torque=0.0, windage_coefficient=0.0,
                      iron_conductance=0.0)  # fmt: skip
    with pytest.raises(OutOfRange):
        series.current_for_torque(500.0, speed=0.0, magnetisation=table, friction_torque=0.0,
                                  windage_coefficient=0.0, iron_conductance=0.0)  # fmt: skip
    with pytest.raises(OutOfRange, match="saturating machine"):
        magnetisation.current_for_constant(0.48, mutual_inductance=0.0016, saturation_current=300.0)


def test_an_envelope_that_a_measured_curve_does_not_cover_is_refused_and_one_it_covers_is_not():
    amps = np.linspace(0.0, 700.0, 281)
    table = Tabulated(bench.Curve(x=amps, y=np.asarray(K.at(amps)), source="a bench"))
    speeds = np.array([0.0, 200.0, 500.0])
    covered = envelope.envelope(speeds, **{**SYSTEM, "magnetisation": table})
    by_law = envelope.envelope(speeds, **SYSTEM)
    assert covered.torque == pytest.approx(by_law.torque, rel=1e-3)
    assert list(covered.governing) == list(by_law.governing)
    with pytest.raises(OutOfRange, match="a bench"):
        envelope.envelope(speeds, **{**SYSTEM, "magnetisation": table, "motor_current_limit": 800.0,
                                     "brush_current_limit": 900.0})  # fmt: skip
    case = {**MACHINE, "magnetisation": table, "start_speed": 100.0, "volts": 150.0, "speed_limit": 576.0,
            "rotor_inertia": 0.12}  # fmt: skip
    lawful = unloaded.runaway(400.0, **{**case, "magnetisation": K})
    assert unloaded.runaway(400.0, **case).time_to_limit == pytest.approx(lawful.time_to_limit, rel=1e-3)
    with pytest.raises(OutOfRange):
        unloaded.runaway(800.0, **case)


# --- shapes: a column gives a column, and equals its singles ---
COLUMN = np.array([50.0, 200.0, 450.0])
SYSTEM = {
    **MACHINE, "brush_current_limit": 700.0, "speed_limit": 576.0, "in_series": 2, "in_parallel": 1, "controllers": 1,
    "motor_current_limit": 600.0, "controller_pack_current_limit": 500.0, "duty_limit": 1.0,
    "controller_efficiency": 0.97, "open_volts": 316.0, "pack_resistance": 0.06, "pack_current_limit": 400.0,
    "cut_off_volts": 240.0,
}  # fmt: skip
BODY = {
    "winding_resistance": 0.012, "other_loss": 300.0, "air_temperature": 308.15, "winding_heat_capacity": 5800.0,
    "frame_heat_capacity": 27e3, "winding_conductance": 30.0, "frame_conductance": 25.0,
}  # fmt: skip
CASES = {
    "torque": lambda x: series.torque(x, speed=200.0, **{k: v for k, v in MACHINE.items() if k not in
                                                         ("winding_resistance", "brush_drop")}),
    "volts": lambda x: series.volts_needed(x, speed=200.0, **FEED),
    "current at": lambda x: series.current_at(x, volts=80.0, **FEED),
    "supply": lambda x: pack.supply_limit(300.0, pack_resistance=0.06, pack_current_limit=x, cut_off_volts=290.0).power,
    "envelope": lambda x: envelope.envelope(x, **SYSTEM).torque,
    "envelope by limit": lambda x: envelope.envelope(300.0, **{**SYSTEM, "pack_current_limit": x}).power,
    "time": lambda x: heat.time_to_limit(x, winding_limit=400.0, start_winding=308.15, start_frame=308.15, **BODY),
    "rating": lambda x: heat.short_time_current(x, winding_limit=400.0, **BODY),
    "cycle": lambda x: heat.cyclic_peak(x, duty_fraction=0.1, cycle_time=300.0, **BODY).winding,
    "parallel": lambda x: pair.parallel_share(x, speed=200.0, flux_mismatch=0.04, **FEED).first_current,
    "stall": lambda x: commutator.stall_time_allowed(x, stall_current=300.0, stall_time=10.0),
    "ac": lambda x: ac.ac_torque(x, peak_torque=200.0, base_speed=100.0, pull_out_speed=300.0),
    "no load": lambda x: unloaded.no_load_speed(x, **MACHINE),
    "runaway time": lambda x: ground_runaway.time_to_speed_limit(x, rotor_inertia=0.1, start_speed=0.0,
                                                                 speed_limit=500.0),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_a_column_equals_its_singles(name):
    together = CASES[name](COLUMN)
    assert isinstance(together, np.ndarray)
    assert together.shape == (3,)
    singles = [CASES[name](float(x)) for x in COLUMN]
    assert all(type(single) is float for single in singles)
    assert list(together) == pytest.approx(singles, rel=1e-12)
    square = CASES[name](COLUMN[:, None])
    assert square.shape == (3, 1)


def test_speeds_against_builds():
    e = envelope.envelope(np.array([[0.0], [100.0]]), **{**SYSTEM, "open_volts": np.array([300.0, 310.0, 320.0]),
                          "magnetisation": Froelich(np.array([0.0015, 0.0016, 0.0017]), 300.0)})  # fmt: skip
    assert e.torque.shape == e.governing.shape == (2, 3)


# --- runaway in the ground floor --------------------------------------------------------------------------------------
def test_runaway_time_at_its_ends():
    base = {"rotor_inertia": 0.1, "speed_limit": 500.0}
    assert ground_runaway.time_to_speed_limit(20.0, start_speed=500.0, **base) == 0.0
    assert ground_runaway.time_to_speed_limit(20.0, start_speed=600.0, **base) == 0.0
    assert ground_runaway.time_to_speed_limit(0.0, start_speed=100.0, **base) == np.inf
    times = ground_runaway.climb(np.array([0.0, 100, 200]), torque=np.array([10.0, 0.0, 5.0]), rotor_inertia=0.1)
    assert list(times) == [0.0, np.inf, np.inf]
    for speeds, torques in (([1.0, 1.0], [1.0, 1.0]), ([0.0, 1.0], [1.0]), ([0.0], [1.0])):
        with pytest.raises(ValueError, match="rising speeds"):
            ground_runaway.climb(np.array(speeds), torque=np.array(torques), rotor_inertia=0.1)
    with pytest.raises(ValueError, match="finite"):
        ground_runaway.climb(np.array([0.0, 1.0]), torque=np.array([1.0, np.nan]), rotor_inertia=0.1)


# --- parts ------------------------------------------------------------------------------------------------------------
def test_parts_read_text_with_units_and_know_nothing_by_default():
    made = Machine(winding_resistance="12 mohm", speed_limit="5500 rpm", winding_limit="155 °C")
    assert made.winding_resistance == pytest.approx(0.012)
    assert made.speed_limit == pytest.approx(5500 * np.pi / 30)
    assert made.winding_limit == pytest.approx(428.15)
    assert Pack(cell_capacity="160 Ah").cell_capacity == pytest.approx(576e3)
    for kind in (Pack, Controller, Machine):
        blank = kind()
        assert {getattr(blank, name) for name in kind.__dataclass_fields__} <= {None, True}


# --- bench tables -----------------------------------------------------------------------------------------------------
GOOD = ["# source: a test", "current,torque,speed,volts", "A,lbf ft,rpm,V", "100,10,3000,72.1", "200,30,2000,72.0",
        "300,52,1600,71.9", "400,76,1400,71.9"]  # fmt: skip
BROKEN = [
    (3, "100,10,3000,", "line 4, column volts: blank"),
    (3, "100,nan,3000,72", "line 4, column torque: nan is not a finite"),
    (4, "200,-30,2000,72", "line 5, column torque: -30 was given"),
    (4, "200,30,inf,72", "line 5, column speed"),
    (4, "0,30,2000,72", "line 5, column current: 0 was given"),
    (5, "300,52 N m,1600,71.9", "line 6, column torque: '52 N m' is not a plain number"),
    (5, "200,30,2000,72.0", "line 6: the same row as line 5"),
    (5, "300,52,1600", "line 6: 3 cells"),
    (2, "A,lbf ft,rpm,furlong", "line 3, column volts"),
    (2, "A,,rpm,V", "line 3, column torque: no unit"),
    (2, "A,rpm,V", "line 3: 3 units"),
    (1, "current,torque,speed", "line 2: columns are"),
    (0, "# a note", "no line '# source"),
]


def test_a_good_table_is_read_in_si():
    table = parse_bench_table("\n".join(GOOD))
    assert table.torque[0] == pytest.approx(10 * 1.3558179483314)
    assert table.speed[1] == pytest.approx(2000 * np.pi / 30)
    assert list(table.line) == [4, 5, 6, 7]
    assert table.source == "a test"


@pytest.mark.parametrize(("row", "text", "message"), BROKEN)
def test_bad_rows_are_refused_with_line_and_column(row, text, message):
    lines = [*GOOD]
    lines[row] = text
    with pytest.raises(BadSheet) as error:
        parse_bench_table("\n".join(lines), name="bench.csv")
    assert str(error.value).startswith("bench.csv")
    assert message in str(error.value)


def test_bad_files(tmp_path):
    with pytest.raises(BadSheet, match="cannot be read"):
        read_bench_table(tmp_path / "none.csv")
    (tmp_path / "x.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BadSheet, match="not UTF-8"):
        read_bench_table(tmp_path / "x.csv")
    (tmp_path / "big.csv").write_text("# source: x\n" + "1,2\n" * 300_000)
    with pytest.raises(BadSheet, match="larger"):
        read_bench_table(tmp_path / "big.csv")
    (tmp_path / "falls.csv").write_text("# source: x\ncurrent,torque\nA,N m\n10,1\n20,2\n30,2.5\n40,9\n")
    with pytest.raises(BadSheet, match="line 6: torque per ampere falls"):
        read_magnetisation(tmp_path / "falls.csv")
    few = parse_bench_table("\n".join(GOOD))
    with pytest.raises(BadSheet, match="too few"):
        fit.fit_machine(few)
    with pytest.raises(ValueError, match="no constant of this fit"):
        fit.fit_machine(few, held={"colour": 1.0})
