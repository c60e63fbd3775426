"""Checks of the hydraulics topic on a build, by room, and the figures of it that the sheet states."""

from evlib.build.checks.hydraulics import handover, line, pressure, stated, supply

__all__ = ["handover", "line", "pressure", "stated", "supply"]
