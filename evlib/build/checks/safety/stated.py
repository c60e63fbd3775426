"""Figures of the safety topic that the sheet states."""

from __future__ import annotations

from evlib.build.checks.safety.charge import discharge_time, precharge_heat, precharge_time
from evlib.build.checks.safety.insulation import asked
from evlib.build.protection import freed_line, loop_answer, short_circuits, shutdown_circuit
from evlib.build.registry import stated
from evlib.build.view import View
from evlib.ground.quantity import Number
from evlib.safety import precharge, servo
from evlib.safety.shutdown import leaves_connected


@stated("largest short-circuit current, hot and full", group="Protections", unit="A")
def stated_largest(b: View) -> Number:
    """Prospective current for the fuse's breaking capacity."""
    return short_circuits(b).largest


@stated("smallest short-circuit current, cold and low", group="Protections", unit="A")
def stated_smallest(b: View) -> Number:
    """Prospective current that must still melt the fuse."""
    return short_circuits(b).smallest


@stated("precharge needs", group="Protections", unit="s")
def stated_precharge(b: View) -> Number:
    """Time until little enough of the pack voltage is missing."""
    return precharge_time(b)


@stated("from one precharge to the next at least", group="Protections", unit="s")
def stated_repeat(b: View) -> Number:
    """How far apart precharges must lie so that the resistor is not hotter than at its rated power."""
    return precharge.shortest_repeat(
        precharge_heat(b), precharge_power_rating=b.protection.precharge.precharge_power_rating
    )


@stated("below 60 V after switching off", group="Protections", unit="s")
def stated_discharge(b: View) -> Number:
    """Time from full pack voltage to 60 V."""
    return discharge_time(b)


@stated("insulation asked", group="Protections", unit="ohm")
def stated_insulation(b: View) -> Number:
    """Ohm that each leak must have."""
    return asked(b)


@stated("over-speed must be detected within", group="Protections", unit="s")
def stated_overspeed(b: View) -> Number:
    """Longest detection delay."""
    return freed_line(b).delay


@stated("single faults with which no way out by hand is left", group="Protections")
def stated_no_way_out(b: View) -> str:
    """The faults that defeat both key and emergency switch."""
    return "; ".join(loop_answer(b).none_left) or "none"


@stated("single faults that leave the pack connected at a demand to switch off", group="Protections")
def stated_connected(b: View) -> str:
    """Fault by fault, the demands that it defeats."""
    found: dict[str, list[str]] = {}
    for finding in leaves_connected(shutdown_circuit(b)):
        found.setdefault(finding.fault.words, []).append(finding.demand)
    return "; ".join(f"{fault}: {', '.join(demands)}" for fault, demands in found.items()) or "none"


@stated("brake-servo vacuum back after the stops within", group="Protections", unit="s")
def stated_servo(b: View) -> Number:
    """Time that the vacuum pump takes to bring the reservoir back."""
    part = b.protection.brake_servo
    left = servo.vacuum_after(part.servo_stops, full_vacuum=part.full_vacuum, reservoir_volume=part.reservoir_volume,
                              stroke_volume=part.stroke_volume)  # fmt: skip
    return servo.pump_time(part.full_vacuum, start_vacuum=left, reservoir_volume=part.reservoir_volume,
                           pump_flow=part.vacuum_pump_flow)  # fmt: skip
