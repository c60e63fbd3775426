"""What the learner moves in the hydraulics lesson: launch, handover, stop and go; deep: the line."""

from __future__ import annotations

import functools
import sys
from pathlib import Path
from typing import Any, Literal

import numpy as np

from evlib.build import hydraulic_cases as cases
from evlib.build import launch as on_build
from evlib.build.hydraulic_cases import DriveCase, HandoverCase, LaunchCase, LineCase, LogCase
from evlib.build.launch import OilState
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.figures import hydraulics as figures
from evlib.ground import units
from evlib.ground.units import HOSE_BORE
from evlib.hydraulics import quantities as q
from evlib.panels.markup import show
from evlib.panels.panel import Panel, Table, Twin, amount, choice, quantity


def _oils(b: View) -> Any:
    """The build's oil at a temperature, remembered: a panel asks for the same few again and again."""

    @functools.lru_cache(maxsize=512)
    def at(temperature: float) -> OilState:
        return on_build.oil_at(b, temperature)

    return at


# --- launch -----------------------------------------------------------------------------------------------------


def launch_panel(build: Build) -> Panel:
    """Launch: where pump curve and leakage cross, and the torque that this pressure holds."""
    b = View(build.parts)
    oil = _oils(b)

    def compute(
        *, gear: Literal["low", "reverse"], launch_current: float, supply_voltage: float, hot_temperature: float,
        clearance_growth: float, back_flow: str,
    ) -> LaunchCase:  # fmt: skip
        volts = max(supply_voltage - float(on_build.wire_drop(b, b.hydraulics.electric_pump.rated_current)), 0.0)
        return cases.launch_case(
            b, gear=gear, current=launch_current, volts=volts, oil=oil(hot_temperature), growth=clearance_growth,
            back_flow=back_flow,
        )  # fmt: skip

    return Panel(
        id="hydraulics.launch",
        title="Launch: what pressure at rest holds",
        controls=(
            choice("gear", ("low", "reverse"), start="reverse"),
            quantity("launch_current", q.AskedCurrent, build.value("hydraulics.launch.launch_current_reverse")),
            _of(build, "supply.supply_voltage", q.SupplyVolts),
            _of(build, "oil.hot_temperature", q.HotTemperature),
            _of(build, "internal_pump.clearance_growth", q.ClearanceGrowth),
            choice("hydraulics.internal_pump.back_flow", ("open", "outlet valve"),
                   start=build.value("hydraulics.internal_pump.back_flow"), label="internal pump's outlet"),
        ),
        compute=compute,
        draw=figures.launch,
        twin=launch_twin,
        size=(6.4, 5.2),
        layout=(2, 1),
        room=0.21,
        probe="clearance_growth",
    )  # fmt: skip


def _of(build: Build, path: str, declared: Any) -> Any:
    path = f"hydraulics.{path}"
    return quantity(path, declared, build.value(path))


def launch_twin(result: LaunchCase, *, system: str = "SI") -> Twin:
    """The launch case in words."""
    pressure = figures.PRESSURE.show(result.rest_pressure, system=system)
    held = figures.TORQUE.show(result.allowed_at_rest, system=system)
    asked = figures.TORQUE.show(result.asked, system=system)
    ends = "it holds" if result.allowed_at_rest >= result.asked else "it slips"
    rows = [("pressure at rest", amount(result.rest_pressure, figures.PRESSURE)),
            ("torque asked", amount(result.asked, figures.TORQUE)),
            (f"torque that {result.gear} holds", amount(result.allowed_at_rest, figures.TORQUE))]  # fmt: skip
    rows += [(f"flow through {name}", amount(flow, figures.FLOW)) for name, flow in result.shares.items()]
    return Twin(
        alt=f"Above, the falling pump curve crosses the rising leakage at {pressure}. Below, the torque that "
        f"{result.gear} holds rises with pressure; at that pressure it is {held}, and {asked} are asked.",
        sentence=f"At rest the pump holds {pressure}; {result.gear} then holds {held} at the input, {asked} are asked: "
        f"{ends}.",
        table=Table(("what", "value"), tuple(rows)),
    )


# --- handover ---------------------------------------------------------------------------------------------------


def handover_panel(build: Build) -> Panel:
    """Handover: from which speed the internal pump carries what the torque needs, and where the switch stands."""
    b = View(build.parts)
    oil = _oils(b)

    def compute(
        *, input_torque: float, displacement: float, clearance_growth: float, hot_temperature: float,
        hardest_braking: float, switch_on_speed: float, hysteresis: float,
    ) -> HandoverCase:  # fmt: skip
        return cases.handover_case(
            b, torque=input_torque, displacement=displacement, growth=clearance_growth, oil=oil(hot_temperature),
            braking=hardest_braking, on_speed=switch_on_speed, off_speed=switch_on_speed + hysteresis,
        )  # fmt: skip

    return Panel(
        id="hydraulics.handover",
        title="Handover: when the internal pump takes over",
        controls=(
            quantity("input_torque", q.AskedTorque, float(np.asarray(on_build.launch_torque(b, "low")))),
            _of(build, "internal_pump.displacement", q.Displacement),
            _of(build, "internal_pump.clearance_growth", q.ClearanceGrowth),
            _of(build, "oil.hot_temperature", q.HotTemperature),
            _of(build, "switch.hardest_braking", q.Braking),
            _of(build, "switch.switch_on_speed", q.SwitchOnSpeed),
            quantity("hysteresis", q.Hysteresis, _hysteresis(build)),
        ),
        compute=compute,
        draw=figures.handover,
        twin=handover_twin,
        size=(6.6, 4.0),
        room=0.21,
        probe="clearance_growth",
    )


def _hysteresis(build: Build) -> float | None:
    on, off = (build.value(f"hydraulics.switch.switch_{name}_speed") for name in ("on", "off"))
    return None if on is None or off is None else float(off - on)


def handover_twin(result: HandoverCase, *, system: str = "SI") -> Twin:
    """The handover in words."""

    def rpm(speed: float) -> str:
        return figures.SPEED.show(speed, system=system)

    good = result.on_speed >= result.needed_on_speed
    ends = "high enough" if good else "too low"
    return Twin(
        alt=f"The internal pump's flow rises with input speed and crosses what seals and valve body take at "
        f"{rpm(result.handover_speed)}; turning backwards it is below nil. Four upright lines mark handover, the "
        f"switch-on speed needed ({rpm(result.needed_on_speed)}) and the two that are set.",
        sentence=f"For {figures.TORQUE.show(result.torque, system=system)} the internal pump carries "
        f"{figures.PRESSURE.show(result.pressure, system=system)} from {rpm(result.handover_speed)}; braking hard asks "
        f"for a switch-on speed of {rpm(result.needed_on_speed)}, and {rpm(result.on_speed)} is {ends}.",
        table=Table(("what", "value"), (
            ("pressure that the torque needs", amount(result.pressure, figures.PRESSURE)),
            ("internal pump hands over at", amount(result.handover_speed, figures.SPEED)),
            ("switch-on speed needed", amount(result.needed_on_speed, figures.SPEED)),
            ("switch-on speed set", amount(result.on_speed, figures.SPEED)),
            ("switch-off speed set", amount(result.off_speed, figures.SPEED)),
        )),
    )  # fmt: skip


# --- stop and go ------------------------------------------------------------------------------------------------


def stop_and_go_panel(build: Build) -> Panel:
    """Stop and go: a short trip with a hard stop, pressure over the pressure needed."""
    b = View(build.parts)
    oil = _oils(b)
    in_place = functools.lru_cache(maxsize=64)(lambda temperature: cases.in_place(b, oil(temperature)))
    hot = float(b.hydraulics.oil.hot_temperature)

    def simulated(samples: int, **values: float) -> DriveCase:
        on = values["switch_on_speed"]
        times, speeds = cases.trip(b, braking=values["hardest_braking"])
        run = cases.run_trip(
            b, times, speeds, oil(hot), in_place(hot), on_speed=on, off_speed=on + values["hysteresis"],
            switch_delay=values["switch_delay"], clearance_growth=values["clearance_growth"],
        )  # fmt: skip
        return cases.drive_case(b, run, times, speeds, samples=samples)

    return Panel(
        id="hydraulics.stop_and_go",
        title="Stop and go: pressure over the pressure needed",
        controls=(
            _of(build, "switch.switch_on_speed", q.SwitchOnSpeed),
            quantity("hysteresis", q.Hysteresis, _hysteresis(build)),
            _of(build, "switch.switch_delay", q.SwitchDelay),
            _of(build, "internal_pump.clearance_growth", q.ClearanceGrowth),
            _of(build, "switch.hardest_braking", q.Braking),
        ),
        compute=functools.partial(simulated, 801),
        coarse=functools.partial(simulated, 201),
        coarse_note="fewer samples while you move",
        draw=figures.stop_and_go,
        twin=stop_and_go_twin,
        size=(6.4, 5.2),
        layout=(2, 1),
        room=0.21,
        probe="switch_delay",
        probe_start={"switch_on_speed": "200 rpm"},
    )


def stop_and_go_twin(result: DriveCase, *, system: str = "SI") -> Twin:
    """The trip in words."""
    worst = min(result.dips, key=lambda dip: dip.lowest, default=None)
    lowest = f"{100 * result.lowest:.0f} % of the pressure needed"
    low = float(np.min(result.pressure[result.time > 1.0]))
    least = figures.PRESSURE.show(low, system=system)
    if worst is None:
        told = f"Pressure stays above what is needed; at its closest it is {lowest}."
    else:
        told = (
            f"Pressure falls to {least}, short of the need {len(result.dips)} times, first at "
            f"{result.dips[0].start:.2f} s; at worst it is {lowest}, and slip leaves "
            f"{result.heat_per_area / 1e4:.1f} J in each square centimetre of lining."
        )
    braking = figures.PRESSURE.show(result.braking_pressure, system=system)
    share = result.braking_pressure / result.launch_pressure
    ready = "enough to pull away at once" if share >= 1 else "a foot on the pedal then makes it slip"
    told += f" From braking on it falls to {braking}, {100 * share:.0f} % of what full launch torque needs: {ready}."
    return Twin(
        alt=f"Above, pressure over time and, dashed, what is needed; below, input speed, shaded while the electric "
        f"pump turns. The lowest pressure after the first second is {least}.",
        sentence=told,
        table=Table(("what", "value"), (
            ("lowest pressure after the first second", amount(low, figures.PRESSURE)),
            ("lowest from the start of braking on", amount(result.braking_pressure, figures.PRESSURE)),
            ("needed for full launch torque in low", amount(result.launch_pressure, figures.PRESSURE)),
            ("pressure over needed, at worst", f"{100 * result.lowest:.0f} %"),
            ("dips below what is needed", str(len(result.dips))),
            ("switchings of the electric pump", str(result.switchings)),
            ("heat of slip in the lining", f"{result.heat_per_area / 1e4:.2f} J/cm²"),
        )),
    )  # fmt: skip


# --- deep: the line ---------------------------------------------------------------------------------------------


def line_panel(build: Build) -> Panel:
    """Deep: loss of the pressure line over oil temperature, for three hose sizes."""
    b = View(build.parts)

    def compute(*, hose: str, flow: float, line_length: float, line_fittings: float) -> LineCase:
        return cases.line_case(b, flow=flow, dash=int(hose), length=line_length, fittings=line_fittings)

    sizes = [str(dash) for dash in sorted(HOSE_BORE)][1:-1]
    bore = build.value("hydraulics.line.line_bore")
    chosen = next((dash for dash in sizes if bore and abs(HOSE_BORE[int(dash)] - bore) < 1e-5), "6")
    flow = float(np.asarray(on_build.rest_hot(b).flow))
    return Panel(
        id="hydraulics.line",
        title="The pressure line: loss over oil temperature",
        controls=(
            choice("hose", sizes, start=chosen, label="hose size, dash"),
            quantity("flow", q.Flow, flow),
            _of(build, "line.line_length", q.LineLength),
            _of(build, "line.line_fittings", q.LineFittings),
        ),
        compute=compute,
        draw=figures.line,
        twin=line_twin,
        size=(6.4, 4.0),
        probe="line_length",
    )


def line_twin(result: LineCase, *, system: str = "SI") -> Twin:
    """The line's loss in words."""
    hot, cold = (units.show(v, "Pa", system=system) for v in (result.loss_hot, result.loss_cold))
    good = "within" if result.loss_hot <= result.allowed else "beyond"
    rows = tuple(
        (f"dash {dash}", amount(float(loss[-1]), figures.LOSS), amount(float(loss[0]), figures.LOSS))
        for dash, loss in result.loss.items()
    )
    return Twin(
        alt=f"Three falling curves of loss over oil temperature on a logarithmic scale. Dash {result.chosen} loses "
        f"{cold} with the coldest oil and {hot} with the hottest.",
        sentence=f"A dash {result.chosen} hose loses {hot} with hot oil, {good} what is accepted, and {cold} with the "
        f"coldest oil.",
        table=Table(("hose", "hot oil", "coldest oil"), rows),
    )


def show_log(name: str = "town_log.csv", *, needed: float = 450e3) -> None:
    """A pressure log as a picture, and beneath it each trouble with its time."""
    path = Path(name)
    if not path.exists():
        path = Path(sys.modules["evlib"].__file__ or "").resolve().parents[1] / "data" / "hydraulics" / name
    case = cases.log_case(path, needed=needed)
    title = f"The log {path.name}"
    show(figures.log, case, log_twin(case), title=title, size=(6.4, 5.2), layout=(2, 1), room=0.21)


def log_twin(result: LogCase, *, system: str = "SI") -> Twin:
    """A log's troubles in words."""
    needed = figures.PRESSURE.show(result.needed, system=system)
    rows = tuple(
        (str(number), f.trouble, f"{f.start:.2f} s", f"{f.end:.2f} s", f.words)
        for number, f in enumerate(result.found, start=1)
    )
    count = "No trouble was" if not rows else "One trouble was" if len(rows) == 1 else f"{len(rows)} troubles were"
    return Twin(
        alt=f"Above, pressure over {result.log.time[-1]:.0f} s and, dashed, the {needed} that are needed, each trouble "
        "shaded and numbered; below, input speed, shaded while the electric pump is on.",
        sentence=f"{count} found with {needed} as the pressure that is needed.",
        table=Table(("no.", "trouble", "from", "until", "how bad"), rows or (("", "none", "", "", ""),)),
    )


def show_circuit() -> None:
    """The circuit's picture with its text, for the lesson."""
    rows = (
        ("electric pump", "feeds the clutches while the motors stand"),
        ("speed switch, relay", "turn the electric pump on while the input is slow"),
        ("hose", "from the check valve to the gearbox"),
        ("check valve", "lets the electric pump's oil in, and no oil back through it; here it sits at the pump"),
        ("internal pump", "feeds everything once the motors turn fast enough; its outlet has no valve of its own"),
        ("main regulator", "feels main pressure (dashed) and spills what is too much; below its set point it is shut"),
        ("valve body", "sends the oil where the selector points"),
        ("low, direct, reverse", "a band or clutch each, applied by oil, let go by a spring"),
    )
    twin = Twin(
        alt="A circuit drawing; its three tanks are one pan. An electric pump, switched by speed switch and relay, "
        "feeds the main pressure line through a check valve and a hose. The internal "
        "pump, turned by the motors, feeds the same line; no valve stands at its outlet. The main regulator spills "
        "from the line into the pan. Through the valve body it feeds three pistons: low, direct and reverse.",
        sentence="Two pumps feed one line; the check valve keeps the oil from going back through the electric one.",
        table=Table(("part", "what it does"), rows),
    )
    show(figures.circuit, None, twin, title="The circuit", size=(6.8, 3.7), room=0.02)
