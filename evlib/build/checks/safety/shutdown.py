"""Checks of switching off: the over-speed trip."""

from __future__ import annotations

from evlib.build.protection import freed_line
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working


@check("over-speed delay", topic="safety")
def overspeed_delay(b: View) -> Check:
    """Time that detection takes, against the longest that leaves the motors below their limit."""
    trip, freed = b.protection.overspeed_trip, freed_line(b)
    return Check(
        "over-speed delay", "safety", trip.detection_delay, freed.delay, "s",
        working=Working("t = J (w_lim - w_trip) / T - t_rel", {"J": (freed.inertia, "kg m2"),
                        "w_lim": (b.machine.speed_limit, "rad/s"), "w_trip": (trip.trip_speed, "rad/s"),
                        "T": (freed.torque, "N m"), "t_rel": (b.protection.contactor.contactor_release_time, "s")},
                        (freed.delay, "s")),
        source="Newton's law for rotation, with the torque that the motors still have at the trip speed",
        advice="a lower trip speed, more pulses per turn, a faster coil suppressor on the contactor",
        target=0.5,
    )  # fmt: skip
