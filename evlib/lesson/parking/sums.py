"""Sums of the parking lesson on paper, from the build's own numbers.

Each line is worked from the numbers as they stand printed, so that whoever follows it gets the digits shown.
"""

from __future__ import annotations

from math import atan, cos, exp, floor, log10, pi, radians, sin, sqrt, tan
from typing import Any

import numpy as np

from evlib.build.checks.parking import eta_back, rollback
from evlib.build.gears import gear_ratios, has, low_rotating, start_torque
from evlib.build.launch import input_torque_allowed
from evlib.build.park_line import hold_torque, line_limits, lock_ratio
from evlib.build.parking_cases import torques_back
from evlib.build.reverse import brush_part, ratio_backward
from evlib.build.schema import Build
from evlib.build.sheet import both
from evlib.build.view import View
from evlib.ground import units
from evlib.ground.shown import Shown
from evlib.lesson.parts import agree, table

G = 9.807  # m/s2, as the lesson writes it; the library takes 9.80665
HEADER = ("line", "paper", "result")


def digits(value: float, count: int = 4) -> str:
    """A number with so many significant digits, never with an exponent; those before the point all stand."""
    if value == 0:
        return "0"
    return f"{value:.{max(count - 1 - floor(log10(abs(value))), 0)}f}"


class Paper:
    """Lines of a sum; each result is kept as it is printed."""

    def __init__(self) -> None:
        self.rows: list[tuple[str, str, str]] = []

    def line(self, what: str, paper: str, value: float, unit: str, *, count: int = 4) -> float:
        """Add a line, and give back the result as printed."""
        text = digits(value, count)
        self.rows.append((what, paper, f"{text} {units.pretty(unit)}".strip()))
        return float(text)

    def table(self) -> Shown:
        """The lines as a table."""
        return table(HEADER, self.rows)


def _plain(value: Any) -> float:
    return float(np.asarray(value))


def dropping_in(build: Build) -> Shown:
    """Up to which speed the pawl drops in: by gap and time of its fall, by the maker, and what the selector allows."""
    b, paper = View(build.parts), Paper()
    lock, place = b.parking.park_lock, "parking.park_lock."
    if lock.known("park_gap_angle") and lock.known("pawl_time"):
        gap, time = _plain(lock.park_gap_angle), _plain(lock.pawl_time)
        radius, ratio = _plain(b.vehicle.wheel_radius), _plain(lock_ratio(b))
        paper.rows += [("the gap lies open for a turn of", origin(build, place + "park_gap_angle"), f"{gap:g} rad"),
                       ("the pawl falls in", origin(build, place + "pawl_time"), f"{time:g} s")]  # fmt: skip
        turn = paper.line("the park wheel may turn at", f"{gap:g} rad / {time:g} s", gap / time, "rad/s")
        wheel = paper.line("the road wheels then turn at", f"{turn:g} rad/s / {ratio:.2f}", turn / ratio, "rad/s")
        speed = paper.line("the car then rolls at", f"{wheel:g} rad/s × {radius:.2f} m", wheel * radius, "m/s")
        paper.line("that is", f"{speed:g} m/s × 3.6", speed * 3.6, "km/h", count=3)
    rows = [*paper.rows]
    for what, path in (
        ("the maker says", place + "park_engage_speed"),
        ("the selector lets park in up to", "parking.selector.reverse_speed_limit"),
    ):
        value, setting = build.value(path), path.startswith("parking.selector")
        told = "a setting, one for reverse and park" if setting else "" if value is None else origin(build, path)
        rows.append((what, told, "not known" if value is None else units.show(value, "m/s")))
    return table(HEADER, rows)


def origin(build: Build, path: str) -> str:
    """Where a value of the build comes from, as its file says."""
    told = build.origins.get(path)
    return (", ".join(word for word in (told.source, told.note) if word) if told else "") or "stated in the build"


STRESS = {"SI": "MPa", "shop": "psi"}


def pawl(build: Build) -> Shown:
    """What holding the build on its grade does to tooth, pawl and pin, with the sums, and what they are allowed."""
    b, paper = View(build.parts), Paper()
    lock = b.parking.park_lock
    radius, lean, pin = (_plain(v) for v in (lock.park_radius, lock.park_pressure_angle, lock.pawl_pin_diameter))
    area, planes = float(digits(1e6 * _plain(lock.park_contact_area))), _plain(lock.pawl_pin_planes)
    degrees = float(digits(lean * 180 / pi, 3))
    allowed = {"pressure": "park_contact_pressure", "shear": "pawl_pin_strength"}
    torque = paper.line("torque on the toothed wheel", "as above", _plain(hold_torque(b)), "N m")
    along = paper.line("force along its circle", f"{torque:g} N m / {radius:g} m", torque / radius, "N")
    throws = f"{along:g} N × tan {degrees:g}°"
    paper.line("throws the pawl out; the cam must hold", throws, along * tan(radians(degrees)), "N")
    press = paper.line("presses pawl and tooth together", f"{along:g} N / cos {degrees:g}°",
                       along / cos(radians(degrees)), "N")  # fmt: skip
    paper.line("pressure of pawl and tooth", f"{press:g} N / {area:g} mm²", press / area, "MPa", count=3)
    steel = paper.line("section of the pin, where it would shear", f"{planes:g} × π / 4 × ({1e3 * pin:g} mm)²",
                       planes * pi / 4 * (1e3 * pin) ** 2, "mm2")  # fmt: skip
    paper.line("shear in the pin", f"{press:g} N / {steel:g} mm²", press / steel, "MPa", count=3)

    def limit(name: str) -> str:
        found = both(getattr(lock, name), "Pa", shown=STRESS)
        return f"{found}: {origin(build, 'parking.park_lock.' + name)}"

    ends = {row[0]: limit(name) for row in paper.rows for word, name in allowed.items() if row[0].startswith(word)}
    return table((*HEADER, "allowed"), [(*row, ends.get(row[0], "")) for row in paper.rows])


def strengths(build: Build) -> Shown:
    """What each part from the pawl to the wheels stands, counted as torque on the toothed wheel; the weakest first."""
    b = View(build.parts)
    lock, final, ratio = b.parking.park_lock, b.final_drive, _plain(lock_ratio(b))
    each = {
        "propeller shaft": "as rated",
        "final drive": f"{_plain(final.final_drive_rating):g} N m / {ratio:.2f}",
        "both axle shafts": f"2 × {_plain(final.axle_shaft_rating):g} N m / {ratio:.2f}",
        "wheel studs of both wheels": f"2 × {_plain(final.stud_count):g} × {_plain(final.stud_clamp):g} N × "
        f"{_plain(final.hub_friction):g} × {_plain(final.stud_circle_radius):g} m / {ratio:.2f}",
    }
    area, pin = _plain(lock.park_contact_area), _plain(lock.pawl_pin_diameter)
    sides = {
        "contact": (area, _plain(lock.park_contact_pressure)),
        "pin": (_plain(lock.pawl_pin_planes) * pi / 4 * pin**2, _plain(lock.pawl_pin_strength)),
    }
    weaker = min(sides, key=lambda name: sides[name][0] * sides[name][1])
    section, stress = (float(digits(value)) for value in (1e6 * sides[weaker][0], 1e-6 * sides[weaker][1]))
    lean = digits(_plain(lock.park_pressure_angle) * 180 / pi, 3)
    each["pawl, tooth and pin"] = (
        f"{weaker}: {section:g} mm² × {stress:g} MPa × cos {float(lean):g}° × {_plain(lock.park_radius):g} m"
    )
    limits = sorted(line_limits(b).items(), key=lambda item: _plain(item[1]))
    return table(("part", "paper", "stands, at the toothed wheel"),
                 [(part, each[part], both(limit, "N m")) for part, limit in limits])  # fmt: skip


def rolling_back(build: Build) -> Shown:
    """The build's own hill start on paper: the slope against a pull that comes as a ramp."""
    b, paper = View(build.parts), Paper()
    start = b.parking.hill_start
    grade, delay, rise = (_plain(v) for v in (start.hill_grade, start.pull_delay, start.pull_rise))
    mass, rolling, radius = (_plain(v) for v in (b.vehicle.mass, b.vehicle.rolling_coefficient,
                                                 b.vehicle.wheel_radius))  # fmt: skip
    torque, low, final, eta = (_plain(v) for v in (start_torque(b), gear_ratios(b).low,
                                                   b.final_drive.final_drive_ratio, eta_back(b)))  # fmt: skip
    sine = paper.line(f"sine of {100 * grade:g} %", f"sin(arctan {grade:g})", sin(atan(grade)), "", count=5)
    cosine = paper.line("cosine", f"cos(arctan {grade:g})", cos(atan(grade)), "", count=5)
    down = paper.line("slope less tyres, F_g", f"{mass:g} kg × {G} m/s² × ({sine:g} − {rolling:g} × {cosine:g})",
                      mass * G * (sine - rolling * cosine), "N")  # fmt: skip
    extra = paper.line("motors, gears and wheels that turn, as mass", "lesson 2, in the lowest gear",
                       min(_plain(low_rotating(b).driven), 2 * mass), "kg")  # fmt: skip
    paper.line("lambda, their share", f"{extra:g} kg / {mass:g} kg", extra / mass, "")
    heavy = paper.line("mass to be moved", f"{mass:g} kg + {extra:g} kg", mass + extra, "kg")
    a = paper.line("a_g, starts down with", f"{down:g} N / {heavy:g} kg", down / heavy, "m/s²")
    given, gear, passed = float(digits(torque)), float(digits(low, 6)), float(digits(eta, 3))
    words = f"{given:g} N m × {gear:g} × {final:.2f} × {passed:g} / {radius:.2f} m"
    pull = paper.line("full pull, F_p, from the torque at rest (lesson 1)", words,
                      given * gear * final * passed / radius, "N")  # fmt: skip
    back = _stop(paper, a=a, pull=pull, heavy=heavy, delay=delay, rise=rise)
    agree("roll back of this build", by_hand=back, library=_plain(rollback(b).demand), unit="m")
    return paper.table()


def _stop(paper: Paper, *, a: float, pull: float, heavy: float, delay: float, rise: float) -> float:
    """The lines from the first pull to standstill: inside the ramp, or after it."""
    root = 0.0
    if rise > 0:
        gain = paper.line("the pull grows, for each kg, by", f"{pull:g} N / {heavy:g} kg / {rise:g} s",
                          pull / heavy / rise, "m/s³")  # fmt: skip
        root = paper.line("it stands after, from the first pull on",
                          f"({a:g} + √({a:g}² + 2 × {gain:g} × {a:g} × {delay:g})) / {gain:g}",
                          (a + sqrt(a**2 + 2 * gain * a * delay)) / gain, "s")  # fmt: skip
        if root <= rise:
            return paper.line(f"way (inside the ramp of {rise:g} s)",
                              f"{a:g} × ({delay:g} + {root:g})² / 2 − {gain:g} × {root:g}³ / 6",
                              a * (delay + root) ** 2 / 2 - gain * root**3 / 6, "m")  # fmt: skip
    half = f"{pull:g} N / {heavy:g} kg × {rise:g} s"
    way = paper.line("way until the full pull is there", f"{a:g} × ({delay:g} + {rise:g})² / 2 − {half}² / 6",
                     a * (delay + rise) ** 2 / 2 - pull / heavy * rise**2 / 6, "m")  # fmt: skip
    still = paper.line("it then rolls at", f"{a:g} × ({delay:g} + {rise:g}) − {half} / 2",
                       a * (delay + rise) - pull / heavy * rise / 2, "m/s")  # fmt: skip
    slows = paper.line("and is slowed by", f"{pull:g} N / {heavy:g} kg − {a:g}", pull / heavy - a, "m/s²")
    if slows <= 0:
        paper.rows.append(("it is never caught", "the full pull does not hold the slope", "100 m is shown"))
        return 100.0
    rest = paper.line("way from there", f"{still:g}² / (2 × {slows:g})", still**2 / (2 * slows), "m")
    return paper.line("in all", f"{way:g} m + {rest:g} m", way + rest, "m")


def ways_on_paper(build: Build) -> Shown:
    """Where each number of the table of ways back comes from."""
    b = View(build.parts)
    final, eta, radius, limit = (
        _plain(v) for v in (b.final_drive.final_drive_ratio, eta_back(b), b.vehicle.wheel_radius, b.machine.speed_limit)
    )
    rows: list[tuple[str, ...]] = []
    low_holds: float | None = None
    for way, behind in torques_back(b).items():
        paper = Paper()
        used = given = _given(b, paper, way, behind.given)
        if behind.held is not None:
            pressure = float(behind.pressure or 0.0)
            if way == "gearbox":
                words = f"reverse clutch or band, {_at_rest(pressure)}"
                held = paper.line("gearbox holds", words, behind.held, "N m", count=6)
            elif low_holds is None:
                held = low_holds = _low_holds(b, paper, behind.held, pressure)
            else:
                held = paper.line("gearbox holds", "the same low, turned the same way", low_holds, "N m", count=6)
            used = min(given, held)
            paper.line("the smaller one pulls", f"{given:g} N m or {held:g} N m", used, "N m", count=6)
        ratio = float(digits(_plain(ratio_backward(b, way)), 6))
        part = float(digits(eta, 3))
        paper.line("pull", f"{used:g} N m × {ratio:g} × {final:.2f} × {part:g} / {radius:.2f} m",
                   used * ratio * final * part / radius, "N")  # fmt: skip
        top = float(digits(limit))
        words = f"{top:g} rad/s × {radius:.2f} m / ({ratio:g} × {final:.2f}) × 3.6"
        paper.line("speed limit of the motors", words, top * radius / (ratio * final) * 3.6, "km/h", count=3)
        if way == str(b.parking.reverse_by):
            _needed(b, paper)
        # the way stands in every row: a screen reader has no use for an empty row header
        rows += [(way, what, how, result.replace(" ", "\u00a0")) for what, how, result in paper.rows]
    return table(("by", *HEADER), rows)


def _needed(b: View, paper: Paper) -> None:
    """The force that the steepest drive asks for: the slope and the tyres."""
    grade, mass, rolling = (_plain(v) for v in (b.parking.reverse_grade, b.vehicle.mass, b.vehicle.rolling_coefficient))
    sine, cosine = (float(digits(f(atan(grade)))) for f in (sin, cos))
    words = f"{mass:g} kg × {G} m/s² × ({sine:g} + {rolling:g} × {cosine:g})"
    paper.line(f"needed to back up {100 * grade:g} %", words, mass * G * (sine + rolling * cosine), "N")  # fmt: skip


def _at_rest(pressure: float) -> str:
    return f"{units.show(pressure, 'Pa', kind='gauge')} at rest, oil hot (lesson 4)"


def _given(b: View, paper: Paper, way: str, given: float) -> float:
    """Torque that the motors give, with the sum behind it."""
    if way == "gearbox":
        words = "at rest (lesson 1)"
        if has(b, "hydraulics"):
            amps = _plain(b.hydraulics.launch.launch_current_reverse)
            words = f"launch setting in reverse, {amps:g} A in each (lesson 4)"
        return paper.line("motors give", words, given, "N m", count=6)
    full, part = _plain(start_torque(b)), brush_part(b, way)
    if part < 1:
        full = float(digits(full, 6))
        words = f"{full:g} N m at rest (lesson 1) × {part:g}, what brushes set for forward leave: a guess"
        return paper.line("motors give", words, full * part, "N m", count=6)
    return paper.line("motors give", "at rest (lesson 1); an AC machine's own would differ", full, "N m", count=6)


def _low_holds(b: View, paper: Paper, held: float, pressure: float) -> float:
    """Torque that low holds at rest while the motors drive backward, with the sum behind it."""
    low = b.hydraulics.low
    if low.holds_by != "band" or low.band_sense != "energising":
        return paper.line("gearbox holds", f"low, turned the other way, {_at_rest(pressure)}", held, "N m", count=6)
    forward = _plain(input_torque_allowed(b, "low", pressure=pressure))
    kept = paper.line("low's band, driven forward", _at_rest(pressure), forward, "N m", count=6)
    mu, wrap = _plain(low.dynamic_friction), float(digits(_plain(low.wrap_angle), 6))
    grows = paper.line("friction round its wrap", f"e^({mu:g} × {wrap:g} rad)", exp(mu * wrap), "", count=6)
    return paper.line("gearbox holds", f"unwound: {kept:g} N m / {grows:g}", kept / grows, "N m", count=6)
