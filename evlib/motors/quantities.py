"""Every quantity of the motors topic, declared once. Rotor inertia and speed limit stand in the ground floor."""

from __future__ import annotations

from typing import Annotated

from evlib.ground.quantity import Number, Quantity
from evlib.ground.runaway import RotorInertia as RotorInertia
from evlib.ground.runaway import SpeedLimit as SpeedLimit
from evlib.ground.tables import Curve, CurveOf

# --- what flows and turns ----------------------------------------------------------------------------------------
Current = Annotated[
    Number, Quantity("I", "A", "current in each machine", low=0, high=5000, slider=(0, 1000), spread="measured")
]
Volts = Annotated[
    Number,
    Quantity("V", "V", "voltage at one machine's terminals", low=0, high=1500, slider=(0, 300), spread="measured"),
]
Speed = Annotated[Number, Quantity("w", "rad/s", "speed of the shaft", low=0, high=3000, slider=(0, 600))]
Torque = Annotated[Number, Quantity("T", "N m", "torque", low=0, high=10_000, slider=(0, 800), spread="measured")]
Power = Annotated[Number, Quantity("P", "W", "power", low=0, high=5e6, slider=(0, 300_000))]
Time = Annotated[Number, Quantity("t", "s", "time", low=0, high=1e8, slider=(0, 3600))]
Temperature = Annotated[
    Number, Quantity("Θ", "K", "temperature", low=200, high=800, slider=(253.15, 473.15), kind="reading")
]

# --- the series machine ------------------------------------------------------------------------------------------
MutualInductance = Annotated[
    Number,
    Quantity("L", "H", "mutual inductance of field and armature: unsaturated torque over current squared", above=0,
             high=1, slider=(2e-4, 5e-3), scale="log", shown={"SI": "mH", "shop": "mH"}, spread="measured",
             how="fit it from the machine's test sheet (lesson 1, Deep)"),
]  # fmt: skip
SaturationCurrent = Annotated[
    Number,
    Quantity("I_s", "A", "current at which saturation has halved the flux per ampere", above=0, high=1e5,
             slider=(50, 2000), scale="log", spread="measured",
             how="fit it from the machine's test sheet (lesson 1, Deep)"),
]  # fmt: skip
WindingResistance = Annotated[
    Number,
    Quantity("R", "ohm", "winding resistance of one machine at 20 °C: armature, field and leads", above=0, high=1000,
             slider=(0.002, 0.1), scale="log", shown={"SI": "mohm", "shop": "mohm"}, spread="measured",
             how="volts over amps at standstill, rotor locked, with a low-voltage supply"),
]  # fmt: skip
BrushDrop = Annotated[
    Number,
    Quantity("V_br", "V", "brush drop of one machine, both polarities together", low=0, high=10, slider=(0, 4),
             how="about 2 V per machine with carbon brushes"),
]  # fmt: skip
FrictionTorque = Annotated[
    Number,
    Quantity("T_fr", "N m", "torque of bearing and brush friction in one machine", low=0, high=200, slider=(0, 5),
             spread="measured", how="torque to turn the unfed machine slowly"),
]  # fmt: skip
WindageCoefficient = Annotated[
    Number,
    Quantity("c_w", "N m s2", "windage torque over speed squared, one machine", low=0, high=1, slider=(0, 5e-5),
             shown={"SI": "N m s2", "shop": "N m s2"}, how="coast the unfed machine down, or fit the test sheet"),
]  # fmt: skip
IronConductance = Annotated[
    Number,
    Quantity("G_i", "1/ohm", "iron loss over back-EMF squared, one machine", low=0, high=10, slider=(0, 0.05),
             how="fit it from the machine's test sheet"),
]  # fmt: skip
BackEmfConstant = Annotated[
    Number,
    Quantity("k", "V s", "back-EMF over speed, which is also torque over current", low=0, high=100, slider=(0, 1),
             shown={"SI": "V s", "shop": "V s"}),
]  # fmt: skip
MagnetisationCurve = Annotated[
    Curve,
    CurveOf("magnetisation curve of one machine",
            x=Quantity("I", "A", "current", low=0, high=5000),
            y=Quantity("k", "V s", "back-EMF over speed", low=0, high=100), shape="rising",
            how="drive the unfed machine at a steady speed, feed the field alone, read volts against field amps"),
]  # fmt: skip
MachineMass = Annotated[
    Number, Quantity("m_m", "kg", "mass of one machine", above=0, high=2000, slider=(20, 150), spread="measured",
                     how="weigh it")
]  # fmt: skip
MachineCount = Annotated[
    Number, Quantity("n_m", "", "number of machines on the shaft", low=1, high=8, slider=(1, 4), whole=True,
                     how="count them")
]  # fmt: skip
InSeries = Annotated[
    Number, Quantity("n_s", "", "machines in electrical series on one controller", low=1, high=8, slider=(1, 2),
                     whole=True)
]  # fmt: skip
InParallel = Annotated[
    Number, Quantity("n_p", "", "machines in parallel on one controller", low=1, high=8, slider=(1, 2), whole=True)
]
ControllerCount = Annotated[
    Number, Quantity("n_c", "", "controllers, each with its share of the machines", low=1, high=8, slider=(1, 2),
                     whole=True)
]  # fmt: skip
FluxMismatch = Annotated[
    Number, Quantity("d", "", "how much stronger the second machine's flux is", above=-0.5, below=0.5,
                     slider=(-0.1, 0.1), shown={"SI": "%", "shop": "%"}, spread="measured")
]  # fmt: skip

# --- brushes and commutator --------------------------------------------------------------------------------------
BrushCurrentLimit = Annotated[
    Number,
    Quantity("I_br", "A", "largest current that one machine's brushes should carry for minutes", above=0, high=5000,
             slider=(100, 1200), how="brush face area per polarity times the grade's current density"),
]  # fmt: skip
CommutatorBars = Annotated[
    Number, Quantity("n_b", "", "commutator bars", low=3, high=1000, slider=(30, 120), whole=True, how="count them")
]
Poles = Annotated[
    Number, Quantity("2p", "", "main poles", low=2, high=24, slider=(2, 8), whole=True, how="count the field coils")
]
BarVoltsLimit = Annotated[
    Number,
    Quantity("U_bar", "V", "largest mean voltage between neighbouring commutator bars", above=0, high=60,
             slider=(8, 25), how="15 V mean is a common design limit without compensating winding; maker first"),
]  # fmt: skip
StallCurrent = Annotated[
    Number,
    Quantity("I_st", "A", "current at standstill for which a holding time is known, one machine", above=0, high=5000,
             slider=(50, 800), how="ask the maker; if none is known, do not hold on the pedal"),
]  # fmt: skip
StallTime = Annotated[
    Number,
    Quantity("t_st", "s", "time for which the stall current may stand on the same bars", above=0, high=600,
             slider=(1, 30), how="ask the maker; if none is known, do not hold on the pedal"),
]  # fmt: skip
HoldTime = Annotated[
    Number, Quantity("t_h", "s", "time to hold the vehicle on the pedal, standing", low=0, high=600, slider=(0, 20),
                     how="what your driver does at a junction on a hill")
]  # fmt: skip
BrushLength = Annotated[
    Number, Quantity("l", "m", "brush length now, on its shorter side", low=0, high=0.2, slider=(0.01, 0.06),
                     spread="measured", how="measure it")
]  # fmt: skip
BrushLengthLeast = Annotated[
    Number, Quantity("l_0", "m", "brush length at which it must be changed", low=0, high=0.2, slider=(0.005, 0.03),
                     how="maker's figure or the wear line")
]  # fmt: skip
BrushWear = Annotated[
    Number,
    Quantity("u", "m/s", "brush length lost per running time", above=0, high=1e-6, slider=(5e-10, 5e-9), scale="log",
             shown={"SI": "mm/hour", "shop": "in/hour"}, spread="guess",
             how="two length readings and the hours between"),
]  # fmt: skip
BrushPressure = Annotated[
    Number, Quantity("p_b", "Pa", "spring pressure on the brush face", above=0, high=2e5, slider=(10e3, 50e3),
                     kind="pressure difference", how="spring balance reading over the brush's cross-section")
]  # fmt: skip
BrushArea = Annotated[
    Number, Quantity("A_b", "m2", "cross-section of one brush", above=0, high=0.01, slider=(1e-4, 2e-3),
                     shown={"SI": "cm2", "shop": "in2"}, spread="measured", how="width times thickness")
]  # fmt: skip
BrushesPerPolarity = Annotated[
    Number, Quantity("n_br", "", "brushes of one polarity", low=1, high=64, slider=(1, 12), whole=True,
                     how="count them")
]  # fmt: skip
BrushFriction = Annotated[
    Number, Quantity("f_b", "", "friction coefficient of brush on commutator", low=0, high=1, slider=(0.1, 0.3))
]
CommutatorRadius = Annotated[
    Number, Quantity("r_c", "m", "radius of the commutator", above=0, high=1, slider=(0.03, 0.15), spread="measured",
                     how="measure its diameter, halve it")
]  # fmt: skip
BrushAngle = Annotated[
    Number, Quantity("a", "rad", "brush shift from the neutral axis, mechanical", low=0, high=1.0, slider=(0, 0.35))
]

Conductors = Annotated[
    Number, Quantity("Z", "", "armature conductors", low=4, high=10_000, slider=(50, 800), whole=True)
]
ParallelPaths = Annotated[
    Number, Quantity("a", "", "parallel paths through the armature: 2 for a wave, as many as poles for a lap winding",
                     low=2, high=24, slider=(2, 8), whole=True)
]  # fmt: skip

# --- heat --------------------------------------------------------------------------------------------------------
AirTemperature = Annotated[
    Number,
    Quantity("Θ_a", "K", "air temperature at the machine", low=220, high=350, slider=(253.15, 323.15),
             kind="reading", spread="measured", how="hottest day you will drive on, measured in the engine bay"),
]  # fmt: skip
WindingRise = Annotated[
    Number,
    Quantity("ΔΘ", "K", "rise of the winding's temperature", low=0, high=500, slider=(10, 150), kind="difference"),
]
WindingLimit = Annotated[
    Number,
    Quantity("Θ_m", "K", "highest winding temperature allowed", low=320, high=600, slider=(373.15, 473.15),
             kind="reading", how="insulation class of the winding, less the hot-spot allowance"),
]  # fmt: skip
WindingTemperature = Annotated[
    Number,
    Quantity("Θ_w", "K", "winding temperature", low=200, high=800, slider=(253.15, 473.15), kind="reading",
             spread="measured"),
]  # fmt: skip
FrameTemperature = Annotated[
    Number,
    Quantity("Θ_f", "K", "frame temperature", low=200, high=800, slider=(253.15, 473.15), kind="reading",
             spread="measured"),
]  # fmt: skip
WindingHeatCapacity = Annotated[
    Number,
    Quantity("C_w", "J/K", "heat capacity of one machine's windings", above=0, high=1e6, slider=(1e3, 3e4),
             scale="log", how="copper mass times 385 J/kg K"),
]  # fmt: skip
FrameHeatCapacity = Annotated[
    Number,
    Quantity("C_f", "J/K", "heat capacity of one machine's iron and frame", above=0, high=1e7, slider=(5e3, 1e5),
             scale="log", how="iron mass times 460 J/kg K"),
]  # fmt: skip
WindingConductance = Annotated[
    Number,
    Quantity("G_wf", "W/K", "heat flow from windings to frame per degree, one machine", above=0, high=1e4,
             slider=(3, 100), scale="log", how="fit it from a five-minute and a one-hour rating"),
]  # fmt: skip
FrameConductance = Annotated[
    Number,
    Quantity("G_fa", "W/K", "heat flow from frame to air per degree with the blower as fitted, one machine", above=0,
             high=1e4, slider=(2, 60), scale="log", how="fit it from the continuous rating"),
]  # fmt: skip
FrameConductanceStill = Annotated[
    Number,
    Quantity("G_0", "W/K", "heat flow from frame to air per degree with the blower off, one machine", above=0,
             high=1e4, slider=(1, 30), scale="log", how="cooling curve with the blower off"),
]  # fmt: skip
OtherLoss = Annotated[
    Number, Quantity("P_o", "W", "iron, windage and brush loss that heats the frame, one machine", low=0, high=1e6,
                     slider=(0, 3000))
]  # fmt: skip
DutyFraction = Annotated[
    Number, Quantity("ed", "", "loaded part of each cycle", above=0, high=1, slider=(0.05, 1),
                     shown={"SI": "%", "shop": "%"})
]  # fmt: skip
CycleTime = Annotated[Number, Quantity("t_c", "s", "length of one duty cycle", above=0, high=1e5, slider=(60, 3600))]
WindingMass = Annotated[
    Number, Quantity("m_w", "kg", "mass of copper in one machine", above=0, high=500, slider=(3, 40),
                     how="weigh a stripped machine's copper, or work it out from wire size, turns and mean turn")
]  # fmt: skip

# --- pack --------------------------------------------------------------------------------------------------------
CellsInSeries = Annotated[
    Number, Quantity("N_s", "", "cells in series", low=1, high=500, slider=(30, 150), whole=True, how="count them")
]
CellsInParallel = Annotated[
    Number, Quantity("N_p", "", "cells in parallel", low=1, high=500, slider=(1, 10), whole=True, how="count them")
]
CellCapacity = Annotated[
    Number, Quantity("Q", "C", "charge that one cell holds", above=0, high=1e8, slider=(36_000, 1_080_000),
                     how="cell's data sheet, or a full discharge with a meter")
]  # fmt: skip
CellOpenVoltage = Annotated[
    Curve,
    CurveOf("cell voltage at rest", x=Quantity("s", "", "state of charge", low=0, high=1),
            y=Quantity("v", "V", "cell voltage at rest", above=0, high=20), shape="rising",
            how="rest each cell an hour at several states of charge and read it, or use the cell's data sheet"),
]  # fmt: skip
CellResistance = Annotated[
    Number,
    Quantity("R_c", "ohm", "resistance of one cell at 25 °C", low=0, high=1, slider=(1e-4, 1e-2), scale="log",
             shown={"SI": "mohm", "shop": "mohm"}, how="voltage step over current step after ten seconds"),
]  # fmt: skip
LinkResistance = Annotated[
    Number,
    Quantity("R_l", "ohm", "resistance of links, cables, fuse and contactors together", low=0, high=1,
             slider=(1e-3, 0.05), scale="log", shown={"SI": "mohm", "shop": "mohm"},
             how="voltage drop at a known current"),
]  # fmt: skip
ResistanceTemperatureConstant = Annotated[
    Number,
    Quantity("B", "K", "how steeply cell resistance rises in the cold: as exp(B / Θ), Θ in kelvin", low=0, high=8000,
             slider=(0, 5000), kind="difference", spread="guess", shown={"SI": "K", "shop": "K"},
             how="ln of the resistance ratio at two temperatures over the difference of 1/T; 2500 K is typical"),
]  # fmt: skip
PackTemperature = Annotated[
    Number,
    Quantity("Θ_p", "K", "temperature of the cells", low=230, high=350, slider=(253.15, 323.15), kind="reading",
             spread="measured", how="battery monitor"),
]  # fmt: skip
StateOfCharge = Annotated[
    Number,
    Quantity("s", "", "state of charge", low=0, high=1, slider=(0.05, 1), shown={"SI": "%", "shop": "%"},
             spread="measured", how="battery monitor; the state at which you still want full performance"),
]  # fmt: skip
CellCutOff = Annotated[
    Number,
    Quantity("U_cc", "V", "lowest cell voltage allowed under load", low=0, high=20, slider=(2.0, 3.2),
             how="cell's data sheet, or the battery monitor's setting"),
]  # fmt: skip
PackCurrentLimit = Annotated[
    Number,
    Quantity("I_p", "A", "largest pack current allowed for the time of a run-up", above=0, high=5000,
             slider=(100, 1200), how="cell's data sheet times cells in parallel, and the battery monitor's setting"),
]  # fmt: skip
PackCurrent = Annotated[
    Number, Quantity("I_b", "A", "pack current", low=0, high=10_000, slider=(0, 1200), spread="measured")
]
OpenVolts = Annotated[
    Number, Quantity("U_0", "V", "pack voltage at rest", above=0, high=1500, slider=(48, 450), spread="measured",
                     how="measure it an hour after the last drive")
]  # fmt: skip
PackResistance = Annotated[
    Number,
    Quantity("R_b", "ohm", "resistance of the whole pack with its cables", low=0, high=10, slider=(0.01, 0.3),
             scale="log", shown={"SI": "mohm", "shop": "mohm"}, spread="measured",
             how="voltage step over current step"),
]  # fmt: skip
CutOffVolts = Annotated[
    Number, Quantity("U_c", "V", "lowest pack voltage allowed under load", low=0, high=1500, slider=(0, 400),
                     how="cell cut-off times cells in series")
]  # fmt: skip

# --- controller --------------------------------------------------------------------------------------------------
MotorCurrentLimit = Annotated[
    Number,
    Quantity("I_m", "A", "largest motor-side current of one controller", above=0, high=5000, slider=(100, 2000),
             how="controller's data sheet and its setting"),
]  # fmt: skip
ControllerPackCurrentLimit = Annotated[
    Number,
    Quantity("I_cp", "A", "largest pack-side current of one controller", above=0, high=5000, slider=(100, 2000),
             how="controller's data sheet and its setting"),
]  # fmt: skip
ControllerEfficiency = Annotated[
    Number,
    Quantity("e_c", "", "efficiency of the controller", above=0, high=1, slider=(0.9, 1),
             shown={"SI": "%", "shop": "%"},
             how="controller's data sheet; 96 to 98 % is usual near full load"),
]  # fmt: skip
Duty = Annotated[
    Number, Quantity("D", "", "duty: part of each cycle for which the switch is closed", low=0, high=1,
                     slider=(0.02, 1), shown={"SI": "%", "shop": "%"})
]  # fmt: skip
DutyLimit = Annotated[
    Number,
    Quantity("D_m", "", "largest duty that the controller gives", above=0, high=1, slider=(0.8, 1),
             shown={"SI": "%", "shop": "%"}, how="controller's data sheet; many reach 100 %"),
]  # fmt: skip
RippleCurrentLimit = Annotated[
    Number,
    Quantity("I_rc", "A", "ripple current that the link capacitors carry, root mean square", above=0, high=2000,
             slider=(50, 500), how="capacitor's data sheet times the number in parallel"),
]  # fmt: skip

FluxPerPole = Annotated[
    Number, Quantity("Φ", "Wb", "flux of one pole", above=0, high=10, slider=(0.001, 0.1), scale="log")
]
RotationalLoss = Annotated[
    Number, Quantity("P_r", "W", "friction, windage and iron loss together", low=0, high=1e6, slider=(0, 2000))
]

# --- other machines ----------------------------------------------------------------------------------------------
FieldCurrent = Annotated[
    Number, Quantity("I_f", "A", "field current", above=0, high=500, slider=(1, 30), spread="measured",
                     how="clamp meter on the field lead")
]  # fmt: skip
ArmatureResistance = Annotated[
    Number, Quantity("R_a", "ohm", "armature resistance", above=0, high=100, slider=(0.005, 0.5), scale="log",
                     shown={"SI": "mohm", "shop": "mohm"}, spread="measured", how="volts over amps at standstill")
]  # fmt: skip
FieldResistance = Annotated[
    Number, Quantity("R_f", "ohm", "field resistance", above=0, high=10_000, slider=(1, 200), spread="measured",
                     how="volts over amps of the field alone")
]  # fmt: skip
PeakTorque = Annotated[
    Number, Quantity("T_m", "N m", "largest torque of one AC machine, below its base speed", above=0, high=5000,
                     slider=(50, 500), how="machine's and inverter's joint data sheet")
]  # fmt: skip
BaseSpeed = Annotated[
    Number, Quantity("w_b", "rad/s", "base speed: where constant torque ends", above=0, high=3000, slider=(100, 600),
                     how="data sheet at your pack's sagged voltage; it moves in proportion to the voltage")
]  # fmt: skip
PullOutSpeed = Annotated[
    Number, Quantity("w_p", "rad/s", "speed from which torque falls with the square of speed", above=0, high=3000,
                     slider=(200, 1500), how="data sheet: where its constant-power line ends")
]  # fmt: skip
RegenerationTorque = Annotated[
    Number, Quantity("T_r", "N m", "largest braking torque set in the inverter", low=0, high=5000, slider=(0, 300),
                     how="inverter setting")
]  # fmt: skip
AcEfficiency = Annotated[
    Number, Quantity("e_a", "", "efficiency of AC machine and inverter together", above=0, high=1, slider=(0.7, 0.98),
                     shown={"SI": "%", "shop": "%"}, how="data sheet map at the point in question")
]  # fmt: skip
