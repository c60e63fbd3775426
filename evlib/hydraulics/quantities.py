"""Every quantity of this topic, declared once. Pressures are gauge: above the air around the gearbox."""

from __future__ import annotations

from typing import Annotated

from evlib.ground import belt
from evlib.ground.quantity import Number, Quantity

# fmt: off
_CM3 = {"SI": "cm3", "shop": "in3"}
_CM2 = {"SI": "cm2", "shop": "in2"}
_MS = {"SI": "m/s2", "shop": "ft/s2"}
_G = "gauge"
_D = "pressure difference"
_GAUGE_PORT = "read a gauge at the gearbox's main pressure test port"

Friction = belt.BeltFriction  # declared on the ground floor: the band brake of the parking topic has it too
WrapAngle = belt.WrapAngle

# -- oil ---------------------------------------------------------------------------------------------------------
Viscosity40 = Annotated[Number, Quantity("ν40", "m2/s", "kinematic viscosity of the oil at 40 °C", low=2e-6, high=1e-3,
                                         slider=(2e-5, 6e-5), how="from the oil's data sheet")]
Viscosity100 = Annotated[Number, Quantity("ν100", "m2/s", "kinematic viscosity of the oil at 100 °C", low=1e-6,
                                          high=1e-4, slider=(4e-6, 1e-5), how="from the oil's data sheet")]
KinematicViscosity = Annotated[Number, Quantity("ν", "m2/s", "kinematic viscosity of the oil", above=0, high=0.1,
                                                slider=(4e-6, 2e-4), scale="log")]
Density15 = Annotated[Number, Quantity("ρ15", "kg/m3", "density of the oil at 15 °C", low=600, high=1200,
                                       slider=(830, 890), how="from the oil's data sheet")]
OilDensity = Annotated[Number, Quantity("ρ", "kg/m3", "density of the oil", low=500, high=1200,
                                        slider=(780, 900))]
OilTemperature = Annotated[Number, Quantity("t", "K", "oil temperature", low=223.15, high=453.15,
                                            slider=(253.15, 403.15), kind="reading")]
ReferenceTemperature = Annotated[Number, Quantity(
    "tref", "K", "oil temperature at which flows and leakages were measured", low=253.15, high=423.15,
    slider=(313.15, 373.15), kind="reading", how="note the oil temperature with every flow or leakage test")]
HotTemperature = Annotated[Number, Quantity("thot", "K", "hottest oil in use", low=293.15, high=453.15,
                                            slider=(353.15, 403.15), kind="reading",
                                            how="measure in the pan after a long climb")]
ColdTemperature = Annotated[Number, Quantity("tcold", "K", "coldest oil at a start", low=223.15, high=323.15,
                                             slider=(253.15, 293.15), kind="reading",
                                             how="the coldest morning in which the vehicle is used")]
Thinning = Annotated[Number, Quantity("λ", "", "viscosity at the test temperature over viscosity now (hot: above 1)",
                                      above=0, high=1000, slider=(0.1, 3), scale="log")]

# -- electric pump -----------------------------------------------------------------------------------------------
FreeFlow = Annotated[Number, Quantity("Q0", "m3/s", "electric pump flow against no pressure at rated volts", above=0,
                                      high=2e-3, slider=(5e-5, 3e-4),
                                      how="time the filling of a measured can, or the data sheet")]
RatedFlow = Annotated[Number, Quantity("Qr", "m3/s", "electric pump flow at its rated pressure and volts", low=0,
                                       high=2e-3, slider=(2e-5, 2e-4),
                                       how="second point of the pump's data sheet")]
RatedPressure = Annotated[Number, Quantity("pr", "Pa", "electric pump rated pressure, the second point of its curve",
                                           above=0, high=5e6, slider=(3e5, 1.5e6), kind=_G,
                                           how="second point of the pump's data sheet")]
PumpReliefPressure = Annotated[Number, Quantity("prel", "Pa", "pressure at which the pump's own relief valve opens",
                                                above=0, high=1e7, slider=(5e5, 2e6), kind=_G,
                                                how="pump data sheet")]
PumpVolts = Annotated[Number, Quantity("Vr", "V", "electric pump rated voltage", above=0, high=60,
                                       slider=(12, 13.8))]
TerminalVolts = Annotated[Number, Quantity("V", "V", "voltage at the electric pump while it runs", low=0, high=60,
                                           slider=(9, 14.4),
                                           how="measure at the pump's plug while it pumps")]
SlipShare = Annotated[Number, Quantity("s", "", "share of the pump curve's fall that is slip past its gears; the rest "
                                       "is its motor slowing", low=0, high=1, slider=(0.1, 0.8), spread="guess",
                                       how="take 0.4 for a gear pump until measured hot and cold")]
FreeCurrent = Annotated[Number, Quantity("I0", "A", "pump current against no pressure", low=0, high=200,
                                         slider=(2, 10), how="clamp meter, outlet open")]
RatedCurrent = Annotated[Number, Quantity("Ir", "A", "pump current at rated pressure", above=0, high=300,
                                          slider=(8, 30), how="clamp meter, or the data sheet")]
InrushCurrent = Annotated[Number, Quantity("Iin", "A", "pump current at the instant it is switched on", above=0,
                                           high=1000, slider=(30, 120),
                                           how="volts over the pump's resistance standing still")]
SpinUpTime = Annotated[Number, Quantity("tup", "s", "time from switching the pump on to full flow", low=0, high=5,
                                        slider=(0.05, 0.5), how="from a log of pressure and pump volts")]
DutyLimit = Annotated[Number, Quantity("Dmax", "", "largest share of time for which the pump may run", above=0,
                                       high=1, slider=(0.2, 1), how="pump data sheet: duty")]
OnShare = Annotated[Number, Quantity("D", "", "share of time for which the pump runs in the worst traffic", low=0,
                                     high=1, slider=(0.1, 0.8), spread="guess",
                                     how="log a crawl through town, or simulate a stop-and-go")]

# -- internal pump, check valve, leakage, regulator --------------------------------------------------------------
Displacement = Annotated[Number, Quantity("d", "m3", "internal pump displacement per turn", above=0, high=1e-3,
                                          slider=(8e-6, 3e-5), shown=_CM3,
                                          how="turn it by hand in oil and measure, or from the gears' sizes")]
InternalSlip = Annotated[Number, Quantity("Qi", "m3/s", "flow back through the internal pump at the test pressure, "
                                          "clearances as new", low=0, high=1e-3, slider=(1e-5, 1e-4), spread="guess",
                                          how="feed the outlet with the pump on the bench, gears still; divide by "
                                          "the cube of how much the clearances have grown")]
SealLeak = Annotated[Number, Quantity("Qs", "m3/s", "leakage of seals and sealing rings at the test pressure", low=0,
                                      high=1e-3, slider=(2e-6, 5e-5), spread="guess",
                                      how="feed each circuit in turn and measure")]
ValveBodyLeak = Annotated[Number, Quantity("Qv", "m3/s", "leakage of valve body and its orifices at the test pressure",
                                           low=0, high=1e-3, slider=(2e-6, 5e-5), spread="guess",
                                           how="the total at rest less seals and pump")]
OpenFeed = Annotated[Number, Quantity("Qf", "m3/s", "flow at the test pressure of feeds that stay open below the "
                                      "regulator's set point (converter circuit not blanked, cooler bypass)",
                                      low=0, high=1e-3, slider=(0, 5e-5), spread="guess",
                                      how="blank them; nil when all are blanked or closed by the regulator")]
TestPressure = Annotated[Number, Quantity("pt", "Pa", "pressure at which leakages were measured", above=0, high=5e6,
                                          slider=(2e5, 1e6), kind=_G)]
ClearanceGrowth = Annotated[Number, Quantity("w", "", "running clearances over new ones (leak goes as the cube)",
                                             low=0.5, high=3, slider=(1, 1.6), spread="guess",
                                             how="feeler gauge between pump gears and cover, over new")]
CrackingPressure = Annotated[Number, Quantity("pc", "Pa", "pressure that the check valve needs to open", low=0,
                                              high=5e5, slider=(5e3, 1e5), kind=_D)]
CheckLoss = Annotated[Number, Quantity("Δpc", "Pa", "further loss of the check valve at the pump's free flow", low=0,
                                       high=1e6, slider=(0, 1e5), kind=_D)]
RegulatorSet = Annotated[Number, Quantity("pset", "Pa", "main pressure that the regulator holds without load signal",
                                          above=0, high=5e6, slider=(4e5, 1e6), kind=_G, how=_GAUGE_PORT)]
LoadBoost = Annotated[Number, Quantity("pb", "Pa", "main pressure added by a full load signal", low=0, high=5e6,
                                       slider=(0, 8e5), kind=_D,
                                       how=_GAUGE_PORT + " with the signal at both ends")]
ReverseBoost = Annotated[Number, Quantity("prev", "Pa", "main pressure added when reverse is selected", low=0,
                                          high=5e6, slider=(0, 1e6), kind=_D, how=_GAUGE_PORT)]
RegulatorOverride = Annotated[Number, Quantity("po", "Pa", "rise above the set point when the regulator passes the "
                                               "internal pump's flow at 1000 rpm", above=0, high=1e6,
                                               slider=(1e4, 1e5), kind=_D, spread="guess",
                                               how=_GAUGE_PORT + " at two speeds")]
LoadSignal = Annotated[Number, Quantity("m", "", "load signal, 0 none to 1 full", low=0, high=1,
                                        slider=(0, 1))]

# -- clutches and bands ------------------------------------------------------------------------------------------
DynamicFriction = Annotated[Number, Quantity("μd", "", "friction while it slips, in oil", above=0, high=0.8,
                                             slider=(0.08, 0.16),
                                             how="lining maker; paper in oil about 0.10 to 0.14")]
StaticFriction = Annotated[Number, Quantity("μs", "", "friction when it sticks, in oil", above=0, high=0.8,
                                            slider=(0.08, 0.2), how="lining maker")]
PistonOuter = Annotated[Number, Quantity("Dp", "m", "outer diameter of the apply piston", above=0, high=0.5,
                                         slider=(0.05, 0.18), how="calliper on the piston seal's bore")]
PistonInner = Annotated[Number, Quantity("dp", "m", "inner diameter of the apply piston, or of the servo's rod if "
                                         "oil acts on that side", low=0, high=0.5, slider=(0, 0.12))]
SpringForce = Annotated[Number, Quantity("Fs", "N", "return spring force with the piston applied", low=0, high=2e4,
                                         slider=(100, 2000),
                                         how="weigh the springs pressed to their applied length")]
Faces = Annotated[Number, Quantity("n", "", "number of friction faces (two for each lined plate)", low=1, high=40,
                                   slider=(4, 16), whole=True, how="count")]
FaceOuter = Annotated[Number, Quantity("Do", "m", "outer diameter of the lined ring", above=0, high=0.5,
                                       slider=(0.1, 0.18), how="calliper")]
FaceInner = Annotated[Number, Quantity("Di", "m", "inner diameter of the lined ring", above=0, high=0.5,
                                       slider=(0.08, 0.15), how="calliper")]
OilRadius = Annotated[Number, Quantity("r0", "m", "radius at which oil enters the turning drum", low=0, high=0.3,
                                       slider=(0, 0.06), how="radius of the feed groove")]
DrumDiameter = Annotated[Number, Quantity("D", "m", "diameter of the drum under the band", above=0, high=0.5,
                                          slider=(0.1, 0.22), how="calliper")]
BandWidth = Annotated[Number, Quantity("b", "m", "width of the band's lining", above=0, high=0.2,
                                       slider=(0.02, 0.06), how="calliper")]
LeverRatio = Annotated[Number, Quantity("i", "", "force at the band over force at the servo", above=0, high=10,
                                        slider=(0.8, 3), how="measure the lever's two arms")]
FillVolume = Annotated[Number, Quantity("Vf", "m3", "oil that the piston takes up between released and applied",
                                        low=0, high=1e-3, slider=(5e-6, 5e-5), shown=_CM3,
                                        how="piston area times travel")]
HeldMultiple = Annotated[Number, Quantity("k", "", "torque that the clutch or band holds, over input torque", low=0,
                                          high=20, slider=(0.3, 3),
                                          how="from the gear set's tooth counts")]

# -- switch, launch, line, 12 V ----------------------------------------------------------------------------------
SwitchOnSpeed = Annotated[Number, Quantity("non", "rad/s", "input speed below which the electric pump is on", low=0,
                                           high=400, slider=(20, 120), how="setting of the speed switch")]
SwitchOffSpeed = Annotated[Number, Quantity("noff", "rad/s", "input speed above which the electric pump is off",
                                            low=0, high=400, slider=(30, 150),
                                            how="setting of the speed switch")]
SwitchDelay = Annotated[Number, Quantity("tsw", "s", "time from crossing the speed to the relay's closing", low=0,
                                         high=5, slider=(0, 0.3), how="switch and relay data sheets")]
Braking = Annotated[Number, Quantity("ab", "m/s2", "hardest braking in which pressure must not dip", above=0, high=12,
                                     slider=(2, 9), shown=_MS)]
InhibitPressure = Annotated[Number, Quantity("pin", "Pa", "pressure below which the pressure switch forbids drive",
                                             low=0, high=5e6, slider=(2e5, 8e5), kind=_G)]
LaunchCurrentForward = Annotated[Number, Quantity(
    "Ilow", "A", "motor current limit in low until the internal pump carries full torque", above=0, high=3000,
    slider=(100, 1000), how="controller setting; the full motor-current limit if there is none")]
LaunchCurrentReverse = Annotated[Number, Quantity(
    "Irev", "A", "motor current limit in reverse until the internal pump carries full torque", above=0, high=3000,
    slider=(100, 1000), how="controller setting; the full motor-current limit if there is none")]
LineBore = Annotated[Number, Quantity("D", "m", "bore of the pressure line", above=0, high=0.1,
                                      slider=(0.0064, 0.0159), kind="hose",
                                      how="dash size (100R1/R2 series) or a drill's shank")]
LineLength = Annotated[Number, Quantity("L", "m", "length of the pressure line", low=0, high=20, slider=(0.3, 3),
                                        shown={"SI": "m", "shop": "ft"})]
LineFittings = Annotated[Number, Quantity("ΣK", "", "sum of loss factors of the line's fittings", low=0, high=200,
                                          slider=(0, 20), spread="guess",
                                          how="about 1 for an elbow, 0.5 an inlet, 1 an outlet")]
LossTarget = Annotated[Number, Quantity("Δpmax", "Pa", "largest line loss that you accept with hot oil", above=0,
                                        high=1e6, slider=(1e4, 1e5), kind=_D)]
SuctionBore = Annotated[Number, Quantity("Ds", "m", "bore of the suction line", above=0, high=0.1,
                                         slider=(0.0095, 0.019), kind="hose", how="dash size or bore")]
SuctionLength = Annotated[Number, Quantity("Ls", "m", "length of the suction line", low=0, high=20, slider=(0.1, 2),
                                           shown={"SI": "m", "shop": "ft"})]
SuctionFittings = Annotated[Number, Quantity("ΣKs", "", "sum of loss factors of suction fittings and strainer",
                                             low=0, high=200, slider=(0, 20), spread="guess")]
SuctionLift = Annotated[Number, Quantity("hs", "m", "height of the pump inlet above the oil in the pan", low=-3,
                                         high=3, slider=(-0.3, 0.6))]
InletAllowed = Annotated[Number, Quantity("pmin", "Pa", "lowest absolute pressure allowed at the pump's inlet",
                                          above=0, high=2e5, slider=(5e4, 9e4), kind="absolute",
                                          how="pump data sheet; 80 kPa absolute is common for gear pumps")]
SupplyVolts = Annotated[Number, Quantity("V12", "V", "voltage of the 12 V system while the pump runs", above=0,
                                         high=60, slider=(11, 14.4), how="measure at the battery")]
FuseRating = Annotated[Number, Quantity("Ifu", "A", "rating of the pump's fuse", above=0, high=300,
                                        slider=(10, 60))]
RelayRating = Annotated[Number, Quantity("Irel", "A", "contact rating of the pump's relay, motor load", above=0,
                                         high=500, slider=(20, 80))]
WireArea = Annotated[Number, Quantity("A", "m2", "copper area of the pump's wire", above=0, high=3e-4,
                                      slider=(2e-6, 1e-5), shown={"SI": "mm2", "shop": "mm2"},
                                      kind="wire")]
WireLength = Annotated[Number, Quantity("l", "m", "length of the pump's wire, one way", above=0, high=30,
                                        slider=(0.5, 6), shown={"SI": "m", "shop": "ft"})]
WireAllowed = Annotated[Number, Quantity("Iw", "A", "continuous current allowed in that wire where it lies",
                                         above=0, high=500, slider=(15, 60),
                                         how="wire maker's table at the engine bay's temperature")]
DropAllowed = Annotated[Number, Quantity("ΔVmax", "V", "largest voltage drop accepted between battery and pump",
                                         above=0, high=6, slider=(0.2, 1.5))]

# -- arguments of calculations only ------------------------------------------------------------------------------
Pressure = Annotated[Number, Quantity("p", "Pa", "main pressure", low=0, high=1e7, slider=(0, 1.5e6),
                                      kind=_G)]
PressureLoss = Annotated[Number, Quantity("Δp", "Pa", "pressure loss", low=0, high=1e7, slider=(0, 2e5),
                                          kind=_D)]
Flow = Annotated[Number, Quantity("Q", "m3/s", "flow", low=0, high=0.01, slider=(0, 3e-4))]
InputSpeed = Annotated[Number, Quantity("n", "rad/s", "input speed of the gearbox; backwards is negative", low=-1500,
                                        high=1500, slider=(0, 600))]
InputTorque = Annotated[Number, Quantity("T", "N m", "torque at the gearbox input", low=0, high=5000,
                                         slider=(0, 600))]
HeldTorque = Annotated[Number, Quantity("Th", "N m", "torque that a clutch or band holds", low=0, high=50000,
                                        slider=(0, 2000))]
ApplyForce = Annotated[Number, Quantity("F", "N", "force with which the piston presses", low=0, high=1e6,
                                        slider=(0, 2e4))]
PistonArea = Annotated[Number, Quantity("Ap", "m2", "area of the apply piston", above=0, high=0.2,
                                        slider=(2e-3, 2e-2), shown=_CM2)]
InputDeceleration = Annotated[Number, Quantity("α", "rad/s2", "rate at which input speed falls while braking", low=0,
                                               high=5000, slider=(20, 300))]
ReynoldsNumber = Annotated[Number, Quantity("Re", "", "Reynolds number", low=0, high=1e8, slider=(10, 1e5),
                                            scale="log")]
RelativeRoughness = Annotated[Number, Quantity("e/D", "", "roughness over bore", low=0, high=0.05,
                                               slider=(0, 0.01))]
AirPressure = Annotated[Number, Quantity("pa", "Pa", "air pressure", low=5e4, high=1.1e5, slider=(7e4, 1.02e5),
                                         kind="absolute")]
Deceleration = Annotated[Number, Quantity("a", "m/s2", "rate at which the vehicle slows", low=0, high=15,
                                          slider=(0.5, 9), shown=_MS)]
OverallRatio = Annotated[Number, Quantity("i", "", "input turns for each turn of the wheels, gear and axle together",
                                          above=0, high=50, slider=(2, 12))]
WheelRadius = Annotated[Number, Quantity("r", "m", "loaded radius of the driven wheels", above=0, high=2,
                                         slider=(0.25, 0.4))]
SeriesTime = Annotated[Number, Quantity("t", "s", "times of a drive sequence's corners", low=0, high=1e6,
                                        slider=(0, 600))]
Compliance = Annotated[Number, Quantity("C", "m3/Pa", "oil that the circuit takes up for each pascal: springs, air, "
                                        "hoses, accumulator", above=0, high=1e-8, slider=(2e-12, 1e-10), scale="log",
                                        how="oil let out by a gauge's fall, pump off and port plugged")]
ShutOffPressure = Annotated[Number, Quantity("pshut", "Pa", "pressure in the gearbox at which the electric pump's flow "
                                             "ends", low=0, high=1e7, slider=(5e5, 2e6), kind=_G)]
AccumulatorGas = Annotated[Number, Quantity("V0", "m3", "gas volume of an accumulator at its charge pressure", low=0,
                                            high=0.01, slider=(0, 5e-4))]
ChargePressure = Annotated[Number, Quantity("p0", "Pa", "gas charge of an accumulator", low=0, high=5e6,
                                            slider=(1e5, 6e5), kind=_G)]
Inertia = Annotated[Number, Quantity("J", "kg m2", "inertia of all that turns with the gearbox input", above=0,
                                     high=50, slider=(0.05, 1))]
SpringRate = Annotated[Number, Quantity("k", "N/m", "rate of a valve's spring", above=0, high=1e7,
                                        slider=(2e3, 2e4), shown={"SI": "N/mm", "shop": "lbf/in"})]
SpringCompression = Annotated[Number, Quantity("x", "m", "compression of a valve's spring from its free length", low=0,
                                               high=0.2, slider=(0, 0.03))]
LeakSlope = Annotated[Number, Quantity("g", "m3/(s Pa)", "leakage in proportion to pressure", above=0, high=1e-7,
                                       slider=(1e-11, 5e-10), scale="log")]
GasExponent = Annotated[Number, Quantity("n", "", "exponent of the gas: 1 slow, 1.4 quick", low=1, high=1.7,
                                         slider=(1, 1.4))]
BatteryCharge = Annotated[Number, Quantity("C", "C", "charge of the 12 V battery", above=0, high=2e6,
                                           slider=(3.6e4, 3.6e5), shown={"SI": "Ah", "shop": "Ah"})]
SpeedRipple = Annotated[Number, Quantity("Δ", "rad/s", "what the speed signal wavers, to either side", low=0, high=100,
                                         slider=(0, 10))]
Hysteresis = Annotated[Number, Quantity("Δn", "rad/s", "switch-off speed less switch-on speed", above=0, high=200,
                                        slider=(1, 30))]
AskedCurrent = Annotated[Number, Quantity("I", "A", "motor current asked at launch", low=0, high=2000,
                                          slider=(100, 700))]
AskedTorque = Annotated[Number, Quantity("T", "N m", "input torque asked", low=0, high=3000, slider=(50, 500))]
HeatFlow = Annotated[Number, Quantity("P", "W", "heat into the oil", low=0, high=1e5, slider=(0, 3000))]
HeatConductance = Annotated[Number, Quantity("G", "W/K", "heat that pan and cooler lose for each kelvin", above=0,
                                             high=1000, slider=(5, 60),
                                             how="let hot oil cool at standstill and time it")]
OilMass = Annotated[Number, Quantity("m", "kg", "mass that warms up", low=0, high=500, slider=(3, 80))]
WarmShare = Annotated[Number, Quantity("s", "", "share of the final rise", low=0, below=1, slider=(0.1, 0.95))]
LeakFlow = Annotated[Number, Quantity("Ql", "m3/s", "leakage of the whole gearbox at the test pressure", above=0,
                                      high=1e-3, slider=(2e-5, 1e-4))]
