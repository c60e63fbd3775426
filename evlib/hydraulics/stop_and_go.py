"""Stop and go, simulated: the pressure over the pressure needed, while pumps and valves switch."""

from __future__ import annotations

import bisect
import dataclasses
import itertools
import math
from collections.abc import Sequence
from typing import Any, Literal

import numpy as np

from evlib.ground.events import Event, Guard, Run, integrate
from evlib.ground.quantity import Array, calculation, result
from evlib.hydraulics import quantities as q

TRACE = 2.0  # Pa; how far past its point a valve opens and shuts, so that it cannot do both at one instant
SEEP = 1e-11  # m3/s; the same for the internal pump's outlet valve
ORIFICE_SETTLES = 100.0  # Pa; below about this an orifice passes oil in proportion, not by the root
TURNING = {"full": 0.0, "still": 0.0, "rising": 1.0, "falling": -1.0}
# The state: pressure, the electric pump's speed (0 still to 1 full), and the volumes since the start. A pressure below
# nil stands for oil that a piston has still to take up; a gauge then shows nothing.
PRESSURE, PUMP, FROM_ELECTRIC, FROM_INTERNAL, LEAKED, REGULATED, FILLED = range(7)


@result
class StopAndGo:
    """What a drive sequence did to the pressure, at the integrator's own times."""

    time: Array  # [s]; twice at every change of mode
    pressure: Array  # [Pa]
    pump_speed: Array  # of the electric pump, 0 to 1
    volumes: Array  # [m3] since the start: from the electric pump, from the internal one, leaked, regulated, filled
    events: tuple[Event, ...]
    run: Run
    volume_error: float  # what the balance of volumes misses, over what was pumped

    def switchings(self) -> int:
        """How often the electric pump was switched on or off."""
        return sum(event.name in ("relay on", "relay off") for event in self.events)

    def at(self, times: Any) -> Array:
        """Pressure at given times [Pa]."""
        return np.asarray(self.run.at(times)[:, PRESSURE])


@dataclasses.dataclass(frozen=True)
class Mode:
    """What is open and what is on; within a mode every rate is smooth."""

    relay: Literal["off", "closing", "on", "opening"]
    since: float  # when the relay's delay began
    spinning: Literal["full", "rising", "falling", "still"]
    check_open: bool
    internal_open: bool
    regulating: bool
    empty: bool
    filling: int  # how many of the fills have begun
    edge: int = 0  # how many losses and returns of the speed signal have passed


@dataclasses.dataclass(frozen=True)
class _Circuit:
    """Plain numbers of one run, and its drive sequence as lists (faster than arrays inside the integrator)."""

    times: list[float]
    speeds: list[float]
    sets: list[float]
    free: float
    shut: float
    per_radian: float
    slip: float
    slope: float
    root: float
    override: float
    compliance: float
    on_speed: float
    off_speed: float
    delay: float
    spin_up: float
    sees_direction: bool
    sensor: bool
    edges: list[float]  # times at which the speed signal is lost, comes back, is lost again
    check_stuck: bool
    back_open: bool

    def along(self, values: list[float], t: float) -> float:
        """A value of the drive sequence between its corners."""
        i = min(max(bisect.bisect_right(self.times, t), 1), len(self.times) - 1)
        before, after = self.times[i - 1], self.times[i]
        return values[i - 1] + (values[i] - values[i - 1]) * (t - before) / (after - before)

    def felt(self, t: float, edge: int = 0) -> float:
        """The speed that the switch sees; a lost signal reads as standing still."""
        if not self.sensor or edge % 2:
            return 0.0
        speed = self.along(self.speeds, t)
        return speed if self.sees_direction else abs(speed)

    def electric(self, p: float, u: float) -> float:
        """Flow of the electric pump into the circuit."""
        return self.free * (u - p / self.shut)

    def internal(self, t: float, p: float) -> float:
        """Flow of the internal pump into the circuit; negative when it draws."""
        return self.per_radian * self.along(self.speeds, t) - self.slip * p

    def leak(self, p: float) -> float:
        """Flow out through seals and orifices."""
        return self.slope * p + self.root * p / math.sqrt(abs(p) + ORIFICE_SETTLES)

    def flows(self, t: float, p: float, u: float, mode: Mode) -> tuple[float, float, float, float]:
        """From the electric pump, from the internal one, leaked, regulated [m3/s]."""
        electric = self.electric(p, u) if mode.check_open else 0.0
        internal = self.internal(t, p) if mode.internal_open else 0.0
        regulated = self.override * (p - self.along(self.sets, t)) if mode.regulating else 0.0
        return electric, internal, self.leak(p), regulated


def _rate(circuit: _Circuit, t: float, state: Array, mode: Mode) -> Sequence[float]:
    p, u = 0.0 if mode.empty else float(state[PRESSURE]), float(state[PUMP])
    electric, internal, leaked, regulated = circuit.flows(t, p, u, mode)
    turning = TURNING[mode.spinning] / circuit.spin_up
    if mode.empty:  # a pump that turns backwards draws no more oil than there is
        internal, leaked, regulated = max(electric + internal, 0.0) - electric, 0.0, 0.0
    net = electric + internal - leaked - regulated
    return (net / circuit.compliance, turning, electric, internal, leaked, regulated, 0.0)


def _guards(circuit: _Circuit, mode: Mode, fills: list[tuple[float, float]]) -> list[Guard]:
    def opens(t: float, y: Array) -> float:
        return float(y[PUMP] * circuit.shut - y[PRESSURE])

    found = []
    on, off = circuit.on_speed, circuit.off_speed

    def felt(t: float) -> float:
        return circuit.felt(t, mode.edge)

    if mode.relay in ("off", "opening"):
        found.append(Guard("slow", lambda t, y: on - felt(t)))
    if mode.relay in ("on", "closing"):
        found.append(Guard("fast", lambda t, y: felt(t) - off))
    if mode.relay in ("closing", "opening"):
        name = "relay on" if mode.relay == "closing" else "relay off"
        found.append(Guard(name, lambda t, y: t - mode.since - circuit.delay))
    if mode.spinning == "rising":
        found.append(Guard("pump full", lambda t, y: y[PUMP] - 1))
    if mode.spinning == "falling":
        found.append(Guard("pump still", lambda t, y: -y[PUMP]))
    if not circuit.check_stuck:
        if mode.check_open:
            found.append(Guard("check shuts", lambda t, y: -opens(t, y) - TRACE))
        else:
            found.append(Guard("check opens", lambda t, y: opens(t, y) - TRACE))
    if not circuit.back_open:
        if mode.internal_open:
            found.append(Guard("internal shuts", lambda t, y: -circuit.internal(t, y[PRESSURE]) - SEEP))
        else:
            found.append(Guard("internal opens", lambda t, y: circuit.internal(t, y[PRESSURE]) - SEEP))
    if mode.regulating:
        found.append(Guard("regulator shuts", lambda t, y: circuit.along(circuit.sets, t) - y[PRESSURE] - TRACE))
    else:
        found.append(Guard("regulator opens", lambda t, y: y[PRESSURE] - circuit.along(circuit.sets, t) - TRACE))
    if mode.empty:
        found.append(Guard("oil again", lambda t, y: y[PRESSURE] - TRACE))
    else:
        found.append(Guard("empty", lambda t, y: -y[PRESSURE] - TRACE))
    if mode.edge < len(circuit.edges):
        found.append(Guard("signal", lambda t, y: t - circuit.edges[mode.edge]))
    if mode.filling < len(fills):
        found.append(Guard("fill", lambda t, y: t - fills[mode.filling][0]))
    return found


def _change(
    circuit: _Circuit, name: str, t: float, state: Array, mode: Mode, fills: list[tuple[float, float]]
) -> tuple[Mode, Array]:
    new = dataclasses.replace
    y = state.copy()
    if name == "slow":
        return (new(mode, relay="closing", since=t) if mode.relay == "off" else new(mode, relay="on")), y
    if name == "fast":
        return (new(mode, relay="opening", since=t) if mode.relay == "on" else new(mode, relay="off")), y
    if name == "signal":
        return new(mode, edge=mode.edge + 1), y
    if name == "relay on":
        return new(mode, relay="on", spinning="rising"), y
    if name == "relay off":
        return new(mode, relay="off", spinning="falling"), y
    if name in ("pump full", "pump still"):
        y[PUMP] = round(float(y[PUMP]))
        return new(mode, spinning="full" if name == "pump full" else "still"), y
    if name == "fill":
        volume = fills[mode.filling][1]
        y[FILLED] += volume
        y[PRESSURE] -= volume / circuit.compliance
        return new(mode, filling=mode.filling + 1), y
    flags: dict[str, dict[str, Any]] = {
        "check opens": {"check_open": True}, "check shuts": {"check_open": False},
        "internal opens": {"internal_open": True}, "internal shuts": {"internal_open": False},
        "regulator opens": {"regulating": True}, "regulator shuts": {"regulating": False},
        "oil again": {"empty": False}, "empty": {"empty": True},
    }  # fmt: skip
    return new(mode, **flags[name]), y


@calculation
def stop_and_go(
    times: q.SeriesTime, *, speeds: q.InputSpeed, fill_times: Sequence[float] = (), fill_volumes: Sequence[float] = (),
    free_flow: q.FreeFlow, shut_off_pressure: q.ShutOffPressure, displacement: q.Displacement,
    internal_slip: q.InternalSlip, clearance_growth: q.ClearanceGrowth, back_flow: Literal["open", "outlet valve"],
    seal_leak: q.SealLeak, valve_body_leak: q.ValveBodyLeak, open_feed: q.OpenFeed,
    leak_test_pressure: q.TestPressure, thinning: q.Thinning, regulator_set: q.RegulatorSet,
    regulator_override: q.RegulatorOverride, compliance: q.Compliance, start_pressure: q.Pressure,
    on_speed: q.SwitchOnSpeed, off_speed: q.SwitchOffSpeed, switch_delay: q.SwitchDelay, spin_up_time: q.SpinUpTime,
    sees_direction: Literal["yes", "no"], sensor: Literal["sound", "lost"] = "sound",
    check_valve: Literal["sound", "stuck open"] = "sound", dropouts: Sequence[tuple[float, float]] = (),
) -> StopAndGo:  # fmt: skip
    """Simulate main pressure through a drive sequence of input speeds.

    C dp/dt = Qe + d n/2π - slip(p) - leakage(p) - regulator(p), Qe = Q0 (u - p/pshut) while the check valve is open

    times [s] and speeds (backwards negative) [rad/s]: the corners of the sequence, straight between them. At
    fill_times [s] a piston takes up fill_volumes [m3]. free_flow and shut_off_pressure [m3/s, Pa]: the electric pump
    with its line and check valve, as one straight line at its volts (:func:`pump_line`). displacement [m3 per turn],
    leakages [m3/s] at leak_test_pressure [Pa]; regulator_set (one value, or one for each corner) and
    regulator_override [Pa]; compliance [m3/Pa]; start_pressure [Pa]; switch speeds [rad/s], switch_delay and
    spin_up_time [s]. A lost sensor reads nil, and so does one within ``dropouts``, pairs of start and end [s].
    Gives pressure and volumes in time, and every change of mode.
    Left out: oil's inertia, temperature during the run, and the pump's relief valve (take the lower of its pressure
    and the stall pressure as shut-off).

    >>> quiet = stop_and_go(np.array([0.0, 10.0]), speeds=np.array([0.0, 0.0]), free_flow=1e-4, shut_off_pressure=1e6,
    ...     displacement=18e-6, internal_slip=5e-5, clearance_growth=1, back_flow="open", seal_leak=5e-5,
    ...     valve_body_leak=0, open_feed=0, leak_test_pressure=1e6, thinning=1, regulator_set=2e6,
    ...     regulator_override=4e4, compliance=4e-11, start_pressure=0, on_speed=50, off_speed=60, switch_delay=0,
    ...     spin_up_time=0.1, sees_direction="no")
    >>> round(float(quiet.pressure[-1]))  # 1e-4 (1 - p/1e6) = 1e-4 p/1e6
    500000

    Source: continuity; each flow as in :mod:`evlib.hydraulics.pump`.
    """
    corners = np.atleast_1d(np.asarray(times, dtype=float))
    turning = np.atleast_1d(np.asarray(speeds, dtype=float))
    if corners.size < 2 or np.any(np.diff(corners) <= 0) or turning.shape != corners.shape:
        raise ValueError(
            f"times: {corners.size} corners and {turning.size} speeds were given; allowed: two or more, rising"
        )
    if np.any(np.asarray(off_speed) <= on_speed):
        raise ValueError(f"off_speed: {off_speed} rad/s was given; allowed: more than on_speed, {on_speed} rad/s")
    test = float(leak_test_pressure)
    circuit = _Circuit(
        times=corners.tolist(), speeds=turning.tolist(),
        sets=np.broadcast_to(np.asarray(regulator_set, dtype=float), corners.shape).tolist(),
        free=float(free_flow), shut=max(float(shut_off_pressure), 1.0), per_radian=float(displacement) / (2 * math.pi),
        slip=float(internal_slip) * float(clearance_growth) ** 3 * float(thinning) / test,
        slope=float(seal_leak) * float(thinning) / test,
        root=(float(valve_body_leak) + float(open_feed)) / math.sqrt(test),
        override=float(displacement) * 1000 / 60 / float(regulator_override), compliance=float(compliance),
        on_speed=float(on_speed), off_speed=float(off_speed), delay=float(switch_delay),
        spin_up=max(float(spin_up_time), 1e-6), sees_direction=sees_direction == "yes", sensor=sensor == "sound",
        edges=[float(edge) for edge in itertools.chain(*sorted(dropouts))],
        check_stuck=check_valve == "stuck open", back_open=back_flow == "open",
    )  # fmt: skip
    fills = sorted(zip(map(float, fill_times), map(float, fill_volumes), strict=True))
    start_on = circuit.felt(circuit.times[0]) < circuit.on_speed
    mode = Mode("on" if start_on else "off", 0.0, "full" if start_on else "still", circuit.check_stuck,
                circuit.back_open, regulating=False, empty=False, filling=0)  # fmt: skip
    run = integrate(
        lambda t, y, m: _rate(circuit, t, y, m), state=(float(start_pressure), float(start_on), *[0.0] * 5),
        mode=mode, guards=lambda m: _guards(circuit, m, fills),
        change=lambda name, t, y, m: _change(circuit, name, t, y, m, fills),
        start=circuit.times[0], end=circuit.times[-1], breaks=[*circuit.times, *_standstills(corners, turning)],
        rtol=1e-5, atol=[10.0, 1e-6, *[1e-6] * 5],
    )  # fmt: skip
    return _told(run, float(start_pressure), circuit.compliance)


def _standstills(times: Array, speeds: Array) -> list[float]:
    """Times between corners at which the input changes direction: the rate has a kink there."""
    turned = np.flatnonzero(speeds[:-1] * speeds[1:] < 0)
    share = speeds[turned] / (speeds[turned] - speeds[turned + 1])
    return list((times[turned] + share * (times[turned + 1] - times[turned])).tolist())


def _told(run: Run, start_pressure: float, compliance: float) -> StopAndGo:
    """The run as arrays, and by how much its volumes fail to balance."""
    state = run.state
    volumes = state[:, FROM_ELECTRIC:]
    gained = volumes[:, 0] + volumes[:, 1] - volumes[:, 2] - volumes[:, 3] - volumes[:, 4]
    stored = compliance * (state[:, PRESSURE] - start_pressure)
    pumped = max(float(np.ptp(volumes[:, 0]) + np.ptp(volumes[:, 1])), compliance)
    error = float(np.max(np.abs(gained - stored))) / pumped
    return StopAndGo(run.time, np.maximum(state[:, PRESSURE], 0.0), state[:, PUMP], volumes, run.events, run, error)
