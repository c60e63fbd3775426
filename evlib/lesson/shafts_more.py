"""What the companions of the shafts lesson show: bolts, dial readings, modes, life; length and drawings; the pump."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from evlib.build import coupling, drawings
from evlib.build.schema import Build
from evlib.build.sheet import both
from evlib.build.view import View
from evlib.figures.shafts import ModePicture, modes, side_view_page
from evlib.ground import units
from evlib.ground.folder import folder, write_atomically
from evlib.ground.shown import Shown
from evlib.lesson.parts import table
from evlib.lesson.shafts import small
from evlib.panels.markup import show
from evlib.panels.panel import Table, Twin
from evlib.panels.shafts import side_result
from evlib.shafts import bolts, dudley, fatigue, fits, joint, package, shrink, spline, tables, torsion, vibration

STRESS = {"SI": "MPa", "shop": "psi"}
OWN, STUB, LONG = "this build's joint", "stub input, adapter of 8 in", 0.2032  # 8 in: common practice, no source


def bolt_table(build: Build) -> Shown:
    """Preload, grip and threads of both rings of bolts."""
    b = View(build.parts)
    line = coupling.line(b)
    rows = []
    for name, part, asked in (
        ("ring between the frames", b.coupling.flange, line.middle_flange),
        ("adapter at the gearbox", b.coupling.adapter, line.adapter),
    ):
        clamp = bolts.preload(
            part.tightening_torque, bolt_diameter=part.bolt_diameter, nut_factor=part.nut_factor,
            preload_scatter=part.preload_scatter,
        )  # fmt: skip
        held = bolts.friction_torque(
            clamp.least, bolt_count=part.bolt_count, bolt_circle=part.bolt_circle, face_friction=part.face_friction
        )  # fmt: skip
        need = bolts.engagement_for_strength(
            part.bolt_diameter, bolt_pitch=part.bolt_pitch, bolt_class=part.bolt_class,
            thread_shear_strength=part.thread_shear_strength,
        )  # fmt: skip
        rows.append((name, _kilo(clamp.least), _kilo(clamp.most), both(held, "N m"), both(asked, "N m"),
                     f"{1000 * float(part.thread_engagement):.1f} mm", f"{1000 * float(need):.1f} mm"))  # fmt: skip
    head = ("ring", "preload of a bolt, least", "most", "holds, at the least", "asked", "thread there is",
            "thread needed, so that the bolt breaks first")  # fmt: skip
    return table(head, rows)


def _kilo(value: Any) -> str:
    return f"{float(value) / 1000:.1f} kN"


def dial_limits(build: Build) -> Shown:
    """What the dials say on this build, and from where on an angle costs the spline."""
    b = View(build.parts)
    circle, angle, rim = b.coupling.flange.bolt_circle, b.coupling.sleeve.misalignment, b.coupling.gearbox_joint
    free = _free_angle(float(coupling.engagement(b).least))
    run = f"{1000 * circle:.0f} mm"
    rows = [
        ("face: reading at the angle that the build states", f"{1000 * angle:.2g} mm/m × {run}", small(angle * circle)),
        ("face: reading from which Km rises above 1", f"{1000 * free:.2g} mm/m × {run}", small(free * circle)),
        ("rim of the hub at the pump's bush: at most", "the gearbox's manual", small(rim.pilot_limit)),
        ("offset of its axis then", "half of the reading", small(rim.pilot_limit / 2)),
        ("play of a spigot, H7/g6", f"at {1000 * b.coupling.plate.pilot_bore:.0f} mm", _fit(b, "g")),
        ("play of a spigot, H7/h6", f"at {1000 * b.coupling.plate.pilot_bore:.0f} mm", _fit(b, "h")),
    ]
    return table(("where", "from", "value"), rows)


def _free_angle(engagement: float) -> float:
    """The largest angle of the handbook's table at which this width still counts with Km = 1 [rad]."""
    free = (a for a in tables.MISALIGNMENTS if float(dudley.load_factor(a, engagement=engagement)) <= 1)
    return max(free, default=0.0)


def _fit(b: View, letter: Any) -> str:
    fit = fits.hole_basis_fit(b.coupling.plate.pilot_bore, hole_grade=7, shaft_letter=letter, shaft_grade=6)
    return f"{1e6 * float(fit.least) + 0.0:.0f} to {1e6 * float(fit.most):.0f} µm"


def chain(build: Build, *, to_gearbox: float | None = None) -> vibration.Modes:
    """Torsional modes of far rotor, near rotor and gearbox input: the same chain as the check's.

    With ``to_gearbox`` [N m/rad] another joint stands in the place of the build's own.
    """
    c = coupling.chain(View(build.parts))
    last = float(c.to_gearbox) if to_gearbox is None else to_gearbox
    return vibration.torsional_modes([c.rotor, c.rotor, c.gearbox_input], stiffnesses=[float(c.between), last])


def show_modes(build: Build) -> None:
    """The modes against the running range, as a picture with its text twin."""
    found, limit = chain(build), float(View(build.parts).machine.speed_limit)
    flexible = tuple(float(w) for w in found.frequencies[1:])
    orders = (1.0, 2.0, 4.0)
    speeds, turn = np.linspace(0.0, 1.1 * limit, 12), 2 * math.pi
    pulses = tuple(order * speeds / turn for order in orders)
    picture = ModePicture(tuple(w / turn for w in flexible), orders, pulses, speeds, limit)
    struck = [(order, i, w / order) for order in orders for i, w in enumerate(flexible, 1) if w / order <= limit]
    rows = tuple((f"mode {i}", f"{order:g} per turn", units.show(w, "rad/s")) for order, i, w in struck)
    hz = ", ".join(_hertz(found))
    twin = Twin(
        alt=f"Slanted lines for 1, 2 and 4 pulses per turn; level lines for the torsional modes at {hz}; the running "
        f"range ends at {units.show(limit, 'rad/s')}.",
        sentence=f"Torsional modes at {hz}; {len(struck)} crossings lie inside the running range.",
        table=Table(("mode", "struck by", "at"), rows or (("none", "", ""),)),
    )
    show(modes, picture, twin, title="Torsional modes against the running range", room=0.18)


def life_table(build: Build, *, launches: tuple[tuple[float, float], ...]) -> Shown:
    """A spectrum of launches on the input shaft: (share of full torque, launches a year), and the life used up."""
    b = View(build.parts)
    part, full = b.coupling.gearbox_joint, coupling.line(b).gearbox_input
    endurance = fatigue.endurance_limit(part.joint_ultimate, diameter=part.joint_diameter)
    rows: list[tuple[str, str, str, str]] = []
    counts: list[float] = []
    lives: list[float] = []
    for share, number in launches:
        half = (
            torsion.equivalent_stress(
                0.0, torsion_stress=torsion.shear_stress(share * full, shaft_diameter=part.joint_diameter)
            )
            / 2
        )
        acting = fatigue.reversing_equivalent(part.joint_notch * half, mean=half, ultimate=part.joint_ultimate)
        life = float(fatigue.cycles_to_failure(acting, endurance=endurance, ultimate=part.joint_ultimate))
        counts.append(number)
        lives.append(life)
        said = "no end" if math.isinf(life) else f"{life:,.0f}"
        rows.append((f"{100 * share:.0f} %", units.show(float(acting), "Pa", shown=STRESS), f"{number:,.0f}", said))
    used = fatigue.damage(counts, lives=lives)
    rows.append(("in a year", "", "", "no life used" if used == 0 else f"1/{1 / used:,.0f} of the life used"))
    return table(("launch, of full torque with shock", "acts as, reversing", "a year", "stands so many"), rows)


def rules_table(build: Build) -> Shown:
    """Factors of safety of the input shaft by four rules and against the first yield, for full launches.

    For endless life, and for as many launches as the build asks for, which is what the check counts with.
    """
    b = View(build.parts)
    part, launches = b.coupling.gearbox_joint, b.coupling.launch_cycles
    shear = torsion.shear_stress(coupling.line(b).gearbox_input, shaft_diameter=part.joint_diameter)
    half = torsion.equivalent_stress(0.0, torsion_stress=shear) / 2
    endless = fatigue.endurance_limit(part.joint_ultimate, diameter=part.joint_diameter)
    counted = fatigue.fatigue_strength(launches, endurance=endless, ultimate=part.joint_ultimate)
    found = [
        fatigue.fatigue_margin(
            part.joint_notch * half, mean=half, endurance=strength, ultimate=part.joint_ultimate,
            yield_strength=part.joint_yield,
        )
        for strength in (endless, counted)
    ]  # fmt: skip
    names = {"Soderberg": "soderberg", "Goodman (the check)": "goodman", "ASME elliptic": "asme_elliptic",
             "Gerber": "gerber", "first yield": "yielding"}  # fmt: skip
    rows = [
        (name, *(f"{float(getattr(n, field)):.3f}" for n in found), f"{1 / float(getattr(found[1], field)):.3f}")
        for name, field in names.items()
    ]
    head = ("rule", "factor, endless life", f"factor, {launches:,.0f} launches", "used of these, 1 / factor")
    return table(head, rows)


def bending_table(build: Build, *, moments: tuple[float, ...]) -> Shown:
    """The input shaft with a steady bending moment beside its torque: a turning shaft swings it fully each turn."""
    b = View(build.parts)
    part = b.coupling.gearbox_joint
    shear = torsion.shear_stress(coupling.line(b).gearbox_input, shaft_diameter=part.joint_diameter)
    endurance = fatigue.endurance_limit(part.joint_ultimate, diameter=part.joint_diameter)
    rows = []
    for moment in moments:
        bent = torsion.bending_stress(moment, shaft_diameter=part.joint_diameter)
        swings = torsion.equivalent_stress(part.joint_notch * bent, torsion_stress=part.joint_notch * shear / 2)
        stays = torsion.equivalent_stress(0.0, torsion_stress=shear / 2)
        n = fatigue.fatigue_margin(
            swings, mean=stays, endurance=endurance, ultimate=part.joint_ultimate, yield_strength=part.joint_yield
        )  # fmt: skip
        static = torsion.equivalent_stress(bent, torsion_stress=shear)
        rows.append((both(moment, "N m"), _stress(bent), _stress(static), f"{float(n.goodman):.2f}"))
    head = ("bending moment", "bending stress", "with full torque, von Mises", "Goodman, endless life")
    return table(head, rows)


def shrink_table(build: Build, *, interference: str, hub_diameter: str, hub_length: str) -> Shown:
    """A plain hub shrunk on this build's input shaft: pressure, what friction holds, heat to fit it."""
    b = View(build.parts)
    part, asked = b.coupling.gearbox_joint, coupling.line(b).gearbox_input
    tight, outside, length = (units.read(text, "m") for text in (interference, hub_diameter, hub_length))
    fit = shrink.shrink_fit(tight, shaft_diameter=part.joint_diameter, hub_diameter=outside)
    held = shrink.shrink_torque(
        fit.pressure, shaft_diameter=part.joint_diameter, hub_length=length,
        friction=b.coupling.sleeve.spline_friction,
    )  # fmt: skip
    warm = shrink.shrink_warming(tight, clearance=tight, shaft_diameter=part.joint_diameter)
    rows = (
        ("interference on the diameter", small(tight)),
        ("pressure between hub and shaft", _stress(fit.pressure)),
        ("tension in the hub's bore", _stress(fit.hub_hoop)),
        (f"torque that friction of {b.coupling.sleeve.spline_friction:g} holds", both(held, "N m")),
        ("asked, both machines with shock", both(asked, "N m")),
        ("hub warmer than the shaft: for the interference, and as much again to slide", f"{float(warm):.0f} K"),
    )
    return table(("what", "value"), rows)


def _stress(value: Any) -> str:
    return units.show(float(value), "Pa", shown=STRESS)


def alternatives(build: Build) -> Shown:
    """What shortens the line, part by part, and what each costs."""
    spare = float(coupling.length(View(build.parts)).whole)
    room = float(View(build.parts).coupling.package.package_room)
    changes: tuple[tuple[str, dict[str, float], str], ...] = (
        ("as it is", {}, ""),
        ("flange ring 60 mm in place of the present one", {"coupling.cut.face_distance": 0.060},
         "less spline: a shorter sleeve, work out lesson 3 again"),
        (STUB, {"coupling.package.adapter_length": LONG},
         "no machining of the gearbox input, but length and a softer shaft"),
        ("no room behind the far machine", {"coupling.package.tail_allowance": 0.0},
         "brushes out of reach with the line in place"),
    )  # fmt: skip
    rows = []
    for name, change, cost in changes:
        whole = float(coupling.length(View(build.changed(change).parts)).whole)
        rows.append(
            (name, both(whole, "m"), f"{(room - whole) * 1000:+.0f} mm", f"{(whole - spare) * 1000:+.0f} mm", cost)
        )
    return table(("change", "line", "left", "against now", "what it costs"), rows)


def _joints(b: View) -> tuple[tuple[str, float], ...]:
    """The build's joint, and the same with an adapter of 8 in in place of its own: name and shaft length [m]."""
    now, adapter = b.coupling.gearbox_joint.joint_length, b.coupling.package.adapter_length
    return (OWN, now), (STUB, now + LONG - adapter)


def short_or_long(build: Build) -> Shown:
    """The build's own joint beside a stub with its long adapter: length, stiffness, wind-up, torsional modes."""
    b = View(build.parts)
    part, torque = b.coupling.gearbox_joint, coupling.line(b).gearbox_input
    adapters = (b.coupling.package.adapter_length, LONG)
    rows = []
    for (name, length), adapter in zip(_joints(b), adapters, strict=True):
        k = torsion.torsional_stiffness(length, shaft_diameter=part.joint_diameter)
        angle = torsion.twist(torque, shaft_length=length, shaft_diameter=part.joint_diameter)
        rows.append((name, both(adapter, "m"), both(length, "m"), f"{float(k) / 1000:.1f} kN m/rad",
                     f"{math.degrees(float(angle)):.2f} deg", *_hertz(chain(build, to_gearbox=float(k)))))  # fmt: skip
    head = ("joint", "adapter", "shaft that twists", "stiffness", "winds up at full torque", "mode 1", "mode 2")
    return table(head, rows)


def _hertz(found: vibration.Modes) -> tuple[str, ...]:
    return tuple(f"{float(w) / (2 * math.pi):.0f} Hz" for w in found.frequencies[1:])


def pump_table(build: Build) -> Shown:
    """What turns the pump: force on a tang, its stresses, against the hub's steel."""
    b = View(build.parts)
    p = b.coupling.gearbox_joint
    s = joint.tang_stress(
        p.pump_drive_torque, tang_count=p.tang_count, tang_radius=p.tang_radius, tang_width=p.tang_width,
        tang_depth=p.tang_depth, tang_engagement=p.tang_engagement,
    )  # fmt: skip
    force = p.pump_drive_torque / (p.tang_count * p.tang_radius)
    rows = [("force on one tang", both(force, "N"))]
    rows += [
        (name, units.show(float(value), "Pa", shown=STRESS))
        for name, value in (("shear at the root", s.shear), ("bending at the root", s.bending),
                            ("pressure on its side", s.bearing), ("yield of the hub's steel", p.pump_hub_yield))
    ]  # fmt: skip
    return table(("what", "value"), rows)


def write_drawings(build: Build) -> None:
    """Write the side view (SVG and PDF, 1 to 10) and the adapter plate (DXF) into your own folder."""
    path = folder() / "sheets"
    path.mkdir(exist_ok=True)
    page = side_view_page(side_result(build), title=build.name)
    for ending in ("svg", "pdf"):
        page.savefig(
            path / f"side_view.{ending}", metadata={"Date": None} if ending == "svg" else {"CreationDate": None}
        )
    write_atomically(path / "adapter_plate.dxf", drawings.adapter_dxf(build))
    print("Written: sheets/side_view.svg, side_view.pdf (1 to 10) and adapter_plate.dxf in your own folder.")


def say_scatter(build: Build, *, scatter: float) -> str:
    """What another scatter makes of the ring between the frames, in one sentence."""
    b = View(build.parts)
    part = b.coupling.flange
    said = []
    for value in (part.preload_scatter, scatter):
        clamp = bolts.preload(
            part.tightening_torque, bolt_diameter=part.bolt_diameter, nut_factor=part.nut_factor, preload_scatter=value
        )
        held = bolts.friction_torque(
            clamp.least, bolt_count=part.bolt_count, bolt_circle=part.bolt_circle, face_friction=part.face_friction
        )
        said.append(f"{100 * value:.0f} %: holds {both(held, 'N m')}, a bolt gets up to {both(clamp.most, 'N')}")
    return "With a scatter of " + "; of ".join(said) + "."


def say_long(build: Build, *, adapter: float) -> str:
    """Whether the line fits with another adapter, in one sentence."""
    b = View(build.changed({"coupling.package.adapter_length": adapter}).parts)
    whole, room = float(coupling.length(b).whole), float(b.coupling.package.package_room)
    word = "to spare" if whole <= room else "too long"
    left = both(abs(room - whole), "m")
    return f"The line would be {both(whole, 'm')} long where there is {both(room, 'm')}: {left} {word}."


def say_pump(build: Build) -> str:
    """Growth toward the pump for both places of the located bearing, in one sentence."""
    said = []
    for end in ("coupling end", "far end"):
        b = View(build.changed({"coupling.near_shaft.located_bearing": end}).parts)
        p = b.coupling.gearbox_joint
        grown = coupling.growth_to_pump(b)
        left = joint.pump_gap(p.pump_depth, hub_reach=p.hub_reach, hub_float=p.hub_float, growth=grown)
        said.append(f"{end}: grows {small(grown)} toward the pump, {both(left, 'm')} left")
    return "It comes nearer. Located at the " + "; located at the ".join(said) + "."


def overhang_table(build: Build) -> Shown:
    """What the far machine's weight asks of the ring if nothing else carries it."""
    b = View(build.parts)
    part = b.coupling.flange
    moment = package.overhung_moment(b.machine.machine_mass, distance=b.coupling.package.far_machine_length / 2)
    pull = bolts.bolt_pull_of_overhang(moment, bolt_count=part.bolt_count, bolt_circle=part.bolt_circle)
    clamp = bolts.preload(
        part.tightening_torque, bolt_diameter=part.bolt_diameter, nut_factor=part.nut_factor,
        preload_scatter=part.preload_scatter,
    )  # fmt: skip
    mass, arm = float(b.machine.machine_mass), float(b.coupling.package.far_machine_length) / 2
    rows = [
        ("moment about the ring", f"{mass:g} kg × 9.81 × {arm:g} m, half of its length", both(moment, "N m")),
        ("pull on the worst bolt, standing", f"4 × moment ÷ ({part.bolt_count:.0f} bolts × {part.bolt_circle:g} m)",
         both(pull, "N")),
        ("pull on a bad road", "5 × that", both(5 * pull, "N")),
        ("least preload of a bolt", "as above", both(clamp.least, "N")),
    ]  # fmt: skip
    return table(("far machine, unsupported", "working", "value"), rows)


def pins_table(build: Build) -> Shown:
    """What a micrometer over pins, and gauge blocks between pins, should read on the build's spline."""
    s, g = View(build.parts).coupling.sleeve, coupling.geometry(View(build.parts))
    angle = coupling.pressure_angle(View(build.parts))
    outer, inner = 1.92 * s.spline_module, 1.728 * s.spline_module
    over = spline.over_pins(
        s.spline_teeth, spline_module=s.spline_module, pressure_angle=angle, tooth_width=g.tooth_width,
        pin_diameter=outer,
    )  # fmt: skip
    between = spline.between_pins(
        s.spline_teeth, spline_module=s.spline_module, pressure_angle=angle, space_width=g.tooth_width,
        pin_diameter=inner,
    )  # fmt: skip
    rows = [
        (name, f"{1000 * float(pin):.3f} mm", f"{1000 * float(value):.3f} mm")
        for name, pin, value in (("shaft, over two pins", outer, over), ("sleeve, between two pins", inner, between))
    ]
    return table(("where", "pin", "reading, no clearance"), rows)


def whirl_table(build: Build) -> Shown:
    """First whirling speed of the joint's shaft, held at both ends."""
    b = View(build.parts)
    part = b.coupling.gearbox_joint
    rows = []
    for name, span in _joints(b):
        area = math.pi * part.joint_diameter**2 / 4
        lumps = [7850.0 * area * span / 9] * 9
        places = [span * (i + 0.5) / 9 for i in range(9)]
        found = vibration.whirl(lumps, places=places, span=span, shaft_diameter=part.joint_diameter)
        rows.append((name, both(span, "m"), _about(found.exact), both(b.machine.speed_limit, "rad/s")))
    return table(("joint", "span", "whirls first at", "speed limit"), rows)


def _about(speed: Any) -> str:
    """A speed to two figures: more would be a boast."""
    return f"about {float(f'{60 * float(speed) / (2 * math.pi):.2g}'):,.0f} rpm"
