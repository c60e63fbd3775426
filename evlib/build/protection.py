"""What the protections of a build are up against: voltages, short-circuit currents, peaks, torque at the trip speed."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.gears import input_inertia
from evlib.build.line import envelope_arguments, layout, line_envelope, only_series, open_volts, warm_resistance
from evlib.build.view import View, derived
from evlib.ground import wire
from evlib.ground.quantity import Number, result
from evlib.motors import pack
from evlib.motors.envelope import envelope
from evlib.safety import faults, loop, motor_loop, overspeed
from evlib.safety.shutdown import Circuit


def dead_wait(b: View) -> Number:
    """Time after switching off at which proving dead begins [s]: five time constants, 0.7 % of the voltage left."""
    part = b.protection
    return np.asarray(5 * part.discharge.discharge_resistance * part.precharge.link_capacitance)


@derived
def full_volts(b: View) -> Number:
    """Voltage of the full pack at rest [V]: the highest that the vehicle meets when it is not being charged."""
    return open_volts(b, state_of_charge=1.0)


def cells_and_links(b: View, *, temperature: Any, charge: Any, link: Any) -> Number:
    """Resistance of the pack in a state [ohm]."""
    return pack.pack_resistance(
        b.pack.cell_resistance,
        cells_in_series=b.pack.cells_in_series,
        cells_in_parallel=b.pack.cells_in_parallel,
        link_resistance=link,
        pack_temperature=temperature,
        resistance_temperature_constant=b.pack.resistance_temperature_constant,
        state_of_charge=charge,
    )


@result
class ShortCircuits:
    """Prospective currents of a dead short [A], and the resistances they meet [ohm]."""

    largest: Number
    smallest: Number
    least_resistance: Number
    most_resistance: Number


@derived
def short_circuits(b: View) -> ShortCircuits:
    """The largest (hot, full, at the pack's own terminals) and the smallest (cold, low, at the far end of the cable).

    The largest leaves out links, cable and joints, so it reads high; the smallest takes all of them in, the cable as
    warm as on the hottest pack, so it reads low.
    """
    state = b.protection.short_circuit
    cable = b.protection.pack_cable
    least = cells_and_links(b, temperature=state.hottest_pack, charge=1.0, link=0.0)
    most = cells_and_links(
        b, temperature=state.coldest_pack, charge=state.lowest_charge, link=b.pack.link_resistance
    )  # fmt: skip
    run = 2 * np.asarray(cable.cable_length) * wire.resistance_per_metre(
        cable.conductor_area, temperature=state.hottest_pack, stranding_factor=cable.stranding_factor
    )  # fmt: skip
    run = run + np.multiply(cable.joint_count, cable.joint_resistance)
    low = open_volts(b, state_of_charge=state.lowest_charge)
    return ShortCircuits(
        largest=faults.prospective_current(full_volts(b), pack_resistance=least, circuit_resistance=0.0),
        smallest=faults.prospective_current(low, pack_resistance=most, circuit_resistance=run),
        least_resistance=least,
        most_resistance=most + run,
    )


@derived
def pack_peak(b: View) -> Number:
    """Largest pack current [A]: the smaller of the controllers' setting (all of them) and the pack's own limit."""
    controllers = 1.0
    if b.machine.kind == "series" and b.controller.arrangement == "one each":
        controllers = b.machine.machine_count
    return np.asarray(np.minimum(np.multiply(controllers, b.controller.controller_pack_current_limit),
                                 b.pack.pack_current_limit))  # fmt: skip


@derived
def motor_peak(b: View) -> Number:
    """Largest current in the cables between one controller and its machines [A]."""
    return np.asarray(b.controller.motor_current_limit)


@result
class Stalled:
    """A controller failed full on, with the motors stalled: resistance of what is in the loop, least current."""

    motor_resistance: Number
    smallest: Number


@derived
def stalled_full_on(b: View) -> Stalled:
    """The least current that a controller failed full on lets through stalled motors: cold and low, windings warm.

    Only a chopper can fail so. Each machine in the loop takes its brushes' drop off the voltage.
    """
    only_series(b)
    shared, short = layout(b), short_circuits(b)
    ohms = np.asarray(warm_resistance(b)) * shared.in_series / shared.in_parallel
    low = open_volts(b, state_of_charge=b.protection.short_circuit.lowest_charge)
    left = np.maximum(np.subtract(low, np.multiply(shared.in_series, b.machine.brush_drop)), 0.0)
    return Stalled(ohms, motor_loop.failed_on_current(left, motor_resistance=ohms,
                                                      pack_resistance=short.most_resistance,
                                                      circuit_resistance=0.0))  # fmt: skip


@result
class Overspeed:
    """One way to lose the load: torque and inertia of what is freed [N m, kg m2], longest detection delay [s]."""

    torque: Number
    inertia: Number
    delay: Number


NO_LIMIT = 5000.0  # A; more than any limit of a build, so that resistance alone limits what a failed controller lets by


def freed_torques(b: View, speed: Any) -> dict[str, Number]:
    """What still drives at a speed, or at a row of speeds, for each way to lose the load [N m]."""
    torque = line_envelope(b, speed, state_of_charge=1.0).torque
    ways = {"neutral": torque, "broken coupler": torque / np.asarray(b.machine.machine_count, float)}
    if b.machine.kind == "series":
        free = {"motor_current_limit": NO_LIMIT, "controller_pack_current_limit": NO_LIMIT, "duty_limit": 1.0,
                "brush_current_limit": NO_LIMIT, "pack_current_limit": NO_LIMIT, "cut_off_volts": 1.0,
                "controller_efficiency": 1.0}  # fmt: skip
        given = {**envelope_arguments(b, state_of_charge=1.0), **free}
        ways["stuck controller, in neutral"] = envelope(speed, **given).torque
    return ways


@derived
def runaway_ways(b: View) -> dict[str, Overspeed]:
    """Ways to lose the load at the trip speed with the pack full, each with how long detection may take.

    Neutral: all rotors are free, the controller holds its limits. Broken coupler: the far machine alone, at its part of
    the torque. Stuck controller: neutral again, with the controller failed full on, so that nothing limits the current;
    only a chopper can fail so, an inverter that fails does not turn the field.
    """
    trip, count = b.protection.overspeed_trip, np.asarray(b.machine.machine_count, float)
    inertia = {"broken coupler": b.machine.rotor_inertia}
    ways = {name: (torque, inertia.get(name, input_inertia(b)))
            for name, torque in freed_torques(b, trip.trip_speed).items()}  # fmt: skip
    return {
        name: Overspeed(
            driving, inertia,
            overspeed.longest_delay(
                np.maximum(driving, 0.0), rotor_inertia=inertia, trip_speed=trip.trip_speed,
                speed_limit=b.machine.speed_limit, release_time=b.protection.contactor.contactor_release_time,
            ),
        )
        for name, (driving, inertia) in ways.items()
        if name != "broken coupler" or np.all(count > 1)
    }  # fmt: skip


@derived
def freed_line(b: View) -> Overspeed:
    """The way that leaves detection the least time."""
    ways = [part for w in runaway_ways(b).values() for part in (w.torque, w.inertia, w.delay)]
    alike = np.broadcast_arrays(*ways)  # one of them may be a column where the others are plain numbers
    torque, inertia, delay = (np.stack(alike[k::3]) for k in range(3))
    worst = np.argmin(delay, axis=0)[None]
    return Overspeed(*(np.take_along_axis(part, worst, axis=0)[0] for part in (torque, inertia, delay)))


def shutdown_circuit(b: View) -> Circuit:
    """The build's shutdown loop as a circuit."""
    part = b.protection.shutdown
    return loop.shutdown_loop(
        key=part.key_place, emergency=part.emergency_place, contactors=part.contactor_poles,
        guards=tuple(field for field, _, _ in loop.GUARDS if getattr(part, field) == "in the loop"),
    )  # fmt: skip


@result
class LoopAnswer:
    """Every single fault tried: how many there are, ways out by hand that the worst leaves, and which leave none."""

    faults: int
    ways_left: int
    none_left: tuple[str, ...]


@derived
def loop_answer(b: View) -> LoopAnswer:
    """The search through the build's shutdown loop. Its wiring is no column, so a column of builds searches once."""
    circuit = shutdown_circuit(b)
    ways, none_left = loop.fewest_ways_out(circuit)
    return LoopAnswer(len(circuit.faults()), ways, none_left)


def cable_steady(cable: View) -> Number:
    """Temperature at which a run of cable settles at its steady current [K]."""
    return wire.steady_temperature(
        cable.steady_current,
        area=cable.conductor_area,
        diameter=cable.cable_diameter,
        stranding_factor=cable.stranding_factor,
        ambient=cable.cable_ambient,
    )


def cable_after(cable: View, *, current: Any, time: Any, start: Any) -> Number:
    """Temperature of a run of cable after a time at a current [K]."""
    return wire.temperature_after(
        time,
        current=current,
        area=cable.conductor_area,
        start=start,
        diameter=cable.cable_diameter,
        stranding_factor=cable.stranding_factor,
        ambient=cable.cable_ambient,
    )
