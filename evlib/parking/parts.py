"""The parts that hold a build still, and that turn it round."""

from __future__ import annotations

from typing import Literal

from evlib.ground.quantity import part
from evlib.parking import quantities as q


@part
class ParkLock:
    """A toothed wheel and a pawl that drops into it."""

    fitted: bool = True
    park_place: Literal["before final drive", "after final drive"] | None = None
    park_teeth: q.ParkTeeth | None = None
    park_radius: q.ParkRadius | None = None
    park_backlash: q.ParkBacklash | None = None
    park_stiffness: q.ParkStiffness | None = None
    park_pressure_angle: q.ParkPressureAngle | None = None
    park_contact_area: q.ParkContactArea | None = None
    park_contact_pressure: q.ContactPressureLimit | None = None
    pawl_pin_diameter: q.PinDiameter | None = None
    pawl_pin_planes: q.ShearPlanes | None = None
    pawl_pin_strength: q.ShearStrength | None = None
    park_engage_speed: q.ParkEngageSpeed | None = None  # the maker's value
    park_gap_angle: q.GapAngle | None = None  # with pawl_time: the speed by arithmetic
    pawl_time: q.PawlTime | None = None
    park_roll_allowed: q.RollAllowed | None = None


@part
class Handbrake:
    """A lever, cables, and the brakes of one axle."""

    fitted: bool = True
    handbrake_axle: Literal["rear", "front"] | None = None
    hand_force: q.HandForce | None = None
    lever_ratio: q.LeverRatio | None = None
    cable_efficiency: q.CableEfficiency | None = None
    actuating_ratio: q.ActuatingRatio | None = None
    handbrake_kind: Literal["leading and trailing drum", "two leading drum", "disc"] | None = None
    lining_friction: q.LiningFriction | None = None
    drum_radius: q.DrumRadius | None = None
    shoe_pivot_radius: q.PivotRadius | None = None
    shoe_arm: q.ShoeArm | None = None
    shoe_start: q.ShoeStart | None = None
    shoe_end: q.ShoeEnd | None = None
    pad_radius: q.PadRadius | None = None


@part
class Selector:
    """What the driver asks for with the lever, and the speeds above which it is refused."""

    fitted: bool = True
    low_speed_limit: q.LowSpeedLimit | None = None
    reverse_speed_limit: q.ReverseSpeedLimit | None = None


@part
class HillStart:
    """The moment between letting the brake go and the motors pulling."""

    fitted: bool = True
    hill_grade: q.HillGrade | None = None
    pull_delay: q.PullDelay | None = None
    pull_rise: q.PullRise | None = None
    rollback_allowed: q.RollbackAllowed | None = None


@part
class Parking:
    """What holds the car, and how it goes backwards."""

    fitted: bool = True
    hold_grade: q.HoldGrade | None = None
    worse_grip: q.WorseGrip | None = None
    reverse_by: Literal["gearbox", "contactors", "inverter"] | None = None
    reverse_grade: q.ReverseGrade | None = None
    park_lock: ParkLock | None = None
    handbrake: Handbrake | None = None
    selector: Selector | None = None
    hill_start: HillStart | None = None
