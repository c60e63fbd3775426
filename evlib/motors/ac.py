"""An AC machine with its inverter: constant torque, then constant power, then torque falling with speed squared."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Number, calculation
from evlib.motors.envelope import Envelope
from evlib.motors.pack import current_for_power, supply_limit
from evlib.motors.quantities import (
    AcEfficiency,
    BaseSpeed,
    CutOffVolts,
    MachineCount,
    OpenVolts,
    PackCurrentLimit,
    PackResistance,
    PeakTorque,
    PullOutSpeed,
    RegenerationTorque,
    Speed,
    SpeedLimit,
)

REGIONS = ("constant torque", "constant power", "pull-out")


@calculation
def ac_torque(
    speed: Speed, *, peak_torque: PeakTorque, base_speed: BaseSpeed, pull_out_speed: PullOutSpeed
) -> Number:  # fmt: skip
    """Largest torque of one AC machine at a speed, by itself (no pack limit).

    T = T_m to w_b;  T_m w_b / w to w_p;  T_m w_b w_p / w^2 beyond

    speed: w [rad/s]; peak_torque: T_m [N m]; base_speed: w_b, pull_out_speed: w_p >= w_b [rad/s]. At steady voltage
    pull-out torque goes with (V/f)^2, so with 1/w^2; a permanent-magnet machine may fall otherwise.

    >>> [round(ac_torque(w, peak_torque=200.0, base_speed=300.0, pull_out_speed=600.0)) for w in (100.0, 600.0, 1200.0)]
    [200, 100, 25]

    Source: three regions of an inverter-fed machine; any text on drives.
    """
    base, pull = np.asarray(base_speed, float), np.asarray(pull_out_speed, float)
    if (pull < base).any():
        raise ValueError("pull_out_speed: it lies below the base speed; allowed: at least the base speed")
    w = np.maximum(np.asarray(speed, float), 1e-9)
    fall = np.minimum(1.0, np.minimum(base / w, base * pull / np.square(w)))
    return np.asarray(np.asarray(peak_torque) * fall)


@calculation
def ac_envelope(
    speed: Speed,
    *,
    machine_count: MachineCount,
    peak_torque: PeakTorque,
    base_speed: BaseSpeed,
    pull_out_speed: PullOutSpeed,
    ac_efficiency: AcEfficiency,
    speed_limit: SpeedLimit,
    open_volts: OpenVolts,
    pack_resistance: PackResistance,
    pack_current_limit: PackCurrentLimit,
    cut_off_volts: CutOffVolts,
) -> Envelope:
    """Largest torque of AC machines together at each speed on a sagging pack, and what governs.

    T = smallest of n T(w), e_a P_b / w

    speed: w [rad/s]; machine_count: n; peak_torque [N m], base_speed, pull_out_speed [rad/s]: one machine;
    ac_efficiency: e_a, machine and inverter together; speed_limit [rad/s]; open_volts [V]; pack_resistance [ohm];
    pack_current_limit [A]; cut_off_volts [V]. One efficiency everywhere; base speed is to be stated at the sagged
    voltage. Motor amps and volts are the inverter's business: given as not a number.

    >>> e = ac_envelope(400.0, machine_count=1, peak_torque=200.0, base_speed=300.0, pull_out_speed=600.0,
    ...     ac_efficiency=0.9, speed_limit=1200.0, open_volts=320.0, pack_resistance=0.1, pack_current_limit=300.0,
    ...     cut_off_volts=240.0)
    >>> round(e.torque, 1), e.governing
    (150.0, 'constant power')

    Source: power balance and the three regions of ac_torque.
    """
    supply = supply_limit(
        open_volts, pack_resistance=pack_resistance, pack_current_limit=pack_current_limit, cut_off_volts=cut_off_volts
    )
    alone = np.asarray(machine_count) * np.asarray(
        ac_torque(speed, peak_torque=peak_torque, base_speed=base_speed, pull_out_speed=pull_out_speed)
    )
    w = np.asarray(speed, float)
    with np.errstate(divide="ignore"):
        by_pack = np.where(w > 0, np.asarray(supply.power) * ac_efficiency / np.maximum(w, 1e-9), np.inf)
    running = w <= speed_limit
    torque = np.where(running, np.minimum(alone, by_pack), 0.0)
    first = np.where(np.asarray(supply.by_cut_off) < supply.by_pack_amps, "cut-off", "pack amps")
    first = np.where(np.asarray(supply.by_largest_power) < supply.current * (1 + 1e-12), "largest power", first)
    region = np.where(w <= base_speed, REGIONS[0], np.where(w <= pull_out_speed, REGIONS[1], REGIONS[2]))
    governing = np.where(running, np.where(by_pack < alone, first, region), "speed limit")
    power = torque * w
    taken = power / np.asarray(ac_efficiency)
    pack_current = np.asarray(current_for_power(taken, open_volts=open_volts, pack_resistance=pack_resistance))
    unknown = np.full(np.shape(torque), np.nan)
    out = np.broadcast_arrays(
        w, torque, power, unknown, unknown, pack_current, open_volts - pack_resistance * pack_current, unknown,
        np.where(taken > 0, ac_efficiency, 0.0), governing,
    )  # fmt: skip
    return Envelope(*out)


@calculation
def ac_braking(
    speed: Speed,
    *,
    machine_count: MachineCount,
    regeneration_torque: RegenerationTorque,
    peak_torque: PeakTorque,
    base_speed: BaseSpeed,
    pull_out_speed: PullOutSpeed,
) -> Number:
    """Largest braking torque of AC machines together at a speed: the setting, or what the machine can.

    T = n min(T_r, T(w))

    speed [rad/s]; machine_count: n; regeneration_torque: T_r set [N m]; peak_torque [N m], base_speed,
    pull_out_speed [rad/s]. A full or cold pack takes less: its charge limit comes first. Series machines do not
    regenerate without a field controller.

    >>> ac_braking(100.0, machine_count=1, regeneration_torque=80.0, peak_torque=200.0, base_speed=300.0,
    ...            pull_out_speed=600.0)
    80.0

    Source: three regions of ac_torque.
    """
    able = ac_torque(speed, peak_torque=peak_torque, base_speed=base_speed, pull_out_speed=pull_out_speed)
    return np.asarray(machine_count) * np.minimum(regeneration_torque, able)
