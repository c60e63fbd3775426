"""A drive cycle: what a speed trace costs, how warm the motors get, and where the vehicle cannot follow."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import numpy as np

from evlib.build import gears
from evlib.build.line import frame_loss, motor_current_for, open_volts, pack_resistance, warm_resistance
from evlib.build.run_up import Drive, pull, resistance
from evlib.build.view import View
from evlib.gearing.inertia import rotating_mass
from evlib.gearing.log import Log, read_log
from evlib.ground.quantity import Array, result
from evlib.motors import heat, pack

CYCLES = Path(__file__).parents[2] / "data" / "gearing"
HARDEST_BRAKING = 8.0  # m/s2; a trace that slows harder is not driven, it is a crash or a fault of the log
FOLLOWS = 0.56  # m/s; 2 km/h: common practice, no source


@result
class Driven:
    """What the vehicle does on a trace, second by second, at the points of the trace.

    ``torque`` [N m] and ``shaft`` [rad/s] at the gearbox input over each step; ``braked`` is the energy [J] that the
    brakes take; ``short`` is how far the speed [m/s] falls behind the trace.
    """

    time: Array
    wanted: Array
    speed: Array
    torque: Array
    shaft: Array
    work: Array
    braked: float
    short: Array

    @property
    def distance(self) -> float:
        """Way driven [m]."""
        return float(np.trapezoid(self.speed, self.time))


@result
class Cycle:
    """The cost of a cycle on a build. Energy at the pack's terminals plus what its resistance takes [J].

    ``per_metre`` [J/m]; ``range`` [m] on the usable charge; ``motor_rms`` and ``pack_rms`` [A]; ``winding`` [K] when
    the cycle has been repeated until the usable charge is gone (None for an AC machine).
    """

    driven: Driven
    energy: float
    per_metre: float
    range: float
    motor_rms: float | None
    pack_rms: float
    winding: float | None
    follows: bool
    worst_time: float
    worst_short: float


def named_cycle(name: str) -> Log:
    """A cycle that comes with the course: ``urban`` (public), ``village`` or ``ridge`` (both invented).

    Raises ``ValueError`` naming what there is.
    """
    found = sorted(path.stem.removeprefix("cycle_") for path in CYCLES.glob("cycle_*.csv"))
    if name not in found:
        raise ValueError(f"cycle: {name!r} was given; there are: {', '.join(found)}")
    return read_log((CYCLES / f"cycle_{name}.csv").read_text(encoding="utf-8"))


def follow(d: Drive, trace: Log, *, change_speed: float | None = None) -> Driven:
    """Drive a trace as well as the vehicle can, step by step: it lags where pull or grip is too small, never leads.

    Over each step the speed changes evenly; forces are taken at its middle. Below the change-over it is in low. What
    must be slowed beyond the road load is braked; nothing comes back (series machines do not brake). The pause of a
    change is left out. Raises ``ValueError`` where the trace slows harder than any brake.
    """
    low_limit = float(d.shaft_speed[-1] * d.wheel_radius / (d.gears[0] * d.final_drive_ratio))
    change = low_limit if change_speed is None else min(change_speed, low_limit)
    wanted, time = trace.speed, trace.time
    if (np.diff(wanted) / np.diff(time) < -HARDEST_BRAKING).any():
        at = int(np.argmax(np.diff(wanted) / np.diff(time) < -HARDEST_BRAKING)) + 1
        raise ValueError(f"line {trace.lines[at]}: the trace slows by more than {HARDEST_BRAKING:.0f} m/s2")
    most = [_most(d, gear) for gear in range(len(d.gears))]
    speed = np.empty(len(time))
    speed[0] = wanted[0]
    for k in range(1, len(time)):
        now, step = speed[k - 1], float(time[k] - time[k - 1])
        if wanted[k] <= now:
            speed[k] = wanted[k]
            continue
        gear = 0 if now < change or len(d.gears) == 1 else 1
        grid, hardest = most[gear]
        push = float(np.interp(now, grid, hardest, right=-np.inf))
        middle = min(wanted[k], max(0.0, now + push * step)) / 2 + now / 2
        push = float(np.interp(middle, grid, hardest, right=float(hardest[-1])))
        top = float(most[-1][0][-1])
        speed[k] = min(wanted[k], max(0.0, now + push * step), top)
    return _forces(d, time, wanted, speed, change)


def _most(d: Drive, gear: int) -> tuple[Array, Array]:
    """Hardest acceleration over speed in a gear."""
    grid = d.shaft_speed * float(d.wheel_radius / (d.gears[gear] * d.final_drive_ratio))
    return grid, np.asarray(pull(d, gear, speed=grid, torque=np.asarray(d.torque)).acceleration)


def _forces(d: Drive, time: Array, wanted: Array, speed: Array, change: float) -> Driven:
    step = np.diff(time)
    middle, rate = (speed[1:] + speed[:-1]) / 2, np.diff(speed) / step
    load = np.where((middle > 0) | (rate > 0), resistance(d, middle), 0.0)
    torque, shaft = np.zeros(len(step)), np.zeros(len(step))
    braked = 0.0
    for gear, ratio in enumerate(d.gears):
        inside = middle >= change if gear else middle < change
        if len(d.gears) == 1:
            inside = np.ones(len(step), dtype=bool)
        whole = float(ratio * d.final_drive_ratio / d.wheel_radius)
        through = float(d.gear_efficiencies[gear] * d.final_drive_efficiency)
        spun = rotating_mass(
            d.input_inertia, gear_ratio=ratio, final_drive_ratio=d.final_drive_ratio, wheel_radius=d.wheel_radius,
            propeller_inertia=d.propeller_inertia, wheel_inertia=d.wheel_inertia, driven_axle=d.driven_axle,
            gear_efficiency=d.gear_efficiencies[gear], final_drive_efficiency=d.final_drive_efficiency,
        )  # fmt: skip
        mass = float(d.mass) + float(spun.dragged) + float(spun.driven)
        needed = load + mass * rate
        torque = np.where(inside, np.maximum(needed, 0.0) / (whole * through), torque)
        shaft = np.where(inside, middle * whole, shaft)
        braked += float(np.sum(np.where(inside, np.maximum(-needed, 0.0) * middle * step, 0.0)))
    short = np.maximum(wanted - speed, 0.0)
    return Driven(time, wanted, speed, torque, shaft, torque * shaft * step, braked, short)


def drive_cycle(b: View, trace: Log, *, usable: float = 0.8) -> Cycle:
    """What a trace costs on a build: energy, range, currents, end temperature, and where it cannot follow.

    usable [1]: share of the charge that is driven before it stops. Pack at the build's charge and temperature.
    """
    d = gears.drive(b)
    change = gears.change_speed(b)
    run = follow(d, trace, change_speed=None if change is None else float(change))
    step = np.diff(run.time)
    amps, taken = _electric(b, run)
    volts, ohms = float(np.asarray(open_volts(b))), float(np.asarray(pack_resistance(b)))
    drawn = np.asarray(pack.current_for_power(taken, open_volts=volts, pack_resistance=ohms))
    energy = float(np.sum(volts * drawn * step))  # from the cells: what the pack's own resistance takes is in it
    whole = float(step.sum())
    charge = float(b.pack.cell_capacity) * float(b.pack.cells_in_parallel) * usable
    spent = float(np.sum(drawn * step))
    if run.distance <= 0 or spent <= 0:
        raise ValueError("the trace does not move, or costs nothing: there is no range to it")
    winding = None
    if amps is not None:
        repeats = charge / spent
        winding = _end_temperature(b, amps, run.shaft, step, seconds=repeats * whole)
    at = int(np.argmax(run.short))
    return Cycle(
        driven=run, energy=energy, per_metre=energy / run.distance, range=charge / spent * run.distance,
        motor_rms=None if amps is None else _rms(amps, step), pack_rms=_rms(drawn, step), winding=winding,
        follows=bool(run.short.max() <= FOLLOWS), worst_time=float(run.time[at]), worst_short=float(run.short[at]),
    )  # fmt: skip


def _rms(values: Array, step: Array) -> float:
    return float(np.sqrt(np.sum(values**2 * step) / step.sum()))


def _electric(b: View, run: Driven) -> tuple[Array | None, Array]:
    """Current in each series machine [A] (None for AC), and the power at the pack's terminals [W]."""
    shaft_power = run.torque * run.shaft
    if b.machine.kind == "ac":
        return None, shaft_power / float(b.machine.ac.ac_efficiency)  # machine and inverter together
    driving = run.torque > 0
    amps = np.where(driving, np.asarray(motor_current_for(b, run.torque, run.shaft)), 0.0)
    copper = amps**2 * float(np.asarray(warm_resistance(b)))
    lost = np.where(driving, copper + np.asarray(frame_loss(b, amps, run.shaft)), 0.0)
    into = shaft_power + float(b.machine.machine_count) * lost
    return amps, into / float(b.controller.controller_efficiency)


def _end_temperature(b: View, amps: Array, shaft: Array, step: Array, *, seconds: float) -> float:
    """Winding temperature [K] after repeating the cycle, by its root-mean-square current and its mean frame loss."""
    m, air = b.machine, b.targets.hottest_air
    frame = float(np.sum(np.asarray(frame_loss(b, amps, shaft)) * (amps > 0) * step) / step.sum())
    return float(np.asarray(heat.temperatures_after(
        seconds, current=_rms(amps, step), winding_resistance=m.winding_resistance, other_loss=frame,
        air_temperature=air, start_winding=air, start_frame=air, winding_heat_capacity=m.winding_heat_capacity,
        frame_heat_capacity=m.frame_heat_capacity, winding_conductance=m.winding_conductance,
        frame_conductance=m.frame_conductance,
    ).winding))  # fmt: skip


def slower(trace: Log, *, factor: float) -> Log:
    """The same trace driven at a share of its speeds, over the same time."""
    return dataclasses.replace(trace, speed=trace.speed * factor)
