"""Checks of the currents that are too small for a fuse: a cold pack through an arc, or through stalled motors."""

from __future__ import annotations

import numpy as np

from evlib.build.protection import cable_after, short_circuits, stalled_full_on
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground import fuse
from evlib.ground.checks import Check, Working
from evlib.safety import arc

MAKER = "the maker's data sheet, as the build states it"


@check("fuse on a cold arc", topic="safety")
def fuse_cold_arc(b: View) -> Check:
    """Smallest current that the fuse ends in 2 s, against half of the smallest short-circuit current.

    An arc draws the most power at half of the short-circuit current. It may draw less, so a pass here is a floor.
    """
    part, drawn = b.protection.fuse, np.divide(short_circuits(b).smallest, 2)
    melts = fuse.melting_current(arc.LONGEST_EXPOSURE - np.asarray(part.fuse_arcing_time), curve=part.fuse_curve)
    ends = np.maximum(melts, part.fuse_minimum_breaking)
    return Check(
        "fuse on a cold arc", "safety", ends, drawn, "A",
        working=Working("the larger of I_min and the current that it clears in 2 s, against half of the least short",
                        {"I_min": (part.fuse_minimum_breaking, "A"), "cleared in 2 s": (melts, "A")}, (ends, "A")),
        source="maximum-power theorem for the half; 2 s to step back: IEEE 1584 (from memory); " + MAKER,
        advice="a smaller or a full-range fuse that still carries the peak; until then only distance ends such an arc",
        target=0.05,
    )  # fmt: skip


@check("fuse at stalled motors", topic="safety")
def fuse_stalled(b: View) -> Check:
    """Smallest current that the fuse can break, against a controller failed full on, motors stalled, pack cold."""
    found, least = stalled_full_on(b), b.protection.fuse.fuse_minimum_breaking
    return Check(
        "fuse at stalled motors", "safety", least, found.smallest, "A",
        working=Working("I = (V - brushes) / (R + R_m), cold and low", {
            "R": (short_circuits(b).most_resistance, "ohm"), "R_m": (found.motor_resistance, "ohm")},
            (found.smallest, "A")),
        source="Ohm's law; " + MAKER + "; the motors' inductance is left out: ask the maker whether the fuse's DC "
        "rating holds at the L/R of the loop with the motors in it",
        advice="a full-range or smaller fuse: a controller that fails full on leaves nothing else to stop this current",
        target=0.2,
    )  # fmt: skip


@check("motor cable, stalled full on", topic="safety")
def motor_cable_stalled(b: View) -> Check:
    """Rise of the motor cable until the fuse clears that stalled current, against what the cable stands."""
    cable, part, found = b.protection.motor_cable, b.protection.fuse, stalled_full_on(b)
    clears = fuse.clearing_time(found.smallest, curve=part.fuse_curve, arcing_time=part.fuse_arcing_time)
    time = np.minimum(clears, 1e6)
    end = cable_after(cable, current=found.smallest, time=time, start=cable.insulation_limit)
    rise = np.maximum(np.subtract(end, cable.insulation_limit), 0.0)
    return Check(
        "motor cable, stalled full on", "safety", rise,
        np.subtract(cable.short_circuit_limit, cable.insulation_limit), "K", kind="difference",
        working=Working("heat balance over the clearing time, from the insulation's limit",
                        {"I": (found.smallest, "A"), "t_c": (time, "s")}, (rise, "K difference")),
        source="heat balance with heat leaving; the pack's fuse sees the motors' current only when the controller has "
        "failed",
        advice="a smaller or faster fuse, or thicker motor cables",
        target=0.5,
    )  # fmt: skip
