"""Gearbox oil: how thick and how dense it is at a temperature."""

from __future__ import annotations

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Number, calculation, result
from evlib.hydraulics import quantities as q

D341_LEAST = 2e-6  # m2/s; below 2 mm2/s ASTM D341 adds terms that are left out here
NEWTONIAN_FROM = 253.15  # K; transmission oils near -20 °C no longer flow in proportion to the force on them
LUBRICANT_EXPANSION = 0.6278  # kg/m3 K; API MPMS 11.1 (1980) lubricating oils, alpha = 0.6278 / density at 15 °C


@result
class ViscosityLine:
    """The two constants of ASTM D341: ``log10 log10(ν + 0.7) = a - b log10 T``, ν in mm²/s."""

    a: Number
    b: Number


def _double_log(viscosity: Number) -> Number:
    return np.log10(np.log10(np.asarray(viscosity) * 1e6 + 0.7))


@calculation
def viscosity_line(viscosity_40: q.Viscosity40, *, viscosity_100: q.Viscosity100) -> ViscosityLine:
    """The oil's line on the viscosity-temperature chart, through its values at 40 and 100 °C.

    log10 log10(ν + 0.7) = a - b log10 T, ν in mm2/s, T in K

    viscosity_40 and viscosity_100 [m2/s]. Gives a and b [1]. For mineral and most synthetic oils above 2 mm2/s;
    friction modifiers, shear and wax are ignored.

    >>> line = viscosity_line(32e-6, viscosity_100=5.4e-6)
    >>> round(line.a, 2), round(line.b, 2)
    (9.53, 3.75)

    Source: ASTM D341.
    """
    if np.any(np.asarray(viscosity_100) >= np.asarray(viscosity_40)):
        raise ValueError(f"viscosity_100: {viscosity_100} was given; allowed: less than viscosity_40, {viscosity_40}")
    top, bottom = _double_log(viscosity_40), _double_log(viscosity_100)
    b = (top - bottom) / (np.log10(373.15) - np.log10(313.15))
    return ViscosityLine(top + b * np.log10(313.15), b)


@calculation
def viscosity(
    temperature: q.OilTemperature, *, viscosity_40: q.Viscosity40, viscosity_100: q.Viscosity100
) -> Number:  # fmt: skip
    """Kinematic viscosity of an oil at a temperature, from its values at 40 and 100 °C.

    ν = 10^(10^(a - b log10 T)) - 0.7, ν in mm2/s, T in K

    temperature [K], viscosity_40 and viscosity_100 [m2/s]. Gives [m2/s]. As :func:`viscosity_line`. Below about
    -20 °C transmission oils are not Newtonian: there the figure says only that the oil is very thick.

    >>> round(viscosity(353.15, viscosity_40=32e-6, viscosity_100=5.4e-6) * 1e6, 1)
    8.5

    Source: ASTM D341.
    """
    line = viscosity_line(viscosity_40, viscosity_100=viscosity_100)
    found = (10.0 ** (10.0 ** (line.a - line.b * np.log10(temperature))) - 0.7) * 1e-6
    if np.any(found < D341_LEAST):
        raise OutOfRange("viscosity [m2/s]", float(np.min(found)), D341_LEAST, 2e1, "ASTM D341, short form")
    return found


@calculation
def density(temperature: q.OilTemperature, *, density_15: q.Density15) -> Number:
    """Density of a lubricating oil at a temperature.

    ρ = ρ15 exp(-α ΔT (1 + 0.8 α ΔT)), α = 0.6278 / ρ15, ΔT = T - 288.15 K

    temperature [K], density_15 [kg/m3]. Gives [kg/m3]. At air pressure: oil under 10 bar is denser by less than 0.1 %.

    >>> round(density(373.15, density_15=860), 1)
    805.8

    Source: API MPMS chapter 11.1 (1980), lubricating oils (constants from memory).
    """
    alpha = LUBRICANT_EXPANSION / np.asarray(density_15)
    rise = np.asarray(temperature) - 288.15
    return density_15 * np.exp(-alpha * rise * (1 + 0.8 * alpha * rise))


@calculation
def thinning(
    temperature: q.OilTemperature, *, reference_temperature: q.ReferenceTemperature,
    viscosity_40: q.Viscosity40, viscosity_100: q.Viscosity100,
) -> Number:  # fmt: skip
    """How many times more a narrow gap leaks than when it was measured, because the oil is warmer.

    λ = ν(tref) / ν(t)

    temperature and reference_temperature [K], viscosities [m2/s]. Gives [1]. Laminar gaps; the change of density is
    left out (3 % over 50 K).

    >>> round(thinning(373.15, reference_temperature=353.15, viscosity_40=32e-6, viscosity_100=5.4e-6), 2)
    1.58

    Source: ASTM D341; Hagen and Poiseuille.
    """
    oil = {"viscosity_40": viscosity_40, "viscosity_100": viscosity_100}
    return np.asarray(viscosity(reference_temperature, **oil)) / viscosity(temperature, **oil)
