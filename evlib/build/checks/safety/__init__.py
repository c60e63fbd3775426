"""Checks of the safety topic on a build, by what they look at, and the figures of it that the sheet states."""

from evlib.build.checks.safety import (
    cables,
    charge,
    fault_current,
    inspection,
    insulation,
    shutdown,
    stated,
    weak_currents,
)

__all__ = ["cables", "charge", "fault_current", "inspection", "insulation", "shutdown", "stated", "weak_currents"]
