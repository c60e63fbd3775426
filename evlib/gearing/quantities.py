"""Every quantity of this topic, declared once: used by the parts' fields and by the functions' arguments."""

from __future__ import annotations

from typing import Annotated, Literal

from evlib.ground.quantity import Number, Quantity

# --- the vehicle ----------------------------------------------------------------------------------------------------
Mass = Annotated[
    Number,
    Quantity("m", "kg", "mass of the vehicle as driven", above=0, high=60_000, slider=(600, 4000), spread="measured",
             how="weigh the converted vehicle with driver on a public scale"),
]  # fmt: skip
WheelRadius = Annotated[
    Number,
    Quantity("r", "m", "loaded radius of a driven tyre", above=0.05, high=1.5, slider=(0.2, 0.45), spread="measured",
             how="measure from the ground to the wheel centre with the vehicle standing"),
]  # fmt: skip
DragCoefficient = Annotated[
    Number,
    Quantity("Cd", "", "air drag coefficient", low=0, high=2, slider=(0.2, 0.7),
             how="look it up for the body shape, or fit a coast-down"),
]  # fmt: skip
FrontalArea = Annotated[
    Number,
    Quantity("A", "m2", "frontal area", low=0, high=20, slider=(1.2, 4.0),
             how="about 0.85 of height times width, or outline a photograph"),
]  # fmt: skip
RollingCoefficient = Annotated[
    Number,
    Quantity("Crr", "", "rolling resistance coefficient at walking pace", low=0, high=0.5, slider=(0.005, 0.03),
             how="fit a coast-down, or 0.010 to 0.015 for road tyres"),
]  # fmt: skip
RollingSpeedTerm = Annotated[
    Number,
    Quantity("Crv", "s/m", "rise of the rolling coefficient per unit of speed", low=0, high=0.01, slider=(0, 0.0006),
             how="fit a coast-down, or about Crr / 45 m/s for a road tyre"),
]  # fmt: skip
Wheelbase = Annotated[
    Number,
    Quantity("Lw", "m", "wheelbase", above=0.5, high=10, slider=(1.8, 4.0), spread="measured",
             how="measure from front to rear wheel centre"),
]  # fmt: skip
CgHeight = Annotated[
    Number,
    Quantity("hc", "m", "height of the centre of gravity", low=0, high=3, slider=(0.4, 1.0), spread="guess",
             how="weigh one axle level and again with the other axle raised, or about 0.4 of the roof height"),
]  # fmt: skip
RearAxleShare = Annotated[
    Number,
    Quantity("wr", "", "share of the weight on the rear axle, standing level", low=0, high=1, slider=(0.3, 0.7),
             spread="measured", shown={"SI": "%", "shop": "%"}, how="weigh each axle"),
]  # fmt: skip
Grip = Annotated[
    Number,
    Quantity("mu", "", "grip of the tyre on the road (friction coefficient)", above=0, high=2, slider=(0.1, 1.1),
             spread="guess", how="about 0.8 dry, 0.5 wet, 0.2 snow"),
]  # fmt: skip
WheelInertia = Annotated[
    Number,
    Quantity("Jw", "kg m2", "moment of inertia of all wheels, tyres and brakes together", low=0, high=200,
             slider=(1, 12), how="about 0.8 x mass x radius squared of each wheel, added up"),
]  # fmt: skip
DrivenAxle = Literal["rear", "front", "all"]

# --- gearbox and driveline ------------------------------------------------------------------------------------------
Teeth = Annotated[
    Number,
    Quantity("z", "", "tooth count", low=9, high=400, slider=(12, 120), whole=True, spread="measured",
             how="count them"),
]  # fmt: skip
PlanetCount = Annotated[
    Number,
    Quantity("n", "", "number of planets, or of planet pairs", low=1, high=8, slider=(2, 6), whole=True,
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
    Quantity("mp", "kg", "mass of a part", low=0, high=2000, slider=(0, 150), spread="measured", how="weigh it"),
]  # fmt: skip
ChangeTime = Annotated[
    Number,
    Quantity("tc", "s", "time without pull while changing up", low=0, high=10, slider=(0, 2),
             how="film the speedometer or take it from the controller's log"),
]  # fmt: skip
Overlap = Annotated[
    Number,
    Quantity("tl", "s", "time for which current is left on while the box is between gears", low=0, high=2,
             slider=(0, 0.5), how="compare pedal switch and controller log"),
]  # fmt: skip
RoadSpeed = Annotated[
    Number, Quantity("v", "m/s", "road speed", low=0, high=150, slider=(0, 50), how="read it from the log")
]
RatedTorque = Annotated[
    Number,
    Quantity("Tr", "N m", "torque that a driveline part is rated for", above=0, high=200_000, slider=(200, 8000),
             how="maker's rating, or what the donor's own engine put through it in first gear"),
]  # fmt: skip
SteelMass = Annotated[
    Number,
    Quantity("ms", "kg", "mass of the steel plates of the direct clutch", above=0, high=20, slider=(0.2, 4),
             spread="measured", how="weigh the steel plates"),
]  # fmt: skip
PlateRise = Annotated[
    Number,
    Quantity("dT", "K", "temperature rise allowed to the steel plates in one change", above=0, high=400,
             slider=(20, 200), kind="difference", spread="guess", how="about 100 K for paper-faced plates in oil"),
]  # fmt: skip
StudCount = Annotated[
    Number,
    Quantity("ns", "", "wheel studs per wheel", low=3, high=12, slider=(3, 8), whole=True, spread="measured",
             how="count them"),
]  # fmt: skip
StudClamp = Annotated[
    Number,
    Quantity("Fs", "N", "clamp force of one wheel stud", above=0, high=200_000, slider=(10_000, 80_000),
             how="tightening torque / (0.2 x stud diameter)"),
]  # fmt: skip
StudCircle = Annotated[
    Number,
    Quantity("Rs", "m", "radius of the circle of wheel studs", above=0, high=0.3, slider=(0.04, 0.12),
             spread="measured", how="half of the bolt-circle diameter"),
]  # fmt: skip
FaceFriction = Annotated[
    Number,
    Quantity("muf", "", "friction between wheel and hub face", above=0, high=1, slider=(0.05, 0.3), spread="guess",
             how="about 0.1 to 0.15, clean and dry"),
]  # fmt: skip
JointAngle = Annotated[
    Number,
    Quantity("beta", "rad", "angle of a universal joint", low=0, below=1.5707963267948966, slider=(0, 0.35),
             spread="measured", how="angle gauge on both shafts, vehicle on its wheels"),
]  # fmt: skip

# --- road, air and pull ---------------------------------------------------------------------------------------------
Grade = Annotated[
    Number,
    Quantity("G", "", "grade: rise per horizontal distance", low=-1, high=1, slider=(-0.1, 0.35), spread="guess",
             shown={"SI": "%", "shop": "%"}, how="road sign, or height gained / distance on a map"),
]  # fmt: skip
AirDensity = Annotated[
    Number,
    Quantity("rho", "kg/m3", "density of the air", low=0, high=2, slider=(0.8, 1.4), how="from temperature and height"),
]  # fmt: skip
AirTemperature = Annotated[
    Number,
    Quantity("ta", "K", "air temperature", low=200, high=340, slider=(253.15, 313.15), kind="reading",
             spread="measured", how="thermometer in the shade"),
]  # fmt: skip
Altitude = Annotated[
    Number,
    Quantity("H", "m", "height above sea level", low=-500, high=11_000, slider=(0, 3000), spread="measured",
             shown={"SI": "m", "shop": "ft"}, how="map"),
]  # fmt: skip
Headwind = Annotated[
    Number,
    Quantity("w", "m/s", "wind against the vehicle (with it: negative)", low=-60, high=60, slider=(-15, 15),
             spread="guess", how="flag, anemometer or weather report"),
]  # fmt: skip
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
ShaftSpeed = Annotated[
    Number,
    Quantity("w", "rad/s", "shaft speed", low=-1e5, high=1e5, slider=(0, 800), how="tachometer"),
]
Acceleration = Annotated[
    Number,
    Quantity("a", "m/s2", "acceleration along the road", low=-30, high=30, slider=(-5, 5), how="speed trace"),
]
Time = Annotated[Number, Quantity("t", "s", "time", low=0, high=1e6, slider=(0, 60), how="stopwatch")]
Distance = Annotated[
    Number, Quantity("s", "m", "distance", low=0, high=1e7, slider=(0, 1000), shown={"SI": "m", "shop": "ft"},
                     how="measured stretch of road")
]  # fmt: skip
