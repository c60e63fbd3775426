"""What the hydraulics lesson looks at: one case of launch, of handover, and of stop and go, as plain results."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from typing import Any, Literal

import numpy as np

from evlib.build import launch as on_build
from evlib.build.gears import gear_ratios, input_inertia
from evlib.build.launch import OilState
from evlib.build.view import View
from evlib.ground.quantity import Array, Number
from evlib.ground.units import HOSE_BORE
from evlib.hydraulics import handover, line, pump, rest, slip
from evlib.hydraulics.log import Finding, Log, findings, read_log
from evlib.hydraulics.stop_and_go import StopAndGo, stop_and_go

PullGear = Literal["low", "reverse"]
COMPLIANCE = 2.0e-11  # m3/Pa; pistons' springs, hose and a little air: a typical circuit, until a log says better
TOWN_SPEED = 250.0  # rad/s; input speed to which the panel's short trip pulls away
INHIBIT_BACK = 0.3e5  # Pa; how far pressure must rise above the inhibiting pressure before drive is allowed again


@dataclasses.dataclass(frozen=True)
class LaunchCase:
    """Pump curve against leakage, and what the gear's clutch or band holds at a pressure."""

    gear: str
    given_pressure: Array  # the pump's curve as it reaches the gearbox, behind check valve and hose [Pa]
    given: Array  # its flow there [m3/s]
    pressure: Array  # [Pa], along the other curves
    taken: Array  # leakage at that pressure [m3/s]
    allowed: Array  # input torque held at that pressure [N m]
    rest_pressure: float
    rest_flow: float
    asked: float
    allowed_at_rest: float
    current_asked: float
    shares: dict[str, float]  # where the flow goes, [m3/s]


def launch_case(
    b: View, *, gear: PullGear, current: float, volts: float, oil: OilState, growth: float, back_flow: Any
) -> LaunchCase:
    """One case of launch: the crossing of pump curve and leakage, and the torque that this pressure holds."""
    electric, hose, valve = b.hydraulics.electric_pump, b.hydraulics.line, b.hydraulics.check_valve
    changes = {"terminal_voltage": volts, "clearance_growth": growth, "back_flow": back_flow}
    point = on_build.rest_at(b, oil, gear=gear, **changes)
    curve = {**on_build.pump_arguments(b), "terminal_voltage": volts, "thinning": oil.thinning}
    fastest = electric.free_flow * volts / electric.rated_voltage
    flows = np.linspace(0.0, fastest, 121)
    outlet = np.asarray(
        pump.electric_pressure(flows, pump_relief_pressure=electric.pump_relief_pressure, **curve)
    )  # fmt: skip
    lost = np.asarray(
        rest.check_valve_loss(
            flows, cracking_pressure=valve.cracking_pressure, check_loss=valve.check_loss, free_flow=electric.free_flow
        )
    ) + line.line_loss(
        flows, bore=hose.line_bore, length=hose.line_length, fittings=hose.line_fittings, viscosity=oil.viscosity,
        density=oil.density,
    )  # fmt: skip
    inside = outlet - lost
    pressure = np.linspace(0.0, 1.3e6, 131)
    reaches = inside >= 0
    taken = _taken(b, gear, pressure, oil, growth, back_flow)
    allowed = np.asarray(on_build.input_torque_allowed(b, gear, pressure=pressure))
    shares = {
        "seals": point.through_seals, "valve body": point.through_orifices,
        "standing internal pump": point.through_internal_pump, "regulator": point.through_regulator,
    }  # fmt: skip
    return LaunchCase(
        gear, inside[reaches], flows[reaches], pressure, taken, allowed, float(point.pressure), float(point.flow),
        float(on_build.torque_at_current(b, current)),
        float(on_build.input_torque_allowed(b, gear, pressure=point.pressure)), float(current),
        {name: float(flow) for name, flow in shares.items()},
    )  # fmt: skip


def _taken(b: View, gear: PullGear, pressure: Array, oil: OilState, growth: float, back_flow: str) -> Array:
    """What leaves the circuit at rest at each pressure [m3/s]."""
    h = b.hydraulics
    box = on_build.leak_arguments(b)
    leaked = np.asarray(pump.leakage(pressure, thinning=oil.thinning, **box))
    back = np.asarray(
        pump.internal_leak(
            pressure, internal_slip=h.internal_pump.internal_slip, leak_test_pressure=box["leak_test_pressure"],
            clearance_growth=growth, thinning=oil.thinning,
        )
    )  # fmt: skip
    spilled = np.asarray(
        pump.regulator_flow(
            pressure, regulator_set=on_build.main_pressure(b, gear),
            regulator_override=h.regulator.regulator_override,
            displacement=h.internal_pump.displacement,
        )
    )  # fmt: skip
    return np.asarray(leaked + back * (back_flow == "open") + spilled)


@dataclasses.dataclass(frozen=True)
class HandoverCase:
    """Flow of the internal pump over input speed, against what the pressure that the torque needs lets through."""

    speed: Array  # [rad/s], negative is backwards
    net: Array  # flow of the internal pump into the circuit [m3/s]
    leak: float  # what seals and valve body take at that pressure [m3/s]
    pressure: float  # that the asked torque needs [Pa]
    handover_speed: float
    needed_on_speed: float  # with time for switch and spin-up while braking
    on_speed: float
    off_speed: float
    torque: float


def handover_case(
    b: View, *, torque: float, displacement: float, growth: float, oil: OilState, braking: float,
    on_speed: float, off_speed: float,
) -> HandoverCase:  # fmt: skip
    """One case of handover in low."""
    pressure = float(np.asarray(on_build.pressure_needed(b, "low", input_torque=torque)))
    box = on_build.leak_arguments(b)
    leak = float(pump.leakage(pressure, thinning=oil.thinning, **box))
    slip_of = {
        "internal_slip": b.hydraulics.internal_pump.internal_slip, "clearance_growth": growth,
        "thinning": oil.thinning, "leak_test_pressure": box["leak_test_pressure"],
    }  # fmt: skip
    speed = np.linspace(-60.0, 160.0, 111)
    net = np.asarray(pump.internal_flow(speed, pressure=pressure, displacement=displacement, **slip_of))
    carried = float(
        handover.handover_speed(
            pressure, displacement=displacement, internal_slip=slip_of["internal_slip"], clearance_growth=growth,
            thinning=oil.thinning, **box,
        )
    )  # fmt: skip
    needed = handover.switch_on_needed(
        min(carried, 400.0), input_deceleration=slowing(b, braking), switch_delay=b.hydraulics.switch.switch_delay,
        spin_up_time=b.hydraulics.electric_pump.spin_up_time,
    )  # fmt: skip
    return HandoverCase(speed, net, leak, pressure, carried, float(needed), on_speed, off_speed, torque)


def slowing(b: View, braking: Any) -> Number:
    """Rate at which input speed falls in low while braking [rad/s2]."""
    overall = np.multiply(gear_ratios(b).low, b.final_drive.final_drive_ratio)
    return handover.input_deceleration(braking, overall_ratio=overall, wheel_radius=b.vehicle.wheel_radius)


@dataclasses.dataclass(frozen=True)
class DriveCase:
    """A short trip: pressure and pressure needed over time, speed, pump, dips, and the heat of any slip."""

    time: Array
    pressure: Array
    needed: Array
    speed: Array
    pump: Array
    dips: tuple[slip.Dip, ...]
    slip_heat: float  # [J]
    heat_per_area: float  # [J/m2] of the low element's lining
    switchings: int
    lowest: float  # pressure over pressure needed at the worst instant after the first second
    braking_pressure: float  # lowest from the start of braking on [Pa]
    launch_pressure: float  # that full launch torque in low needs [Pa]


def in_place(b: View, oil: OilState, *, volts: Any = None) -> tuple[float, float]:
    """The electric pump with its line and check valve as one straight line: free flow [m3/s], shut-off [Pa]."""
    given = on_build.pump_arguments(b)
    if volts is not None:
        given["terminal_voltage"] = volts
    point = on_build.rest_at(b, oil, regulator_set=5e6, terminal_voltage=given["terminal_voltage"])
    stall = pump.stall_pressure(given.pop("free_flow"), **given, thinning=oil.thinning)
    shut = rest.shut_off_pressure(
        np.minimum(stall, 1e7), pump_relief_pressure=b.hydraulics.electric_pump.pump_relief_pressure,
        cracking_pressure=b.hydraulics.check_valve.cracking_pressure,
    )  # fmt: skip
    free = rest.free_flow_in_place(point.flow, rest_pressure=np.minimum(point.pressure, 0.95 * shut), shut_off=shut)
    return float(free), float(shut)


def running(
    b: View, speed: Any, *, gear: on_build.Gear, electric_on: bool = True, back_flow: rest.BackFlow | None = None
) -> Number:
    """Main pressure [Pa] at an input speed (backward negative), oil hot; at rest the same as the crossing gives.

    What hose and check valve lose is taken as at rest.
    """
    oil, h = on_build.hot_oil(b), b.hydraulics
    at_rest = on_build.rest_at(b, oil, gear=gear)
    return rest.running_pressure(
        speed, electric_on=electric_on, **on_build.pump_arguments(b), thinning=oil.thinning,
        cracking_pressure=np.maximum(np.subtract(at_rest.pump_pressure, at_rest.pressure), 0.0),
        **on_build.leak_arguments(b), **on_build.internal_arguments(b),
        back_flow=h.internal_pump.back_flow if back_flow is None else back_flow,
        regulator_set=on_build.main_pressure(b, gear), regulator_override=h.regulator.regulator_override,
        displacement=h.internal_pump.displacement,
    )  # fmt: skip


def trip(b: View, *, braking: float, top: float = TOWN_SPEED) -> tuple[Array, Array]:
    """Corners of a short trip: stand, pull away, roll, brake hard to a stop, stand; times [s] and speeds [rad/s]."""
    stop = top / float(slowing(b, braking))
    times = np.cumsum([0.0, 2.0, 3.0, 1.5, stop, 2.5])
    return times, np.array([0.0, 0.0, top, top, 0.0, 0.0])


def run_trip(
    b: View, times: Array, speeds: Array, oil: OilState, line_in_place: tuple[float, float], **changes: Any
) -> StopAndGo:
    """Simulate a drive sequence on the build; ``changes`` replace arguments of the simulation."""
    h = b.hydraulics
    free, shut = line_in_place
    given = {
        "free_flow": free, "shut_off_pressure": shut, "displacement": h.internal_pump.displacement,
        **on_build.internal_arguments(b), "back_flow": h.internal_pump.back_flow, **on_build.leak_arguments(b),
        "thinning": oil.thinning, "regulator_set": float(np.asarray(on_build.main_pressure(b, "low"))),
        "regulator_override": h.regulator.regulator_override, "compliance": COMPLIANCE, "start_pressure": 0.0,
        "on_speed": h.switch.switch_on_speed, "off_speed": h.switch.switch_off_speed,
        "switch_delay": h.switch.switch_delay, "spin_up_time": h.electric_pump.spin_up_time,
        "sees_direction": h.switch.sees_direction,
    }  # fmt: skip
    return stop_and_go(times, speeds=speeds, **{**given, **changes})


def asked_torque(b: View, times: Array, speeds: Array, at: Array) -> Array:
    """Input torque asked along a sequence: the launch torque while it pulls away, a third while it rolls, else nil."""
    launch = float(np.asarray(on_build.launch_torque(b, "low")))
    rising = np.diff(speeds) > 0
    rolling = (np.diff(speeds) == 0) & (speeds[:-1] > 0)
    which = np.clip(np.searchsorted(times, at, side="right") - 1, 0, times.size - 2)
    return np.asarray(np.where(rising[which], launch, np.where(rolling[which], launch / 3, 0.0)))


def drive_case(b: View, run: StopAndGo, times: Array, speeds: Array, *, samples: int = 801) -> DriveCase:
    """Read a simulated run against what its torque needs: dips, slip and its heat."""
    at = np.linspace(times[0], times[-1], samples)
    pressure = np.maximum(run.at(at), 0.0)
    asked = asked_torque(b, times, speeds, at)
    needed = np.asarray(on_build.pressure_needed(b, "low", input_torque=asked))
    held = np.minimum(np.asarray(on_build.input_torque_allowed(b, "low", pressure=pressure)), 5000.0)
    slipped = slip.slip(at, asked=asked, held=held, inertia=float(np.asarray(input_inertia(b))))
    heat = float(slipped.energy[-1])  # torque held at the input x slip at the input: what the lining turns into heat
    settled = at > at[0] + 1.0
    return DriveCase(
        at, pressure, needed, np.interp(at, times, speeds), run.run.at(at)[:, 1],
        tuple(slip.dips(at[settled], pressure=pressure[settled], needed=needed[settled], longer_than=0.0)),
        heat, heat / lining(b), run.switchings(), float(np.min(pressure[settled] / needed[settled])),
        float(np.min(pressure[at >= _braking_from(times, speeds)])), launch_pressure_low(b),
    )  # fmt: skip


def _braking_from(times: Array, speeds: Array) -> float:
    """When a sequence first slows down; its start where it never does."""
    falling = np.flatnonzero(np.diff(speeds) < 0)
    return float(times[falling[0]] if falling.size else times[0])


def launch_pressure_low(b: View) -> float:
    """Pressure [Pa] that full launch torque in low needs."""
    return float(np.asarray(on_build.pressure_needed(b, "low", input_torque=on_build.launch_torque(b, "low"))))


def lining(b: View) -> float:
    """Area of the low element's lining [m2]."""
    low = b.hydraulics.low
    if low.holds_by == "band":
        return float(low.drum_diameter / 2 * low.wrap_angle * low.band_width)
    ring = low.face_outer_diameter**2 - low.face_inner_diameter**2
    return float(low.friction_faces * np.pi / 4 * ring)


@dataclasses.dataclass(frozen=True)
class LineCase:
    """Loss of a hose over oil temperature, in three sizes."""

    temperature: Array  # [K]
    loss: dict[int, Array]  # dash number to loss [Pa]
    allowed: float
    flow: float
    chosen: int
    loss_hot: float  # of the chosen size at the hottest oil
    loss_cold: float


@dataclasses.dataclass(frozen=True)
class LogCase:
    """A pressure log, the pressure that is needed, and the troubles found in it."""

    log: Log
    needed: float
    found: tuple[Finding, ...]


def log_case(path: str | Path, *, needed: float) -> LogCase:
    """Read a log and find its troubles."""
    read = read_log(path)
    return LogCase(read, needed, tuple(findings(read, needed=needed)))


def line_case(b: View, *, flow: float, dash: int, length: float, fittings: float) -> LineCase:
    """Loss of the pressure line over oil temperature, for the size chosen and its two neighbours."""
    sizes = sorted(HOSE_BORE)
    place = min(max(sizes.index(dash), 1), len(sizes) - 2)
    cold, hot = float(b.hydraulics.oil.cold_temperature), float(b.hydraulics.oil.hot_temperature)
    temperature = np.linspace(cold, hot, 81)
    oil = on_build.oil_at(b, temperature)
    loss = {
        size: np.asarray(
            line.line_loss(
                flow, bore=HOSE_BORE[size], length=length, fittings=fittings, viscosity=oil.viscosity,
                density=oil.density,
            )
        )
        for size in sizes[place - 1 : place + 2]
    }  # fmt: skip
    own = loss[dash]
    return LineCase(
        temperature, loss, float(b.hydraulics.line.line_loss_allowed), flow, dash, float(own[-1]), float(own[0])
    )
