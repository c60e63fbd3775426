"""Every quantity of the parking topic, declared once. What the road asks stands in the ground floor."""

from __future__ import annotations

from typing import Annotated

from evlib.ground.quantity import Number, Quantity

# --- rolling away -------------------------------------------------------------------------------------------
RollTime = Annotated[Number, Quantity("t", "s", "time since letting go", low=0, high=600, slider=(0, 20))]
RollDistance = Annotated[
    Number,
    Quantity("s", "m", "distance rolled", low=0, high=1e5, slider=(0, 30), shown={"SI": "m", "shop": "ft"}),
]
HoldBack = Annotated[
    Number,
    Quantity("F_h", "N", "force that holds the car back while it rolls", low=0, high=1e5, slider=(0, 4000),
             spread="guess", how="0 for motors that freewheel; 800 N for a stopped engine in first gear: "
             "20 N m x 12 / 0.30 m"),
]  # fmt: skip
RotatingShare = Annotated[
    Number,
    Quantity("lambda", "", "turning parts counted as extra mass, over the car's mass", low=0, high=2, slider=(0, 0.5),
             spread="guess", how="0.04 for wheels alone; the motors add J (ratio / tyre radius)² / mass in gear"),
]  # fmt: skip

# --- park lock ----------------------------------------------------------------------------------------------
WheelTorque = Annotated[
    Number, Quantity("T_w", "N m", "torque at the wheels, both together", low=0, high=1e5, slider=(0, 3000))
]
LockRatio = Annotated[
    Number,
    Quantity("i_p", "", "turns of the toothed wheel to one turn of the wheels", above=0, high=30, slider=(1, 12),
             how="the final drive ratio, where the toothed wheel sits on the gearbox output"),
]  # fmt: skip
ParkTeeth = Annotated[
    Number,
    Quantity("z_p", "", "teeth of the park wheel", low=4, high=200, slider=(8, 60), whole=True, spread="measured",
             how="count them"),
]  # fmt: skip
ParkRadius = Annotated[
    Number,
    Quantity("r_p", "m", "radius at which the pawl meets the tooth", above=0, high=0.5, slider=(0.02, 0.12),
             spread="measured", how="measure to the middle of the contact"),
]  # fmt: skip
ParkBacklash = Annotated[
    Number,
    Quantity("b_p", "rad", "free turn of the toothed wheel with the pawl in and the driveline behind it", low=0,
             high=1, slider=(0, 0.2), spread="measured", how="rock the car in park on the level, and mark it"),
]  # fmt: skip
ParkStiffness = Annotated[
    Number,
    Quantity("k_p", "N m/rad", "twisting stiffness of the driveline as seen at the toothed wheel", above=0, high=1e8,
             slider=(500, 50_000), scale="log", spread="guess",
             how="wind-up of propeller shaft and axle shafts; 2,000 to 10,000 for rear drive"),
]  # fmt: skip
ParkPressureAngle = Annotated[
    Number,
    Quantity("a_p", "rad", "angle by which the tooth's face leans and throws the pawl out", low=0, below=1.2,
             slider=(0, 0.5), spread="measured", how="measure the lean of the tooth flank"),
]  # fmt: skip
ParkContactArea = Annotated[
    Number,
    Quantity("A_p", "m2", "area on which pawl and tooth press", above=0, high=1e-2, slider=(2e-5, 5e-4),
             shown={"SI": "mm2", "shop": "in2"}, spread="measured", how="width times depth of the contact mark"),
]  # fmt: skip
ContactPressureLimit = Annotated[
    Number,
    Quantity("p_p", "Pa", "pressure that pawl and tooth stand without marks", above=0, high=5e9, slider=(1e8, 2e9),
             kind="pressure difference", shown={"SI": "MPa", "shop": "psi"}, spread="guess",
             how="about the yield strength for hardened steel; the maker's torque limit is better"),
]  # fmt: skip
PinDiameter = Annotated[
    Number,
    Quantity("d_p", "m", "diameter of the pawl's pin", above=0, high=0.1, slider=(0.005, 0.02), spread="measured",
             how="measure it"),
]  # fmt: skip
ShearPlanes = Annotated[
    Number,
    Quantity("n_p", "", "places at which the pin would have to shear", low=1, high=4, slider=(1, 2), whole=True,
             how="2 where the pin is held on both sides of the pawl"),
]  # fmt: skip
ShearStrength = Annotated[
    Number,
    Quantity("tau_p", "Pa", "shear stress allowed in the pin", above=0, high=2e9, slider=(1e8, 8e8),
             kind="pressure difference", shown={"SI": "MPa", "shop": "psi"}, spread="guess",
             how="0.577 of the yield strength, over a factor of safety"),
]  # fmt: skip
ParkTorqueLimit = Annotated[
    Number,
    Quantity("T_pl", "N m", "torque that the toothed wheel and pawl can hold", above=0, high=1e5, slider=(200, 5000),
             how="the maker's value, or lesson 5 from the pawl, the tooth and the pin"),
]  # fmt: skip
ParkEngageSpeed = Annotated[
    Number,
    Quantity("v_p", "m/s", "highest road speed at which the pawl drops in", above=0, high=20, slider=(0.2, 5),
             spread="measured", how="a maker's value; do not try it out on the road"),
]  # fmt: skip
PawlTime = Annotated[
    Number,
    Quantity("t_d", "s", "time the pawl needs to drop its depth", above=0, high=1, slider=(0.003, 0.05),
             shown={"SI": "ms", "shop": "ms"}, spread="guess", how="spring and mass of the pawl"),
]  # fmt: skip
GapAngle = Annotated[
    Number,
    Quantity("g_p", "rad", "turn of the toothed wheel during which the gap lies open to the pawl", above=0, high=1.5,
             slider=(0.02, 0.4), spread="measured", how="width of gap less width of pawl, over the radius"),
]  # fmt: skip
WorseGrip = Annotated[
    Number,
    Quantity("mu_w", "", "grip of the driven wheel that stands worse", above=0, high=2, slider=(0.05, 1),
             spread="guess", how="0.5 wet, 0.2 snow, 0.1 ice, next to nothing for a wheel in the air"),
]  # fmt: skip
BetterGrip = Annotated[
    Number,
    Quantity("mu_b", "", "grip of the driven wheel that stands better", above=0, high=2, slider=(0.05, 1),
             spread="guess", how="about 0.8 dry"),
]  # fmt: skip
AxleLoad = Annotated[
    Number,
    Quantity("N", "N", "load of one axle on the road", low=0, high=1e6, slider=(2000, 20_000), spread="measured"),
]
HoldGrade = Annotated[
    Number,
    Quantity("G_h", "", "grade on which park lock and handbrake shall each hold alone", above=0, high=0.6,
             slider=(0.05, 0.35), shown={"SI": "%", "shop": "%"}, how="20 % is what a brake test asks"),
]  # fmt: skip
RollAllowed = Annotated[
    Number,
    Quantity("s_a", "m", "roll allowed before park holds", above=0, high=2, slider=(0.05, 0.3),
             how="150 mm is what a rule for park asks on a 10 % grade"),
]  # fmt: skip

# --- handbrake ----------------------------------------------------------------------------------------------
HandForce = Annotated[
    Number,
    Quantity("F_l", "N", "force on the lever", above=0, high=2000, slider=(50, 500), spread="measured",
             how="400 N is the most that a test allows by hand; measure with a spring balance"),
]  # fmt: skip
LeverRatio = Annotated[
    Number,
    Quantity("i_l", "", "pull on the cable over force on the lever", above=0, high=50, slider=(3, 12),
             spread="measured", how="travel of the hand over travel of the cable"),
]  # fmt: skip
CableEfficiency = Annotated[
    Number,
    Quantity("eta_c", "", "part of the pull that reaches the brakes", above=0, high=1, slider=(0.6, 0.95),
             spread="guess", shown={"SI": "%", "shop": "%"}, how="0.75 to 0.9 with good cables; a rusty one less"),
]  # fmt: skip
ActuatingRatio = Annotated[
    Number,
    Quantity("i_a", "", "force on each shoe or pad over pull on one cable", above=0, high=50, slider=(2, 15),
             spread="measured", how="lever arms inside the brake"),
]  # fmt: skip
DrumRadius = Annotated[
    Number,
    Quantity("r_d", "m", "inner radius of the drum", above=0, high=0.5, slider=(0.08, 0.16), spread="measured",
             how="measure it"),
]  # fmt: skip
PivotRadius = Annotated[
    Number,
    Quantity("a_s", "m", "distance from drum centre to the shoe's pivot", above=0, high=0.5, slider=(0.05, 0.15),
             spread="measured", how="measure it"),
]  # fmt: skip
ShoeArm = Annotated[
    Number,
    Quantity("c_s", "m", "lever arm of the pushing force about the shoe's pivot", above=0, high=1,
             slider=(0.1, 0.3), spread="measured", how="measure it"),
]  # fmt: skip
ShoeStart = Annotated[
    Number,
    Quantity("th_1", "rad", "angle from pivot to where the lining begins", low=0, high=3.1, slider=(0, 1),
             spread="measured", how="measure it round the drum"),
]  # fmt: skip
ShoeEnd = Annotated[
    Number,
    Quantity("th_2", "rad", "angle from pivot to where the lining ends", above=0, high=3.1416, slider=(1.5, 2.9),
             spread="measured", how="measure it round the drum"),
]  # fmt: skip
LiningFriction = Annotated[
    Number,
    Quantity("f_s", "", "friction of lining on drum or disc", above=0, high=0.8, slider=(0.2, 0.45), spread="guess",
             how="0.30 to 0.40 dry and run in; wet or oily far less"),
]  # fmt: skip
PadRadius = Annotated[
    Number,
    Quantity("r_b", "m", "radius at which the pads press on the disc", above=0, high=0.5, slider=(0.08, 0.16),
             spread="measured", how="middle of the pad"),
]  # fmt: skip
ShoeForce = Annotated[
    Number, Quantity("F_s", "N", "force that pushes one shoe or pad", low=0, high=1e5, slider=(0, 5000))
]

# --- reverse, hill start ------------------------------------------------------------------------------------
ReverseGrade = Annotated[
    Number,
    Quantity("G_r", "", "grade to back up", low=0, high=0.6, slider=(0, 0.3), shown={"SI": "%", "shop": "%"},
             how="the steepest drive you must back out of"),
]  # fmt: skip
PullDelay = Annotated[
    Number,
    Quantity("t_0", "s", "time from letting the brake go to the first torque", low=0, high=10, slider=(0, 1),
             spread="measured", how="pressure to build, contactor and ramp: read it off a log"),
]  # fmt: skip
PullRise = Annotated[
    Number,
    Quantity("t_r", "s", "time in which the pull rises from nothing to full", low=0, high=10, slider=(0, 1.5),
             spread="measured", how="the controller's ramp setting"),
]  # fmt: skip
FullPull = Annotated[
    Number, Quantity("F_p", "N", "pull at the tyres when the ramp is over", low=0, high=1e5, slider=(0, 10_000))
]
RollbackAllowed = Annotated[
    Number,
    Quantity("s_b", "m", "roll back allowed at a hill start", above=0, high=5, slider=(0.05, 0.5),
             how="our own target, no rule behind it: 0.3 m"),
]  # fmt: skip
HillGrade = Annotated[
    Number,
    Quantity("G_s", "", "grade of the hill start", low=0, high=0.6, slider=(0, 0.3), shown={"SI": "%", "shop": "%"},
             how="the steepest hill on which you must stop"),
]  # fmt: skip
ReverseSpeedLimit = Annotated[
    Number,
    Quantity("v_r", "m/s", "road speed above which reverse and park are refused", above=0, high=20, slider=(0.5, 5),
             how="the selector table's setting; below the speed up to which the pawl drops in"),
]  # fmt: skip
LowSpeedLimit = Annotated[
    Number,
    Quantity("v_l", "m/s", "road speed above which low is refused", above=0, high=60, slider=(3, 25),
             how="from the motors' speed limit: lesson 2"),
]  # fmt: skip

# --- an electrical machine turned round ---------------------------------------------------------------------
FieldCurrent = Annotated[Number, Quantity("I_f", "A", "field current", low=-1e4, high=1e4, slider=(-600, 600))]
ArmatureCurrent = Annotated[Number, Quantity("I_a", "A", "armature current", low=-1e4, high=1e4, slider=(-600, 600))]
MutualInductance = Annotated[
    Number,
    Quantity("M", "H", "torque per field current and armature current", above=0, high=1, slider=(1e-4, 1e-2),
             scale="log", shown={"SI": "mH", "shop": "mH"}),
]  # fmt: skip
