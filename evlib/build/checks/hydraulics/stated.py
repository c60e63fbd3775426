"""The figures of the hydraulics that the sheet states."""

from __future__ import annotations

import numpy as np

from evlib.build.checks.hydraulics.supply import running_current
from evlib.build.launch import (
    handover_full,
    handover_needed,
    launch_current_allowed,
    oil_at,
    rest_at,
    rest_hot,
)
from evlib.build.registry import stated
from evlib.build.view import View
from evlib.ground.quantity import Number


@stated("pressure at rest, oil hot", group="Pump and switch settings", unit="Pa")
def stated_rest(b: View) -> Number:
    """Pressure that the electric pump holds at rest."""
    return rest_hot(b).pressure


@stated("pressure at rest, oil cold", group="Pump and switch settings", unit="Pa")
def stated_rest_cold(b: View) -> Number:
    """Pressure at rest with the coldest oil, suction permitting."""
    return rest_at(b, oil_at(b, b.hydraulics.oil.cold_temperature)).pressure


@stated("motor current that pressure at rest allows in low", group="Pump and switch settings", unit="A")
def stated_low(b: View) -> Number:
    """Largest motor current at launch in low."""
    return launch_current_allowed(b, "low")


@stated("motor current that pressure at rest allows in reverse", group="Pump and switch settings", unit="A")
def stated_reverse(b: View) -> Number:
    """Largest motor current at launch in reverse."""
    return launch_current_allowed(b, "reverse")


@stated("internal pump carries launch pressure from", group="Pump and switch settings", unit="rad/s")
def stated_handover(b: View) -> Number:
    """Lowest input speed at which the internal pump carries what launch in low and in reverse needs."""
    return np.maximum(handover_needed(b, "low"), handover_needed(b, "reverse"))


@stated("internal pump alone carries full torque in reverse from", group="Pump and switch settings", unit="rad/s")
def stated_full(b: View) -> Number:
    """Lowest input speed at which the limit in reverse may go."""
    return handover_full(b, "reverse")


@stated("electric pump on below", group="Pump and switch settings", unit="rad/s")
def stated_on(b: View) -> Number:
    """Switch-on speed that is set."""
    speed: Number = b.hydraulics.switch.switch_on_speed
    return speed


@stated("electric pump off above", group="Pump and switch settings", unit="rad/s")
def stated_off(b: View) -> Number:
    """Switch-off speed that is set."""
    speed: Number = b.hydraulics.switch.switch_off_speed
    return speed


@stated("pump current at rest", group="Pump and switch settings", unit="A")
def stated_current(b: View) -> Number:
    """Current of the electric pump at rest."""
    return running_current(b)
