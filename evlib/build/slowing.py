"""Slowing without the brakes: what motors without current do, a resistor, plugging, and regeneration.

A series machine that is driven makes no current by itself: without current it has no field. Turned into a generator,
field and armature crossed over so that the field builds up, it brakes on a resistor (dynamic braking). Plugged, with
the supply against its back-EMF, it brakes hard and takes from the pack as well. It gives nothing back to the pack
without a controller for its field. An AC machine on its inverter does.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from evlib.build.gears import gear_ratios, has, shaft_per_road
from evlib.build.launch import input_torque_allowed, main_pressure
from evlib.build.line import magnetisation, only_series, open_volts, warm_resistance
from evlib.build.view import View
from evlib.ground.quantity import Number, calculation
from evlib.ground.solve import bisect
from evlib.motors import ac
from evlib.motors.magnetisation import Magnetisation
from evlib.motors.quantities import BrushDrop, Current, OpenVolts, Speed, WindingResistance

RULE_SPEED = 40 / 3.6  # m/s; 49 CFR 571.102 S3.1.2 speaks of what happens below 40 km/h
RULE = (
    "49 CFR 571.102 S3.1.2: of several forward gear ratios, one forward position shall brake more than the highest one "
    "does, below 40 km/h (25 mph)."
)
OPEN_QUESTION = {
    "several gears": RULE + " Motors without current brake by their friction alone, a little more in low. Is that "
    "enough here, and does the rule bind a converted vehicle? This sheet does not answer it.",
    "one gear": RULE + " This build has one forward ratio. Does your inspector read the rule so, too? This sheet does "
    "not answer it.",
}


@calculation
def resistor_for(
    current: Current, *, speed: Speed, magnetisation: Magnetisation, winding_resistance: WindingResistance,
    brush_drop: BrushDrop,
) -> Number:  # fmt: skip
    """Resistor on which one driven series machine brakes with a wanted current.

    R_b = (k w - V_b) / I - R

    current: I [A]; speed: w [rad/s]; magnetisation: curve of k; winding_resistance: R [ohm]; brush_drop: V_b [V].
    ValueError where even a short circuit would not let that current flow.

    >>> from evlib.motors.magnetisation import Froelich
    >>> round(resistor_for(200.0, speed=250.0, magnetisation=Froelich(0.0016, 300.0), winding_resistance=0.015,
    ...                    brush_drop=2.0), 4)
    0.215

    Source: Kirchhoff's voltage law; worked as in FOSSEE textbook companion 3472, EX39.19.
    """
    found = (np.asarray(magnetisation.at(current)) * speed - brush_drop) / current - winding_resistance
    if np.any(found < 0):
        raise ValueError("current: at this speed the machine does not make that current even on a short circuit")
    return found


@calculation
def plug_resistor_for(
    current: Current, *, speed: Speed, supply_volts: OpenVolts, magnetisation: Magnetisation,
    winding_resistance: WindingResistance, brush_drop: BrushDrop,
) -> Number:  # fmt: skip
    """Resistor that holds the current of one series machine while it is plugged: supply and back-EMF add up.

    R_p = (V + k w - V_b) / I - R

    Arguments as in :func:`resistor_for`; supply_volts: V on this machine [V]. The torque does not end at standstill:
    cut it there, or the machine runs up backward.

    >>> from evlib.motors.magnetisation import Froelich
    >>> round(plug_resistor_for(200.0, speed=250.0, supply_volts=150.0, magnetisation=Froelich(0.0016, 300.0),
    ...                         winding_resistance=0.015, brush_drop=2.0), 4)
    0.965

    Source: Kirchhoff's voltage law; any text on electric drives.
    """
    volts = supply_volts + np.asarray(magnetisation.at(current)) * speed - brush_drop
    return volts / current - winding_resistance


@calculation
def braked_current(
    speed: Speed, *, brake_resistance: WindingResistance, magnetisation: Magnetisation,
    winding_resistance: WindingResistance, brush_drop: BrushDrop,
) -> Number:  # fmt: skip
    """Current that one driven series machine builds up on a resistor.

    k(I) w = V_b + (R + R_b) I: the larger of its two solutions, the one that stays; 0 where there is none

    speed: w [rad/s]; brake_resistance: R_b [ohm]; the rest as in :func:`resistor_for`. Below a critical speed the field
    does not build up at all: dynamic braking fades out, and holds nothing at rest. Remanence, which starts it, is
    ignored.

    >>> from evlib.motors.magnetisation import Froelich
    >>> machine = dict(magnetisation=Froelich(0.0016, 300.0), winding_resistance=0.015, brush_drop=2.0)
    >>> round(float(braked_current(250.0, brake_resistance=0.215, **machine)))
    200
    >>> float(braked_current(100.0, brake_resistance=0.215, **machine))
    0.0

    Source: self-excitation of a series generator; any text on DC machines.
    """

    def spare(current: Any) -> Any:
        ohms = np.asarray(winding_resistance) + brake_resistance
        return np.asarray(magnetisation.at(current)) * speed - brush_drop - ohms * current

    trial = np.linspace(0.0, magnetisation.largest_current, 2001)[1:].reshape(-1, *[1] * np.ndim(speed))
    left = np.asarray(spare(trial))
    best = trial.ravel()[np.argmax(left, axis=0)]  # the curve bends down, so one solution lies on each side of it
    found = bisect(spare, low=best, high=magnetisation.largest_current)
    return np.where(left.max(axis=0) > 0, found, 0.0)


def motor_drag(b: View, *, gear_ratio: Any, road_speed: Any = RULE_SPEED) -> Number:
    """Force at the tyres [N] of series machines that turn without current: bearings, brushes and windage."""
    only_series(b)
    m = b.machine
    turns = shaft_per_road(b, gear_ratio)
    each = np.asarray(m.friction_torque) + m.windage_coefficient * np.square(turns * road_speed)
    return np.asarray(each * m.machine_count * turns)  # power over road speed: gear losses come on top


def braking_force(b: View, *, gear_ratio: Any, road_speed: Any = RULE_SPEED) -> Number:
    """Force at the tyres [N] by which AC machines may regenerate; a full or cold pack takes less."""
    m, turns = b.machine, shaft_per_road(b, gear_ratio)
    torque = ac.ac_braking(
        turns * road_speed, machine_count=m.machine_count, regeneration_torque=m.ac.regeneration_torque,
        peak_torque=m.ac.peak_torque, base_speed=m.ac.base_speed, pull_out_speed=m.ac.pull_out_speed,
    )  # fmt: skip
    return np.asarray(torque * turns)


@dataclasses.dataclass(frozen=True)
class Slowing:
    """One way to slow down at one moment.

    Resistor of each machine [ohm], torque of all at the gearbox input [N m], force at the tyres [N], heat in all
    resistors and windings [W], power from the pack [W]: below 0 where it is given back.
    """

    way: str
    resistance: float | None
    torque: float
    force: float
    heat: float
    from_pack: float


def ways_to_slow(b: View, *, current: float, road_speed: float = RULE_SPEED) -> list[Slowing]:
    """Each way that the build's machines allow, in low (or its only gear), at a road speed.

    ``current`` [A] in each series machine, which has a resistor and, plugged, an equal share of the pack's volts of its
    own. Gear losses are left out; rolling and air come on top.
    """
    turns = float(np.asarray(shaft_per_road(b, gear_ratios(b).low)))
    speed, count = turns * road_speed, float(b.machine.machine_count)
    if b.machine.kind == "ac":
        force = float(braking_force(b, gear_ratio=gear_ratios(b).low, road_speed=road_speed))
        back = force * road_speed * float(np.asarray(b.machine.ac.ac_efficiency))
        return [Slowing("regeneration", None, force / turns, force, force * road_speed - back, -back)]
    drag = float(motor_drag(b, gear_ratio=gear_ratios(b).low, road_speed=road_speed))
    machine = {"magnetisation": magnetisation(b), "winding_resistance": warm_resistance(b),
               "brush_drop": b.machine.brush_drop}  # fmt: skip
    k = float(np.asarray(machine["magnetisation"].at(current)))
    torque = k * current * count + drag / turns
    volts = float(np.asarray(open_volts(b))) / count
    ohms = float(np.asarray(resistor_for(current, speed=speed, **machine)))
    plug = float(np.asarray(plug_resistor_for(current, speed=speed, supply_volts=volts, **machine)))
    made, taken = k * speed * current * count, volts * current * count
    return [
        Slowing("no current", None, drag / turns, drag, 0.0, 0.0),
        Slowing("resistor", ohms, torque, torque * turns, made, 0.0),
        Slowing("plugging", plug, torque, torque * turns, made + taken, taken),
    ]


def low_holds_back(b: View) -> Number:
    """Torque at the gearbox input [N m] that low holds while the wheels drive the motors; infinite without a clutch.

    A band that wound itself on while the motors drive is unwound then. Main pressure with the pedal down is taken.
    """
    if not (has(b, "gearbox") and has(b, "hydraulics")):
        return np.asarray(np.inf)
    return input_torque_allowed(b, "low", pressure=main_pressure(b, "low"), driving=False)
