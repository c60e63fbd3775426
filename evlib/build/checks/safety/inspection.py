"""Checks of what an inspector asks and a build can answer: axles, pack fixing, brake servo, cable clearance."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.safety import hands, servo

PLATE = "the vehicle's plate; weighed on level ground by axle, which comes before any sum"
CRASH = "F = m a; 20 g along and 8 g across are common practice, no source; the local rule first"
BRACKETS = "more or larger fixings into the frame, not into sheet metal; have it worked out by a licensed person"


def _axle(b: View, share: Any, plate: Any) -> Check:
    load = np.multiply(b.vehicle.mass, share)
    return Check(
        "", "safety", load, plate, "kg",
        working=Working("m_axle = m x share of the axle", {"m": (b.vehicle.mass, "kg"), "share": (share, "")},
                        (load, "kg")),
        source=PLATE,
        advice="move cells to the other axle, leave some out, or have springs and plate changed by a licensed person",
        target=0.05,
    )  # fmt: skip


@check("front axle load", topic="safety")
def front_axle(b: View) -> Check:
    """Load of the front axle as the vehicle stands, against its plate."""
    return _axle(b, 1 - np.asarray(b.vehicle.rear_axle_share), b.protection.plates.front_axle_plate)


@check("rear axle load", topic="safety")
def rear_axle(b: View) -> Check:
    """Load of the rear axle as the vehicle stands, against its plate."""
    return _axle(b, b.vehicle.rear_axle_share, b.protection.plates.rear_axle_plate)


def _fixing(b: View, acceleration: Any, holds: Any) -> Check:
    mass = b.protection.pack_fixing.pack_mass
    force = hands.fixing_force(mass, acceleration=acceleration)
    return Check(
        "", "safety", force, holds, "N",
        working=Working("F = m a", {"m": (mass, "kg"), "a": (acceleration, "m/s2")}, (force, "N")),
        source=CRASH, advice=BRACKETS, target=0.25,
    )  # fmt: skip


@check("pack fixing, along", topic="safety")
def fixing_along(b: View) -> Check:
    """Force on the pack's fixing along the vehicle in a crash, against what it holds."""
    part = b.protection.pack_fixing
    return _fixing(b, part.crash_along, part.fixing_along)


@check("pack fixing, across", topic="safety")
def fixing_across(b: View) -> Check:
    """Force on the pack's fixing across the vehicle in a crash, against what it holds."""
    part = b.protection.pack_fixing
    return _fixing(b, part.crash_across, part.fixing_across)


@check("brake-servo vacuum", topic="safety")
def brake_servo(b: View) -> Check:
    """Least vacuum that the servo needs, against what is left after the full stops wanted with the pump dead."""
    part = b.protection.brake_servo
    left = servo.vacuum_after(part.servo_stops, full_vacuum=part.full_vacuum, reservoir_volume=part.reservoir_volume,
                              stroke_volume=part.stroke_volume)  # fmt: skip
    return Check(
        "brake-servo vacuum", "safety", part.least_vacuum, left, "Pa", kind="pressure difference",
        working=Working("v = v_0 (V_r / (V_r + V_s))^n", {"n": (part.servo_stops, ""),
                        "V_r": (np.multiply(part.reservoir_volume, 1e3), "L"),
                        "V_s": (np.multiply(part.stroke_volume, 1e3), "L")}, (np.multiply(left, 1e-3), "kPa")),
        source="mixing of two amounts of air at one temperature; brakes are a legal matter: licensed inspection",
        advice="a larger reservoir with a check valve, and a warning that comes on before the vacuum is gone",
        target=0.1,
    )  # fmt: skip


@check("cable clearance", topic="safety")
def cable_clearance(b: View) -> Check:
    """Movement of propeller shaft and cable towards each other, against the gap that was measured."""
    part = b.protection.plates
    return Check(
        "cable clearance", "safety", part.propeller_travel, part.cable_clearance, "m",
        working=Working("gap, wheels hanging and loaded, the smaller", {"gap": (part.cable_clearance, "m")},
                        (part.cable_clearance, "m")),
        source="measured gap, as the build states it; 25 mm and more is common practice, no source",
        advice="another path, clips closer together, a guard between shaft and cable",
        target=0.3,
    )  # fmt: skip
