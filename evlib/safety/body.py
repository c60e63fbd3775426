"""What a current does to a body, as information only: never for choosing protective equipment.

Protective equipment is chosen by licensed persons after the local code, from voltage class and task.
"""

from __future__ import annotations

from typing import Annotated, Literal

import numpy as np

from evlib.ground.quantity import Number, Quantity, calculation
from evlib.safety import quantities as q

BodyResistance = Annotated[
    Number,
    Quantity("R_b", "ohm", "resistance of a body from hand to hand", above=0, high=1e6, slider=(500, 3000),
             spread="guess", how="1000 ohm is often taken; wet, large contacts make it less"),
]  # fmt: skip
BodyCurrent = Annotated[Number, Quantity("I", "A", "current through a body", low=0, high=1e3, slider=(0, 0.5))]

# First current [A] of each band for a contact of two seconds and more; IEC 60479-1, zones DC-1 to DC-4 and AC-1 to
# AC-4, from memory. Shorter contacts stand more; no current is known to be harmless to everybody.
BANDS: dict[str, tuple[tuple[float, str], ...]] = {
    "DC": (
        (0.0, "seldom felt"),
        (0.002, "felt; muscles may jerk as it starts and stops"),
        (0.030, "muscles cramp, the heart may falter"),
        (0.150, "the heart may stop; burns"),
    ),
    "AC": (
        (0.0, "seldom felt"),
        (0.0005, "felt; muscles jerk"),
        (0.005, "muscles cramp, the hand may not let go"),
        (0.040, "the heart may stop; burns"),
    ),
}


@calculation
def current_through_body(
    pack_voltage: q.PackVoltage, *, leak: q.LeakPositive, body_resistance: BodyResistance
) -> Number:
    """Current through a person on the chassis who touches one pole, while the other pole leaks to the chassis.

    I = V / (R + R_b)

    pack_voltage [V]; leak of the pole that is not touched, body_resistance [ohm]. Gives [A]. The leak of the touched
    pole lies beside the body and takes nothing away from the worst case, so it is left out: the result reads high.

    >>> round(current_through_body(350.0, leak=35e3, body_resistance=1000.0) * 1e3, 2)
    9.72
    """
    return np.divide(pack_voltage, np.add(leak, body_resistance))


def band(current: float, *, kind: Literal["DC", "AC"]) -> str:
    """The band in which a current lies, in words. Information only.

    >>> band(0.010, kind="DC")
    'felt; muscles may jerk as it starts and stops'

    Source: IEC 60479-1, contact of two seconds and more (from memory).
    """
    if not current >= 0:
        raise ValueError(f"current: {current} was given; allowed: 0 A and more")
    return [words for start, words in BANDS[kind] if current >= start][-1]
