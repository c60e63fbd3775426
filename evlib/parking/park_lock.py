"""Park lock: the torque it must hold, what its teeth, pawl and pin stand, how far the car rolls first, and grip."""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.ground import road
from evlib.ground.quantity import Number, calculation, result
from evlib.parking import quantities as q

Nose = Literal["up", "down"]


@calculation
def lock_torque(grade: road.Grade, *, mass: road.Mass, wheel_radius: road.WheelRadius,
                lock_ratio: q.LockRatio) -> Number:  # fmt: skip
    """Torque on the toothed wheel that holds the whole car on a grade.

    T = m g sin(theta) r / i_p

    grade: its size [1], mass [kg], wheel_radius [m], lock_ratio: turns of the toothed wheel to one of the wheels [1].
    Gives [N m]. Rolling resistance and friction in the gears would help and are left out.

    >>> round(lock_torque(0.20, mass=1650.0, wheel_radius=0.30, lock_ratio=3.70), 1)
    257.3
    """
    return road.grade_force(mass, grade=np.abs(grade)) * wheel_radius / lock_ratio


@result
class PawlLoads:
    """Loads on the pawl: along the circle, pressing, throwing it out [N]; pressure and pin shear [Pa]."""

    tangential: Number
    pressing: Number
    throwing_out: Number
    pressure: Number
    pin_shear: Number


@calculation
def pawl_loads(torque: q.WheelTorque, *, park_radius: q.ParkRadius, pressure_angle: q.ParkPressureAngle,
               contact_area: q.ParkContactArea, pin_diameter: q.PinDiameter,
               pin_planes: q.ShearPlanes) -> PawlLoads:  # fmt: skip
    """What a torque on the toothed wheel does to tooth, pawl and pin.

    F_t = T / r_p; F_n = F_t / cos(a); throwing out F_t tan(a); p = F_n / A; tau = F_n / (n pi d^2 / 4)

    torque on the toothed wheel [N m], park_radius [m], pressure_angle [rad], contact_area [m2], pin_diameter [m],
    pin_planes [1]. One tooth carries all; the pin carries the whole pressing force; shock is not in it (see
    :func:`catch_torque`). The cam that keeps the pawl down must hold the throwing-out force.

    >>> loads = pawl_loads(257.3, park_radius=0.045, pressure_angle=0.1745, contact_area=6e-5, pin_diameter=0.010,
    ...                    pin_planes=2.0)
    >>> round(loads.tangential), round(loads.throwing_out), round(loads.pin_shear / 1e6, 1)
    (5718, 1008, 37.0)
    """
    tangential = torque / park_radius
    pressing = tangential / np.cos(pressure_angle)
    return PawlLoads(
        tangential=tangential,
        pressing=pressing,
        throwing_out=tangential * np.tan(pressure_angle),
        pressure=pressing / contact_area,
        pin_shear=pressing / (pin_planes * np.pi / 4 * np.square(pin_diameter)),
    )


@calculation
def torque_limit(contact_pressure: q.ContactPressureLimit, *, pin_strength: q.ShearStrength, park_radius: q.ParkRadius,
                 pressure_angle: q.ParkPressureAngle, contact_area: q.ParkContactArea, pin_diameter: q.PinDiameter,
                 pin_planes: q.ShearPlanes) -> Number:  # fmt: skip
    """Torque on the toothed wheel that pawl, tooth and pin can hold: the weaker of contact and pin.

    T = r_p cos(a) min(p A, n pi d^2 / 4 tau)

    contact_pressure, pin_strength: allowed [Pa]; park_radius [m], pressure_angle [rad], contact_area [m2],
    pin_diameter [m], pin_planes [1]. Gives [N m]. The maker's value, where there is one, comes first. Bending of the
    pawl and the casing's bosses are not in it: look at them.

    >>> round(torque_limit(600e6, pin_strength=200e6, park_radius=0.045, pressure_angle=0.1745, contact_area=6e-5,
    ...                    pin_diameter=0.010, pin_planes=2.0), 1)
    1392.2
    """
    pin = pin_planes * np.pi / 4 * np.square(pin_diameter) * pin_strength
    return park_radius * np.cos(pressure_angle) * np.minimum(contact_pressure * contact_area, pin)


@calculation
def roll_before_hold(grade: road.Grade, *, mass: road.Mass, wheel_radius: road.WheelRadius, lock_ratio: q.LockRatio,
                     park_teeth: q.ParkTeeth, backlash: q.ParkBacklash,
                     stiffness: q.ParkStiffness) -> Number:  # fmt: skip
    """How far the car can roll between choosing park and standing still.

    s = r / i_p (2 pi / z + b + T / k)

    One whole tooth pitch if the pawl sits on a tooth, then the free play, then the wind-up under the car's weight.
    grade [1], mass [kg], wheel_radius [m], lock_ratio [1], park_teeth [1], backlash [rad] and stiffness [N m/rad]
    at the toothed wheel. Gives [m], for a car let down gently; let go at once it rolls further: :func:`taken_up`.

    >>> round(roll_before_hold(0.20, mass=1650.0, wheel_radius=0.30, lock_ratio=3.70, park_teeth=18.0, backlash=0.10,
    ...                        stiffness=5000.0), 4)
    0.0406
    """
    torque = lock_torque(grade, mass=mass, wheel_radius=wheel_radius, lock_ratio=lock_ratio)
    return wheel_radius / lock_ratio * (2 * np.pi / park_teeth + backlash + torque / stiffness)


@result
class TakenUp:
    """A car that falls on to the pawl: its speed then [m/s], torques on the toothed wheel [N m], the whole way [m].

    ``swing``: by twist alone; ``skid``: where the tyres let go; ``torque``: the smaller; ``way``: until it stands.
    """

    speed: Number
    swing: Number
    skid: Number
    torque: Number
    way: Number


@calculation
def taken_up(grade: road.Grade, *, mass: road.Mass, wheel_radius: road.WheelRadius, lock_ratio: q.LockRatio,
             park_teeth: q.ParkTeeth, backlash: q.ParkBacklash, stiffness: q.ParkStiffness,
             grip_force: q.FullPull) -> TakenUp:  # fmt: skip
    """What happens when the brake is let go while the pawl lies on a tooth: the car falls free, then is caught.

    v = sqrt(2 g sin(theta) r a / i_p), a = 2 pi / z + b; swing: k phi^2 / 2 = T_h (a + phi),
    so T = T_h + sqrt(T_h^2 + 2 k T_h a); the tyres skid at F r / i_p, and slide until the energy left is rubbed away

    grade [1], mass [kg], wheel_radius [m], lock_ratio [1], park_teeth [1], backlash [rad] and stiffness [N m/rad] at
    the toothed wheel, grip_force of the driven tyres [N]; T_h holds the car at rest. The way is infinite where the
    grip does not hold the slope. Upper values: rolling resistance and damping are left out. Not in it: shock of the
    toothed wheel's own mass, and tyres that grip less while they slide.

    >>> fall = taken_up(0.20, mass=1650.0, wheel_radius=0.30, lock_ratio=3.70, park_teeth=18.0, backlash=0.10,
    ...                 stiffness=5000.0, grip_force=6000.0)
    >>> round(fall.speed, 3), round(fall.swing), round(fall.torque), round(fall.way, 3)
    (0.374, 1363, 486, 0.086)
    """
    turn = 2 * np.pi / park_teeth + backlash
    still = lock_torque(grade, mass=mass, wheel_radius=wheel_radius, lock_ratio=lock_ratio)
    per_turn = wheel_radius / lock_ratio
    swing = still + np.sqrt(np.square(still) + 2 * stiffness * still * turn)
    skid = np.asarray(grip_force) * per_turn
    torque = np.minimum(swing, skid)
    twist = torque / stiffness
    left = np.where(swing > skid, still * (turn + twist) - stiffness * np.square(twist) / 2, 0.0)  # energy [J]
    spare = skid - still
    slid = np.where(left <= 0, 0.0, np.where(spare > 0, left / np.where(spare > 0, spare, 1.0), np.inf))
    speed = np.sqrt(2 * still / per_turn / mass * turn * per_turn)
    return TakenUp(speed=speed, swing=swing, skid=skid, torque=torque, way=per_turn * (turn + twist + slid))


@calculation
def axle_load(mass: road.Mass, *, axle: road.Axle, nose: Nose, grade: road.Grade, rear_axle_share: road.RearAxleShare,
              wheelbase: road.Wheelbase, cg_height: road.CgHeight) -> Number:  # fmt: skip
    """Load on the axle that is held, with the car standing nose up or nose down.

    N_rear = m g cos(theta) w_r ± m g sin(theta) h / L, plus with the nose up; N_front is the rest

    mass [kg], axle, nose, grade: its size [1], rear_axle_share [1], wheelbase, cg_height [m]. Gives [N].

    >>> round(axle_load(1650.0, axle="rear", nose="down", grade=0.20, rear_axle_share=0.52, wheelbase=2.6,
    ...                 cg_height=0.60))
    7518
    """
    signed = np.abs(grade) * (1.0 if nose == "up" else -1.0)
    loads = road.axle_loads(mass, rear_axle_share=rear_axle_share, wheelbase=wheelbase, cg_height=cg_height,
                            grade=signed)  # fmt: skip
    return {"rear": loads.rear, "front": loads.front, "all": loads.rear + loads.front}[axle]


@calculation
def grip_hold(worse_grip: q.WorseGrip, *, better_grip: q.BetterGrip, axle_load: q.AxleLoad,
              differential: Literal["open", "locked"]) -> Number:  # fmt: skip
    """Largest force along the road that a park lock behind a differential can hold by grip.

    open: F = 2 min(mu_w, mu_b) N / 2;  locked: F = (mu_w + mu_b) N / 2

    worse_grip, better_grip of the two driven wheels [1], axle_load on both together [N]. Gives [N]. An open
    differential gives both wheels the same torque. While park holds its case, the two wheels can only turn against
    each other: the better one rolls with the car, the worse one slips and turns the other way. A jacked-up driven
    wheel holds nothing.

    >>> grip_hold(0.1, better_grip=0.8, axle_load=8000.0, differential="open")
    800.0
    >>> grip_hold(0.1, better_grip=0.8, axle_load=8000.0, differential="locked")
    3600.0
    """
    if differential == "open":
        return np.minimum(worse_grip, better_grip) * axle_load
    return (worse_grip + better_grip) * axle_load / 2


@calculation
def grade_gripped(grip: q.BetterGrip, *, axle: road.Axle, nose: Nose, rear_axle_share: road.RearAxleShare,
                  wheelbase: road.Wheelbase, cg_height: road.CgHeight) -> Number:  # fmt: skip
    """The steepest grade on which the grip of one axle still holds the car, with the axle's load on that grade.

    tan(theta) = mu w / (1 ± mu h / L): minus where the slope loads the axle (rear: nose up; front: nose down)

    grip of both wheels of the axle [1], axle, nose, rear_axle_share [1], wheelbase, cg_height [m]. Gives [1]; infinite
    where the load grows faster than the pull. The limit of :func:`axle_load` at *that* grade, not at another.

    >>> round(grade_gripped(0.8, axle="rear", nose="down", rear_axle_share=0.52, wheelbase=2.6, cg_height=0.60), 4)
    0.3512

    Source: moments on a car that stands on a slope.
    """
    if axle == "all":
        return np.asarray(grip) * 1.0
    share = rear_axle_share if axle == "rear" else 1 - np.asarray(rear_axle_share)
    lighter = (axle == "rear") == (nose == "down")
    below = 1 + (1.0 if lighter else -1.0) * np.asarray(grip) * cg_height / wheelbase
    return np.where(below > 0, grip * share / np.where(below > 0, below, 1.0), np.inf)


@calculation
def drop_in_speed(gap_angle: q.GapAngle, *, pawl_time: q.PawlTime, wheel_radius: road.WheelRadius,
                  lock_ratio: q.LockRatio) -> Number:  # fmt: skip
    """Road speed up to which the pawl can drop into a passing gap. Above it, it ratchets.

    v = r / i_p x g / t_d

    gap_angle [rad], pawl_time to drop its depth [s], wheel_radius [m], lock_ratio [1]. Gives [m/s].

    >>> round(drop_in_speed(0.15, pawl_time=0.012, wheel_radius=0.30, lock_ratio=3.70), 2)
    1.01
    """
    return wheel_radius / lock_ratio * gap_angle / pawl_time


@calculation
def motion_energy(speed: road.RoadSpeed, *, mass: road.Mass, rotating_share: q.RotatingShare = 0.0) -> Number:
    """Energy of a moving car.

    W = m (1 + lambda) v^2 / 2

    speed [m/s], mass [kg], rotating_share [1]. Gives [J].

    >>> motion_energy(2.0, mass=1650.0)
    3300.0
    """
    return mass * (1 + rotating_share) * np.square(speed) / 2


@calculation
def catch_torque(speed: road.RoadSpeed, *, mass: road.Mass, stiffness: q.ParkStiffness, grip_force: q.FullPull,
                 wheel_radius: road.WheelRadius, lock_ratio: q.LockRatio) -> Number:  # fmt: skip
    """Torque on the toothed wheel when the pawl catches a moving car.

    T = v sqrt(k m), but at most F_grip r / i_p, where the tyres skid

    All of the car's energy goes into the twist of the driveline: m v^2 / 2 = k theta^2 / 2. speed [m/s], mass [kg],
    stiffness at the toothed wheel [N m/rad], grip_force of the driven tyres [N], wheel_radius [m], lock_ratio [1].
    Gives [N m]. A slope that goes on pulling is in :func:`taken_up`. For the parts it is worst where both
    tyres grip well; for the car, where one does not. Park is no brake.

    >>> round(catch_torque(0.5, mass=1650.0, stiffness=5000.0, grip_force=6600.0, wheel_radius=0.30, lock_ratio=3.70))
    535
    """
    return np.minimum(speed * np.sqrt(stiffness * mass), grip_force * wheel_radius / lock_ratio)
