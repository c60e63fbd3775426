"""Which way each machine must turn, how its armature and field are joined, and to which side its brushes go.

Three rules give everything:

1. Two people who look along one shaft from opposite ends see it turn opposite ways. So two machines on one shaft that
   face each other, drive end to drive end, turn oppositely *as seen from their own drive ends*.
2. Torque goes with the product of field and armature current. Exchanging the two supply leads turns both round and
   changes nothing; exchanging the ends of the armature *or* of the field, not both, turns the machine round.
   Interpoles carry the armature's current against the armature's own field, so they are exchanged with the armature,
   and only then.
3. A motor's brushes are advanced against its rotation. One looks at brushes from the commutator end, which lies
   opposite the drive end, so what is counter-clockwise there is clockwise at the drive end.
"""

from __future__ import annotations

from typing import Literal

from evlib.ground.quantity import calculation, result

Turn = Literal["clockwise", "counter-clockwise"]
Advance = Literal["clockwise", "counter-clockwise", "neutral"]
Facing = Literal["gearbox", "front"]


@result
class Rotation:
    """What one machine of the line needs."""

    seen_from_drive_end: str
    seen_from_commutator_end: str
    armature_against_field: bool  # True: exchange the armature's ends (or the field's) against the maker's diagram
    connection: str
    brush_shift_seen_from_commutator_end: str
    advance_suits: bool | None  # None where not stated
    advance_note: str


@result
class PairRotation:
    """What each machine of a pair needs."""

    first: Rotation
    second: Rotation


def opposite(turn: str) -> str:
    """The other way round.

    >>> opposite("clockwise")
    'counter-clockwise'
    """
    return "counter-clockwise" if turn == "clockwise" else "clockwise"


@calculation
def rotation(
    pump_turns: Turn, *, drive_end_faces: Facing, standard_rotation: Turn, advanced_for: Advance | None = None
) -> Rotation:
    """Rotation, connection and brush side of one machine in a line that drives a gearbox pump.

    Seen from its drive end a machine turns as the line does seen from the front if its drive end faces the front, and
    the other way if it faces the gearbox.

    pump_turns: how the pump must turn, seen from the front of the line looking towards the gearbox; drive_end_faces:
    where the machine's drive end looks; standard_rotation: how the maker's diagram turns it, seen looking at the
    drive end; advanced_for: the rotation its brushes are set for, seen looking at the drive end, or neutral. A
    coupled box with its own reversing gears counts from the pump, not the wheels.

    >>> r = rotation("clockwise", drive_end_faces="gearbox", standard_rotation="clockwise",
    ...              advanced_for="clockwise")
    >>> r.seen_from_drive_end, r.connection, r.advance_suits
    ('counter-clockwise', 'armature exchanged, any interpoles with it', False)

    Source: rotation is named looking at the drive end in IEC 60034-8; the three rules at this file's head.
    """
    here = pump_turns if drive_end_faces == "front" else opposite(pump_turns)
    at_commutator = opposite(here)
    exchanged = here != standard_rotation
    suits, note = _advance(here, advanced_for)
    return Rotation(
        seen_from_drive_end=here,
        seen_from_commutator_end=at_commutator,
        armature_against_field=exchanged,
        connection="armature exchanged, any interpoles with it" if exchanged else "as the maker's diagram",
        brush_shift_seen_from_commutator_end=opposite(at_commutator),
        advance_suits=suits,
        advance_note=note,
    )


def _advance(here: str, advanced_for: str | None) -> tuple[bool | None, str]:
    if advanced_for is None:
        return None, "not stated: look at the brush ring against the neutral mark before any power is put on"
    if advanced_for == "neutral":
        return True, "neutral brushes suit both ways, at the price of sparking at high current and voltage"
    if advanced_for == here:
        return True, "brushes are advanced for this rotation"
    return False, (
        "brushes are advanced for the other way: expect sparking that grows with current and speed, a stronger field "
        "and a lower speed; move the ring to the other side, or to neutral and lower the volts"
    )


@calculation
def opposed(
    *,
    pump_turns: Turn,
    first_drive_end_faces: Facing,
    second_drive_end_faces: Facing,
    standard_rotation: Turn,
    first_advanced_for: Advance | None = None,
    second_advanced_for: Advance | None = None,
) -> PairRotation:
    """Both machines of a pair on one shaft.

    pump_turns, standard_rotation, *_drive_end_faces, *_advanced_for: as in rotation.

    >>> pair = opposed(pump_turns="clockwise", first_drive_end_faces="gearbox", second_drive_end_faces="front",
    ...                standard_rotation="counter-clockwise")
    >>> pair.first.seen_from_drive_end == pair.second.seen_from_drive_end
    False

    Source: as rotation.
    """
    first = rotation(
        pump_turns, drive_end_faces=first_drive_end_faces, standard_rotation=standard_rotation,
        advanced_for=first_advanced_for,
    )  # fmt: skip
    second = rotation(
        pump_turns, drive_end_faces=second_drive_end_faces, standard_rotation=standard_rotation,
        advanced_for=second_advanced_for,
    )  # fmt: skip
    return PairRotation(first, second)
