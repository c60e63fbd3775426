"""What if something fails: each fault simulated on the build; what is noticed, damaged, and what guards against it."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from evlib.build import hydraulic_cases as cases
from evlib.build import launch as on_build
from evlib.build.gears import input_inertia
from evlib.build.view import View
from evlib.ground.quantity import Array
from evlib.hydraulics import slip

DEAD = (1e-9, 1.0)  # m3/s and Pa: an electric pump that gives nothing
LOW_VOLTS = 10.0  # V at the pump: a battery that its charger has left alone
BURST = 20.0 / 60e3  # m3/s at the leakage test pressure: a hose off its fitting
CRAWL = 3.0  # s just above the switch-off speed
STAND = 4.0  # s at rest before the trip pulls away: long enough to notice


@dataclasses.dataclass(frozen=True)
class Fault:
    """One fault: what changes in the simulation, and what a driver and a mechanic see of it."""

    name: str
    noticed: str
    damaged: str
    guard: str
    changes: dict[str, Any] = dataclasses.field(default_factory=dict)


NO_DRIVE, WEARS = "no drive, or the motors race at the first touch of the pedal", "the pump and its motor wear out"
INHIBIT, BURNS = "pressure switch that forbids drive", "the clutches burn at launch"
STOP = "switch the pump off and stop"
HEARD, FIRE = "the pump is heard while driving", "the clutches, the pump; a fire near hot parts"
BURST_BEHIND = "hose burst, check valve at the gearbox"  # the valve then shuts the main circuit off from the hose
FAULTS: tuple[Fault, ...] = (
    Fault("none", "nothing", "nothing", "nothing is wanted"),
    Fault("electric pump dead", NO_DRIVE, BURNS, INHIBIT),
    Fault("relay stuck off", NO_DRIVE, BURNS, INHIBIT),
    Fault("relay stuck on", HEARD, WEARS, "a lamp that shows the pump running",
          {"on_speed": 398.0, "off_speed": 399.0}),
    Fault("speed sensor lost", HEARD, WEARS, "a lost signal must read as standing still, never as driving",
          {"sensor": "lost"}),
    Fault("speed signal drops out for 0.4 s", "the pump is heard for a moment", "nothing, if it is rare",
          "plug and shield of the sensor; a log shows it", {"dropouts": ((STAND + 6.0, STAND + 6.4),)}),
    Fault("check valve stuck open", "nothing: only a gauge reads low, just above the switch-off speed",
          "nothing yet; with a worn internal pump the band slips there", "gauge at the test port while crawling",
          {"check_valve": "stuck open"}),
    Fault("hose burst, check valve at the pump", f"smoke, oil on the road; {NO_DRIVE}", FIRE,
          f"{STOP}; check valve at the gearbox, hose away from heat, {INHIBIT}", {"open_feed": BURST}),
    Fault(BURST_BEHIND, f"smoke, oil on the road; {NO_DRIVE}", FIRE, f"{STOP}; hose away from heat, {INHIBIT}"),
    Fault("12 V low", "pressure builds up slowly, the lamps are dim", "the clutches slip, in reverse first",
          "12 V lamp, " + INHIBIT),
)  # fmt: skip


@dataclasses.dataclass(frozen=True)
class Outcome:
    """What one fault did on the trip: pressures, heat of slip with and without the inhibit."""

    fault: Fault
    standing: float  # just before pulling away [Pa]
    crawling: float  # just above the switch-off speed [Pa]
    lowest_driven: float  # while torque is asked: pressure over the pressure it needs
    heat: float  # of slip, over the lining [J/m2], the controller obeying the pedal
    heat_inhibited: float  # the same with a pressure switch that forbids drive
    switchings: int


def fault_outcome(b: View, fault: Fault) -> Outcome:
    """Simulate one fault on a short trip from standing, in low, oil hot: crawl, pull away, roll, brake."""
    oil = on_build.hot_oil(b)
    crawl = 1.05 * float(b.hydraulics.switch.switch_off_speed)
    stop = cases.TOWN_SPEED / float(cases.slowing(b, b.hydraulics.switch.hardest_braking))
    times = np.cumsum([0.0, STAND, 1.5, CRAWL, 3.0, 1.5, stop, 2.5])
    speeds = np.array([0.0, 0.0, crawl, crawl, cases.TOWN_SPEED, cases.TOWN_SPEED, 0.0, 0.0])
    run = cases.run_trip(b, times, speeds, oil, _line(b, fault), **fault.changes)
    at = np.linspace(times[0], times[-1], 2001)
    pressure = np.maximum(run.at(at), 0.0)
    asked = cases.asked_torque(b, times, speeds, at)
    needed = np.asarray(on_build.pressure_needed(b, "low", input_torque=asked))
    held = np.minimum(np.asarray(on_build.input_torque_allowed(b, "low", pressure=pressure)), 5000.0)
    allowed = inhibited(pressure, inhibit=float(b.hydraulics.switch.inhibit_pressure), back=cases.INHIBIT_BACK)
    inertia, lining = float(np.asarray(input_inertia(b))), cases.lining(b)
    heat = [
        float(slip.slip(at, asked=torque, held=held, inertia=inertia).energy[-1]) / lining
        for torque in (asked, asked * allowed)
    ]
    pulled = asked > 0
    return Outcome(
        fault,
        float(pressure[at < times[1]][-1]),
        float(pressure[at < times[3]][-1]),
        float((pressure / needed)[pulled].min()),
        heat[0],
        heat[1],
        run.switchings(),
    )


def _line(b: View, fault: Fault) -> tuple[float, float]:
    if fault.name in ("electric pump dead", "relay stuck off", BURST_BEHIND):
        return DEAD
    if fault.name == "12 V low":
        return cases.in_place(b, on_build.hot_oil(b), volts=LOW_VOLTS)
    return cases.in_place(b, on_build.hot_oil(b))


def inhibited(pressure: Array, *, inhibit: float, back: float) -> Array:
    """1 where a pressure switch lets the controller drive, 0 where it forbids it; it lets go ``back`` pascals higher.

    >>> inhibited(np.array([0.0, 4.2e5, 4.6e5, 4.2e5, 3.9e5]), inhibit=4e5, back=0.5e5).tolist()
    [0.0, 0.0, 1.0, 1.0, 0.0]
    """
    state, out = 0.0, []
    for value in pressure:
        state = 1.0 if value > inhibit + back else 0.0 if value < inhibit else state
        out.append(state)
    return np.array(out)
