"""Launch: the torque, and so the motor current, that pressure at rest allows in low and in reverse.

Here three topics meet: the gear set says what each clutch or band holds for each newton-metre at the input, hydraulics
says what it can hold at a pressure, and the motors say which current gives that torque.
"""

from __future__ import annotations

from typing import Any, Literal

import numpy as np

from evlib.build.line import losses_arguments, magnetisation, motor_current_for, only_series, torque_at_rest
from evlib.build.view import View, derived
from evlib.gearing import planetary
from evlib.ground import wire
from evlib.ground.quantity import Number, result
from evlib.hydraulics import handover, launch, oil, pump, rest
from evlib.motors import series

Gear = Literal["low", "direct", "reverse"]
GEARS: tuple[Gear, ...] = ("low", "direct", "reverse")
WIRE_TEMPERATURE = 348.15  # K; copper beside the gearbox, 75 °C


@result
class OilState:
    """The oil at one temperature: viscosity [m2/s], density [kg/m3], thinning against the leakage test [1]."""

    viscosity: Number
    density: Number
    thinning: Number


@result
class Multiples:
    """What the low element, the direct clutch and the reverse element hold, over input torque."""

    low: Number
    direct: Number
    reverse: Number


@derived
def held_multiples(b: View) -> Multiples:
    """Holding torque over input torque in each gear: from the tooth counts, or from the measured ratios."""
    box = b.gearbox
    if box.arrangement == "two-sun planetary" and not box.known("input_sun_teeth") and box.known("low_ratio"):
        # Carrier drives out: low_sun = i - 1 and ring = i + 1 (torque balance); direct: (i - 1)/i (equal speeds).
        return Multiples(box.low_ratio - 1, 1 - 1 / np.asarray(box.low_ratio), box.reverse_ratio + 1)
    if box.arrangement == "two-sun planetary":
        train = planetary.two_sun_set(
            box.input_sun_teeth, low_sun=box.low_sun_teeth, short_planet=box.short_planet_teeth,
            long_planet=box.long_planet_teeth, ring=box.ring_teeth,
        )  # fmt: skip
        names = {"input sun": "input sun", "low sun": "low sun", "ring": "ring", "carrier": "carrier"}
    else:
        train = planetary.simple_set(box.input_sun_teeth, ring=box.ring_teeth)
        names = {"input sun": "sun", "low sun": "sun", "ring": "ring", "carrier": "carrier"}
    driven, out = names[box.input_member], names[box.output_member]

    def holds(held: tuple[str, ...], locked: tuple[tuple[str, str], ...]) -> Number:
        gear = planetary.solve(train, driven=driven, output=out, held=held, locked=locked)
        return np.abs(next(iter(gear.hold.values())))

    return Multiples(
        holds((names[box.low_held_member],), ()),
        holds((), ((driven, names[box.direct_locked_member]),)),
        holds((names[box.reverse_held_member],), ()),
    )


def oil_at(b: View, temperature: Any) -> OilState:
    """The build's oil at a temperature [K]."""
    grades = {"viscosity_40": b.hydraulics.oil.viscosity_40, "viscosity_100": b.hydraulics.oil.viscosity_100}
    reference = b.hydraulics.oil.reference_temperature
    return OilState(
        oil.viscosity(temperature, **grades),
        oil.density(temperature, density_15=b.hydraulics.oil.density_15),
        oil.thinning(temperature, reference_temperature=reference, **grades),
    )


@derived
def hot_oil(b: View) -> OilState:
    """The build's oil at its hottest: thinnest, so that it leaks most."""
    return oil_at(b, b.hydraulics.oil.hot_temperature)


@derived
def pump_volts(b: View) -> Number:
    """Voltage at the electric pump [V] while it draws its rated current through its wire, out and back."""
    supply, electric = b.hydraulics.supply, b.hydraulics.electric_pump
    return np.asarray(supply.supply_voltage) - wire_drop(b, electric.rated_current)


def wire_drop(b: View, current: Any) -> Number:
    """Voltage lost in the pump's wire, out and back [V]."""
    supply = b.hydraulics.supply
    ohms = wire.resistance_per_metre(
        supply.pump_wire_area, temperature=WIRE_TEMPERATURE, stranding_factor=1.02
    )  # fmt: skip
    return np.asarray(2 * np.asarray(current) * ohms * supply.pump_wire_length)


def leak_arguments(b: View) -> dict[str, Any]:
    """The gearbox's leakages as keywords of the hydraulics functions."""
    leak = b.hydraulics.leakage
    return {
        "leak_test_pressure": leak.leak_test_pressure,
        "seal_leak": leak.seal_leak,
        "valve_body_leak": leak.valve_body_leak,
        "open_feed": leak.open_feed,
    }


def internal_arguments(b: View) -> dict[str, Any]:
    """The internal pump's slip as keywords of the hydraulics functions."""
    inside = b.hydraulics.internal_pump
    return {"internal_slip": inside.internal_slip, "clearance_growth": inside.clearance_growth}


def pump_arguments(b: View) -> dict[str, Any]:
    """The electric pump's curve at the build's volts, as keywords of the hydraulics functions."""
    electric = b.hydraulics.electric_pump
    return {
        "free_flow": electric.free_flow,
        "rated_flow": electric.rated_flow,
        "rated_pressure": electric.rated_pressure,
        "rated_voltage": electric.rated_voltage,
        "terminal_voltage": pump_volts(b),
        "slip_share": electric.slip_share,
    }


def rest_at(b: View, oil_state: OilState, *, gear: Gear = "low", **changes: Any) -> rest.RestPoint:
    """Pressure at rest with the oil in a given state and a gear selected, pedal down.

    The gear matters because the regulator's set point is higher in reverse. ``changes`` replace keywords of
    ``rest_point``.
    """
    h = b.hydraulics
    given = {
        **pump_arguments(b),
        "pump_relief_pressure": h.electric_pump.pump_relief_pressure,
        "cracking_pressure": h.check_valve.cracking_pressure,
        "check_loss": h.check_valve.check_loss,
        "line_bore": h.line.line_bore,
        "line_length": h.line.line_length,
        "line_fittings": h.line.line_fittings,
        "viscosity": oil_state.viscosity,
        "density": oil_state.density,
        "thinning": oil_state.thinning,
        **leak_arguments(b),
        **internal_arguments(b),
        "back_flow": h.internal_pump.back_flow,
        "regulator_set": main_pressure(b, gear),
        "regulator_override": h.regulator.regulator_override,
        "displacement": h.internal_pump.displacement,
    }
    return rest.rest_point(**{**given, **changes})


@derived
def rest_hot(b: View) -> rest.RestPoint:
    """Pressure at rest in low with the oil at its hottest."""
    return rest_at(b, hot_oil(b))


@derived
def rest_reverse(b: View) -> rest.RestPoint:
    """Pressure at rest in reverse with the oil at its hottest."""
    return rest_at(b, hot_oil(b), gear="reverse")


def rest_pressure(b: View, gear: Literal["low", "reverse"]) -> Number:
    """Pressure [Pa] at rest in a gear with the oil at its hottest."""
    point: rest.RestPoint = rest_reverse(b) if gear == "reverse" else rest_hot(b)
    return point.pressure


def _element_arguments(b: View, gear: Gear, *, driving: bool) -> tuple[str, dict[str, Any]]:
    """How a gear's clutch or band holds, and its measures as keywords of the launch functions."""
    part = getattr(b.hydraulics, gear)
    shared = {
        "held_multiple": getattr(held_multiples(b), gear),
        "friction": part.dynamic_friction,
        "piston_outer_diameter": part.piston_outer_diameter,
        "piston_inner_diameter": part.piston_inner_diameter,
        "return_spring_force": part.return_spring_force,
    }
    if part.holds_by == "plates":
        return "plates", {
            **shared,
            "friction_faces": part.friction_faces,
            "face_outer_diameter": part.face_outer_diameter,
            "face_inner_diameter": part.face_inner_diameter,
        }
    other = {"energising": "overrunning", "overrunning": "energising"}
    sense = part.band_sense
    return "band", {
        **shared,
        "wrap_angle": part.wrap_angle,
        "drum_diameter": part.drum_diameter,
        "lever_ratio": part.lever_ratio,
        "sense": sense if driving else other[sense],
    }


def input_torque_allowed(b: View, gear: Gear, *, pressure: Any, driving: bool = True) -> Number:
    """Largest input torque [N m] that a gear's clutch or band holds at a pressure [Pa], sliding friction."""
    kind, given = _element_arguments(b, gear, driving=driving)
    return launch.plates_hold(pressure, **given) if kind == "plates" else launch.band_holds(pressure, **given)


def pressure_needed(b: View, gear: Gear, *, input_torque: Any, driving: bool = True) -> Number:
    """Pressure [Pa] that a gear's clutch or band needs for an input torque [N m]."""
    kind, given = _element_arguments(b, gear, driving=driving)
    return launch.plates_need(input_torque, **given) if kind == "plates" else launch.band_needs(input_torque, **given)


def torque_at_current(b: View, current: Any) -> Number:
    """Torque of all machines together at standstill [N m] for a current in each [A]."""
    only_series(b)
    each = series.torque(current, speed=0.0, magnetisation=magnetisation(b), **losses_arguments(b))
    return np.asarray(np.asarray(each) * b.machine.machine_count)


def launch_torque(b: View, gear: Literal["low", "reverse"]) -> Number:
    """Torque [N m] that the controller lets the machines give at launch in low or in reverse."""
    limit = getattr(b.hydraulics.launch, f"launch_current_{gear}")
    return np.asarray(np.minimum(torque_at_current(b, limit), torque_at_rest(b)))


def launch_allowed(b: View, gear: Literal["low", "reverse"]) -> Number:
    """Largest input torque [N m] that pressure at rest, oil hot, allows in low or in reverse."""
    return input_torque_allowed(b, gear, pressure=rest_pressure(b, gear))


def launch_current_allowed(b: View, gear: Literal["low", "reverse"]) -> Number:
    """Largest motor current [A] at launch that pressure at rest, oil hot, allows in low or in reverse."""
    return motor_current_for(b, launch_allowed(b, gear), 0.0)


def main_pressure(b: View, gear: Gear) -> Number:
    """Main pressure [Pa] under full load, once the internal pump carries it."""
    regulator = b.hydraulics.regulator
    return pump.main_pressure(
        regulator.regulator_set,
        load_boost=regulator.load_boost,
        reverse_boost=regulator.reverse_boost if gear == "reverse" else 0.0,
        load_signal_level=0.0 if regulator.load_signal == "none" else 1.0,
    )


def handover_needed(b: View, gear: Literal["low", "reverse"]) -> Number:
    """Input speed [rad/s] from which the internal pump carries the pressure that launch torque needs, oil hot."""
    return carried_from(b, pressure_needed(b, gear, input_torque=launch_torque(b, gear)))


def handover_full(b: View, gear: Gear) -> Number:
    """Input speed [rad/s] from which the internal pump alone carries what all the motors' torque needs, oil hot.

    From here on a gear's launch limit may go, whether the electric pump runs or not.
    """
    return carried_from(b, pressure_needed(b, gear, input_torque=torque_at_rest(b)))


def carried_from(b: View, pressure: Any) -> Number:
    """Input speed [rad/s] from which the internal pump alone carries a pressure [Pa], oil hot.

    Holds below the regulator's set point; whether that is high enough, the checks of main pressure say.
    """
    return handover.handover_speed(
        pressure, displacement=b.hydraulics.internal_pump.displacement, thinning=hot_oil(b).thinning,
        **internal_arguments(b), **leak_arguments(b),
    )  # fmt: skip
