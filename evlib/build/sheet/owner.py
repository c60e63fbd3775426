"""The page for whoever drives it: what is unlike the car it was, each with the numbers of this build."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.cycle import drive_cycle, named_cycle
from evlib.build.gears import gear_ratios, has, shaft_per_road
from evlib.build.review import Review
from evlib.build.sheet.settings import road_speed_low
from evlib.build.sheet.words import BLANK, both, said, side_text, tried
from evlib.build.slowing import RULE_SPEED, braking_force, motor_drag
from evlib.build.view import View
from evlib.ground.checks import MARGINAL, NOT_APPLICABLE

USABLE = 0.8  # of the charge is driven before it stops; common practice, no source
TRACES = (("urban", "a public town cycle"), ("village", "an invented delivery round"),
          ("ridge", "an invented main road along a ridge"))  # fmt: skip
ROUND = 2  # figures of what a driver feels, where a third says nothing
TOWED = 50 / 3.6  # m/s; a speed at which vehicles are towed

Section = tuple[str, list[str]]


def owner_page(b: View, found: Review) -> list[Section]:
    """Heading by heading, the sentences of the page. What is not known is a blank to fill in."""
    kind = b._thing.machine.kind if b._thing.machine else None  # None: not known, and both ways are said
    boxed = has(b, "gearbox") and has(b, "hydraulics")
    return [
        ("It does not creep", _creep(b, found, kind)), ("Hills", _hills(b, found, kind)),
        ("Slowing down", _slowing(b, kind)), ("Range", _range(b)), ("Noise", _noise(b, kind, boxed)),
        ("Leaving it", _leaving(b, found)), ("Towing", _towing(b, boxed)), ("Service", _service(kind, boxed)),
    ]  # fmt: skip


def _side(found: Review, name: str, side: str) -> str:
    check = found.check(name)
    value = getattr(check, side)
    return BLANK if value is None else side_text(check, value)


def _spare(found: Review, name: str) -> str:
    """What follows a number that is nearly used up; nothing where there is room, or none is known."""
    return " There is hardly anything to spare." if found.check(name).verdict == MARGINAL else ""


def _applies(found: Review, name: str) -> bool:
    return bool(found.check(name).verdict != NOT_APPLICABLE)


def _creep(b: View, found: Review, kind: str | None) -> list[str]:
    words = ["With your foot off the pedal it stands still, and on a slope it rolls: no idling engine pushes it along."]
    if kind == "ac":
        words.append("An inverter may be set to creep; this build states nothing about that.")
    if _applies(found, "rollback at a hill start"):
        grade = said(b, "parking.hill_start.hill_grade")
        back = both(found.check("rollback at a hill start").demand, "m", digits=ROUND) or BLANK
        words.append(f"From the brake to the pedal on a slope of {grade} it rolls back {back}. Use the handbrake.")
    return words


def _hills(b: View, found: Review, kind: str | None) -> list[str]:
    grade = said(b, "targets.start_grade")
    words = [f"The steepest slope it starts on is {_side(found, 'steepest start', 'capacity')}; {grade} was asked for."
             f"{_spare(found, 'steepest start')}"]  # fmt: skip
    words += filter(None, [handbrake_short(b, found)])
    if kind != "ac":
        hold = _side(found, "stall hold", "capacity")
        words.append(f"Never hold it on a slope with the pedal: on {grade} the bars under the brushes bear {hold}."
                     f"{_spare(found, 'stall hold')}")  # fmt: skip
    climb, speed = said(b, "targets.climb_grade"), said(b, "targets.climb_speed")
    name = "winding after an hour's climb"
    if _applies(found, name):
        demand, capacity = (_side(found, name, s) for s in ("demand", "capacity"))
        words.append(f"After an hour at {speed} on {climb} the windings are {demand} above the air; {capacity} is the "
                     f"most.{_spare(found, name)} After such a climb let the blower run before you park.")  # fmt: skip
    else:
        words.append(f"Whether it climbs {climb} at {speed} for an hour is not worked out for this kind of motor.")
    return words


def _slowing(b: View, kind: str | None) -> list[str]:
    def share(gear: str) -> str:
        def make(v: View) -> Any:  # m/s2, which is what it loses of its speed in a second
            force = braking_force if v.machine.kind == "ac" else motor_drag
            return force(v, gear_ratio=getattr(gear_ratios(v), gear), road_speed=RULE_SPEED) / v.vehicle.mass

        value, _, _ = tried(b, make)
        return f"{BLANK if value is None else both(value, 'm/s', digits=ROUND)} each second"

    speed = both(RULE_SPEED, "m/s")
    if kind == "ac":
        return [f"The motor brakes as it is set, up to {share('low')} at {speed}: less when the pack is full or cold. "
                "The brake pedal alone stops it."]  # fmt: skip
    gears = f"{share('low')} in low and {share('direct')} in direct" if has(b, "gearbox") else share("low")
    return [f"There is no engine braking. Foot off at {speed}, the motors take {gears} from the speed; hard braking "
            f"takes about {both(6.0, 'm/s')}.",
            "On a long descent the brakes do all the work: go slowly from the top, stop to let them cool, and do not "
            "count on low."]  # fmt: skip


def _range(b: View) -> list[str]:
    words = []
    for name, what in TRACES:

        def make(v: View, name: str = name) -> Any:
            return drive_cycle(v, named_cycle(name), usable=USABLE)

        found, _, _ = tried_cycle(b, make)
        if found is None:
            words.append(f"On {what}: {BLANK} km.")
            continue
        per = f"{found.per_metre / 3.6:.0f} Wh/km"
        behind = "" if found.follows else " It falls behind that trace."
        words.append(f"On {what}: about {both(found.range, 'm', shown={'SI': 'km', 'shop': 'mi'})}, {per}.{behind}")
    words.append(f"Reckoned on {USABLE:.0%} of the charge, no heating, no load. Cold, wind, hills and speed take from "
                 "it; your own log says more than this page.")  # fmt: skip
    return words


def tried_cycle(b: View, make: Any) -> tuple[Any, str, bool]:
    """A cycle on a build, or None: :func:`tried` for a result that is no number."""
    kept: list[Any] = []

    def keep(v: View) -> Any:
        kept.append(make(v))
        return kept[-1].range

    value, why, wanting = tried(b, keep)
    return (kept[0] if value is not None else None), why, wanting


def _noise(b: View, kind: str | None, boxed: bool) -> list[str]:
    words = []
    if boxed:
        off = said(b, lambda v: road_speed_low(v, v.hydraulics.switch.switch_off_speed), "m/s")
        on = said(b, lambda v: road_speed_low(v, v.hydraulics.switch.switch_on_speed), "m/s")
        words.append(f"At rest you hear the electric oil pump. In low it goes off at about {off} as you pull away, and "
                     f"comes on below {on}. If it is silent at rest, do not drive.")  # fmt: skip
    elif has(b, "hydraulics"):
        words.append("At rest you hear the electric oil pump. If it is silent at rest, do not drive.")
    if kind != "ac":
        words.append("Brushes hiss, and sing with speed; a crackle or a smell of burning is a reason to stop.")
    words.append("Hardly anything else is heard: people on foot do not hear it come. Ask whether a warning sound is "
                 "required where you drive.")  # fmt: skip
    return words


def _held(found: Review) -> float | None:
    """The grade [per cent] that the handbrake holds, nose up or down, whichever is less."""
    every = [f.value for f in found.stated if f.name.startswith("steepest grade held") and f.value is not None]
    return float(min(every)) if every else None


def handbrake_short(b: View, found: Review) -> str:
    """A warning where the handbrake does not hold the grade on which the build is asked to start; else nothing."""
    held, asked = _held(found), tried(b, "targets.start_grade")[0]
    if held is None or asked is None or held >= 100 * asked:
        return ""
    grade = said(b, "targets.start_grade")
    return (
        f"The handbrake holds no more than {both(held, 'percent')}, and a start on {grade} is asked for. "
        "On anything steeper only the foot brake holds it: do not stop there without chocks and a second person."
    )


def _leaving(b: View, found: Review) -> list[str]:
    held = _held(found)
    hold = BLANK if held is None else both(held, "percent")
    words = [f"A stopped motor holds nothing. The handbrake at its full pull holds up to {hold}, if the tyres grip."]
    if _applies(found, "park lock"):
        words.append(f"Park drops into a tooth only after up to {_side(found, 'roll before park holds', 'demand')} of "
                     "rolling. It is no brake. Handbrake first, then park; chocks on a hill.")  # fmt: skip
        speed, _, wanting = tried(b, "parking.selector.reverse_speed_limit")
        if speed is not None or wanting:
            words.append(f"Put park and reverse in only below {said(b, 'parking.selector.reverse_speed_limit')}.")
    words.append("Key off, then take it out. The pack cannot be switched off: never open a cover.")
    return words


WHEELS = {
    "rear": "with the rear wheels off the ground, or all four on a trailer",
    "front": "with the front wheels off the ground, or all four on a trailer",
    "all": "with all four wheels on a trailer",
    None: "with all four wheels on a trailer (which axle drives is not known)",
}


def _towing(b: View, boxed: bool) -> list[str]:
    axle = b._thing.vehicle.driven_axle if b._thing.vehicle else None
    words = [f"Tow it only {WHEELS[axle]}: driven wheels that turn turn the gears and motors."]

    def rotor_limit(v: View) -> Any:
        return v.machine.speed_limit / shaft_per_road(v, gear_ratios(v).low)

    def turning(v: View) -> Any:
        return np.asarray(shaft_per_road(v, gear_ratios(v).low)) * TOWED

    if boxed:
        words.append("While the motors stand, the gearbox's own pump stands too and its bushes run dry. If low holds, "
                     f"the motors are past their speed limit at {said(b, rotor_limit, 'm/s')}.")  # fmt: skip
    else:
        words.append(f"The motor always turns with them, at {said(b, turning, 'rad/s')} at {both(TOWED, 'm/s')}; one "
                     f"with magnets then makes volts, switched on or off. Its limit is at "
                     f"{said(b, rotor_limit, 'm/s')}.")  # fmt: skip
    words.append("Never tow-start it. Off the road in an emergency: walking pace, neutral, a few metres.")
    return words


def _service(kind: str | None, boxed: bool) -> list[str]:
    more = ("" if kind == "ac" else "brushes, ") + "insulation" + (", oil and its pressure" if boxed else "")
    return [f"See the maintenance card: {more}, bolts, contactors. Whoever works on it "
            "needs training for this voltage.",
            "After a crash, a flood or a smell of burning: leave it, keep people away, call for help, and say that it "
            "is electric."]  # fmt: skip
