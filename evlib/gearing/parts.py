"""The parts that this topic owns in a build file: the vehicle, the gearbox, and what lies behind it.

``None`` means *not known*. A build without a change-speed gearbox says ``fitted = false`` in ``[gearbox]`` and puts
its whole fixed reduction into ``[final_drive]``.
"""

from __future__ import annotations

from typing import Literal

from evlib.gearing import quantities as q
from evlib.ground.quantity import part

# What a member of a planetary set is called here. In a two-sun set the input sun meshes the long planets, the low sun
# the short ones, long and short mesh each other, and the ring meshes the short ones.
Member = Literal["input sun", "low sun", "ring", "carrier"]


@part
class Vehicle:
    """The vehicle as driven after the conversion: what the road asks for is computed from this."""

    fitted: bool = True
    mass: q.Mass | None = None
    wheel_radius: q.WheelRadius | None = None
    drag_coefficient: q.DragCoefficient | None = None
    frontal_area: q.FrontalArea | None = None
    rolling_coefficient: q.RollingCoefficient | None = None
    rolling_speed_term: q.RollingSpeedTerm | None = None
    wheelbase: q.Wheelbase | None = None
    cg_height: q.CgHeight | None = None
    rear_axle_share: q.RearAxleShare | None = None
    driven_axle: q.Axle | None = None
    grip: q.Grip | None = None
    wheel_inertia: q.WheelInertia | None = None


@part
class Gearbox:
    """A two-speed automatic gearbox without torque converter, around one planetary set.

    Ratios come from the tooth counts and from which member is held in which gear. Where the teeth were never counted,
    ``low_ratio`` and ``reverse_ratio`` (as measured by turning the input by hand) stand in for them.
    """

    fitted: bool = True
    arrangement: Literal["two-sun planetary", "simple planetary"] | None = None
    input_sun_teeth: q.InputSunTeeth | None = None  # of a simple set: its only sun
    low_sun_teeth: q.LowSunTeeth | None = None
    ring_teeth: q.RingTeeth | None = None
    short_planet_teeth: q.ShortPlanetTeeth | None = None  # of a simple set: its only planets
    long_planet_teeth: q.LongPlanetTeeth | None = None
    planet_count: q.PlanetCount | None = None
    tooth_module: q.ToothModule | None = None
    input_member: Member | None = None
    output_member: Member | None = None
    low_held_member: Member | None = None  # by the low band
    reverse_held_member: Member | None = None  # by the reverse clutch
    direct_locked_member: Member | None = None  # to the input, by the direct clutch
    low_ratio: q.LowRatio | None = None
    reverse_ratio: q.ReverseRatio | None = None
    geared_efficiency: q.GearedEfficiency | None = None  # in low and in reverse
    direct_efficiency: q.DirectEfficiency | None = None
    gearbox_input_inertia: q.GearboxInputInertia | None = None
    gearbox_mass: q.PartMass | None = None
    upshift_speed: q.UpshiftSpeed | None = None  # road speed at which the box is changed up
    downshift_speed: q.DownshiftSpeed | None = None  # highest road speed at which it can fall, or be pulled, into low
    change_time: q.ChangeTime | None = None
    current_overlap: q.Overlap | None = None
    clutch_steel_mass: q.SteelMass | None = None
    clutch_rise_allowed: q.PlateRise | None = None


@part
class FinalDrive:
    """From the gearbox output to the wheel studs: the last ratio, and what each part in between is rated for."""

    fitted: bool = True
    final_drive_ratio: q.FinalDriveRatio | None = None
    final_drive_efficiency: q.FinalDriveEfficiency | None = None
    propeller_inertia: q.PropellerInertia | None = None
    propeller_rating: q.PropellerRating | None = None
    final_drive_rating: q.FinalDriveRating | None = None  # at the ring gear (axle torque, both wheels)
    axle_shaft_rating: q.AxleShaftRating | None = None  # one side
    joint_angle: q.JointAngle | None = None  # of the propeller shaft's worse joint
    stud_count: q.StudCount | None = None
    stud_clamp: q.StudClamp | None = None
    stud_circle_radius: q.StudCircle | None = None
    hub_friction: q.FaceFriction | None = None
