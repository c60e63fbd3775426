"""Every quantity of this topic, declared once: used by the parts' fields and by the functions' arguments."""

from __future__ import annotations

from typing import Annotated

from evlib.ground import road
from evlib.ground.quantity import Number, Quantity

# --- the vehicle and the road (declared on the ground floor, since parking needs them too) ---------------------------
Mass = road.Mass
WheelRadius = road.WheelRadius
DragCoefficient = road.DragCoefficient
FrontalArea = road.FrontalArea
RollingCoefficient = road.RollingCoefficient
RollingSpeedTerm = road.RollingSpeedTerm
Wheelbase = road.Wheelbase
CgHeight = road.CgHeight
RearAxleShare = road.RearAxleShare
Grip = road.Grip
Grade = road.Grade
AirDensity = road.AirDensity
AirTemperature = road.AirTemperature
Altitude = road.Altitude
Headwind = road.Headwind
RoadSpeed = road.RoadSpeed
Acceleration = road.Acceleration
Axle = road.Axle
WheelInertia = Annotated[
    Number,
    Quantity("J_w", "kg m2", "moment of inertia of all wheels, tyres and brakes together", low=0, high=200,
             slider=(1, 12), how="about 0.8 x mass x radius squared of each wheel, added up"),
]  # fmt: skip

# --- gearbox and driveline ------------------------------------------------------------------------------------------
Teeth = Annotated[
    Number,
    Quantity("z", "", "tooth count", low=9, high=400, slider=(12, 120), whole=True, spread="measured",
             how="count them"),
]  # fmt: skip
InputSunTeeth = Annotated[
    Number,
    Quantity("z_in", "", "teeth of the input sun", low=9, high=400, slider=(17, 36), whole=True, spread="measured",
             how="count them"),
]  # fmt: skip
LowSunTeeth = Annotated[
    Number,
    Quantity("z_low", "", "teeth of the low sun", low=9, high=400, slider=(17, 36), whole=True, spread="measured",
             how="count them"),
]  # fmt: skip
RingTeeth = Annotated[
    Number,
    Quantity("z_ring", "", "teeth of the ring", low=9, high=400, slider=(50, 110), whole=True, spread="measured",
             how="count them"),
]  # fmt: skip
ShortPlanetTeeth = Annotated[
    Number,
    Quantity("z_s", "", "teeth of a short planet", low=9, high=400, slider=(17, 36), whole=True, spread="measured",
             how="count them"),
]  # fmt: skip
LongPlanetTeeth = Annotated[
    Number,
    Quantity("z_l", "", "teeth of a long planet", low=9, high=400, slider=(17, 36), whole=True, spread="measured",
             how="count them"),
]  # fmt: skip
LowRatio = Annotated[
    Number,
    Quantity("i_low", "", "ratio of the low gear", above=0, high=30, slider=(1.0, 3.0), spread="measured",
             how="turn the input by hand in low and count turns at the output"),
]  # fmt: skip
ReverseRatio = Annotated[
    Number,
    Quantity("i_rev", "", "size of the reverse ratio", above=0, high=30, slider=(1.0, 3.0), spread="measured",
             how="turn the input by hand in reverse and count turns at the output"),
]  # fmt: skip
FinalDriveRatio = Annotated[
    Number,
    Quantity("i_f", "", "ratio of the final drive", above=0, high=30, slider=(2.0, 7.0), spread="measured",
             how="turn the propeller shaft by hand and count turns of one wheel with the other held, times two"),
]  # fmt: skip
GearedEfficiency = Annotated[
    Number,
    Quantity("eta_g", "", "share of the power through the box in low and reverse", above=0, high=1, slider=(0.85, 1),
             shown={"SI": "%", "shop": "%"}, how="about 95 %"),
]  # fmt: skip
DirectEfficiency = Annotated[
    Number,
    Quantity("eta_d", "", "share of the power through the box in direct", above=0, high=1, slider=(0.85, 1),
             shown={"SI": "%", "shop": "%"}, how="about 98 %"),
]  # fmt: skip
FinalDriveEfficiency = Annotated[
    Number,
    Quantity("eta_f", "", "share of the power through the final drive", above=0, high=1, slider=(0.85, 1),
             shown={"SI": "%", "shop": "%"}, how="about 95 to 97 %"),
]  # fmt: skip
GearboxInputInertia = Annotated[
    Number,
    Quantity("J_b", "kg m2", "moment of inertia that turns with the gearbox input", low=0, high=50, slider=(0, 0.1),
             how="about half of mass x radius squared of drum, sun and shaft"),
]  # fmt: skip
PropellerInertia = Annotated[
    Number,
    Quantity("J_p", "kg m2", "moment of inertia of propeller shaft and pinion", low=0, high=50, slider=(0, 0.1),
             how="about mass x radius squared of the tube"),
]  # fmt: skip
UpshiftSpeed = Annotated[
    Number,
    Quantity("v_up", "m/s", "road speed of the change up", low=0, high=150, slider=(3, 40), how="read it from the log"),
]
DownshiftSpeed = Annotated[
    Number,
    Quantity("v_down", "m/s", "highest road speed at which it can get into low", low=0, high=150, slider=(3, 40),
             how="the speed that the governor or the switch blocks low from; without one, the top speed"),
]  # fmt: skip
PropellerRating = Annotated[
    Number,
    Quantity("T_p", "N m", "torque that the propeller shaft is rated for", above=0, high=200_000, slider=(200, 3000),
             how="maker's rating, or what the donor's own engine put through it in first gear"),
]  # fmt: skip
FinalDriveRating = Annotated[
    Number,
    Quantity("T_fd", "N m", "torque at the axle that the final drive is rated for", above=0, high=200_000,
             slider=(500, 10_000), how="maker's rating, or what the donor's own engine put through it in first gear"),
]  # fmt: skip
AxleShaftRating = Annotated[
    Number,
    Quantity("T_a", "N m", "torque that one axle shaft is rated for", above=0, high=200_000, slider=(300, 6000),
             how="maker's rating, or half of what the donor's own engine put through the axle in first gear"),
]  # fmt: skip
InputTurn = Annotated[
    Number,
    Quantity("phi", "rad", "turn of the input", slider=(0, 6.283185307179586), how="turn it by hand"),
]
PlanetCount = Annotated[
    Number,
    Quantity("n_pl", "", "number of planets, or of planet pairs", low=1, high=8, slider=(2, 6), whole=True,
             spread="measured", how="count them"),
]  # fmt: skip
ToothModule = Annotated[
    Number,
    Quantity("mo", "m", "tooth module (pitch diameter / tooth count, across the teeth of helical gears too)",
             above=0, high=0.02, slider=(0.001, 0.004), how="outside diameter / (teeth + 2)"),
]  # fmt: skip
Ratio = Annotated[
    Number,
    Quantity("i", "", "ratio: turns of the driving member per turn of the driven one", above=0, high=30,
             slider=(0.5, 6), spread="measured", how="turn the input by hand and count turns at the output"),
]  # fmt: skip
Efficiency = Annotated[
    Number,
    Quantity("eta", "", "share of the power that comes through", above=0, high=1, slider=(0.8, 1),
             shown={"SI": "%", "shop": "%"}, how="about 97 % through one pair of gears, 95 % through a final drive"),
]  # fmt: skip
RotatingInertia = Annotated[
    Number,
    Quantity("J", "kg m2", "moment of inertia of a rotating part", low=0, high=50, slider=(0, 0.6),
             how="maker's sheet, or about half of mass x radius squared for a solid rotor"),
]  # fmt: skip
PartMass = Annotated[
    Number,
    Quantity("m_p", "kg", "mass of a part", low=0, high=2000, slider=(0, 150), spread="measured", how="weigh it"),
]  # fmt: skip
ChangeTime = Annotated[
    Number,
    Quantity("t_c", "s", "time without pull while changing up", low=0, high=10, slider=(0, 2),
             how="film the speedometer or take it from the controller's log"),
]  # fmt: skip
Overlap = Annotated[
    Number,
    Quantity("t_l", "s", "time for which current is left on while the box is between gears", low=0, high=2,
             slider=(0, 0.5), how="compare pedal switch and controller log"),
]  # fmt: skip
RatedTorque = Annotated[
    Number,
    Quantity("Tr", "N m", "torque that a driveline part is rated for", above=0, high=200_000, slider=(200, 8000),
             how="maker's rating, or what the donor's own engine put through it in first gear"),
]  # fmt: skip
SteelMass = Annotated[
    Number,
    Quantity("m_s", "kg", "mass of the steel plates of the direct clutch", above=0, high=20, slider=(0.2, 4),
             spread="measured", how="weigh the steel plates"),
]  # fmt: skip
PlateRise = Annotated[
    Number,
    Quantity("dT", "K", "temperature rise allowed to the steel plates in one change", above=0, high=400,
             slider=(20, 200), kind="difference", spread="guess", how="about 100 K for paper-faced plates in oil"),
]  # fmt: skip
StudCount = Annotated[
    Number,
    Quantity("n_st", "", "wheel studs per wheel", low=3, high=12, slider=(3, 8), whole=True, spread="measured",
             how="count them"),
]  # fmt: skip
StudClamp = Annotated[
    Number,
    Quantity("F_st", "N", "clamp force of one wheel stud", above=0, high=200_000, slider=(10_000, 80_000),
             how="tightening torque / (0.2 x stud diameter)"),
]  # fmt: skip
StudCircle = Annotated[
    Number,
    Quantity("R_st", "m", "radius of the circle of wheel studs", above=0, high=0.3, slider=(0.04, 0.12),
             spread="measured", how="half of the bolt-circle diameter"),
]  # fmt: skip
FaceFriction = Annotated[
    Number,
    Quantity("mu_h", "", "friction between wheel and hub face", above=0, high=1, slider=(0.05, 0.3), spread="guess",
             how="about 0.1 to 0.15, clean and dry"),
]  # fmt: skip
JointAngle = Annotated[
    Number,
    Quantity("beta", "rad", "angle of a universal joint", low=0, below=1.5707963267948966, slider=(0, 0.35),
             spread="measured", how="angle gauge on both shafts, vehicle on its wheels"),
]  # fmt: skip

# --- road, air and pull ---------------------------------------------------------------------------------------------
Force = Annotated[
    Number,
    Quantity("F", "N", "force at the tyre", low=-1e6, high=1e6, slider=(0, 12_000), how="torque x ratio / tyre radius"),
]
Torque = Annotated[
    Number,
    Quantity("T", "N m", "torque at the gearbox input", low=-1e5, high=1e5, slider=(0, 800),
             how="from the motors' curve"),
]  # fmt: skip
Power = Annotated[
    Number,
    Quantity("P", "W", "power", low=0, high=5e6, slider=(1000, 300_000), how="from the motors' envelope"),
]
TyrePower = Annotated[
    Number,
    Quantity(
        "P", "W", "power at the tyres", above=0, high=5e6, slider=(1000, 300_000), how="from the motors' envelope"
    ),
]
ShaftSpeed = Annotated[
    Number,
    Quantity("w", "rad/s", "shaft speed", low=-1e5, high=1e5, slider=(0, 800), how="tachometer"),
]
Time = Annotated[Number, Quantity("t", "s", "time", low=0, high=1e6, slider=(0, 60), how="stopwatch")]
Distance = Annotated[
    Number, Quantity("s", "m", "distance", low=0, high=1e7, slider=(0, 1000), shown={"SI": "m", "shop": "ft"},
                     how="measured stretch of road")
]  # fmt: skip
Energy = Annotated[
    Number, Quantity("E", "J", "energy", low=0, high=1e9, slider=(0, 20_000), how="from inertia and speed")
]
TotalRatio = Annotated[
    Number,
    Quantity("i_t", "", "ratio from a rotating part to the wheel", above=0, high=100, slider=(1, 20),
             how="gear ratio x final drive ratio"),
]  # fmt: skip
RotatingEquivalent = Annotated[
    Number,
    Quantity("m_rot", "kg", "rotating parts as mass at the tyre", low=0, high=50_000, slider=(0, 400),
             how="J x (ratio / tyre radius) squared"),
]  # fmt: skip
AnyInertia = Annotated[
    Number,
    Quantity("J", "kg m2", "moment of inertia", above=0, high=1e6, slider=(0.01, 100), how="from its mass and size"),
]
AxleShare = Annotated[
    Number,
    Quantity("s_a", "", "share of the axle's torque in one axle shaft", above=0, high=1, slider=(0.5, 1),
             shown={"SI": "%", "shop": "%"}, how="one half with an open differential"),
]  # fmt: skip
StudDiameter = Annotated[
    Number,
    Quantity("d_st", "m", "thread diameter of a wheel stud", above=0, high=0.05, slider=(0.010, 0.020),
             spread="measured", how="calliper over the threads"),
]  # fmt: skip
TurnAngle = Annotated[
    Number,
    Quantity("alpha", "rad", "angle through which a fork has turned", slider=(0, 6.283185307179586), how="mark it"),
]
Tolerance = Annotated[
    Number,
    Quantity("tol", "", "allowed relative difference", low=0, high=0.5, slider=(0, 0.05),
             shown={"SI": "%", "shop": "%"}, how="your choice"),
]  # fmt: skip
Gap = Annotated[
    Number,
    Quantity("gap", "", "clearance in tooth modules", low=-100, high=100, slider=(0, 5), how="your choice"),
]
