"""The commissioning card: each reading with why it is taken, what to expect, its band, and when to stop."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping, Sequence

from evlib.ground import units

SUPPLY = 12.0  # V; nominal, of the loop that holds the contactors


@dataclasses.dataclass(frozen=True)
class CardLine:
    """One line of the card. ``low`` and ``high`` are the band around ``expected``, all in SI ``unit``."""

    task: str
    why: str
    expected: float
    low: float
    high: float
    unit: str
    stop_if: str
    kind: str = ""
    place: str = "vehicle"  # or "bench, energised", or "vehicle, dead"; each needs a second, qualified person
    possible: float = math.inf  # more than this cannot be, whatever is wrong with the vehicle
    not_above: str = ""  # the task of another line that this reading cannot exceed

    def __post_init__(self) -> None:
        if not (math.isfinite(self.expected) and self.low <= self.expected <= self.high):
            raise ValueError(f"{self.task}: the expected value must be finite and lie inside its band")

    def text(self, *, system: str = "SI") -> str:
        """``expect 632 mV, between ... and ...``."""
        shown = [
            units.show(v, self.unit, kind=self.kind, system=system) if math.isfinite(v) else "no limit"
            for v in (self.expected, self.low, self.high)
        ]
        return f"{self.task}: expect {shown[0]}, between {shown[1]} and {shown[2]}; stop if {self.stop_if}"


def judge(line: CardLine, *, reading: float) -> str:
    """What a reading says: ``in its band``, ``outside its band: stop and find out why``, or ``impossible``.

    A reading of the wrong sign, or more than ten times away, is taken for a slip of the meter, its range or its
    leads before it is taken for a fault.

    >>> line = CardLine("time constant", "proves R and C", 0.3, 0.24, 0.36, "s", "it is half or double")
    >>> judge(line, reading=0.31), judge(line, reading=31.0)[:10]
    ('in its band', 'impossible')
    """
    if not math.isfinite(reading):
        raise ValueError(f"reading: {reading} is not a number")
    if reading > line.possible:
        most = units.show(line.possible, line.unit, kind=line.kind)
        return f"impossible: there is no more than {most}; look at the meter, its range and its leads"
    if line.low <= reading <= line.high:
        return "in its band"
    far = max(abs(line.high) if math.isfinite(line.high) else 0.0, abs(line.expected))
    known = math.isfinite(line.possible)  # where the most that can be is known, ten times the band may well be
    if reading * line.expected < 0 or (not known and math.isfinite(line.high) and abs(reading) > 10 * far):
        return "impossible: look at the meter, its range and its leads, then read again"
    return "outside its band: stop and find out why"


def judge_all(lines: Sequence[CardLine], *, readings: Mapping[int, float]) -> dict[int, str]:
    """What each reading says, by the line's number from 1; with what two lines say of each other.

    >>> card = insulation_lines(326.0, ohm_per_volt=100.0, leak_positive=180e3, leak_negative=350e3)
    >>> judge_all(card, readings={2: 180e3, 3: 240e3})[3][:10]
    'impossible'
    """
    tasks = {line.task: number for number, line in enumerate(lines, 1)}
    said = {}
    for number, reading in sorted(readings.items()):
        if not 1 <= number <= len(lines):
            raise ValueError(f"line {number} is not on the card; it has lines 1 to {len(lines)}")
        line = lines[number - 1]
        said[number] = judge(line, reading=reading)
        other = readings.get(tasks.get(line.not_above, 0))
        if other is not None and reading > other:
            said[number] = f"impossible: it cannot be more than line {tasks[line.not_above]} says; read both again"
    return said


def around(task: str, *, why: str, expected: float, spread: float, unit: str, stop_if: str, kind: str = "") -> CardLine:
    """A line whose band is a part of the expected value on each side."""
    half = abs(expected) * spread
    return CardLine(task, why, expected, expected - half, expected + half, unit, stop_if, kind)


def at_least(
    task: str, *, why: str, expected: float, least: float, unit: str, stop_if: str, kind: str = "", not_above: str = "",
    place: str = "vehicle",
) -> CardLine:  # fmt: skip
    """A line with a lower limit alone, such as insulation."""
    return CardLine(task, why, expected, least, math.inf, unit, stop_if, kind, place, not_above=not_above)


def insulation_lines(pack_voltage: float, *, ohm_per_volt: float, leak_positive: float,
                     leak_negative: float) -> tuple[CardLine, CardLine, CardLine]:  # fmt: skip
    """Three lines before the first closing: the vehicle's side by a tester, the pack's side by the voltmeter method.

    The leaks given are those of the whole vehicle; one side of the open contactors alone never leaks more than that.
    """
    asked = ohm_per_volt * pack_voltage
    smaller = min(leak_positive, leak_negative)
    both = leak_positive * leak_negative / (leak_positive + leak_negative)
    why = "one leak does nothing until a hand makes the second"
    stop = "it is below what is asked, or falls from day to day"
    found = "Insulation, pack side, smaller leak: contactors open, voltmeter method at the pack's own terminals"
    return (
        at_least("Insulation, vehicle side: pack not connected, dead proved; insulation tester between the "
                 "controller's terminals and the chassis", why="motors and brush dust hang behind the contactors",
                 expected=max(both, asked), least=asked, unit="ohm", stop_if=stop, place="vehicle, dead"),
        at_least(found, why=why, expected=max(smaller, asked), least=asked, unit="ohm", stop_if=stop),
        at_least("Insulation, pack side, both leaks together: worked out from the same readings", why=why,
                 expected=max(both, asked), least=asked, unit="ohm", stop_if=stop, not_above=found),
    )  # fmt: skip


def precharge_line(rise_time: float) -> CardLine:
    """One line: the time to 63 % on the rising voltage, within 20 % (capacitors are made to ±20 %)."""
    return around(
        "Precharge, time to 63 % of pack voltage",
        why="proves the resistor and the capacitor, and that nothing else draws",
        expected=rise_time,
        spread=0.2,
        unit="s",
        stop_if="the voltage goes flat below the pack voltage, or is there at once",
    )


def closing_line(pack_voltage: float, *, reached: float, difference: float) -> CardLine:
    """One line: the voltage that the controller has when the main contactor closes, from the rising curve."""
    return CardLine(
        "Precharge, voltage at the controller as the main contactor closes",
        "what is missing then is made up in a blow that welds contacts",
        max(reached, pack_voltage * (1 - difference)), pack_voltage * (1 - difference), pack_voltage, "V",
        "it goes flat lower, or the contactor closes before it is there", possible=1.02 * pack_voltage,
    )  # fmt: skip


def loop_lines(switches: Sequence[str]) -> list[CardLine]:
    """The 12 V loop proved part by part, the pack's service disconnect out: coils live, then each switch opened alone.

    A relay must let go at a tenth of its rated voltage (common practice, no source), so less than that must be left.
    """
    place, why = "vehicle, 12 V only", "a switch that does not open leaves the pack connected when it is asked"
    whole = CardLine(
        "Loop, all closed: voltage across the contactors' coils", "what reads nothing now proves nothing later",
        SUPPLY, 0.85 * SUPPLY, 1.25 * SUPPLY, "V", "it is low: a poor joint lets contactors chatter and weld",
        place=place, possible=1.4 * SUPPLY)  # fmt: skip
    opened = [
        CardLine(f"Loop, {name} opened alone, then closed again: voltage across the coils", why, 0.0, 0.0, SUPPLY / 10,
                 "V", "it stays, or comes back by itself", place=place, possible=1.4 * SUPPLY)
        for name in switches
    ]  # fmt: skip
    return [whole, *opened]


def weld_lines(pack_voltage: float) -> list[CardLine]:
    """The weld check: controller empty, no contact, then one at a time; 5 % of the pack is taken for nothing."""
    why = "contacts that welded show themselves only while their partner is open"
    return [
        CardLine(f"Weld check, {closed}: voltage between the controller's terminals", why, 0.0, 0.0,
                 0.05 * pack_voltage, "V", f"it is more: {welded}", possible=1.02 * pack_voltage)
        for closed, welded in (
            ("all open", "both poles welded, or the capacitor is not empty"),
            ("negative contactor closed alone", "positive contactor or precharge relay welded"),
            ("precharge relay closed alone", "negative contactor welded"),
        )
    ]  # fmt: skip


def trip_line(trip_speed: float) -> CardLine:
    """One line: over-speed trip tried with a signal generator, never by racing a motor."""
    return around(
        "Over-speed trip, by signal generator",
        why="the motors have no other protection when they lose their load",
        expected=trip_speed,
        spread=0.02,
        unit="rad/s",
        stop_if="the contactor does not open, or opens later than the allowed delay",
    )
