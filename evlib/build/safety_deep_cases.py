"""Cases of the safety lesson's Deep pictures, from plain values: precharge, a cable's heat, the shutdown loop."""

from __future__ import annotations

import dataclasses

import numpy as np

from evlib.ground import wire
from evlib.ground.quantity import Array
from evlib.safety import cables, precharge
from evlib.safety.shutdown import HEALTHY, POLES, Circuit, Line

FREE = 1e6  # ohm; a load that draws next to nothing behind the precharge resistor


@dataclasses.dataclass(frozen=True)
class PrechargeCase:
    """Voltage at the controller over time [s, V], until and just past the moment of closing."""

    time: Array
    volts: Array
    pack_voltage: float
    wait: float
    reached: float  # V, as the main contactor closes
    allowed: float  # V; at least this much must be reached
    missing: float  # part of the pack voltage
    blow: float  # A, as the contactor closes
    heat: float  # J in the resistor until then

    @property
    def early(self) -> bool:
        """Whether it closes on more difference than is allowed."""
        return self.reached < self.allowed


def precharge_case(
    precharge_resistance: float, *, link_capacitance: float, precharge_wait: float, load_resistance: float,
    discharge_resistance: float, pack_voltage: float, pack_resistance: float, circuit_resistance: float,
    closing_difference: float,
) -> PrechargeCase:  # fmt: skip
    """The rising curve with the discharge resistor, and perhaps something else, drawing behind the resistor."""
    beside = discharge_resistance * load_resistance / (discharge_resistance + load_resistance)
    circuit = {"precharge_resistance": precharge_resistance, "link_capacitance": link_capacitance,
               "load_resistance": beside, "pack_voltage": pack_voltage}  # fmt: skip
    time = np.linspace(0.0, max(1.3 * precharge_wait, 5.0 * precharge_resistance * link_capacitance), 161)
    reached = float(precharge.voltage_after(precharge_wait, **circuit))
    missing = min(max(1.0 - reached / pack_voltage, 1e-9), 1.0 - 1e-9)
    blow = precharge.closing_current(missing, pack_voltage=pack_voltage, pack_resistance=pack_resistance,
                                     circuit_resistance=circuit_resistance)  # fmt: skip
    return PrechargeCase(
        time, np.asarray(precharge.voltage_after(time, **circuit)), pack_voltage, precharge_wait, reached,
        (1 - closing_difference) * pack_voltage, missing, float(blow),
        float(precharge.heat_until(precharge_wait, **circuit)),
    )  # fmt: skip


@dataclasses.dataclass(frozen=True)
class CableCase:
    """Steady temperature of the copper over current [A, K], and what a joint adds."""

    current: Array
    temperature: Array
    ambient: float
    limit: float
    steady_current: float
    settled: float  # K, at the steady current
    carries: float  # A, at which the limit is reached
    drop: float  # V, both ways at the steady current, hot, without joints
    joint: float  # W in one joint at the steady current
    per_metre: float  # W in one metre of cable, for comparison


def cable_case(
    conductor_area: float, *, steady_current: float, cable_ambient: float, joint_resistance: float, limit: float,
    diameter: float, stranding_factor: float, length: float,
) -> CableCase:  # fmt: skip
    """One cable in still air, its jacket grown with its copper."""
    given = {"area": conductor_area, "diameter": diameter, "stranding_factor": stranding_factor}
    carries = float(wire.ampacity(limit, ambient=cable_ambient, **given))
    most = max(1.25 * carries, 1.1 * steady_current, 20.0)
    current = np.linspace(0.0, most, 81)
    temperature = np.minimum(wire.steady_temperature(current, ambient=cable_ambient, **given), limit + 150.0)
    settled = float(np.minimum(wire.steady_temperature(steady_current, ambient=cable_ambient, **given), wire.MELTED))
    run = {"area": conductor_area, "stranding_factor": stranding_factor, "temperature": min(settled, limit)}
    drop = float(cables.loop_drop(steady_current, length=length, **run))
    per_metre = float(steady_current**2 * wire.resistance_per_metre(
        conductor_area, temperature=min(settled, limit), stranding_factor=stranding_factor))  # fmt: skip
    return CableCase(
        current, np.asarray(temperature), cable_ambient, limit, steady_current, settled, carries, drop,
        float(cables.joint_power(steady_current, joint_resistance=joint_resistance)), per_metre,
    )  # fmt: skip


NOTHING = "nothing"


@dataclasses.dataclass(frozen=True)
class LoopCase:
    """The loop with one thing wrong and one demand: which switches stand open, which coils and poles are live."""

    fails: str
    demand: str
    switches: tuple[str, ...]  # in their order, before and then after the coils
    opened: tuple[str, ...]
    before: int  # how many of them stand before the coils
    coils_live: bool
    joined: int
    poles: int
    other_ways: tuple[str, ...]  # demands that would still disconnect it

    @property
    def connected(self) -> bool:
        """Whether the pack is still joined to the controller."""
        return self.joined == self.poles


def failures(circuit: Circuit) -> dict[str, str]:
    """What a learner may let fail: each switch and contact, and a touch at the coils; shown words to fault's words."""
    points = [line for line in circuit.lines if line.kind == "coil"]
    at_coils = {end for line in points for end in (line.start, line.end)}
    shown = {NOTHING: HEALTHY.words}
    for fault in circuit.faults():
        if fault.closed:
            shown[fault.words] = fault.words
        elif fault.bridge is not None and fault.bridge[1] in at_coils:
            side = "feed" if fault.bridge[1] == points[0].start else "return"
            shown[f"{'12 V' if fault.words.startswith('12 V') else 'ground'} touches the coils' {side}"] = fault.words
    return shown


def _from_the_top(circuit: Circuit) -> list[Line]:
    """The switches from 12 V down to ground: those behind the coils are drawn from ground up in the circuit."""
    switches = [line for line in circuit.lines if line.kind == "switch"]
    back = [line for line in switches if line.end.startswith("return")]
    return [line for line in switches if line not in back] + back[::-1]


def loop_case(circuit: Circuit, *, fails: str, demand: str) -> LoopCase:
    """One case of the loop, by the same search that the check uses."""
    fault = next((f for f in circuit.faults() if f.words == failures(circuit)[fails]), HEALTHY)
    asked = "" if demand == NOTHING else demand
    coil = next(line for line in circuit.lines if line.kind == "coil")
    switches = _from_the_top(circuit)
    opened = tuple(line.name for line in switches if asked in line.opens_on and fault.closed != line.name)
    before = next((n for n, line in enumerate(switches, 1) if line.end == coil.start), 0)
    others = tuple(d for d in circuit.demands if circuit.poles_joined(demand=d, fault=fault) < len(POLES))
    return LoopCase(
        fails, demand, tuple(line.name for line in switches), opened, before,
        bool(circuit.live_coils(demand=asked, fault=fault)), circuit.poles_joined(demand=asked, fault=fault),
        len(POLES), others,
    )  # fmt: skip
