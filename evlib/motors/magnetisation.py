"""The magnetisation curve: how many volts per rad/s (and newton metres per ampere) a current makes.

Back-EMF over speed and torque over current are one and the same number, k (often written k-phi), because what the
armature takes in against its back-EMF is what it gives to the shaft. In a series machine the same current feeds the
field, so k rises with current, steeply at first and then less as the iron saturates.
"""

from __future__ import annotations

import dataclasses
from typing import Any, Protocol

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Number, calculation
from evlib.ground.tables import Curve
from evlib.motors.quantities import BackEmfConstant, Current, MutualInductance, SaturationCurrent

MOST_AMPERES = 5000.0  # the largest current that the topic's declarations allow


class Magnetisation(Protocol):
    """What the machine calculations ask of a curve: k at a current, and up to what current it may be asked."""

    @property
    def largest_current(self) -> float:
        """The end of the curve [A]."""

    def at(self, current: Any) -> Any:
        """K [V s] at a current [A]."""


@calculation
def saturating(
    current: Current, *, mutual_inductance: MutualInductance, saturation_current: SaturationCurrent
) -> Number:
    """Back-EMF constant of a series machine whose iron saturates.

    k = L I / (1 + I / I_s)

    current: I [A]; mutual_inductance: L [H]; saturation_current: I_s [A]. Froelich's curve: through zero, rising,
    never above L I_s. Remanence (a few per cent at no current) and armature reaction are ignored.

    >>> round(saturating(600.0, mutual_inductance=0.00165, saturation_current=300.0), 4)
    0.33

    Source: O. Froelich's magnetisation formula, as in any text on DC machines (from memory).
    """
    return mutual_inductance * current / (1.0 + current / np.asarray(saturation_current))


@calculation
def current_for_constant(
    constant: BackEmfConstant, *, mutual_inductance: MutualInductance, saturation_current: SaturationCurrent
) -> Number:
    """Current at which a saturating machine reaches a back-EMF constant.

    I = k / (L - k / I_s)

    constant: k [V s]; mutual_inductance: L [H]; saturation_current: I_s [A]. Raises OutOfRange at and above L I_s,
    which no current reaches.

    >>> round(current_for_constant(0.33, mutual_inductance=0.00165, saturation_current=300.0), 6)
    600.0

    Source: Froelich's formula turned round.
    """
    k, most = np.broadcast_arrays(np.asarray(constant, float), np.multiply(mutual_inductance, saturation_current))
    if (k >= most * (1.0 - 1e-12)).any():  # rounding is no current either
        worst = int(np.argmax(k - most))
        raise OutOfRange("back-EMF constant", k.flat[worst], 0.0, most.flat[worst], "this saturating machine")
    return np.asarray(k / (np.asarray(mutual_inductance) - k / np.asarray(saturation_current)))


@dataclasses.dataclass(frozen=True, eq=False)
class Froelich:
    """A saturating curve from two constants; each may be a column."""

    mutual_inductance: Number
    saturation_current: Number
    largest_current: float = MOST_AMPERES

    def at(self, current: Any) -> Any:
        """K [V s] at a current [A]."""
        return self.mutual_inductance * current / (1.0 + np.asarray(current) / self.saturation_current)


@dataclasses.dataclass(frozen=True, eq=False)
class Tabulated:
    """A measured curve, k against current, used as it stands: straight between its points, refused outside them."""

    curve: Curve

    @property
    def largest_current(self) -> float:
        """The last point's current [A]."""
        return float(self.curve.x[-1])

    def at(self, current: Any) -> Any:
        """K [V s] at a current [A]."""
        return self.curve.at(current)
