"""The line: all machines on one shaft, fed from this build's pack, as the gearbox input sees them."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.view import View, derived
from evlib.ground.errors import DoesNotApply
from evlib.ground.quantity import Number
from evlib.motors import ac, controller, pack, series
from evlib.motors.envelope import Envelope, envelope
from evlib.motors.magnetisation import Froelich, Magnetisation, Tabulated

WARM = 348.15  # K, 75 C: the conventional temperature at which a machine's ratings are stated


def open_volts(b: View, *, state_of_charge: Any = None) -> Number:
    """Pack voltage at rest [V], at the build's state of charge or another."""
    charge = b.pack.state_of_charge if state_of_charge is None else state_of_charge
    return pack.open_volts(
        charge, cell_open_voltage=b.pack.cell_open_voltage, cells_in_series=b.pack.cells_in_series
    )  # fmt: skip


def pack_resistance(b: View, *, state_of_charge: Any = None, pack_temperature: Any = None) -> Number:
    """Resistance of the whole pack [ohm], at the build's charge and temperature or others."""
    return pack.pack_resistance(
        b.pack.cell_resistance,
        cells_in_series=b.pack.cells_in_series,
        cells_in_parallel=b.pack.cells_in_parallel,
        link_resistance=b.pack.link_resistance,
        pack_temperature=b.pack.pack_temperature if pack_temperature is None else pack_temperature,
        resistance_temperature_constant=b.pack.resistance_temperature_constant,
        state_of_charge=b.pack.state_of_charge if state_of_charge is None else state_of_charge,
    )


def cut_off_volts(b: View) -> Number:
    """Lowest pack voltage allowed under load [V]."""
    return pack.cut_off_volts(b.pack.cell_cut_off, cells_in_series=b.pack.cells_in_series)


def magnetisation(b: View) -> Magnetisation:
    """One machine's curve: the measured one where the build has it, else the saturating one from two constants."""
    if b.machine.known("magnetisation_curve"):
        return Tabulated(b.machine.magnetisation_curve)
    return Froelich(b.machine.mutual_inductance, b.machine.saturation_current)


def warm_resistance(b: View) -> Number:
    """Winding resistance of one machine at 75 °C [ohm]."""
    return series.warm_resistance(b.machine.winding_resistance, winding_temperature=WARM)


def layout(b: View) -> controller.Layout:
    """How the machines share controllers."""
    return controller.layout(
        b.machine.machine_count, wiring=b.machine.wiring, arrangement=b.controller.arrangement
    )  # fmt: skip


def only_series(b: View) -> None:
    """Raise DoesNotApply unless the build's machines are series-wound: for checks of brushes and commutator."""
    if b.machine.kind != "series":
        raise DoesNotApply("this build's machine has no series winding, commutator or brushes")


def losses_arguments(b: View) -> dict[str, Any]:
    """What makes one machine's lost torque, as keywords of the motors functions."""
    return {
        "friction_torque": b.machine.friction_torque,
        "windage_coefficient": b.machine.windage_coefficient,
        "iron_conductance": b.machine.iron_conductance,
    }


def envelope_arguments(b: View, *, state_of_charge: Any = None, pack_temperature: Any = None) -> dict[str, Any]:
    """Everything that :func:`evlib.motors.envelope.envelope` asks for, from a build with series machines."""
    only_series(b)
    shared = layout(b)
    return {
        "magnetisation": magnetisation(b),
        "winding_resistance": warm_resistance(b),
        "brush_drop": b.machine.brush_drop,
        **losses_arguments(b),
        "brush_current_limit": b.machine.brush_current_limit,
        "speed_limit": b.machine.speed_limit,
        "in_series": shared.in_series,
        "in_parallel": shared.in_parallel,
        "controllers": shared.controllers,
        "motor_current_limit": b.controller.motor_current_limit,
        "controller_pack_current_limit": b.controller.controller_pack_current_limit,
        "duty_limit": b.controller.duty_limit,
        "controller_efficiency": b.controller.controller_efficiency,
        "open_volts": open_volts(b, state_of_charge=state_of_charge),
        "pack_resistance": pack_resistance(b, state_of_charge=state_of_charge, pack_temperature=pack_temperature),
        "pack_current_limit": b.pack.pack_current_limit,
        "cut_off_volts": cut_off_volts(b),
    }


def line_envelope(b: View, speed: Any, *, state_of_charge: Any = None) -> Envelope:
    """The most that the machines give together at shaft speeds [rad/s], series or AC, and which limit governs.

    ``speed`` broadcasts against a column of builds: give a column of speeds as shape (m, 1) there.
    """
    if b.machine.kind == "ac":
        return ac.ac_envelope(
            speed,
            machine_count=b.machine.machine_count,
            peak_torque=b.machine.ac.peak_torque,
            base_speed=b.machine.ac.base_speed,
            pull_out_speed=b.machine.ac.pull_out_speed,
            ac_efficiency=b.machine.ac.ac_efficiency,
            speed_limit=b.machine.speed_limit,
            open_volts=open_volts(b, state_of_charge=state_of_charge),
            pack_resistance=pack_resistance(b, state_of_charge=state_of_charge),
            pack_current_limit=np.minimum(b.pack.pack_current_limit, b.controller.controller_pack_current_limit),
            cut_off_volts=cut_off_volts(b),
        )
    return envelope(speed, **envelope_arguments(b, state_of_charge=state_of_charge))


@derived
def torque_at_rest(b: View) -> Number:
    """The most torque that the machines give together at standstill [N m], at the gearbox input."""
    return line_envelope(b, 0.0).torque


def motor_current_for(b: View, torque: Any, speed: Any) -> Number:
    """Current in each series machine [A] for a torque of the whole line [N m] at a speed [rad/s]."""
    only_series(b)
    return series.current_for_torque(
        np.maximum(torque, 0.0) / b.machine.machine_count,
        speed=speed,
        magnetisation=magnetisation(b),
        **losses_arguments(b),
    )


def frame_loss(b: View, current: Any, speed: Any) -> Number:
    """Loss of one series machine that warms its frame and not its windings [W]: brushes, friction, windage, iron."""
    lost = series.losses(
        current,
        speed=speed,
        magnetisation=magnetisation(b),
        winding_resistance=b.machine.winding_resistance,
        brush_drop=b.machine.brush_drop,
        **losses_arguments(b),
    )
    return np.asarray(lost.brushes) + lost.friction + lost.windage + lost.iron
