"""Panels of the motors lesson: Envelope (with a still of it), How long, Mismatch; other pictures: motors_pictures."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build import line, machine_heat
from evlib.build.schema import Build, Targets
from evlib.build.view import View
from evlib.figures import motors as figures
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.ground.quantity import Number, Quantity, quantities
from evlib.motors import controller as controllers
from evlib.motors import heat, pack, pair
from evlib.motors.envelope import envelope
from evlib.motors.parts import Controller, Machine, Pack
from evlib.motors.quantities import Current, FluxMismatch
from evlib.panels.controls import QuantityControl
from evlib.panels.markup import show
from evlib.panels.motors_pictures import show_machine as show_machine
from evlib.panels.motors_pictures import show_runaway as show_runaway
from evlib.panels.motors_pictures import show_sag as show_sag
from evlib.panels.motors_pictures import show_sheet as show_sheet
from evlib.panels.panel import Panel, Table, Twin, amount, choice, quantity
from evlib.panels.twin import Amount

DAY = 86_400.0
MINUTES = Quantity("t", "s", "time", low=0, shown={"SI": "min", "shop": "min"})
HEAT = Quantity("P", "W", "copper loss", low=0)
POINTS = 121


def _minutes(seconds: float) -> str:
    if seconds >= DAY:
        return "no limit"
    return f"{seconds / 60:.0f} min" if seconds >= 600 else f"{seconds / 60:.1f} min"


def _seconds(b: View, current: float, speed: float, **change: Any) -> float:
    """Time to the winding limit from the hottest air [s], a day at most."""
    return float(min(float(machine_heat.seconds_to_limit(b, current, speed, **change)), DAY))


# --- the envelope -------------------------------------------------------------------------------------------------
CHARGES = (0.2, 0.9)


def envelope_panel(build: Build) -> Panel:
    """The most torque and power at each speed, and which limit says so."""
    b = View(build.parts)
    line.only_series(b)
    fixed = line.envelope_arguments(b)
    speeds = np.linspace(0.0, float(b.machine.speed_limit), POINTS)
    p, c, m = (quantities(kind) for kind in (Pack, Controller, Machine))

    def supplied(charge: float, cells: float, ohms: float) -> dict[str, Number]:
        return {
            "open_volts": pack.open_volts(
                charge, cell_open_voltage=b.pack.cell_open_voltage, cells_in_series=cells),
            "pack_resistance": pack.pack_resistance(
                ohms, cells_in_series=cells, cells_in_parallel=b.pack.cells_in_parallel,
                link_resistance=b.pack.link_resistance, pack_temperature=b.pack.pack_temperature,
                resistance_temperature_constant=b.pack.resistance_temperature_constant, state_of_charge=charge),
            "cut_off_volts": pack.cut_off_volts(b.pack.cell_cut_off, cells_in_series=cells),
        }  # fmt: skip

    def compute(*, cells_in_series: float, cell_resistance: float, state_of_charge: float,
                controller_pack_current_limit: float, motor_current_limit: float, machine_count: float,
                wiring: Any, arrangement: Any) -> figures.EnvelopeCase:  # fmt: skip
        shared = controllers.layout(machine_count, wiring=wiring, arrangement=arrangement)
        case = {
            **fixed, "in_series": shared.in_series, "in_parallel": shared.in_parallel,
            "controllers": shared.controllers, "motor_current_limit": motor_current_limit,
            "controller_pack_current_limit": controller_pack_current_limit,
        }  # fmt: skip

        def at(charge: float) -> Any:
            return envelope(speeds, **{**case, **supplied(charge, cells_in_series, cell_resistance)})

        found = at(state_of_charge)
        peak = int(np.argmax(found.power))
        return figures.EnvelopeCase(
            envelope=found, others=tuple((f"{100 * s:.0f} %", at(s)) for s in CHARGES),
            speed_limit=float(speeds[-1]), peak=peak,
            open_volts=float(supplied(state_of_charge, cells_in_series, cell_resistance)["open_volts"]),
            seconds_at_peak=_or_a_day(b, float(found.current[peak]), float(speeds[peak])),
            half_speed=float(speeds[-1]) / 2,
            seconds_at_half=_or_a_day(b, float(found.current[0]), float(speeds[-1]) / 2),
        )  # fmt: skip

    return Panel(
        id="motors.envelope",
        title="Envelope: which limit governs",
        controls=(
            quantity("pack.cells_in_series", p["cells_in_series"], build.value("pack.cells_in_series")),
            quantity("pack.cell_resistance", p["cell_resistance"], build.value("pack.cell_resistance")),
            quantity("pack.state_of_charge", p["state_of_charge"], build.value("pack.state_of_charge")),
            quantity("controller.controller_pack_current_limit", c["controller_pack_current_limit"],
                     build.value("controller.controller_pack_current_limit")),
            quantity("controller.motor_current_limit", c["motor_current_limit"],
                     build.value("controller.motor_current_limit")),
            quantity("machine.machine_count", m["machine_count"], build.value("machine.machine_count")),
            choice("machine.wiring", ("series", "parallel"), start=build.value("machine.wiring"),
                   label="machines on one controller joined in"),
            choice("controller.arrangement", ("one for all", "one each"),
                   start=build.value("controller.arrangement"), label="controllers"),
        ),
        compute=compute, draw=figures.envelope, twin=envelope_twin, size=(6.4, 5.4), layout=(2, 1), room=0.17,
        probe="motor_current_limit",
    )  # fmt: skip


def _or_a_day(b: View, current: float, speed: float) -> float:
    try:
        return _seconds(b, current, speed)
    except (NotKnown, DoesNotApply):
        return DAY


def envelope_twin(result: figures.EnvelopeCase, *, system: str = "SI") -> Twin:
    """The envelope in words."""
    e, i = result.envelope, result.peak
    at = {name: float(np.asarray(getattr(e, name))[i]) for name in ("power", "speed", "pack_volts", "current")}
    rest = amount(float(np.asarray(e.torque)[0]), figures.TORQUE)
    rest_amps = amount(float(np.asarray(e.current)[0]), figures.CURRENT)
    power, speed = amount(at["power"], figures.POWER), amount(at["speed"], figures.SPEED)
    volts = amount(at["pack_volts"], figures.VOLTS)
    order = [f"{word} to {amount(float(np.asarray(e.speed)[end - 1]), figures.SPEED).show(system=system)}"
             for word, _, end in figures.runs(e.governing)]  # fmt: skip
    said = {name: each.show(system=system) for name, each in (("P", power), ("n", speed), ("U", volts), ("T", rest))}
    said["I"] = rest_amps.show(system=system)
    half = amount(result.half_speed, figures.SPEED).show(system=system)
    grey = ("Thin grey: 90 % charge above, 20 % below." if figures.charge_tells(result) else
            "On a pack at 90 % or 20 % charge it is the same.")  # fmt: skip
    sag = amount(result.open_volts - at["pack_volts"], figures.VOLTS)
    return Twin(
        alt=f"Torque over speed starts at {said['T']}; power over speed peaks with {said['P']} at {said['n']}. "
            f"Governing limits in order: {', '.join(order)}. {grey}",
        sentence=f"{said['T']} at rest; largest power {said['P']} at {said['n']}: there {e.governing[i]} govern"
                 f"{'' if str(e.governing[i]).endswith(('amps', 'volts', 'brushes')) else 's'}, the pack has sagged by "
                 f"{sag.show(system=system)} to {said['U']}, and the winding is hot after "
                 f"{_minutes(result.seconds_at_peak)}.".replace("hot after no limit", "never hot"),
        table=Table(("what", "value"), (
            ("torque at rest", rest),
            ("current at rest, one machine", rest_amps),
            ("largest power", power), ("at speed", speed), ("pack voltage there", volts),
            ("pack current there", amount(float(np.asarray(e.pack_current)[i]), figures.CURRENT)),
            ("machine current there", amount(at["current"], figures.CURRENT)),
            ("limits in order", "; ".join(order)),
            (f"winding hot at {said['I']} in each, at {half}", _minutes(result.seconds_at_half)),
            (f"winding hot at largest power, at {said['n']}", _minutes(result.seconds_at_peak)),
        )),
    )  # fmt: skip


def show_envelope(build: Build, **changes: float) -> None:
    """The envelope panel's picture at changed values, e.g. ``motor_current_limit=300``, as a still."""
    panel = envelope_panel(build)
    result = panel.compute(**{**panel.start, **changes})
    what = ", ".join(
        f"{c.label} {c.show(changes[c.name], system='SI')}"
        for c in panel.controls
        if isinstance(c, QuantityControl) and c.name in changes
    )
    show(figures.envelope, result, envelope_twin(result), title=f"Still: {what}", size=panel.size, layout=panel.layout,
         room=panel.room)  # fmt: skip


# --- how long -----------------------------------------------------------------------------------------------------
def how_long_panel(build: Build) -> Panel:
    """Minutes until the winding limit at a steady current, blower on or off."""
    b = View(build.parts)
    line.only_series(b)
    cruise = machine_heat.half_speed(b)

    def compute(*, current: float, hottest_air: float, blower: str) -> figures.HeatCase:
        still, air = blower == "off", hottest_air
        body, start = machine_heat.body(b, still=still), {
            "start_winding": air, "start_frame": air, "air_temperature": air,
            "other_loss": float(line.frame_loss(b, current, cruise)),
        }  # fmt: skip
        beyond = heat.time_to_limit(current, winding_limit=min(float(b.machine.winding_limit) + 30.0, 599.0),
                                    **start, **body)  # fmt: skip
        time = np.linspace(0.0, min(3600.0, float(beyond)), 90)
        warm = heat.temperatures_after(time, current=current, **start, **body)
        return figures.HeatCase(time, np.asarray(warm.winding), np.asarray(warm.frame), float(b.machine.winding_limit),
                                air, current, cruise, _seconds(b, current, cruise, air=air, still=still),
                                float(machine_heat.continuous_current(b, cruise, air=air, still=still)))  # fmt: skip

    return Panel(
        id="motors.how_long",
        title="How long until the winding is at its limit",
        controls=(
            quantity("current", Current, 300.0),
            quantity("targets.hottest_air", quantities(Targets)["hottest_air"], build.value("targets.hottest_air")),
            choice("blower", ("on", "off"), label="blower"),
        ),
        compute=compute, draw=figures.heat, twin=how_long_twin, probe="current",
        probe_start={"current": "400 A"},
    )  # fmt: skip


def how_long_twin(result: figures.HeatCase, *, system: str = "SI") -> Twin:
    """Warming up in words."""
    amps, forever = amount(result.current, figures.CURRENT), amount(result.continuous, figures.CURRENT)
    air, limit = amount(result.air, figures.TEMPERATURE), amount(result.limit, figures.TEMPERATURE)
    last = amount(float(result.winding[-1]), figures.TEMPERATURE)
    when = _minutes(result.seconds)
    why = "an hour" if result.time[-1] >= 3599.0 else "when the winding is past its limit by 30 K"
    how = "never reaches its limit" if result.seconds >= DAY else f"reaches its limit after {when}"
    return Twin(
        alt=f"Winding temperature rises from {air.show(system=system)} to {last.show(system=system)} within "
            f"{result.time[-1] / 60:.0f} minutes, the frame far behind; dotted limit at {limit.show(system=system)}.",
        sentence=f"At {amps.show(system=system)} in each machine the winding {how}; for ever it carries "
                 f"{forever.show(system=system)}.",
        table=Table(("what", "value"), (
            ("current", amps), ("turning at", amount(result.speed, figures.SPEED)), ("air", air),
            ("winding limit", limit), ("time to the limit", when),
            ("the curves end after", f"{result.time[-1] / 60:.0f} min, {why}"),
            ("winding there", last),
            ("frame there", amount(float(result.frame[-1]), figures.TEMPERATURE)),
            ("continuous current", forever),
        )),
    )  # fmt: skip


# --- mismatch -----------------------------------------------------------------------------------------------------
SPAN = np.linspace(-0.1, 0.1, 81)


def mismatch_panel(build: Build) -> Panel:
    """Two machines on one shaft whose fluxes differ: what series and parallel do about it."""
    b = View(build.parts)
    line.only_series(b)
    feed = {"magnetisation": line.magnetisation(b), "winding_resistance": line.warm_resistance(b),
            "brush_drop": b.machine.brush_drop}  # fmt: skip

    def compute(*, flux_mismatch: float, current: float, speed: float, wiring: str) -> figures.MismatchCase:
        def share(at: Any) -> Any:
            if wiring == "series":
                return pair.series_share(current, speed=speed, flux_mismatch=at, **feed)
            return pair.parallel_share(2 * current, speed=speed, flux_mismatch=at, **feed)

        row, here = share(SPAN), share(flux_mismatch)
        names = ("first_current", "second_current", "first_volts", "second_volts", "first_torque", "second_torque",
                 "first_copper", "second_copper")  # fmt: skip
        return figures.MismatchCase(SPAN, np.asarray(row.first_current), np.asarray(row.second_current), flux_mismatch,
                                    wiring, {name: float(getattr(here, name)) for name in names})  # fmt: skip

    return Panel(
        id="motors.mismatch",
        title="Mismatch: two unlike machines on one shaft",
        controls=(
            quantity("flux_mismatch", FluxMismatch, 0.03),
            quantity("current", MEAN_CURRENT, 300.0),
            quantity("speed", RUNNING_SPEED, 200.0),
            choice("wiring", ("parallel", "series"), label="machines joined in"),
        ),
        compute=compute, draw=figures.mismatch, twin=mismatch_twin, probe="flux_mismatch",
    )  # fmt: skip


MEAN_CURRENT = Quantity("I_av", "A", "mean current of the two", above=0, high=2500, slider=(50, 900))
RUNNING_SPEED = Quantity("w", "rad/s", "speed of the shaft", low=0, high=3000, slider=(0, 570))


def mismatch_twin(result: figures.MismatchCase, *, system: str = "SI") -> Twin:
    """The sharing in words."""
    here = {name: Amount(value, unit) for (name, value), unit in
            zip(result.here.items(), ("A", "A", "V", "V", "N m", "N m", "W", "W"), strict=True)}  # fmt: skip
    said = {name: each.show(system=system) for name, each in here.items()}
    ratio = result.here["first_copper"] / max(result.here["second_copper"], 1e-9)
    off = f"{100 * result.chosen:.1f} %"
    return Twin(
        alt=f"Two current lines over mismatch, in {result.wiring}: at {off} the first carries {said['first_current']} "
            f"and the second {said['second_current']}.",
        sentence=f"In {result.wiring}, a second machine with {off} more flux leaves {said['first_current']} to the "
                 f"first and takes {said['second_current']}; the first winding is heated {ratio:.2f} times as much.",
        table=Table(("what", "first", "second"), (
            ("current", here["first_current"], here["second_current"]),
            ("voltage", here["first_volts"], here["second_volts"]),
            ("torque inside", here["first_torque"], here["second_torque"]),
            ("copper loss", here["first_copper"], here["second_copper"]),
        )),
    )  # fmt: skip
