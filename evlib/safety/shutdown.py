"""The shutdown circuit as data, and every single fault of it explored: which leave the pack connected."""

from __future__ import annotations

import dataclasses
import tomllib
from collections.abc import Collection
from pathlib import Path
from typing import Any, Literal

Kind = Literal["wire", "switch", "coil", "contact"]
SUPPLY, GROUND = "supply", "ground"
POLES = (("pack +", "bus +"), ("bus -", "pack -"))


@dataclasses.dataclass(frozen=True)
class Line:
    """One line of the circuit between two points. A switch opens on its demands; a contact follows its coil."""

    name: str
    start: str
    end: str
    kind: Kind
    opens_on: tuple[str, ...] = ()
    coil: str = ""


@dataclasses.dataclass(frozen=True)
class Fault:
    """One thing wrong: a line that stays closed whatever is asked of it, or a bridge from one point to another."""

    words: str
    closed: str = ""
    bridge: tuple[str, str] | None = None


HEALTHY = Fault("nothing wrong")


@dataclasses.dataclass(frozen=True)
class Finding:
    """What a demand leads to with a fault present: how many of the two poles are still joined to the controller."""

    demand: str
    fault: Fault
    poles_joined: int

    @property
    def connected(self) -> bool:
        """Whether current can still flow from the pack to the controller and back."""
        return self.poles_joined == len(POLES)


@dataclasses.dataclass(frozen=True)
class Circuit:
    """A shutdown circuit: its lines, and where the drawing comes from."""

    lines: tuple[Line, ...]
    source: str = ""

    @property
    def demands(self) -> tuple[str, ...]:
        """Everything that should open the circuit."""
        return tuple(dict.fromkeys(demand for line in self.lines for demand in line.opens_on))

    def faults(self) -> tuple[Fault, ...]:
        """Every single fault explored: each switch stuck, each contact welded, each point touched by 12 V or ground."""
        stuck = [
            Fault(f"{line.name} {'welded' if line.kind == 'contact' else 'stays closed'}", closed=line.name)
            for line in self.lines
            if line.kind in ("switch", "contact")
        ]
        low = [line for line in self.lines if line.kind in ("switch", "coil")]
        points = dict.fromkeys(point for line in low for point in (line.start, line.end))
        touched = [
            Fault(f"{words} touches {point}", bridge=(rail, point))
            for point in points
            if point not in (SUPPLY, GROUND)
            for words, rail in (("12 V", SUPPLY), ("ground", GROUND))
        ]
        return (*stuck, *touched)

    def poles_joined(self, *, demand: str = "", fault: Fault = HEALTHY) -> int:
        """How many poles of the pack are joined to the controller under a demand ("" for none), with a fault."""
        energised = self._energised(demand, fault)
        closed = [line for line in self.lines if self._carries(line, demand, fault, energised)]
        graph = _graph(closed, fault)
        return sum(_joined(graph, *pole) for pole in POLES)

    def live_coils(self, *, demand: str = "", fault: Fault = HEALTHY) -> frozenset[str]:
        """The coils that are energised under a demand ("" for none), with a fault."""
        return self._energised(demand, fault)

    def _energised(self, demand: str, fault: Fault) -> frozenset[str]:
        """Coils with the supply on one side and ground on the other; none where supply and ground are shorted."""
        low = [line for line in self.lines if line.kind == "wire" or self._switch_closed(line, demand, fault)]
        graph = _graph(low, fault)
        if _joined(graph, SUPPLY, GROUND):
            return frozenset()  # the 12 V fuse blows, and everything lets go
        coils = [line for line in self.lines if line.kind == "coil"]
        return frozenset(c.name for c in coils if _joined(graph, SUPPLY, c.start) and _joined(graph, c.end, GROUND))

    @staticmethod
    def _switch_closed(line: Line, demand: str, fault: Fault) -> bool:
        return line.kind == "switch" and (fault.closed == line.name or demand not in line.opens_on)

    def _carries(self, line: Line, demand: str, fault: Fault, energised: frozenset[str]) -> bool:
        if line.kind == "contact":
            return fault.closed == line.name or line.coil in energised
        return line.kind == "wire" or self._switch_closed(line, demand, fault)


def _graph(lines: list[Line], fault: Fault) -> Any:
    import networkx

    graph = networkx.Graph()
    graph.add_edges_from((line.start, line.end) for line in lines)
    if fault.bridge:
        graph.add_edge(*fault.bridge)
    return graph


def _joined(graph: Any, start: str, end: str) -> bool:
    import networkx

    return start == end or (start in graph and end in graph and networkx.has_path(graph, start, end))


def read_circuit(path: str | Path) -> Circuit:
    """Read a circuit from a TOML file; every mistake in it is named. Raises ``ValueError``."""
    with Path(path).open("rb") as file:
        try:
            data = tomllib.load(file)
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            raise ValueError(f"{Path(path).name} is not a TOML file: {error}") from None
    return circuit(data)


def circuit(data: dict[str, Any]) -> Circuit:
    """A circuit from what a TOML file holds. Raises ``ValueError`` that names the line and what is allowed."""
    wrong, lines = [], []
    for number, entry in enumerate(data.get("line", []), 1):
        name = entry.get("name", f"line {number}")
        missing = [key for key in ("from", "to", "name", "kind") if not isinstance(entry.get(key), str)]
        unknown = sorted(set(entry) - {"from", "to", "name", "kind", "opens_on", "coil"})
        if missing or unknown or entry["kind"] not in ("wire", "switch", "coil", "contact"):
            wrong.append(
                f"{name}: wanted from, to, name and kind (wire, switch, coil or contact); "
                f"missing {missing or 'nothing'}, unknown {unknown or 'nothing'}"
            )
            continue
        lines.append(Line(name, entry["from"], entry["to"], entry["kind"], tuple(entry.get("opens_on", ())),
                          entry.get("coil", "")))  # fmt: skip
    coils = {line.name for line in lines if line.kind == "coil"} | {"none"}
    wrong += [
        f"{line.name}: coil {line.coil!r} is not in the circuit; known: {', '.join(sorted(coils))}"
        for line in lines
        if line.kind == "contact" and line.coil not in coils
    ]
    if len({line.name for line in lines}) < len(lines):
        wrong.append("each line needs a name of its own")
    if wrong or not lines:
        raise ValueError("shutdown circuit: " + ("; ".join(wrong) or "no [[line]] in it"))
    return Circuit(tuple(lines), str(data.get("source", "")))


def explore_faults(circuit: Circuit) -> list[Finding]:
    """Every demand with no fault and with every single fault.

    A healthy circuit must leave no pole joined. With one fault the pack must not stay *connected*; one pole still
    joined is a latent fault, that the weld check at the next start must find.
    """
    return [
        Finding(demand, fault, circuit.poles_joined(demand=demand, fault=fault))
        for fault in (HEALTHY, *circuit.faults())
        for demand in circuit.demands
    ]


def leaves_connected(circuit: Circuit) -> list[Finding]:
    """The findings in which the pack is still connected although a demand asks for it to be off."""
    return [finding for finding in explore_faults(circuit) if finding.connected]


def no_way_out(circuit: Circuit, *, by_hand: tuple[str, ...]) -> list[Fault]:
    """Single faults with which *none* of the demands that a person can make by hand disconnects the pack."""
    return [
        fault
        for fault in circuit.faults()
        if all(circuit.poles_joined(demand=demand, fault=fault) == len(POLES) for demand in by_hand)
    ]


POSITIVE, NEGATIVE, PRECHARGE = "positive contactor", "negative contactor", "precharge relay"
Sees = Literal["nothing", "climbs", "full at once"]


@dataclasses.dataclass(frozen=True)
class Step:
    """One step of switching on or off: what happens, the contacts that are closed then, and what must be seen."""

    what: str
    closed: tuple[str, ...]
    seen: str


# The first three are the weld check. It needs an empty capacitor: a full one hides what a weld would bring.
ON_SEQUENCE = (
    Step("all open", (), "under 5 % of pack voltage; more: positive and negative both welded, or not yet discharged"),
    Step("negative contactor closes alone", (NEGATIVE,),
         "stays under 5 %; full at once: positive welded; climbs on the precharge curve: precharge relay welded"),
    Step("negative opens, precharge relay closes alone", (PRECHARGE,),
         "stays under 5 %; climbs on the precharge curve: negative welded"),
    Step("negative contactor closes too", (PRECHARGE, NEGATIVE), "climbs on the expected curve; else open all, stop"),
    Step("positive contactor closes", (PRECHARGE, NEGATIVE, POSITIVE), "less than the allowed part missing; else wait"),
    Step("precharge relay opens", (NEGATIVE, POSITIVE), "stays at pack voltage"),
)  # fmt: skip
OFF_SEQUENCE = (
    Step("controller current to zero", (NEGATIVE, POSITIVE), "pack current zero: contacts last when they part on none"),
    Step("positive contactor opens", (NEGATIVE,),
         "begins to fall; stays at pack voltage: positive welded; stays a little lower: precharge relay welded"),
    Step("negative contactor opens", (),
         "falls on to under 60 V; it does so with negative welded too: the next start finds it"),
)  # fmt: skip


def controller_sees(closed: Collection[str], *, welded: Collection[str] = ()) -> Sees:
    """What an empty controller sees between its two terminals with some contacts closed and some welded.

    The pack floats, so one pole alone gives no circuit and no voltage, welded or not.

    >>> controller_sees([], welded=[POSITIVE]), controller_sees([NEGATIVE], welded=[POSITIVE])
    ('nothing', 'full at once')
    """
    held = {*closed, *welded}
    if unknown := held - {POSITIVE, NEGATIVE, PRECHARGE}:
        raise ValueError(f"closed: {sorted(unknown)} were given; allowed: {[POSITIVE, NEGATIVE, PRECHARGE]}")
    if NEGATIVE not in held:
        return "nothing"
    return "full at once" if POSITIVE in held else "climbs" if PRECHARGE in held else "nothing"


def weld_check(controller_side: float, *, pack_voltage: float, allowed: float = 0.05) -> str:
    """What the voltage at the controller says before anything is closed.

    >>> weld_check(2.0, pack_voltage=350.0), weld_check(340.0, pack_voltage=350.0)[:6]
    ('no weld seen', 'welded')
    """
    if not 0 <= controller_side <= 1.2 * pack_voltage:
        raise ValueError(f"controller_side: {controller_side} V was given; allowed: 0 to 1.2 of the pack voltage")
    if controller_side < allowed * pack_voltage:
        return "no weld seen"
    if controller_side > (1 - allowed) * pack_voltage:
        return "welded: both poles still joined, or the capacitor was not yet empty; do not close"
    return "partly charged: wait for the discharge, read again; do not close"
