"""Belt friction: what a band round a drum holds. Shared by hydraulics (bands) and parking (band brake)."""

from __future__ import annotations

import math
from typing import Annotated, Literal

import numpy as np

from evlib.ground.quantity import Number, Quantity, calculation

# fmt: off
BeltFriction = Annotated[Number, Quantity("μ", "", "friction between band and drum", low=0, high=1.5,
                                          slider=(0.08, 0.4))]
WrapAngle = Annotated[Number, Quantity("θ", "rad", "angle over which the band touches the drum", above=0,
                                       high=8 * math.pi, slider=(3, 6.2), how="lining length over drum radius")]
BandForce = Annotated[Number, Quantity("F", "N", "force that pulls the band's end", low=0, high=1e6,
                                       slider=(0, 2e4))]
BandTorque = Annotated[Number, Quantity("Tb", "N m", "torque that the band holds", low=0, high=1e5,
                                        slider=(0, 2000))]
DrumRadius = Annotated[Number, Quantity("r", "m", "radius of the drum under the band", above=0, high=2,
                                        slider=(0.05, 0.15))]
BandWidthArgument = Annotated[Number, Quantity("b", "m", "width of the band", above=0, high=1, slider=(0.02, 0.1))]
# fmt: on

Sense = Literal["energising", "overrunning"]


@calculation
def tension_ratio(wrap_angle: WrapAngle, *, friction: BeltFriction) -> Number:
    """Tight-side over slack-side tension when the band is about to slip.

    ``T1/T2 = exp(μ θ)``. ``wrap_angle`` [rad], ``friction`` [1]. A thin, flexible band; friction the same everywhere;
    no speed. Euler and Eytelwein; any machine-design text.

    >>> round(tension_ratio(3.927, friction=0.25), 3)
    2.669
    """
    return np.exp(friction * wrap_angle)


@calculation
def band_torque(
    pull: BandForce, *, wrap_angle: WrapAngle, friction: BeltFriction, drum_radius: DrumRadius, sense: Sense
) -> Number:
    """Torque that a band holds when one end is pulled and the other is anchored.

    Energising, the drum drags the band away from the pulled end, which is the slack one:
    ``T = F r (exp(μ θ) - 1)``. Overrunning, it is the tight one: ``T = F r (1 - exp(-μ θ))``. They differ by
    ``exp(μ θ)``. ``pull`` [N], ``wrap_angle`` [rad], ``friction`` [1], ``drum_radius`` [m]. A thin band on its full
    wrap, no centrifugal lift. Mott, Machine Elements, band brakes.

    >>> round(band_torque(1000, wrap_angle=3.927, friction=0.25, drum_radius=0.1, sense="energising"), 1)
    166.9
    """
    exponent = friction * wrap_angle
    factor = np.expm1(exponent) if sense == "energising" else -np.expm1(-exponent)
    return pull * drum_radius * factor


@calculation
def band_pull(
    torque: BandTorque, *, wrap_angle: WrapAngle, friction: BeltFriction, drum_radius: DrumRadius, sense: Sense
) -> Number:
    """Pull at the applied end that a torque needs: the inverse of :func:`band_torque`.

    ``F = T / (r (exp(μ θ) - 1))`` energising, ``F = T / (r (1 - exp(-μ θ)))`` overrunning. ``torque`` [N m],
    ``wrap_angle`` [rad], ``friction`` [1], ``drum_radius`` [m]; infinite without friction. As :func:`band_torque`.

    >>> round(band_pull(166.9, wrap_angle=3.927, friction=0.25, drum_radius=0.1, sense="energising"))
    1000
    """
    exponent = friction * wrap_angle
    factor = np.expm1(exponent) if sense == "energising" else -np.expm1(-exponent)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(np.asarray(torque) == 0, 0.0, np.asarray(torque) / (drum_radius * factor))


@calculation
def lining_pressure(tension: BandForce, *, band_width: BandWidthArgument, drum_radius: DrumRadius) -> Number:
    """Pressure between band and drum where the tension is ``tension``; greatest at the tight end.

    ``p = T / (b r)``. ``tension`` [N], ``band_width`` [m], ``drum_radius`` [m]. Thin band. Mott, Machine Elements.

    >>> lining_pressure(900, band_width=0.03, drum_radius=0.1)
    300000.0
    """
    return tension / (np.asarray(band_width) * drum_radius)
