"""The shutdown loop that a build states in a few choices, as a circuit to be searched."""

from __future__ import annotations

import functools
from typing import Literal

from evlib.safety.shutdown import GROUND, POLES, SUPPLY, Circuit, Line, no_way_out

Place = Literal["before the coils", "after the coils", "not in the loop"]
Wired = Literal["in the loop", "not in the loop"]
ContactorPoles = Literal["both poles", "positive pole"]
BY_HAND = ("key off", "emergency")

# What opens by itself, in its order along the loop: field of the part, name of the line, the demand on it.
GUARDS = (
    ("inertia_switch", "inertia switch", "crash"),
    ("interlock_line", "interlock line", "cover open"),
    ("monitor_relay", "insulation monitor relay", "leak"),
    ("overspeed_relay", "over-speed relay", "over-speed"),
    ("pressure_relay", "pressure relay", "oil pressure lost"),
)


@functools.lru_cache(maxsize=64)
def shutdown_loop(*, key: Place, emergency: Place, contactors: ContactorPoles, guards: tuple[str, ...]) -> Circuit:
    """The circuit: supply, switches, coils side by side, switches, ground; and the pack's poles with their contacts.

    ``guards``: the fields of :data:`GUARDS` that stand in the loop, all before the coils. The precharge relay is let go
    once the capacitor is full, so no coil of it is drawn: it conducts only when welded.

    >>> loop = shutdown_loop(key="before the coils", emergency="after the coils", contactors="both poles", guards=())
    >>> loop.demands
    ('key off', 'emergency')
    """
    unknown = set(guards) - {field for field, _, _ in GUARDS}
    if unknown:
        raise ValueError(f"guards: {sorted(unknown)} were given; allowed: {[field for field, _, _ in GUARDS]}")
    hand = (("key", "key off", key), ("emergency switch", "emergency", emergency))
    before = [(name, demand) for name, demand, place in hand if place == "before the coils"]
    before += [(name, demand) for field, name, demand in GUARDS if field in guards]
    after = [(name, demand) for name, demand, place in hand if place == "after the coils"]
    feed, back = _row(before, SUPPLY, "loop"), _row(after, GROUND, "return")
    top, bottom = (row[-1].end if row else rail for row, rail in ((feed, SUPPLY), (back, GROUND)))
    (plus, bus_plus), (bus_minus, minus) = POLES
    lines = [*feed, *back, Line("positive coil", top, bottom, "coil")]
    lines += [
        Line("fuse", plus, "fused +", "wire"),
        Line("positive contactor", "fused +", bus_plus, "contact", coil="positive coil"),
        Line("precharge relay", "fused +", "resistor", "contact", coil="none"),
        Line("precharge resistor", "resistor", bus_plus, "wire"),
    ]
    if contactors == "both poles":
        lines += [
            Line("negative coil", top, bottom, "coil"),
            Line("negative contactor", bus_minus, minus, "contact", coil="negative coil"),
        ]
    else:
        lines += [Line("negative cable", bus_minus, minus, "wire")]
    return Circuit(tuple(lines), "the build's own statement of its loop")


def _row(switches: list[tuple[str, str]], rail: str, points: str) -> list[Line]:
    """Switches one after the other, from a rail towards the coils."""
    lines, at = [], rail
    for number, (name, demand) in enumerate(switches, 1):
        lines.append(Line(name, at, f"{points} {number}", "switch", (demand,)))
        at = f"{points} {number}"
    return lines


def ways_out(circuit: Circuit, *, by_hand: tuple[str, ...] = BY_HAND) -> int:
    """With the worst single fault, how many of the ways out by hand still disconnect the pack.

    >>> loop = shutdown_loop(key="before the coils", emergency="after the coils", contactors="both poles", guards=())
    >>> ways_out(loop)
    1
    """
    known = [demand for demand in by_hand if demand in circuit.demands]
    left = [
        sum(circuit.poles_joined(demand=demand, fault=fault) < len(POLES) for demand in known)
        for fault in circuit.faults()
    ]
    return min(left)


@functools.lru_cache(maxsize=64)
def fewest_ways_out(circuit: Circuit) -> tuple[int, tuple[str, ...]]:
    """:func:`ways_out`, and the faults that leave none; kept, since a review of many builds has one loop."""
    return ways_out(circuit), tuple(fault.words for fault in no_way_out(circuit, by_hand=BY_HAND))
