"""Pictures of the gearing lesson that nobody moves: the planetary set from two sides, coast-down, cycle."""

from __future__ import annotations

import html

from evlib.build import gears
from evlib.build.cycle import Cycle
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.figures import gearing as figures
from evlib.gearing.coast_down import CoastFit
from evlib.gearing.set_picture import set_picture
from evlib.ground import units
from evlib.ground.shown import Shown
from evlib.panels.markup import show
from evlib.panels.panel import Table, Twin


def show_set(build: Build) -> Shown | None:
    """The build's two-sun set from its end and from its side: where each member lies and what it meshes."""
    b = View(build.parts)
    if not gears.has(b, "gearbox") or b.gearbox.arrangement != "two-sun planetary":
        said = f"{build.name} has no two-sun set: this picture does not apply."
        return Shown(said, f"<p>{html.escape(said)}</p>")
    box = b.gearbox
    picture = set_picture(
        box.input_sun_teeth, low_sun=box.low_sun_teeth, short_planet=box.short_planet_teeth,
        long_planet=box.long_planet_teeth, planet_count=box.planet_count,
    )  # fmt: skip
    teeth = {circle.name: 2 * circle.radius for circle in picture.circles}
    meshes = (("input sun", "long planets", "the motors drive it"),
              ("long planet", "input sun, short planets", "rides on the carrier; long along the shaft"),
              ("short planet", "long planets, low sun, ring", "rides on the carrier; short along the shaft"),
              ("low sun", "short planets", "the band holds it in low; the direct clutch locks it to the input"),
              ("ring", "short planets", "the reverse clutch holds it"))  # fmt: skip
    rows = [(f"{number} {name}", f"{teeth[name]:.0f}", mates, what)
            for name, mates, what in meshes for number in (figures.NUMBERS[name],)]  # fmt: skip
    rows.append(
        (f"{figures.NUMBERS['carrier']} carrier", "none", "nothing; it carries the planets' pins", "drives out")
    )
    rows.sort()
    count = f"{float(box.planet_count):.0f}"
    say = Twin(
        alt=f"Left, the set from its end, to scale: two suns in the middle, {count} pairs of a long and a short planet "
        "around them, the ring outside; short planets reach the ring, long ones do not. Right, from the side: the low "
        "sun, the short planets and the ring lie in the front plane, the input sun in the rear one; long planets "
        "reach through both.",
        sentence=f"The long planets ({teeth['long planet']:.0f} teeth) are the smaller ones here: long says how far "
        "they reach along the shaft, through both planes. The short planets "
        f"({teeth['short planet']:.0f} teeth) lie in the front plane only.",
        table=Table(("member", "teeth", "meshes with", "what it does"), tuple(rows)),
    )
    show(figures.two_views, picture, say, title="The planetary set, from its end and from its side", layout=(1, 2),
         size=(8.4, 4.0), room=0.02)  # fmt: skip
    return None


def show_coast_down(found: CoastFit) -> None:
    """The fitted coast-down: both runs, and what is left between log and fit."""
    names = {"rolling_coefficient": "rolling coefficient", "drag_area": "drag area", "grade": "slope of the road",
             "headwind": "wind against the run out"}  # fmt: skip
    unit = {"drag_area": "m2", "headwind": "m/s"}
    rows = []
    for name, value in found.values.items():
        digits = {"rolling_coefficient": 4, "grade": 5}.get(name, 3)
        text = f"{value:.{digits}f} ± {found.half_width[name]:.{digits}f}"
        rows.append((names[name], f"{text} {units.pretty(unit.get(name, ''))}".strip()))
    scatter = units.show(found.scatter, "m/s")
    said = f"The fit misses the logs by {scatter} (one standard deviation); the ranges are 95 % intervals."
    air = "rolling and air drag" if "drag_area" in found.values else "drag that is the same at every speed"
    alt = f"Speed over time for both runs, logged dots on lines fitted with {air}; below, logged less fitted speeds."
    show(figures.coast_down, found, Twin(alt=alt, sentence=said, table=Table(("what", "value"), tuple(rows))),
         title="Coast-down", layout=(2, 1), size=(6.0, 4.6), room=0.12)  # fmt: skip


def show_cycle(found: Cycle, *, name: str) -> None:
    """A driven cycle: asked and driven speed, and what it costs."""
    follows = "It follows the trace." if found.follows else (
        f"It falls behind by up to {units.show(found.worst_short, 'm/s')}, at {found.worst_time:.0f} s.")  # fmt: skip
    rows = [
        ("way", f"{found.driven.distance / 1000:.2f} km"),
        ("energy from the cells", f"{found.per_metre / 3.6:.0f} Wh/km"),
        ("range on four fifths of the charge", f"{found.range / 1000:.0f} km"),
        ("pack current, rms", f"{found.pack_rms:.0f} A"),
    ]
    if found.motor_rms is not None and found.winding is not None:
        rows.append(("current in each motor, rms", f"{found.motor_rms:.0f} A"))
        rows.append(("windings when that is driven", units.show(found.winding, "K", kind="reading")))
    alt = f"Speed over time on the {name} cycle: the asked speed as a wide grey line, the driven one thin upon it."
    said = f"{found.per_metre / 3.6:.0f} Wh/km, {found.range / 1000:.0f} km. {follows}"
    show(figures.cycle, found.driven, Twin(alt=alt, sentence=said, table=Table(("what", "value"), tuple(rows))),
         title=f"Cycle: {name}", size=(6.8, 3.0), room=0.12)  # fmt: skip
