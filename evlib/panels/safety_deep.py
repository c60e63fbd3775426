"""What the learner moves in the Deep parts of the safety lesson: precharge, a cable, the shutdown loop."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.protection import full_volts, short_circuits, shutdown_circuit
from evlib.build.safety_deep_cases import (
    FREE,
    NOTHING,
    CableCase,
    LoopCase,
    PrechargeCase,
    cable_case,
    failures,
    loop_case,
    precharge_case,
)
from evlib.build.schema import Build
from evlib.build.view import View
from evlib.figures import safety_deep as figures
from evlib.ground import units, wire
from evlib.panels.panel import Amount, Panel, Table, Twin, choice, quantity
from evlib.safety import precharge
from evlib.safety import quantities as q


def precharge_panel(build: Build) -> Panel:
    """Deep: resistor, capacitor, wait and a forgotten load move; the curve and the blow at closing follow."""
    b = View(build.parts)
    part = b.protection.precharge
    fixed: dict[str, Any] = {
        "pack_voltage": float(np.asarray(full_volts(b))),
        "pack_resistance": float(np.asarray(short_circuits(b).least_resistance)),
        "circuit_resistance": 0.0, "discharge_resistance": float(b.protection.discharge.discharge_resistance),
        "closing_difference": float(part.precharge_closing_difference),
    }  # fmt: skip

    def compute(
        *, precharge_resistance: float, link_capacitance: float, precharge_wait: float, load_resistance: float
    ) -> PrechargeCase:
        return precharge_case(precharge_resistance, link_capacitance=link_capacitance, precharge_wait=precharge_wait,
                              load_resistance=load_resistance, **fixed)  # fmt: skip

    where = "protection.precharge."
    return Panel(
        id="safety.precharge",
        title="Precharge",
        controls=(
            quantity(where + "precharge_resistance", q.PrechargeResistance, float(part.precharge_resistance)),
            quantity(where + "link_capacitance", q.LinkCapacitance, float(part.link_capacitance)),
            quantity(where + "precharge_wait", q.PrechargeWait, float(part.precharge_wait)),
            quantity("load_resistance", precharge.LoadResistance, FREE),
        ),
        compute=compute,
        draw=figures.precharge,
        twin=precharge_twin,
        room=0.22,
        probe="precharge_wait",
    )


def precharge_twin(result: PrechargeCase) -> Twin:
    """The curve in words."""
    reached, allowed = units.show(result.reached, "V"), units.show(result.allowed, "V")
    blow = units.show(result.blow, "A")
    said = "too early" if result.early else "late enough"
    rows = (
        ("pack voltage", Amount(result.pack_voltage, "V")),
        ("must be reached", Amount(result.allowed, "V")),
        ("reached as it closes", Amount(result.reached, "V")),
        ("missing then", f"{100 * result.missing:.1f} %"),
        ("current as it closes", Amount(result.blow, "A")),
        ("heat in the resistor until then", Amount(result.heat, "J")),
    )
    return Twin(
        alt=f"Voltage over time, rising and flattening; the contactor closes after {units.show(result.wait, 's')} at "
        f"{reached}, where {allowed} must be reached.",
        sentence=f"The contactor closes {said}: at {reached}, {allowed} must be reached. The blow is {blow}.",
        table=Table(("what", "value"), rows),
    )


def cable_panel(build: Build) -> Panel:
    """Deep: copper, current, air and joints move; steady temperature over current follows."""
    b = View(build.parts)
    part = b.protection.pack_cable
    area, diameter = float(part.conductor_area), float(part.cable_diameter)
    jacket = diameter - np.sqrt(4 * area / np.pi)  # stays as thick when the copper changes
    fixed: dict[str, Any] = {
        "limit": float(part.insulation_limit), "stranding_factor": float(part.stranding_factor),
        "length": float(part.cable_length),
    }  # fmt: skip

    def compute(
        *, conductor_area: float, steady_current: float, cable_ambient: float, joint_resistance: float
    ) -> CableCase:
        return cable_case(conductor_area, steady_current=steady_current, cable_ambient=cable_ambient,
                          joint_resistance=joint_resistance,
                          diameter=float(np.sqrt(4 * conductor_area / np.pi) + jacket), **fixed)  # fmt: skip

    where = "protection.pack_cable."
    return Panel(
        id="safety.cable",
        title="Cable in warm air",
        controls=(
            quantity(where + "conductor_area", wire.ConductorArea, area),
            quantity(where + "steady_current", q.SteadyCurrent, float(part.steady_current)),
            quantity(where + "cable_ambient", wire.AmbientTemperature, float(part.cable_ambient)),
            quantity(where + "joint_resistance", q.JointResistance, float(part.joint_resistance)),
        ),
        compute=compute,
        draw=figures.cable,
        twin=cable_twin,
        room=0.14,
        probe="steady_current",
    )


def cable_twin(result: CableCase, *, system: str = "SI") -> Twin:
    """The cable in words."""
    settled, limit = (
        units.show(kelvin, "K", kind="reading", system=system) for kelvin in (result.settled, result.limit)
    )
    side = "above" if result.settled > result.limit else "under"
    rows = (
        ("settles at", Amount(result.settled, "K", kind="reading")),
        ("its insulation stands", Amount(result.limit, "K", kind="reading")),
        ("carries in this air", Amount(result.carries, "A")),
        ("lost both ways, without joints", Amount(result.drop, "V")),
        ("heat in one joint", Amount(result.joint, "W")),
        ("heat in one metre of cable", Amount(result.per_metre, "W")),
    )
    current = units.show(result.steady_current, "A")
    return Twin(
        alt=f"Temperature over current, rising ever more steeply; at {current} the copper settles at {settled}, the "
        f"limit is {limit}.",
        sentence=f"At {current} it settles at {settled}, {side} its limit of {limit}; in this air it carries "
        f"{units.show(result.carries, 'A')}. One joint makes {units.show(result.joint, 'W')}, a metre of cable "
        f"{units.show(result.per_metre, 'W')}.",
        table=Table(("what", "value"), rows),
    )


def loop_panel(build: Build) -> Panel:
    """Deep: choose a part to fail and a demand; the loop is searched as the check searches it."""
    circuit = shutdown_circuit(View(build.parts))
    shown = tuple(failures(circuit))

    def compute(*, fails: str, demand: str) -> LoopCase:
        return loop_case(circuit, fails=fails, demand=demand)

    return Panel(
        id="safety.loop",
        title="Shutdown loop",
        controls=(
            choice("fails", shown, label="what fails"),
            choice("demand", (NOTHING, *circuit.demands), start=circuit.demands[0], label="what is asked"),
        ),
        compute=compute,
        draw=figures.loop,
        twin=loop_twin,
        size=(6.6, 4.0),
        room=0.02,
        probe="fails",
    )


def loop_twin(result: LoopCase) -> Twin:
    """The loop in words."""
    state = "is still connected" if result.connected else "is disconnected"
    others = ", ".join(result.other_ways) or "none"
    rows = (
        ("fails", result.fails),
        ("asked", result.demand),
        ("open", ", ".join(result.opened) or "no switch"),
        ("coils", "live" if result.coils_live else "dead"),
        ("poles still joined", f"{result.joined} of {result.poles}"),
        ("ways out that work", others),
    )
    return Twin(
        alt=f"A ladder from 12 V to ground: {len(result.switches)} switches and the coils. Fails: {result.fails}; "
        f"asked: {result.demand}; the coils are {'live' if result.coils_live else 'dead'}.",
        sentence=f"Fails: {result.fails}. Asked: {result.demand}. The pack {state}. Ways out that work: {others}.",
        table=Table(("what", "value"), rows),
    )
