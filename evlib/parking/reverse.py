"""Going backwards, three ways; and why swapping the supply does not turn a series machine round."""

from __future__ import annotations

import dataclasses
import itertools
from collections.abc import Mapping
from typing import Literal

import numpy as np

from evlib.ground import road
from evlib.ground.quantity import Number, calculation
from evlib.parking import quantities as q

Way = Literal["gearbox", "contactors", "inverter"]
Turns = Literal["forward", "backward"]


@calculation
def electrical_torque(armature_current: q.ArmatureCurrent, *, field_current: q.FieldCurrent,
                      mutual_inductance: q.MutualInductance) -> Number:  # fmt: skip
    """Torque of a machine from both its currents, with their signs.

    T = M I_f I_a

    armature_current, field_current [A], with the sign of their direction; mutual_inductance [H]. Gives [N m]. In a
    series machine both are the same current: T = M I^2. Swap the supply and *both* change sign, so the torque does
    not: (-I)(-I) = I^2. Only one of the two may be turned round.

    >>> forward = electrical_torque(400.0, field_current=400.0, mutual_inductance=1e-3)
    >>> swapped = electrical_torque(-400.0, field_current=-400.0, mutual_inductance=1e-3)
    >>> forward, swapped, electrical_torque(400.0, field_current=-400.0, mutual_inductance=1e-3)
    (160.0, 160.0, -160.0)
    """
    return mutual_inductance * field_current * armature_current


@calculation
def reverse_pull(input_torque: q.FullPull, *, reverse_ratio: q.LockRatio, final_ratio: q.LockRatio,
                 efficiency: q.CableEfficiency, wheel_radius: road.WheelRadius,
                 torque_part: q.CableEfficiency = 1.0) -> Number:  # fmt: skip
    """Pull at the tyres going backwards.

    F = T i_rev i_final eta x / r

    input_torque at the gearbox input [N m], reverse_ratio, final_ratio [1], efficiency [1], wheel_radius [m];
    torque_part: what is left of the torque, where brushes set for forward must carry less current backward [1].
    Gives [N].

    >>> round(reverse_pull(380.0, reverse_ratio=1.76, final_ratio=3.70, efficiency=0.93, wheel_radius=0.30))
    7671
    """
    return input_torque * torque_part * reverse_ratio * final_ratio * efficiency / wheel_radius


@dataclasses.dataclass(frozen=True)
class Torques:
    """What stands behind one way of going backwards, at the gearbox input [N m], and the pressure at rest [Pa].

    ``given``: what the motors give at rest within the controller's launch setting; ``held``: what pressure at rest lets
    the clutch or band hold; None where no clutch has to hold.
    """

    given: float
    held: float | None = None
    pressure: float | None = None

    @property
    def used(self) -> float:
        """The smaller of the two."""
        return self.given if self.held is None else min(self.given, self.held)


@dataclasses.dataclass(frozen=True)
class WayBack:
    """One way of going backwards. Torques at the gearbox input [N m], pull [N], speed [m/s]."""

    way: Way
    motors_turn: Turns
    pump_turns: Turns
    internal_pump_delivers: bool
    holds: str
    torques: Torques
    pull: float
    speed_limit: float
    parts: tuple[str, ...]
    can_fail: tuple[str, ...]


HOLDS: dict[Way, str] = {
    "gearbox": "the reverse clutch or band, as it was made for",
    "contactors": "the low clutch or band, pulled the other way",
    "inverter": "the low clutch or band, pulled the other way",
}
PARTS: dict[Way, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "gearbox": (
        ("nothing new: the box's own reverse clutch or band",),
        ("no pressure, no reverse: without it nothing holds the reverse clutch or band",
         "reverse chosen while rolling forward faster than a slow walk: plates burn"),
    ),
    "contactors": (
        ("four contacts, or two that change over", "in each pair, one must bar the other from closing",
         "a zero-current interlock: they cannot move while current flows",
         "brushes set back to neutral, or less current backward"),
        ("one contact welded: the field is short-circuited, see below",
         "changed over with current flowing: arcs, and a torque against the turning that snaps shafts",
         "brushes set for forward spark when it turns backward",
         "internal pump turns backward: it draws the clutches empty"),
    ),
    "inverter": (
        ("nothing new: two phases swapped in software",),
        ("direction and pedal sensor decide alone: needs the selector table's rules in the inverter",
         "internal pump turns backward: it draws the clutches empty"),
    ),
}  # fmt: skip


def three_ways(torques: Mapping[Way, Torques], *, input_speed_limit: float, low_ratio: float, reverse_ratio: float,
               final_ratio: float, efficiency: float, wheel_radius: float) -> list[WayBack]:  # fmt: skip
    """The ways of going backwards in one table, all from the same motors; only those that ``torques`` names.

    The gearbox's reverse keeps the motors, and the pump that they drive, turning forward. With contactors or an
    inverter the motors turn backward in low, and so does the internal pump: it then draws oil out of the clutches, and
    what holds at rest lets go as the car gathers speed. Low's band, which wound itself on while the motors drove
    forward, is unwound by the same torque backward, and holds far less.
    """
    rows = []
    for way, behind in torques.items():
        ratio = reverse_ratio if way == "gearbox" else low_ratio
        pull = reverse_pull(behind.used, reverse_ratio=ratio, final_ratio=final_ratio, efficiency=efficiency,
                            wheel_radius=wheel_radius)  # fmt: skip
        turns: Turns = "forward" if way == "gearbox" else "backward"
        rows.append(
            WayBack(way, turns, turns, turns == "forward", HOLDS[way], behind, float(pull),
                    float(input_speed_limit * wheel_radius / (ratio * final_ratio)), *PARTS[way])
        )  # fmt: skip
    return rows


# Four contacts around the field: A and D join it forward, B and C backward.
#   armature end -- A -- field start, armature end -- B -- field end,
#   supply return -- C -- field start, supply return -- D -- field end
CONTACTS = ("A", "B", "C", "D")


def field_state(closed: frozenset[str] | set[str]) -> str:
    """What a set of closed contacts does to the field: forward, backward, open, or short-circuited.

    >>> field_state({"A", "D"}), field_state({"B", "C"}), field_state({"A", "C"})
    ('forward', 'backward', 'field bypassed: full current, hardly any torque, the motor can race')
    """
    unknown = set(closed) - set(CONTACTS)
    if unknown:
        raise ValueError(f"contacts: {', '.join(sorted(unknown))} given; allowed: {', '.join(CONTACTS)}")
    start_in, end_in = "A" in closed, "B" in closed
    start_out, end_out = "C" in closed, "D" in closed
    if not (start_in or end_in) or not (start_out or end_out):
        return "open: no current"
    if (start_in and start_out) or (end_in and end_out):
        return "field bypassed: full current, hardly any torque, the motor can race"
    return "forward" if start_in else "backward"


def truth_table() -> dict[tuple[str, ...], str]:
    """All sixteen states of the four contacts."""
    sets = itertools.chain.from_iterable(itertools.combinations(CONTACTS, n) for n in range(len(CONTACTS) + 1))
    return {closed: field_state(set(closed)) for closed in sets}


def one_welded(contact: str) -> dict[str, str]:
    """What forward and reverse become when one contact is welded.

    >>> one_welded("A")["reverse asked"]
    'field bypassed: full current, hardly any torque, the motor can race'
    """
    return {
        "forward asked": field_state({"A", "D", contact}),
        "reverse asked": field_state({"B", "C", contact}),
        "neither asked": field_state({contact}),
    }


def may_change_over(armature_current: float, *, shaft_speed: float, current_limit: float = 5.0,
                    speed_limit: float = 1.0) -> bool:  # fmt: skip
    """Whether reversing contactors may move: only with next to no current and the shaft next to standing.

    armature_current [A], shaft_speed [rad/s]. The limits are our own choice.

    >>> may_change_over(0.0, shaft_speed=0.0), may_change_over(40.0, shaft_speed=0.0)
    (True, False)
    """
    return bool(np.abs(armature_current) <= current_limit and np.abs(shaft_speed) <= speed_limit)
