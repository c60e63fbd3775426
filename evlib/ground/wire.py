"""Copper wire: gauge, standard resistances, hot resistance, drop, short-circuit withstand, and heat balance."""

from __future__ import annotations

from typing import Annotated, Literal

import numpy as np

from evlib.ground import units
from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Array, Number, Quantity, calculation
from evlib.ground.solve import bisect

COPPER_RESISTIVITY = 1.7241e-8  # ohm m at 20 °C; annealed copper standard, IEC 60028
COPPER_COEFFICIENT = 0.00393  # per K at 20 °C; IEC 60028
COPPER_HEAT = 3.45e6  # J/K m3, heat capacity of copper by volume; IEC 60364-5-54
COPPER_BETA = 234.5  # K, reciprocal of the coefficient at 0 °C; IEC 60364-5-54
ADIABATIC_LIMIT = 5.0  # s; IEC 60364-5-54 and IEC 60364-4-43: longer, and the heat that leaves is no longer small
STEFAN_BOLTZMANN = 5.670374e-8  # W/m2 K4; NIST
MELTED = 1357.0  # K, about where copper melts; a steady temperature above it is given as infinite

Gauge = Annotated[
    Number,
    Quantity("n", "", "wire gauge number (1/0 is 0, 2/0 is -1, 4/0 is -3)", low=-3, high=40, slider=(-3, 20),
             whole=True),
]  # fmt: skip
ConductorArea = Annotated[
    Number,
    Quantity("A", "m2", "copper area of the cable", above=0, high=2e-3, slider=(1e-5, 1.5e-4), scale="log",
             kind="wire", shown={"SI": "mm2", "shop": "mm2"}, how="read it on the cable's jacket"),
]  # fmt: skip
CableLength = Annotated[
    Number,
    Quantity("l", "m", "length of cable one way", above=0, high=100, slider=(0.3, 8), shown={"SI": "m", "shop": "ft"},
             spread="measured", how="measure along the run"),
]  # fmt: skip
StrandingFactor = Annotated[
    Number,
    Quantity("k_s", "", "resistance over that of solid copper of the nominal area", low=1, high=1.3,
             slider=(1.0, 1.15), how="about 1.02 for gauge sizes, 1.12 for metric flexible cable (IEC 60228 class 5)"),
]  # fmt: skip
CableDiameter = Annotated[
    Number,
    Quantity("D", "m", "outer diameter of the cable", above=0, high=0.1, slider=(0.005, 0.03), spread="measured",
             how="measure it over the insulation"),
]  # fmt: skip
ConductorTemperature = Annotated[
    Number,
    Quantity("T", "K", "temperature of the copper", low=200, high=1357, slider=(273.15, 473.15), kind="reading"),
]
AmbientTemperature = Annotated[
    Number,
    Quantity("T_a", "K", "temperature of the air around the cable", low=220, high=450, slider=(253.15, 373.15),
             kind="reading", spread="measured", how="measure where the cable runs, after a climb"),
]  # fmt: skip
InsulationLimit = Annotated[
    Number,
    Quantity("T_ins", "K", "temperature that the insulation stands always", low=320, high=600,
             slider=(333.15, 473.15), kind="reading", how="read it on the jacket: 90 °C, 105 °C, 125 °C, 180 °C"),
]  # fmt: skip
ShortCircuitLimit = Annotated[
    Number,
    Quantity("T_sc", "K", "temperature that the insulation stands in a short circuit of up to 5 s", low=400, high=700,
             slider=(433.15, 623.15), kind="reading",
             how="160 °C for PVC, 250 °C for cross-linked or rubber 90 °C, 350 °C for silicone; maker first"),
]  # fmt: skip
WireCurrent = Annotated[
    Number, Quantity("I", "A", "current in the cable", low=0, high=1e6, slider=(0, 1000), spread="measured")
]
WireTime = Annotated[Number, Quantity("t", "s", "time", low=0, high=1e7, slider=(0.01, 600), scale="log")]
WithstandFactor = Annotated[
    Number,
    Quantity("k", "A s0.5/m2", "short-circuit withstand of the cable per area", above=0, high=1e9,
             slider=(5e7, 2e8)),
]  # fmt: skip
Emissivity = Annotated[
    Number,
    Quantity("e", "", "emissivity of the jacket", above=0, high=1, slider=(0.7, 0.95), spread="guess",
             how="0.9 for any rubber or plastic"),
]  # fmt: skip
JacketConductivity = Annotated[
    Number,
    Quantity("k_j", "W/m K", "heat conductivity of the insulation", above=0, high=2, slider=(0.15, 0.4),
             spread="guess", how="0.2 to 0.3 for rubber and cross-linked insulation"),
]  # fmt: skip

# Maximum resistance at 20 °C [ohm/km] of plain copper conductors by nominal area [mm2]: IEC 60228:2004 tables 2
# and 3, read in three makers' reprints that agree (secondary). The sums of the columns are pinned in the tests.
IEC_60228: dict[str, dict[float, float]] = {
    "class 2": {1.5: 12.1, 2.5: 7.41, 4: 4.61, 6: 3.08, 10: 1.83, 16: 1.15, 25: 0.727, 35: 0.524, 50: 0.387,
                70: 0.268, 95: 0.193, 120: 0.153, 150: 0.124, 185: 0.0991, 240: 0.0754},
    "class 5": {1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30, 10: 1.91, 16: 1.21, 25: 0.780, 35: 0.554, 50: 0.386,
                70: 0.272, 95: 0.206, 120: 0.161, 150: 0.129, 185: 0.106, 240: 0.0801},
}  # fmt: skip


@calculation
def gauge_area(gauge: Gauge) -> Number:
    """Copper area of a gauge size.

    d = 0.005 in x 92^((36 - n)/39); A = pi d^2 / 4

    gauge: number, with 1/0, 2/0, 3/0, 4/0 as 0, -1, -2, -3 [1]. Gives [m2]. A stranded cable of that gauge has
    the same copper area and a larger diameter.

    >>> round(gauge_area(-1) * 1e6, 2)
    67.43

    Source: ASTM B258.
    """
    diameter: Number = units.gauge_diameter(gauge)
    return np.pi / 4 * diameter**2


def standard_resistance(area: float, *, stranding: Literal["class 2", "class 5"]) -> float:
    """Largest resistance per metre at 20 °C that the standard allows a nominal metric size [ohm/m].

    The table is not read between its sizes: a size outside it raises :class:`OutOfRange`.

    >>> round(standard_resistance(50e-6, stranding="class 5") * 1e3, 3)
    0.386

    Source: IEC 60228:2004, tables 2 and 3 (secondary).
    """
    column = IEC_60228[stranding]
    for nominal, value in column.items():
        if abs(nominal - area * 1e6) < 1e-6 * nominal:
            return value * 1e-3
    raise OutOfRange("nominal area [mm2]", round(area * 1e6, 3), min(column), max(column), f"IEC 60228 {stranding}")


@calculation
def resistance_per_metre(area: ConductorArea, *, temperature: ConductorTemperature,
                         stranding_factor: StrandingFactor) -> Number:  # fmt: skip
    """Resistance of one metre of copper cable at a temperature.

    R' = k_s rho20 (1 + 0.00393 (T - 293.15)) / A

    area [m2], temperature [K], stranding_factor [1]. Gives [ohm/m]. Skin effect is ignored (direct current).

    >>> round(resistance_per_metre(107.22e-6, temperature=348.15, stranding_factor=1.02) * 1e3, 3)
    0.199

    Source: IEC 60028 for resistivity and coefficient.
    """
    return stranding_factor * COPPER_RESISTIVITY * (1 + COPPER_COEFFICIENT * (temperature - 293.15)) / area


@calculation
def drop_both_ways(current: WireCurrent, *, area: ConductorArea, length: CableLength,
                   temperature: ConductorTemperature, stranding_factor: StrandingFactor) -> Number:  # fmt: skip
    """Voltage lost in a cable out and back.

    V = 2 I R' l

    current [A], area [m2], length one way [m], temperature [K], stranding_factor [1]. Gives [V]. Joints are not
    in it. The usual slip is to count one way.

    >>> round(drop_both_ways(450.0, area=67.43e-6, length=3.0, temperature=343.15, stranding_factor=1.02), 2)
    0.84
    """
    per_metre = resistance_per_metre(area, temperature=temperature, stranding_factor=stranding_factor)
    return 2 * current * per_metre * length


@calculation
def withstand_factor(start: ConductorTemperature, *, end: ConductorTemperature) -> Number:
    """Short-circuit withstand of copper per area, all heat kept in the copper.

    k = sqrt(Q (beta + 20) / rho20 x ln((beta + t_end) / (beta + t_start))), temperatures in °C

    start, end: temperature of the copper before and after [K]. Gives [A s^0.5/m2]; divide by 1e6 for A s^0.5/mm2.

    >>> round(withstand_factor(363.15, end=523.15) / 1e6, 1)
    142.9

    Source: IEC 60364-5-54 annex A; the standard rounds the constant before the logarithm to 226, which gives 143.1.
    """
    if np.any(np.asarray(end) <= np.asarray(start)):
        raise ValueError("end: the temperature after the short circuit must be higher than before it")
    rise = (COPPER_BETA + end - 273.15) / (COPPER_BETA + start - 273.15)
    return np.sqrt(COPPER_HEAT * (COPPER_BETA + 20) / COPPER_RESISTIVITY * np.log(rise))


@calculation
def withstand_time(current: WireCurrent, *, area: ConductorArea, factor: WithstandFactor) -> Number:
    """How long the cable stands a current from its start temperature, with no heat leaving.

    t = (k A / I)^2

    current [A], area [m2], factor k [A s^0.5/m2]. Gives [s]; infinite at no current. Good to about 5 s; beyond
    that heat leaves, and the true time is longer: use :func:`temperature_after`.

    >>> round(withstand_time(12_000.0, area=11.87e-6, factor=143e6), 4)
    0.02

    Source: IEC 60364-5-54, 543.1.2.
    """
    with np.errstate(divide="ignore"):
        return np.square(np.divide(factor * area, current))


@calculation
def withstand_area(current: WireCurrent, *, time: WireTime, factor: WithstandFactor) -> Number:
    """Smallest copper area for a short circuit that lasts a time.

    A = sqrt(I^2 t) / k

    current [A], time [s] up to 5, factor k [A s^0.5/m2]. Gives [m2].

    >>> round(withstand_area(12_000.0, time=0.02, factor=143e6) * 1e6, 2)
    11.87

    Source: IEC 60364-5-54, 543.1.2.
    """
    longest = float(np.max(time))
    if longest > ADIABATIC_LIMIT:
        raise OutOfRange("time [s]", longest, 0.0, ADIABATIC_LIMIT, "IEC 60364-5-54, no heat leaving")
    return current * np.sqrt(time) / factor


def surface_coefficient(diameter: Number, *, surface: Number, ambient: Number, emissivity: Number) -> Number:
    """Heat given off by a level cable in still air per area and degree: natural convection and radiation.

    Nu = (0.60 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))^2; h = Nu k/D + e s (Ts^4 - Ta^4)/(Ts - Ta)

    diameter [m], surface and ambient [K], emissivity [1]. Gives [W/m2 K]. Air as power laws in film temperature
    (within 2 % from 250 to 450 K). Wind, touching cables and clips are ignored.

    Source: Churchill and Chu (1975), as in Incropera, Fundamentals of Heat and Mass Transfer, eq. 9.34 (from memory).
    """
    surface, ambient = np.asarray(surface, float), np.asarray(ambient, float)
    film = (surface + ambient) / 2
    conductivity, viscosity, prandtl = 0.0263 * (film / 300) ** 0.85, 15.89e-6 * (film / 300) ** 1.75, 0.70
    rayleigh = 9.80665 / film * np.abs(surface - ambient) * np.asarray(diameter) ** 3 * prandtl / viscosity**2
    nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    radiation = emissivity * STEFAN_BOLTZMANN * (surface**2 + ambient**2) * (surface + ambient)
    value: Number = nusselt * conductivity / diameter + radiation
    return value


def _heat_off(copper: Array, *, heat: Number, area: Number, diameter: Number, ambient: Number, emissivity: Number,
              jacket_conductivity: Number) -> Array:  # fmt: skip
    """Heat per metre that leaves the jacket when the copper is at a temperature and makes a heat [W/m]."""
    inner = np.sqrt(4 * np.asarray(area) / np.pi)
    through = np.log(np.maximum(diameter / inner, 1.0)) / (2 * np.pi * jacket_conductivity)
    surface = np.maximum(copper - heat * through, ambient)
    off = surface_coefficient(diameter, surface=surface, ambient=ambient, emissivity=emissivity)
    return np.asarray(off * np.pi * diameter * (surface - ambient))


@calculation
def steady_temperature(current: WireCurrent, *, area: ConductorArea, diameter: CableDiameter,
                       stranding_factor: StrandingFactor, ambient: AmbientTemperature, emissivity: Emissivity = 0.9,
                       jacket_conductivity: JacketConductivity = 0.25) -> Number:  # fmt: skip
    """Temperature at which a single cable in still air settles: heat made equals heat given off.

    I^2 R'(T) = (T - T_s) 2 pi k_j / ln(D/d) = h pi D (T_s - T_a)

    current [A], area [m2], diameter over the jacket [m], stranding_factor [1], ambient [K], emissivity [1],
    jacket_conductivity [W/m K]. Gives [K]; infinite where the copper would melt first. One level cable, free on all
    sides; bundles, clips, sun and exhaust heat are ignored: put their effect into the ambient temperature.

    >>> round(steady_temperature(300.0, area=67.43e-6, diameter=0.0165, stranding_factor=1.02, ambient=303.15) - 273)
    79

    Source: heat balance; natural convection as in :func:`surface_coefficient`.
    """

    def surplus(copper: Array) -> Array:
        per_metre = stranding_factor * COPPER_RESISTIVITY * (1 + COPPER_COEFFICIENT * (copper - 293.15)) / area
        heat = current**2 * per_metre
        off = _heat_off(copper, heat=heat, area=area, diameter=diameter, ambient=ambient, emissivity=emissivity,
                        jacket_conductivity=jacket_conductivity)  # fmt: skip
        return np.asarray(heat - off)

    found = bisect(surplus, low=np.asarray(ambient, float), high=MELTED, steps=45)
    return np.where(np.isnan(found), np.inf, found)


@calculation
def ampacity(limit: InsulationLimit, *, area: ConductorArea, diameter: CableDiameter,
             stranding_factor: StrandingFactor, ambient: AmbientTemperature, emissivity: Emissivity = 0.9,
             jacket_conductivity: JacketConductivity = 0.25) -> Number:  # fmt: skip
    """Steady current at which a single cable in still air reaches a temperature.

    The balance of :func:`steady_temperature`, solved for the current.

    limit [K], area [m2], diameter [m], stranding_factor [1], ambient [K], emissivity [1], jacket_conductivity
    [W/m K]. Gives [A]; 0 where the air is already at the limit. A printed table or the maker's value comes
    first: against NEC table 310.17 this reads 6 to 10 % high, so keep a tenth in hand.

    >>> round(ampacity(363.15, area=67.43e-6, diameter=0.0165, stranding_factor=1.02, ambient=303.15), -1)
    330.0
    """
    per_metre = stranding_factor * COPPER_RESISTIVITY * (1 + COPPER_COEFFICIENT * (limit - 293.15)) / area

    def surplus(current: Array) -> Array:
        heat = current**2 * per_metre
        off = _heat_off(np.asarray(limit), heat=heat, area=area, diameter=diameter, ambient=ambient,
                        emissivity=emissivity, jacket_conductivity=jacket_conductivity)  # fmt: skip
        return np.asarray(heat - off)

    found = bisect(surplus, low=0.0, high=1e4, steps=45)
    return np.where(np.asarray(limit) <= np.asarray(ambient), 0.0, found)


@calculation
def temperature_after(time: WireTime, *, current: WireCurrent, area: ConductorArea, start: ConductorTemperature,
                      diameter: CableDiameter, stranding_factor: StrandingFactor, ambient: AmbientTemperature,
                      emissivity: Emissivity = 0.9) -> Number:  # fmt: skip
    """Temperature of the copper after a time at a current: one lump with heat leaving.

    c A dT/dt = I^2 R'(T) - h pi D (T - T_a); R' linear in T, h fixed at 60 K over the air; solved exactly

    time [s], current [A], area [m2], start [K], diameter [m], stranding_factor [1], ambient [K], emissivity [1].
    Gives [K], at most 1e6 (far past melting). The jacket's own heat capacity is ignored, so it reads high for the
    first minutes: on the careful side.

    >>> round(temperature_after(30.0, current=600.0, area=67.43e-6, start=333.15, diameter=0.0165,
    ...                         stranding_factor=1.02, ambient=333.15) - 273.15)
    74
    """
    off = surface_coefficient(diameter, surface=np.asarray(ambient) + 60.0, ambient=ambient, emissivity=emissivity)
    off = off * np.pi * diameter
    capacity = COPPER_HEAT * area
    at_zero = stranding_factor * COPPER_RESISTIVITY / area * (1 - COPPER_COEFFICIENT * 293.15)
    slope = stranding_factor * COPPER_RESISTIVITY / area * COPPER_COEFFICIENT
    constant = (current**2 * at_zero + off * ambient) / capacity
    rate = (current**2 * slope - off) / capacity
    x = np.clip(rate * time, -700, 50)
    small = np.abs(x) < 1e-9
    growth = np.where(small, time, np.expm1(x) / np.where(small, 1.0, rate))
    temperature: Number = np.minimum(start * np.exp(x) + constant * growth, 1e6)
    return temperature
