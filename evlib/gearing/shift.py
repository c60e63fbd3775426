"""Changing gear without a torque converter: what the clutch swallows, and how fast the rotors can be driven."""

from __future__ import annotations

import numpy as np

from evlib.gearing import quantities as q
from evlib.ground.quantity import Number, calculation, result

STEEL_HEAT = 480.0  # J/(kg K), plain carbon steel near 100 C; handbook value


@calculation
def slip_energy(inertia_driving: q.AnyInertia, *, inertia_driven: q.AnyInertia, speed_driving: q.ShaftSpeed,
                speed_driven: q.ShaftSpeed) -> Number:  # fmt: skip
    """Heat in a clutch that brings two free inertias to one speed [J]: E = J1 J2 / (J1 + J2) (w1 - w2)^2 / 2.

    inertias [kg m2], speeds [rad/s]. Whatever the clutch torque or time. Source: conservation of angular momentum.

    >>> slip_energy(2.0, inertia_driven=2.0, speed_driving=10.0, speed_driven=0.0)
    50.0
    """
    shared = inertia_driving * inertia_driven / (inertia_driving + inertia_driven)
    return shared * (speed_driving - speed_driven) ** 2 / 2


@result
class Upshift:
    """An upshift: rotor speeds before and after [rad/s], heat in the clutch [J], time it slips [s]."""

    before: Number
    after: Number
    energy: Number
    slip_time: Number


@calculation
def upshift(speed: q.RoadSpeed, *, low_ratio: q.Ratio, direct_ratio: q.Ratio = 1.0, final_drive_ratio: q.Ratio,
            wheel_radius: q.WheelRadius, input_inertia: q.RotatingInertia, motor_torque: q.Torque = 0.0,
            clutch_torque: q.Torque) -> Upshift:  # fmt: skip
    """What the direct clutch must swallow to pull the rotors down from low-gear speed to direct-gear speed.

    E = J (w1 - w2)^2 / 2 x Tc / (Tc - T); t = J (w1 - w2) / (Tc - T); w = v i i_f / r.

    speed [m/s] road speed, held steady by the vehicle's mass; input_inertia [kg m2] of all rotors and the gearbox
    input; motor_torque [N m], 0 with the current cut; clutch_torque [N m] as felt at the gearbox input. With the
    current cut the heat does not depend on the clutch torque at all. A clutch that holds no more than the motors give
    never locks: energy and time are infinite. Planets, oil drag and the time to fill the clutch are ignored.
    Source: energy balance; derived here (a two-sun set gives the same, since its members take no net power).

    >>> cut = upshift(16.7, low_ratio=1.76, final_drive_ratio=3.7, wheel_radius=0.3, input_inertia=0.26,
    ...               clutch_torque=500.0)
    >>> round(cut.energy), round(cut.slip_time, 3)
    (3185, 0.081)
    """
    output = speed * final_drive_ratio / wheel_radius
    before, after = output * low_ratio, output * direct_ratio
    spare = clutch_torque - motor_torque
    with np.errstate(divide="ignore", invalid="ignore"):
        time = np.where(spare > 0, input_inertia * np.abs(before - after) / spare, np.inf)
        energy = np.where(spare > 0, clutch_torque * np.abs(before - after) * time / 2, np.inf)
    energy = np.where(motor_torque == 0, input_inertia * (before - after) ** 2 / 2, energy)
    return Upshift(before=before, after=after, energy=energy, slip_time=time)


@calculation
def overlap_energy(motor_torque: q.Torque, *, speed_before: q.ShaftSpeed, speed_after: q.ShaftSpeed,
                   overlap: q.Overlap) -> Number:  # fmt: skip
    """Heat that current left on adds to an upshift, at most [J]: E = T (w1 - w2) t.

    motor_torque [N m], speeds [rad/s] of the rotors before and after, overlap [s] for which the current stays on while
    the clutch slips. At most, because the slip shrinks meanwhile; a clutch that then pulls harder makes no other heat.

    >>> overlap_energy(200.0, speed_before=350.0, speed_after=200.0, overlap=0.1)
    3000.0
    """
    return motor_torque * np.abs(np.subtract(speed_before, speed_after)) * overlap


@calculation
def plate_rise(energy: q.Energy, *, steel_mass: q.SteelMass) -> Number:
    """Temperature rise of the clutch's steel plates in one change [K]: dT = E / (m c), c = 480 J/kg K.

    energy [J], steel_mass [kg]. All heat into the steel, none yet into the oil: right for a change of under a second.

    >>> plate_rise(4800.0, steel_mass=1.0)
    10.0
    """
    return energy / (steel_mass * STEEL_HEAT)


@calculation
def left_on(motor_torque: q.Torque, *, input_inertia: q.RotatingInertia, time: q.Overlap) -> Number:
    """Speed that free rotors gain [rad/s] while current is left on between two gears: dw = T t / J.

    motor_torque [N m], input_inertia [kg m2], time [s]. Torque steady over the time; drag ignored.

    >>> round(left_on(380.0, input_inertia=0.26, time=0.15) * 30 / np.pi)
    2093
    """
    return motor_torque * time / input_inertia


@calculation
def downshift_speed(speed: q.RoadSpeed, *, low_ratio: q.Ratio, final_drive_ratio: q.Ratio,
                    wheel_radius: q.WheelRadius) -> Number:  # fmt: skip
    """Speed to which a change down drags the rotors [rad/s]: w = v i_low i_f / r.

    speed [m/s] at the change. The road does it, through the tyres and the low band: no current is needed, and no
    controller limit prevents it.

    >>> round(downshift_speed(27.8, low_ratio=1.76, final_drive_ratio=3.7, wheel_radius=0.3) * 30 / np.pi)
    5762
    """
    return speed * low_ratio * final_drive_ratio / wheel_radius
