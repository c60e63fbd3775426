"""Every quantity of the shafts topic, declared once. Parts and calculations use these names."""

from __future__ import annotations

import math
from typing import Annotated

from evlib.ground.quantity import Number, Quantity

STRESS = {"SI": "MPa", "shop": "psi"}
FINE = {"SI": "mm", "shop": "thou"}  # gaps, floats and run-outs: a shop says them in thousandths of an inch

# --- torque and the line ---------------------------------------------------------------------------------------
Torque = Annotated[
    Number, Quantity("T", "N m", "torque", low=-50e3, high=50e3, slider=(0, 1000), how="from the machine's curve")
]
FarTorque = Annotated[
    Number, Quantity("T1", "N m", "torque of the machine away from the gearbox", low=0, high=20e3, slider=(0, 500))
]
NearTorque = Annotated[
    Number, Quantity("T2", "N m", "torque of the machine next to the gearbox", low=0, high=20e3, slider=(0, 500))
]
GearRatio = Annotated[Number, Quantity("i", "", "ratio of the gear in use", low=-30, high=30, slider=(1, 4))]
ShockFactor = Annotated[
    Number,
    Quantity("Ks", "", "shock factor on the torque (snatch, clutch grab, wheel hop)", low=1, high=5, slider=(1, 3),
             spread="guess", how="1.2 for a ramped controller, 1.5 to 2 for a hard launch"),
]  # fmt: skip
LaunchCycles = Annotated[
    Number,
    Quantity("Nl", "", "full-torque launches in the life asked for", low=1e3, high=1e7, slider=(1e3, 1e7), scale="log",
             spread="guess", how="launches a day x days a year x years"),
]  # fmt: skip
RotorInertia = Annotated[Number, Quantity("J", "kg m2", "moment of inertia", above=0, high=100, slider=(0.01, 1))]
TorsionStiffness = Annotated[
    Number, Quantity("kt", "N m/rad", "torsional stiffness", above=0, high=1e9, slider=(1e3, 1e6), scale="log")
]
RunningSpeed = Annotated[
    Number, Quantity("w", "rad/s", "speed of rotation", low=0, high=2000, slider=(0, 800), how="tachometer")
]

RotorDistance = Annotated[
    Number,
    Quantity("Lr", "m", "shaft that twists between the two armature cores", above=0, high=3, slider=(0.1, 0.6),
             how="end of one core to the end of the other, along the line"),
]  # fmt: skip
ExcitationOrder = Annotated[
    Number,
    Quantity("ord", "", "torque pulses per turn that must stay below the first torsional mode", above=0, high=200,
             slider=(1, 8), spread="guess", how="1 for run-out, 2 for a propeller shaft's joints in direct gear"),
]  # fmt: skip

# --- a shaft ---------------------------------------------------------------------------------------------------
ShaftDiameter = Annotated[
    Number,
    Quantity("d", "m", "smallest diameter of the shaft that carries the torque", above=0, high=0.5,
             slider=(0.015, 0.08), spread="measured", how="micrometer, at the root of the spline or the neck"),
]  # fmt: skip
ShaftBore = Annotated[
    Number, Quantity("d0", "m", "bore of a hollow shaft (0: solid)", low=0, high=0.45, slider=(0, 0.05))
]
ShaftLength = Annotated[Number, Quantity("L", "m", "length", above=0, high=5, slider=(0.02, 1), spread="measured")]
ShearModulus = Annotated[
    Number,
    Quantity("G", "Pa", "shear modulus", above=0, high=5e11, slider=(25e9, 82e9), shown={"SI": "GPa", "shop": "psi"}),
]
YoungsModulus = Annotated[
    Number,
    Quantity(
        "E", "Pa", "Young's modulus", above=0, high=1e12, slider=(70e9, 210e9), shown={"SI": "GPa", "shop": "psi"}
    ),
]
YieldStrength = Annotated[
    Number,
    Quantity("Sy", "Pa", "yield strength", above=0, high=3e9, slider=(200e6, 1000e6), shown=STRESS,
             how="steel certificate, or from hardness"),
]  # fmt: skip
UltimateStrength = Annotated[
    Number,
    Quantity("Su", "Pa", "ultimate tensile strength", above=0, high=4e9, slider=(350e6, 1400e6), shown=STRESS,
             how="steel certificate; about 3.4 MPa per point of Brinell hardness"),
]  # fmt: skip
Stress = Annotated[
    Number, Quantity("s", "Pa", "stress", low=-1e10, high=1e10, slider=(0, 500e6), shown=STRESS)
]  # fmt: skip
StressRaiser = Annotated[
    Number,
    Quantity("Kt", "", "stress raiser: peak over nominal stress at a notch", low=1, high=10, slider=(1, 4),
             spread="guess", how="chart or table for the fillet, groove or keyseat; 3.0 for an end-milled keyseat"),
]  # fmt: skip
Interference = Annotated[
    Number,
    Quantity("di", "m", "interference of a shrink fit, on the diameter", low=0, high=0.002, slider=(0, 1e-4),
             spread="measured", shown=FINE, how="shaft less bore, both by micrometer"),
]  # fmt: skip
ShrinkHub = Annotated[Number, Quantity("Dh", "m", "outside diameter of the shrunk hub", above=0, high=1.0)]
Poisson = Annotated[Number, Quantity("nu", "", "Poisson's ratio", low=0, below=0.5, slider=(0.2, 0.4))]
BendingMoment = Annotated[
    Number, Quantity("M", "N m", "bending moment at the section", low=0, high=50e3, slider=(0, 300))
]
ShaftProjection = Annotated[
    Number,
    Quantity("p", "m", "stock shaft projection from the machine's face", above=0, high=0.5, slider=(0.05, 0.15),
             spread="measured", how="depth gauge from the mounting face to the shaft's end"),
]  # fmt: skip
CutLength = Annotated[
    Number,
    Quantity("c", "m", "shaft left standing from the face after the cut", above=0, high=0.5, slider=(0.02, 0.08),
             spread="measured", how="depth gauge from the mounting face, rotor pushed into its motor"),
]  # fmt: skip
StepHeight = Annotated[
    Number,
    Quantity("hs", "m", "how far a step near the shaft stands out of the face (0: none)", low=0, high=0.2,
             slider=(0, 0.03), spread="measured", how="depth gauge, face to step"),
]  # fmt: skip
SplineStart = Annotated[
    Number,
    Quantity("xs", "m", "where the shaft's full spline begins, from the face", low=0, high=0.4, slider=(0, 0.03),
             spread="measured", how="depth gauge, face to the first full tooth"),
]  # fmt: skip
Chamfer = Annotated[
    Number,
    Quantity("ch", "m", "chamfer along the axis (no tooth holds there)", low=0, high=0.02, slider=(0, 0.003),
             spread="measured", how="caliper"),
]  # fmt: skip
EndFloat = Annotated[
    Number,
    Quantity("f", "m", "end float of the rotor", low=0, high=0.01, slider=(0, 0.001), shown=FINE, spread="measured",
             how="dial gauge on the shaft's end, pull and push"),
]  # fmt: skip
BearingSpan = Annotated[
    Number,
    Quantity("Lb", "m", "distance between a machine's two bearings", above=0, high=2, slider=(0.1, 0.6),
             how="drawing, or end plate to end plate"),
]  # fmt: skip
BearingDepth = Annotated[
    Number,
    Quantity("bd", "m", "how deep the coupling-end bearing sits behind the face", low=0, high=0.3, slider=(0, 0.05),
             how="drawing, or depth gauge with the cover off"),
]  # fmt: skip
BearingThrust = Annotated[
    Number,
    Quantity("Fb", "N", "axial load the located bearing may carry", above=0, high=1e6, slider=(500, 20e3),
             how="bearing catalogue; for deep-groove balls often half the static rating"),
]  # fmt: skip

# --- spline ----------------------------------------------------------------------------------------------------
SplineTeeth = Annotated[
    Number, Quantity("N", "", "number of spline teeth", low=6, high=100, slider=(6, 60), whole=True, how="count them")
]
SplineModule = Annotated[
    Number,
    Quantity("m", "m", "spline module (pitch diameter / teeth)", above=0, high=0.02, slider=(0.0005, 0.005),
             how="1 in divided by the first number of the pitch: 16/32 gives 1/16 in"),
]  # fmt: skip
PressureAngle = Annotated[
    Number,
    Quantity("phi", "rad", "pressure angle", low=math.radians(20), high=math.radians(45),
             slider=(math.radians(30), math.radians(45)), how="30, 37.5 or 45 degrees by the standard"),
]  # fmt: skip
SleeveLength = Annotated[
    Number,
    Quantity("Ls", "m", "length of the sleeve", above=0, high=0.5, slider=(0.03, 0.12), spread="measured",
             how="caliper"),
]  # fmt: skip
SleeveDiameter = Annotated[
    Number,
    Quantity("Doi", "m", "outside diameter of the sleeve", above=0, high=0.5, slider=(0.03, 0.1), spread="measured",
             how="micrometer"),
]  # fmt: skip
SleeveFloat = Annotated[
    Number,
    Quantity("fs", "m", "how far the sleeve can wander along the shafts, end to end", low=0, high=0.1,
             slider=(0, 0.01), spread="measured", how="push it both ways and measure"),
]  # fmt: skip
Engagement = Annotated[
    Number,
    Quantity("Le", "m", "length of spline in engagement", above=0, high=0.5, slider=(0.005, 0.06), spread="measured"),
]
ApplicationFactor = Annotated[
    Number,
    Quantity("Ka", "", "application factor of the spline (shock of source and load)", low=1, high=3, slider=(1, 2),
             spread="guess", how="1.0 even load, 1.2 light, 1.5 medium, 1.8 heavy shock, electric drive"),
]  # fmt: skip
LoadFactor = Annotated[
    Number, Quantity("Km", "", "load distribution factor of the spline", low=1, high=3, slider=(1, 3), spread="guess")
]
FatigueFactor = Annotated[
    Number, Quantity("Kf", "", "fatigue life factor of the spline", above=0, high=1.8, slider=(0.2, 1.8))
]
WearFactor = Annotated[Number, Quantity("Kw", "", "wear life factor of the spline", above=0, high=4, slider=(0.5, 4))]
Misalignment = Annotated[
    Number,
    Quantity("mis", "rad", "angle between the two shafts", low=0, high=0.008, slider=(0, 0.008), spread="measured",
             shown={"SI": "mm/m", "shop": "mm/m"}, how="dial gauge swept on face and rim"),
]  # fmt: skip
SplineRevolutions = Annotated[
    Number,
    Quantity("Nr", "", "revolutions in the life asked for", low=1e4, high=1e10, slider=(1e6, 1e10), scale="log",
             spread="guess", how="hours x 60 x mean rpm"),
]  # fmt: skip
Friction = Annotated[
    Number,
    Quantity("mu", "", "coefficient of friction", low=0, high=1, slider=(0.05, 0.3), spread="guess",
             how="greased steel 0.10 to 0.15, dry 0.2"),
]  # fmt: skip

# --- key -------------------------------------------------------------------------------------------------------
KeyWidth = Annotated[Number, Quantity("w", "m", "width of the key", above=0, high=0.1, slider=(0.003, 0.02))]
KeyHeight = Annotated[Number, Quantity("h", "m", "height of the key", above=0, high=0.1, slider=(0.003, 0.02))]
KeyLength = Annotated[Number, Quantity("lk", "m", "length of the key", above=0, high=0.3, slider=(0.01, 0.1))]
KeyCount = Annotated[Number, Quantity("nk", "", "number of keys", low=1, high=4, slider=(1, 2), whole=True)]
SafetyFactor = Annotated[
    Number, Quantity("n", "", "factor of safety wanted", low=1, high=10, slider=(1, 4), spread="guess")
]
ScrewHold = Annotated[
    Number, Quantity("Fs", "N", "holding force of a set screw", above=0, high=1e5, slider=(200, 20e3))
]

# --- cut plan --------------------------------------------------------------------------------------------------
FaceDistance = Annotated[
    Number,
    Quantity("Df", "m", "distance between the machines' faces once flanged", above=0, high=1, slider=(0.04, 0.2),
             spread="measured", how="caliper over the flange ring, or faces apart in a trial fit"),
]  # fmt: skip
Gap = Annotated[
    Number,
    Quantity(
        "g", "m", "gap between the shaft ends", low=-0.05, high=0.2, slider=(0, 0.002), shown=FINE, spread="measured"
    ),
]
MeasuredGap = Annotated[
    Number,
    Quantity("gm", "m", "gap measured, each rotor pushed into its own motor", low=-0.05, high=0.2, slider=(0, 0.002),
             shown=FINE,
             spread="measured", how="face distance less what each shaft stands out, rotor pushed in by hand"),
]  # fmt: skip
GapReserve = Annotated[
    Number,
    Quantity("gr", "m", "gap that must be left when everything is at its worst", low=0, high=0.01, slider=(0, 0.0005),
             shown=FINE,
             spread="guess", how="your choice; a tenth of a millimetre leaves room to be wrong"),
]  # fmt: skip
CutTolerance = Annotated[
    Number,
    Quantity("tc", "m", "tolerance of one cut, plus or minus", low=0, high=0.01, slider=(0, 0.0005),
             shown=FINE, spread="guess",
             how="0.05 mm on a lathe, 0.25 mm or more by hand"),
]  # fmt: skip
FaceTolerance = Annotated[
    Number,
    Quantity("tf", "m", "tolerance of the face distance, plus or minus", low=0, high=0.01, slider=(0, 0.0005),
             shown=FINE,
             spread="guess", how="the flange maker's drawing, or your caliper"),
]  # fmt: skip
CutterWidth = Annotated[
    Number, Quantity("kc", "m", "width that the cutter takes", low=0, high=0.01, slider=(0, 0.004), how="caliper")
]
Reading = Annotated[
    Number, Quantity("rd", "m", "finest reading of the measuring tool", above=0, high=0.005, slider=(1e-5, 5e-4))
]
ArmatureRise = Annotated[
    Number,
    Quantity("ra", "K", "armature's final rise above cold", low=0, high=250, slider=(0, 150), kind="difference",
             spread="guess", how="resistance rise, or a thermometer on the commutator after a long pull"),
]  # fmt: skip
FrameRise = Annotated[
    Number,
    Quantity("rf", "K", "frame's final rise above cold", low=0, high=250, slider=(0, 100), kind="difference",
             spread="guess", how="surface thermometer after a long pull"),
]  # fmt: skip
ArmatureTime = Annotated[
    Number,
    Quantity("ta", "s", "armature's warming time constant", above=0, high=1e5, slider=(60, 3600), spread="guess",
             how="time to 63 % of the final rise"),
]  # fmt: skip
FrameTime = Annotated[
    Number,
    Quantity("tb", "s", "frame's warming time constant", above=0, high=1e5, slider=(600, 14400), spread="guess",
             how="time to 63 % of the final rise"),
]  # fmt: skip
ShaftExpansion = Annotated[
    Number, Quantity("as", "1/K", "expansion of the shaft per kelvin", low=0, high=1e-4, slider=(1e-5, 2.4e-5))
]
FrameExpansion = Annotated[
    Number, Quantity("af", "1/K", "expansion of the frame per kelvin", low=0, high=1e-4, slider=(1e-5, 2.4e-5))
]
FlangeExpansion = Annotated[
    Number,
    Quantity("al", "1/K", "expansion of the flange ring per kelvin", low=0, high=1e-4, slider=(1e-5, 2.4e-5),
             how="steel 11.7e-6, aluminium 23e-6"),
]  # fmt: skip
ShimRoom = Annotated[
    Number,
    Quantity("zs", "m", "most that the flange may be shimmed (spigot and bolts allow)", low=0, high=0.02,
             slider=(0, 0.001), shown=FINE, how="spigot depth less the least that still centres"),
]  # fmt: skip
Duration = Annotated[Number, Quantity("t", "s", "time since the cold start", low=0, high=1e6, slider=(0, 14400))]

# --- bolts and flanges -----------------------------------------------------------------------------------------
BoltCount = Annotated[
    Number, Quantity("nb", "", "number of bolts", low=2, high=60, slider=(3, 16), whole=True, how="count them")
]
BoltDiameter = Annotated[
    Number, Quantity("db", "m", "nominal diameter of a bolt", above=0, high=0.1, slider=(0.006, 0.02))
]
BoltPitch = Annotated[Number, Quantity("pb", "m", "thread pitch", above=0, high=0.01, slider=(0.0005, 0.0025))]
BoltCircle = Annotated[
    Number, Quantity("Dc", "m", "diameter of the bolt circle", above=0, high=2, slider=(0.05, 0.4), spread="measured")
]
TighteningTorque = Annotated[
    Number, Quantity("Tt", "N m", "tightening torque of one bolt", above=0, high=5e3, slider=(5, 200))
]
NutFactor = Annotated[
    Number,
    Quantity("Kn", "", "nut factor (tightening torque / (preload x diameter))", low=0.05, high=0.5, slider=(0.1, 0.3),
             spread="guess", how="0.20 dry, 0.15 oiled, 0.12 with a moly paste"),
]  # fmt: skip
PreloadScatter = Annotated[
    Number,
    Quantity("sc", "", "scatter of the preload, plus or minus", low=0, below=1, slider=(0, 0.5), spread="guess",
             shown={"SI": "percent", "shop": "percent"}, how="0.30 by torque wrench, 0.15 by angle"),
]  # fmt: skip
FaceFriction = Annotated[
    Number,
    Quantity("muf", "", "friction of the bolted faces", low=0, high=1, slider=(0.1, 0.3), spread="guess",
             how="0.15 machined and clean; less if oiled or painted"),
]  # fmt: skip
ThreadEngagement = Annotated[
    Number, Quantity("le", "m", "thread in engagement in the tapped part", above=0, high=0.2, slider=(0.005, 0.05))
]
ThreadShearStrength = Annotated[
    Number,
    Quantity("Ss", "Pa", "shear strength of the tapped metal", above=0, high=2e9, slider=(80e6, 500e6), shown=STRESS,
             how="about 0.6 of its tensile strength; cast aluminium 110 to 150 MPa"),
]  # fmt: skip
ClampForce = Annotated[Number, Quantity("F", "N", "clamping force", low=0, high=1e7, slider=(0, 1e5))]
Radius = Annotated[Number, Quantity("r", "m", "radius", above=0, high=2, slider=(0.005, 0.3), spread="measured")]

# --- gearbox joint ---------------------------------------------------------------------------------------------
JointLength = Annotated[
    Number,
    Quantity("Lj", "m", "shaft length from the near armature's core to the gearbox input's spline", above=0, high=1,
             slider=(0.05, 0.4), how="tape, along the shaft, before assembly"),
]  # fmt: skip
PumpDriveTorque = Annotated[
    Number,
    Quantity("Tp", "N m", "torque that the gearbox's internal pump needs (cold, full pressure)", low=0, high=200,
             slider=(0, 40), spread="guess", how="displacement x pressure / 2 pi, and half as much again cold"),
]  # fmt: skip
TangCount = Annotated[
    Number, Quantity("nt", "", "number of driving tangs or flats", low=1, high=6, slider=(1, 4), whole=True)
]
TangWidth = Annotated[Number, Quantity("wt", "m", "width of one tang along the rim", above=0, high=0.1)]
TangDepth = Annotated[Number, Quantity("ht", "m", "radial depth of a tang in contact", above=0, high=0.05)]
TangEngagement = Annotated[Number, Quantity("Lt", "m", "axial engagement of the tangs", above=0, high=0.1)]
TangRadius = Annotated[Number, Quantity("rt", "m", "mean radius of the tangs", above=0, high=0.3)]
HubDiameter = Annotated[Number, Quantity("dh", "m", "outside diameter of the pump hub", above=0, high=0.3)]
HubBore = Annotated[Number, Quantity("bh", "m", "bore of the pump hub", low=0, high=0.29)]
PumpDepth = Annotated[
    Number,
    Quantity("dp", "m", "from the housing's face to the bottom of the pump's drive", above=0, high=0.5,
             spread="measured", how="depth gauge from the housing face, gear pushed back"),
]  # fmt: skip
HubReach = Annotated[
    Number,
    Quantity("rh", "m", "how far the hub reaches past the adapter's housing side", above=0, high=0.5,
             spread="measured", how="depth gauge from the adapter face, near rotor pushed away from the gearbox"),
]  # fmt: skip
PumpClearance = Annotated[
    Number,
    Quantity("cp", "m", "least axial clearance between the hub and the bottom of the pump's drive, running", low=0,
             high=0.02, slider=(0, 0.004), how="the gearbox's manual; common practice 1 mm or more"),
]  # fmt: skip
PilotRunout = Annotated[
    Number,
    Quantity("ro", "m", "run-out of the hub in its bush, full dial reading", low=0, high=0.005, slider=(0, 0.0005),
             shown=FINE,
             spread="measured", how="dial gauge on the hub, turn once"),
]  # fmt: skip
PilotLimit = Annotated[
    Number,
    Quantity("rl", "m", "run-out allowed at the bush, full dial reading", above=0, high=0.005, slider=(0, 0.0005),
             shown=FINE,
             how="the gearbox's manual; the bush's running clearance is the outside limit"),
]  # fmt: skip

# --- adapter plate ---------------------------------------------------------------------------------------------
PlateDiameter = Annotated[Number, Quantity("dpl", "m", "outside diameter of the adapter plate", above=0, high=1)]
PilotBore = Annotated[
    Number, Quantity("dpi", "m", "pilot bore of the adapter plate, which centres it", above=0, high=0.9)
]
HoleCount = Annotated[Number, Quantity("nh", "", "holes on a bolt circle", low=2, high=60, whole=True)]
HoleDiameter = Annotated[Number, Quantity("dho", "m", "diameter of the holes on a bolt circle", above=0, high=0.05)]
FirstHole = Annotated[
    Number,
    Quantity("ph", "rad", "angle of the first hole, counted from the right, anticlockwise", low=-7, high=7,
             slider=(0, 3)),
]  # fmt: skip
PlateThickness = Annotated[Number, Quantity("tpl", "m", "thickness of the adapter plate", above=0, high=0.2)]

# --- package ---------------------------------------------------------------------------------------------------
FarMachineLength = Annotated[
    Number,
    Quantity(
        "l1",
        "m",
        "body length of the machine away from the gearbox",
        low=0,
        high=2,
        slider=(0.25, 0.55),
        spread="measured",
        how="tape, without the shafts",
    ),
]
NearMachineLength = Annotated[
    Number,
    Quantity(
        "l2",
        "m",
        "body length of the machine next to the gearbox",
        above=0,
        high=2,
        slider=(0.25, 0.55),
        spread="measured",
        how="tape, without the shafts",
    ),
]
AdapterLength = Annotated[
    Number,
    Quantity(
        "l3",
        "m",
        "adapter between machine and gearbox, face to face",
        low=0,
        high=1,
        slider=(0.01, 0.25),
        how="caliper",
    ),
]
GearboxLength = Annotated[
    Number, Quantity("l4", "m", "gearbox, face to output flange", above=0, high=2, slider=(0.3, 0.6), how="tape")
]
TailAllowance = Annotated[
    Number,
    Quantity(
        "l5",
        "m",
        "room behind the far machine (brush cover, tail shaft, cooling air)",
        low=0,
        high=1,
        slider=(0, 0.2),
        how="what must still come off with the line in place",
    ),
]
PackageRoom = Annotated[
    Number,
    Quantity("lt", "m", "length there is between firewall and propeller shaft", above=0, high=4, spread="measured",
             slider=(1.0, 2.0), how="tape, on the vehicle, at the height of the shaft line"),
]  # fmt: skip
CouplingMass = Annotated[Number, Quantity("mc", "kg", "mass of sleeve, flange ring and adapter", low=0, high=200)]
LineMass = Annotated[Number, Quantity("ml", "kg", "mass that the mounts may carry", above=0, high=2000)]

# --- used by calculations only ---------------------------------------------------------------------------------
Growth = Annotated[Number, Quantity("dL", "m", "growth in length", low=-0.05, high=0.05, slider=(0, 0.002), shown=FINE)]
Spare = Annotated[Number, Quantity("sp", "m", "length to spare", low=-0.5, high=0.5, slider=(0, 0.02))]
Thrust = Annotated[Number, Quantity("Fa", "N", "axial force", low=0, high=1e7, slider=(0, 2e4))]
Mass = Annotated[Number, Quantity("M", "kg", "mass", low=0, high=5000, slider=(0, 500))]
Size = Annotated[Number, Quantity("D", "m", "nominal size", above=0, high=0.5, slider=(0.01, 0.12))]
PinDiameter = Annotated[Number, Quantity("dw", "m", "diameter of a measuring pin", above=0, high=0.05)]
CircularWidth = Annotated[Number, Quantity("s", "m", "tooth or space width on the pitch circle", above=0, high=0.05)]
RingLength = Annotated[
    Number, Quantity("lf", "m", "flange ring between two machines, face to face (0: one machine)", low=0, high=1)
]
StrengthFactor = Annotated[Number, Quantity("Ke", "", "factor on the endurance limit", above=0, high=1.5)]
Expansion = Annotated[Number, Quantity("a", "1/K", "expansion per kelvin", low=0, high=1e-4, slider=(1e-5, 2.4e-5))]
Rise = Annotated[
    Number, Quantity("dT", "K", "temperature rise", low=-100, high=300, kind="difference", slider=(0, 150))
]
AngularAcceleration = Annotated[
    Number, Quantity("acc", "rad/s2", "angular acceleration", low=-1e5, high=1e5, slider=(0, 1000))
]
