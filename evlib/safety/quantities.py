"""Every quantity of the safety topic, declared once. Wire and fuse quantities stand in the ground floor."""

from __future__ import annotations

from typing import Annotated

from evlib.ground.quantity import Number, Quantity

# --- voltages and stored energy -----------------------------------------------------------------------------
PackVoltage = Annotated[
    Number,
    Quantity("V", "V", "pack voltage", above=0, high=1000, slider=(48, 400), spread="measured", how="measure it"),
]
Resistance = Annotated[Number, Quantity("R", "ohm", "resistance", above=0, high=1e9, slider=(1, 10_000), scale="log")]
LinkCapacitance = Annotated[
    Number,
    Quantity("C", "F", "capacitance across the controller's input", above=0, high=1, slider=(1e-4, 2e-2), scale="log",
             shown={"SI": "µF", "shop": "µF"}, how="read it from the controller's data sheet"),
]  # fmt: skip
Time = Annotated[Number, Quantity("t", "s", "time", low=0, high=1e6, slider=(0, 10))]
Current = Annotated[Number, Quantity("I", "A", "current", low=0, high=1e6, slider=(0, 1000), spread="measured")]
StartVoltage = Annotated[Number, Quantity("V0", "V", "voltage at the start", low=0, high=1500, slider=(0, 400))]
EndVoltage = Annotated[Number, Quantity("V1", "V", "voltage at the end", above=0, high=1500, slider=(10, 100))]
StoredEnergy = Annotated[Number, Quantity("W", "J", "stored energy", low=0, high=1e6, slider=(0, 1000),
                                          shown={"SI": "J", "shop": "J"})]  # fmt: skip

# --- discharge ----------------------------------------------------------------------------------------------
DischargeResistance = Annotated[
    Number,
    Quantity("R_d", "ohm", "discharge resistor across the controller's input", above=0, high=1e6,
             slider=(100, 50_000), scale="log",
             shown={"SI": "kohm", "shop": "kohm"}, how="read it from the resistor, or measure it with the pack off"),
]  # fmt: skip
DischargeTimeAllowed = Annotated[
    Number,
    Quantity("t_60", "s", "time allowed to fall below 60 V after switching off", above=0, high=3600, slider=(1, 300),
             how="take it from the local rule, or from how soon a hand can reach a terminal"),
]  # fmt: skip
DischargePowerRating = Annotated[
    Number,
    Quantity("P_d", "W", "power that the discharge resistor can carry always", above=0, high=1e4, slider=(5, 200),
             shown={"SI": "W", "shop": "W"}, how="read it from the resistor"),
]  # fmt: skip

# --- insulation ---------------------------------------------------------------------------------------------
LeakPositive = Annotated[
    Number,
    Quantity("R_p", "ohm", "leak from the positive side to the chassis", above=0, high=1e12, slider=(1e3, 1e7),
             scale="log",
             shown={"SI": "kohm", "shop": "kohm"}, spread="measured",
             how="work it out from the three voltmeter readings of lesson 6"),
]  # fmt: skip
LeakNegative = Annotated[
    Number,
    Quantity("R_n", "ohm", "leak from the negative side to the chassis", above=0, high=1e12, slider=(1e3, 1e7),
             scale="log",
             shown={"SI": "kohm", "shop": "kohm"}, spread="measured",
             how="work it out from the three voltmeter readings of lesson 6"),
]  # fmt: skip
MeterResistance = Annotated[
    Number,
    Quantity("R_m", "ohm", "the meter's own resistance", above=0, high=1e12, slider=(1e5, 1e8), scale="log",
             shown={"SI": "Mohm", "shop": "Mohm"},
             how="read it from the meter's manual; 10 Mohm or more is asked"),
]  # fmt: skip
TestResistance = Annotated[
    Number,
    Quantity("R_o", "ohm", "known resistor put in for the second reading", above=0, high=1e9, slider=(1e3, 1e6),
             scale="log",
             shown={"SI": "kohm", "shop": "kohm"}, spread="measured",
             how="choose about the required ohm per volt times the pack voltage"),
]  # fmt: skip
LargerReading = Annotated[
    Number,
    Quantity("V_1", "V", "larger of the two readings to the chassis", above=0, high=1500, slider=(1, 400),
             spread="measured"),
]  # fmt: skip
SecondReading = Annotated[
    Number,
    Quantity("V_1'", "V", "same reading with the known resistor in", above=0, high=1500, slider=(1, 400),
             spread="measured"),
]  # fmt: skip
OtherReading = Annotated[
    Number,
    Quantity("V_2", "V", "smaller of the two readings to the chassis", low=0, high=1500, slider=(0, 400),
             spread="measured"),
]  # fmt: skip
OhmPerVolt = Annotated[
    Number,
    Quantity("r", "ohm/V", "insulation asked per volt", above=0, high=1e5, slider=(100, 1000),
             how="100 ohm/V for a DC circuit alone, 500 ohm/V where AC is joined to it; local rule first"),
]  # fmt: skip

# --- precharge ----------------------------------------------------------------------------------------------
PrechargeResistance = Annotated[
    Number,
    Quantity("R_pre", "ohm", "precharge resistor", above=0, high=1e5, slider=(5, 1000), scale="log",
             how="read it from the resistor"),
]  # fmt: skip
PrechargeWait = Annotated[
    Number,
    Quantity("t_pre", "s", "time between precharge on and main contactor on", above=0, high=600, slider=(0.1, 10),
             how="read the setting, or time the two clicks"),
]  # fmt: skip
PrechargeGiveUp = Annotated[
    Number,
    Quantity("t_give", "s", "time after which precharge is broken off when the voltage does not rise", above=0,
             high=600, slider=(0.05, 5),
             how="read the setting; a controller that does not look goes on for its whole wait"),
]  # fmt: skip
PulseEnergyRating = Annotated[
    Number,
    Quantity("W_R", "J", "energy that the precharge resistor takes in one pulse", above=0, high=1e6,
             slider=(10, 2000), scale="log", shown={"SI": "J", "shop": "J"},
             how="read the pulse curve in the resistor's data sheet"),
]  # fmt: skip
PrechargePowerRating = Annotated[
    Number,
    Quantity("P_pre", "W", "power that the precharge resistor can carry always", above=0, high=1e4, slider=(5, 200),
             shown={"SI": "W", "shop": "W"}, how="read it from the resistor"),
]  # fmt: skip
ClosingDifference = Annotated[
    Number,
    Quantity("v", "", "part of the pack voltage that may be missing when the main contactor closes", above=0, below=1,
             slider=(0.01, 0.2), shown={"SI": "%", "shop": "%"}, how="5 % is common practice, no source; maker first"),
]  # fmt: skip

# --- short circuits, contactors -----------------------------------------------------------------------------
PackResistance = Annotated[
    Number,
    Quantity("R_b", "ohm", "resistance of the whole pack", above=0, high=10, slider=(0.01, 0.3), scale="log",
             shown={"SI": "mohm", "shop": "mohm"}, how="voltage step divided by current step"),
]  # fmt: skip
CircuitResistance = Annotated[
    Number,
    Quantity("R_c", "ohm", "resistance of cables, joints, fuse and contactor in the fault's loop", low=0, high=10,
             slider=(0.001, 0.05), scale="log", shown={"SI": "mohm", "shop": "mohm"}),
]  # fmt: skip
LoopInductance = Annotated[
    Number,
    Quantity("L", "H", "inductance of the fault's loop", above=0, high=0.1, slider=(1e-6, 1e-4), scale="log",
             shown={"SI": "µH", "shop": "µH"}, spread="guess",
             how="about 1 µH per metre of cable pair laid apart, less laid together; cells add a few"),
]  # fmt: skip
ColdestPack = Annotated[
    Number,
    Quantity("t_c", "K", "coldest that the cells get in use", low=230, high=350, slider=(243.15, 293.15),
             kind="reading", spread="guess", how="the coldest morning on which you will drive"),
]  # fmt: skip
HottestPack = Annotated[
    Number,
    Quantity("t_h", "K", "hottest that the cells get in use", low=230, high=350, slider=(293.15, 333.15),
             kind="reading", spread="guess", how="the temperature at which the battery monitor cuts off"),
]  # fmt: skip
LowestCharge = Annotated[
    Number,
    Quantity("s_l", "", "lowest state of charge in use", low=0, high=1, slider=(0, 0.4),
             shown={"SI": "%", "shop": "%"}, spread="guess", how="where the battery monitor warns"),
]  # fmt: skip
ContactorContinuousCurrent = Annotated[
    Number,
    Quantity("I_k", "A", "current that the main contactor carries always", above=0, high=1e4, slider=(50, 1000),
             how="read it from the contactor's data sheet"),
]  # fmt: skip
ContactorBreakingCurrent = Annotated[
    Number,
    Quantity("I_brk", "A", "largest current that the main contactor can break at this pack's voltage", above=0,
             high=1e5, slider=(100, 5000), how="read it from the contactor's breaking curve at the pack voltage"),
]  # fmt: skip
ContactorReleaseTime = Annotated[
    Number,
    Quantity("t_rel", "s", "time from coil off to contacts open and arc out", above=0, high=1, slider=(0.005, 0.1),
             shown={"SI": "ms", "shop": "ms"}, how="read it with the coil suppressor that you fit: a plain diode "
             "makes it several times longer"),
]  # fmt: skip
ContactResistance = Annotated[
    Number,
    Quantity("R_k", "ohm", "resistance of the closed main contacts", above=0, high=0.1, slider=(1e-4, 2e-3),
             scale="log", shown={"SI": "mohm", "shop": "mohm"}, how="voltage drop at a known current"),
]  # fmt: skip
JointResistance = Annotated[
    Number,
    Quantity("R_j", "ohm", "resistance of one joint", low=0, high=0.1, slider=(1e-5, 2e-3), scale="log",
             shown={"SI": "mohm", "shop": "mohm"}, spread="measured", how="milliohm meter, or drop at a known current"),
]  # fmt: skip
JointCount = Annotated[
    Number, Quantity("n_j", "", "joints in the loop", low=0, high=500, slider=(0, 20), whole=True, how="count them")
]
JointSurface = Annotated[
    Number,
    Quantity("A_j", "m2", "surface from which one joint gives off heat", above=0, high=1, slider=(1e-3, 5e-2),
             shown={"SI": "cm2", "shop": "in2"}, spread="guess"),
]  # fmt: skip
HeatTransfer = Annotated[
    Number,
    Quantity("h", "W/m2 K", "heat given off per area and degree", above=0, high=500, slider=(5, 30), spread="guess"),
]

# --- motor loop, cables in use ------------------------------------------------------------------------------
SteadyCurrent = Annotated[
    Number,
    Quantity("I_s", "A", "current the cable carries for half an hour and more (root mean square)", low=0, high=1e4,
             slider=(20, 500), how="log a drive, or take the current of a steady climb"),
]  # fmt: skip
PeakCurrent = Annotated[
    Number,
    Quantity("I_p", "A", "largest current in the cable", above=0, high=1e5, slider=(50, 2000),
             how="the controller's limit on that side"),
]  # fmt: skip
PeakTime = Annotated[
    Number,
    Quantity("t_p", "s", "longest time at the largest current", above=0, high=3600, slider=(1, 120),
             how="what the controller allows before it cuts back"),
]  # fmt: skip
AllowedDrop = Annotated[
    Number,
    Quantity("v_d", "", "part of the pack voltage that may be lost in the cable, both ways", above=0, below=1,
             slider=(0.005, 0.05), shown={"SI": "%", "shop": "%"}, how="2 % is common practice, no source"),
]  # fmt: skip
BatteryCurrent = Annotated[
    Number, Quantity("I_b", "A", "pack current", low=0, high=1e5, slider=(0, 1000), spread="measured")
]
MotorCurrent = Annotated[
    Number, Quantity("I_m", "A", "motor current", low=0, high=1e5, slider=(0, 2000), spread="measured")
]
MotorVoltage = Annotated[Number, Quantity("V_m", "V", "voltage at the motor", above=0, high=1000, slider=(5, 300))]

# --- over-speed ---------------------------------------------------------------------------------------------
TripSpeed = Annotated[
    Number,
    Quantity("w_trip", "rad/s", "speed at which the over-speed trip acts", above=0, high=3000, slider=(200, 900),
             how="read the setting"),
]  # fmt: skip
DetectionDelay = Annotated[
    Number,
    Quantity("t_det", "s", "time from passing the trip speed to the coil being off", low=0, high=10,
             slider=(0.005, 0.5), shown={"SI": "ms", "shop": "ms"}, spread="guess",
             how="pulses per turn and sampling give it; measure it with a signal generator"),
]  # fmt: skip

# --- weights and fixing -------------------------------------------------------------------------------------
Mass = Annotated[Number, Quantity("m", "kg", "mass", above=0, high=1e5, slider=(1, 500), spread="measured")]
Acceleration = Annotated[
    Number,
    Quantity("a", "m/s2", "acceleration that the fixing must stand", low=0, high=1000, slider=(0, 300),
             shown={"SI": "m/s2", "shop": "m/s2"}),
]  # fmt: skip
PackMass = Annotated[
    Number,
    Quantity("m_p", "kg", "mass of the pack with its boxes", above=0, high=5000, slider=(50, 600), spread="measured",
             how="weigh the boxes, or count cells and add a quarter for boxes and links"),
]  # fmt: skip
CrashAlong = Annotated[
    Number,
    Quantity("a_x", "m/s2", "acceleration along the vehicle that the pack's fixing must stand", above=0, high=1000,
             slider=(50, 300), shown={"SI": "m/s2", "shop": "m/s2"},
             how="20 g, 196 m/s2, is common practice, no source; the local rule comes first"),
]  # fmt: skip
CrashAcross = Annotated[
    Number,
    Quantity("a_y", "m/s2", "acceleration across the vehicle that the pack's fixing must stand", above=0, high=1000,
             slider=(20, 200), shown={"SI": "m/s2", "shop": "m/s2"},
             how="8 g, 78.5 m/s2, is common practice, no source; the local rule comes first"),
]  # fmt: skip
FixingAlong = Annotated[
    Number,
    Quantity("F_x", "N", "force that the pack's fixing holds along the vehicle", above=0, high=1e7, slider=(1e4, 2e5),
             how="all bolts and brackets together, at their yield; have it worked out by a licensed person"),
]  # fmt: skip
FixingAcross = Annotated[
    Number,
    Quantity("F_y", "N", "force that the pack's fixing holds across the vehicle", above=0, high=1e7, slider=(1e4, 2e5),
             how="all bolts and brackets together, at their yield; have it worked out by a licensed person"),
]  # fmt: skip

# --- what an inspector asks ---------------------------------------------------------------------------------
FrontAxlePlate = Annotated[
    Number,
    Quantity("m_f", "kg", "largest load of the front axle, as on the vehicle's plate", above=0, high=2e4,
             slider=(300, 2000), how="read it on the plate"),
]  # fmt: skip
RearAxlePlate = Annotated[
    Number,
    Quantity("m_r", "kg", "largest load of the rear axle, as on the vehicle's plate", above=0, high=2e4,
             slider=(300, 2000), how="read it on the plate"),
]  # fmt: skip
ServoStops = Annotated[
    Number,
    Quantity("n_s", "", "full stops wanted with the vacuum pump dead", low=1, high=20, slider=(1, 6), whole=True,
             how="three is common practice, no source; the local rule comes first"),
]  # fmt: skip
FullVacuum = Annotated[
    Number,
    Quantity("v_0", "Pa", "vacuum at which the pump stops, below the outside air", above=0, high=1e5,
             slider=(4e4, 9e4), kind="pressure difference", shown={"SI": "kPa", "shop": "inHg"}, spread="measured",
             how="read a vacuum gauge in the hose"),
]  # fmt: skip
LeastVacuum = Annotated[
    Number,
    Quantity("v_m", "Pa", "least vacuum at which the servo still helps enough", low=0, high=1e5, slider=(1e4, 6e4),
             kind="pressure difference", shown={"SI": "kPa", "shop": "inHg"},
             how="the warning switch's setting, or the maker's figure"),
]  # fmt: skip
ReservoirVolume = Annotated[
    Number,
    Quantity("V_r", "m3", "volume of vacuum reservoir, hose and the servo's own vacuum side", above=0, high=1,
             slider=(1e-3, 2e-2), shown={"SI": "L", "shop": "L"}, spread="measured",
             how="fill it with water, or weigh"),
]  # fmt: skip
StrokeVolume = Annotated[
    Number,
    Quantity("V_s", "m3", "outside air that one full stop lets into the servo", above=0, high=0.1,
             slider=(2e-4, 4e-3), shown={"SI": "L", "shop": "L"}, spread="guess",
             how="area of the servo's diaphragm times its travel"),
]  # fmt: skip
VacuumPumpFlow = Annotated[
    Number,
    Quantity("S_v", "m3/s", "suction of the vacuum pump at its inlet", above=0, high=1, slider=(1e-4, 5e-3),
             shown={"SI": "L/min", "shop": "L/min"}, spread="guess", how="time it on the reservoir"),
]  # fmt: skip
CableClearance = Annotated[
    Number,
    Quantity("c_p", "m", "gap between traction cable and propeller shaft, wheels hanging and loaded, the smaller",
             low=0, high=1, slider=(0, 0.1), spread="measured", how="measure both, key out, wheels chocked"),
]  # fmt: skip
PropellerTravel = Annotated[
    Number,
    Quantity("c_m", "m", "movement towards each other that must be left over", low=0, high=1, slider=(0, 0.1),
             spread="guess", how="travel of the shaft there and sag of the cable; 25 mm and more is common practice, "
             "no source"),
]  # fmt: skip
RimSpeed = Annotated[
    Number,
    Quantity("v", "m/s", "speed of the rim", low=0, high=500, slider=(0, 150), shown={"SI": "m/s", "shop": "ft/s"}),
]
WheelDiameter = Annotated[
    Number,
    Quantity("D", "m", "diameter of the cutting wheel", above=0, high=2, slider=(0.05, 0.4), spread="measured"),
]
ShaftSpeed = Annotated[Number, Quantity("w", "rad/s", "speed of the shaft", low=0, high=6000, slider=(0, 1500))]
Fraction = Annotated[Number, Quantity("f", "", "fraction", low=0, high=1, slider=(0, 1))]
