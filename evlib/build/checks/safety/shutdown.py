"""Checks of switching off: single faults in the shutdown loop, and the over-speed trip."""

from __future__ import annotations

from evlib.build.protection import freed_line, loop_answer
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.safety import loop


@check("single-fault freedom", topic="safety")
def single_fault_freedom(b: View) -> Check:
    """Ways out by hand (key, emergency switch) that every single fault leaves open, against the one that is asked.

    The whole search runs inside this check. That is allowed here: how the loop is wired is a choice and never a column,
    so a review of a thousand builds searches once (some milliseconds, kept by wiring), and its answer holds for all of
    them alike.
    """
    answer, part = loop_answer(b), b.protection.shutdown
    return Check(
        "single-fault freedom", "safety", 1.0, float(answer.ways_left), "",
        working=Working("ways out by hand that still disconnect, with the worst of all single faults",
                        {"key": (part.key_place, ""), "emergency switch": (part.emergency_place, ""),
                         "contactors in": (part.contactor_poles, ""), "faults tried": (float(answer.faults), ""),
                         "none left with": ("; ".join(answer.none_left) or "no single fault", "")},
                        (float(answer.ways_left), "")),
        source=f"search over the drawing, not over the wires; ways out by hand: {', '.join(loop.BY_HAND)}",
        advice="key and emergency switch on different sides of the coils, and a contactor in each pole",
        target=0.0,
    )  # fmt: skip


@check("over-speed delay", topic="safety")
def overspeed_delay(b: View) -> Check:
    """Time that detection takes, against the longest that keeps the motors below their limit, the worst way."""
    trip, freed = b.protection.overspeed_trip, freed_line(b)
    return Check(
        "over-speed delay", "safety", trip.detection_delay, freed.delay, "s",
        working=Working("t = J (w_lim - w_trip) / T - t_rel", {"J": (freed.inertia, "kg m2"),
                        "w_lim": (b.machine.speed_limit, "rad/s"), "w_trip": (trip.trip_speed, "rad/s"),
                        "T": (freed.torque, "N m"), "t_rel": (b.protection.contactor.contactor_release_time, "s")},
                        (freed.delay, "s")),
        source="Newton's law for rotation, with the torque at the trip speed; the worst of neutral, a broken coupler, "
        "and a controller stuck full on",
        advice="a lower trip speed, more pulses per turn, a faster coil suppressor on the contactor",
        target=0.5,
    )  # fmt: skip
