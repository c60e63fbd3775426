"""Pictures of the motors lesson that nobody moves: what is inside, sag, a bench table, the load that is lost."""

from __future__ import annotations

import numpy as np

from evlib.build import line
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.figures import motors as figures
from evlib.ground import units
from evlib.motors import pack, series, unloaded
from evlib.motors.bench import BenchTable
from evlib.motors.fit import Fit
from evlib.motors.magnetisation import Froelich
from evlib.panels.markup import show
from evlib.panels.panel import Table, Twin, amount
from evlib.panels.twin import Amount


def show_machine() -> None:
    """A series machine cut along its shaft, with its parts named."""
    rows = (
        ("armature", "the part that turns: iron with the armature winding in its slots"),
        ("commutator", "ring of copper bars on the shaft; each bar is joined to the winding"),
        ("brushes", "carbon, pressed on the commutator by springs; they bring the current in and out"),
        ("poles and field coils", "iron on the frame with coils around it: they make the field"),
        ("frame", "iron that closes the ring of the field and holds the poles"),
        ("drive end", "the shaft end that drives, away from the commutator"),
        ("second shaft end", "comes out through the commutator end, where a machine has one"),
    )
    say = Twin(
        alt="A machine cut along its shaft. In the middle the armature, above and below it a pole with its field coil "
            "on the frame. Left of the armature the commutator, with brushes pressed on it by springs. The drive end "
            "of the shaft leaves on the right, the second shaft end on the left, beyond the commutator.",
        sentence="A series machine, cut along its shaft; not to scale. The same current flows through field coils, "
                 "brushes and armature, one after the other.",
        table=Table(("part", "what it is"), rows),
    )  # fmt: skip
    show(figures.machine, None, say, title="What is inside", size=(7.4, 4.3), room=0.01)


def show_sag(build: Build) -> None:
    """Power of this build's pack over its current: the limits, and the largest power far beyond them."""
    b = View(build.parts)
    rest, ohms = float(line.open_volts(b)), float(line.pack_resistance(b))
    best = pack.largest_power(rest, pack_resistance=ohms)
    limit = pack.supply_limit(
        rest, pack_resistance=ohms, pack_current_limit=b.pack.pack_current_limit, cut_off_volts=line.cut_off_volts(b)
    )  # fmt: skip
    amps = np.linspace(0.0, rest / ohms, 201)
    case = figures.SagCase(
        amps, amps * (rest - ohms * amps), rest - ohms * amps, float(limit.current), float(best.current)
    )  # fmt: skip
    rows = (
        ("voltage at rest", amount(rest, figures.VOLTS)), ("pack resistance", Amount(1000 * ohms, "mohm")),
        ("current allowed", amount(float(limit.current), figures.CURRENT)),
        ("voltage then", amount(float(limit.volts), figures.VOLTS)),
        ("power then", amount(float(limit.power), figures.POWER)),
        ("current of largest power", amount(float(best.current), figures.CURRENT)),
        ("voltage then, half of rest", amount(float(best.volts), figures.VOLTS)),
        ("largest power", amount(float(best.power), figures.POWER)),
    )  # fmt: skip
    then, most = (amount(float(x), figures.POWER).show() for x in (limit.power, best.power))
    say = Twin(
        alt=f"Power over pack current is a hill: {most} at its top, where half of the voltage is lost; the limits "
            f"allow only the foot of it, to {limit.current:.0f} A.",
        sentence=f"The pack's own limits allow {then}; the hill's top of {most} would turn as much into heat "
        "inside pack and cables.",
        table=Table(("what", "value"), rows),
    )  # fmt: skip
    show(figures.sag, case, say, title="Power of a sagging pack")


def show_sheet(table: BenchTable, fit: Fit) -> None:
    """A bench table's torque over current, with the straight law and the fitted one."""
    c = fit.values()
    drag = {"speed": 0.0, "friction_torque": c["friction_torque"], "windage_coefficient": 0.0, "iron_conductance": 0.0}
    amps = np.linspace(0.0, 1.05 * float(np.max(table.current)), 80)
    first = int(np.argmin(table.current))
    straight = table.torque[first] * np.square(amps / table.current[first])
    curve = Froelich(c["mutual_inductance"], c["saturation_current"])
    fitted = np.maximum(np.asarray(series.torque(amps, magnetisation=curve, **drag)), 0.0)
    case = figures.SheetCase(table, amps, straight, fitted)
    last = int(np.argmax(table.current))
    told = [
        (str(n), Amount(i, "A"), Amount(t, "N m"), Amount(r, "N m", digits=2))
        for n, (i, t, r) in enumerate(zip(table.current, table.torque, fit.torque_residual, strict=True), 1)
    ]
    by_square = straight[-1] / 1.05**2
    say = Twin(
        alt=f"Measured torques rise less and less steeply; the square law runs a little low, then far "
            f"too high from about 250 A; the saturating one passes through them up to {table.current[last]:.0f} A.",
        sentence=f"At {table.current[last]:.0f} A the square law says {by_square:.0f} N m, the bench "
                 f"{table.torque[last]:.0f} N m.",
        table=Table(("reading", "current", "torque", "measured minus fitted"), tuple(told)),
    )  # fmt: skip
    show(figures.sheet, case, say, title="Torque of one machine on the bench")


def show_runaway(build: Build, *, current: float, speed: float) -> None:
    """Speed against time after the load is lost at a current and a speed."""
    b = View(build.parts)
    line.only_series(b)
    shared = line.layout(b)
    volts = float(line.open_volts(b)) * float(b.controller.duty_limit) / float(shared.in_series)
    r = unloaded.runaway(
        current, start_speed=speed, volts=volts, speed_limit=b.machine.speed_limit,
        rotor_inertia=b.machine.rotor_inertia, magnetisation=line.magnetisation(b),
        winding_resistance=line.warm_resistance(b), brush_drop=b.machine.brush_drop, **line.losses_arguments(b),
    )  # fmt: skip
    start, limit = (amount(v, figures.SPEED).show() for v in (speed, float(b.machine.speed_limit)))
    rest = units.show(r.levels_off_at, "rad/s")
    said = f"{r.time_to_limit:.2f} s" if np.isfinite(r.time_to_limit) else "no time: it levels off first"
    held = r.speed[r.current >= 0.999 * current]  # where the volts still drive the current that the controller holds
    bends = amount(float(held[-1]), figures.SPEED).show() if 0 < len(held) < len(r.speed) else ""
    shape = f"a straight line to {bends}, then less and less steep" if bends else "nearly a straight line"
    falls = f" Up to {bends} the volts drive all of it; at the limit {r.current[-1]:.0f} A." if bends else ""
    say = Twin(
        alt=f"Shaft speed climbs from {start} to the maker's limit of {limit}: {shape}.",
        sentence=f"From {start} at {current:.0f} A to the limit of {limit}: {said}.{falls} Left on "
                 f"{volts:.0f} V, with its current falling as it speeds up, it would level off at {rest}, "
                 "if it held together.",
        table=Table(("what", "value"), (
            ("start", start), ("limit", limit), ("time to the limit", said), ("would level off at", rest))),
    )  # fmt: skip
    show(figures.runaway, r, say, title="The load is lost")
