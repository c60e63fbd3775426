"""The selector table as data, every reachable state explored, and the rules proved or broken by a shortest way.

It proves the table. It does not prove wiring, sensors, software or hardware. It knows how fast the car is, not which
way it rolls: who rolls backward in neutral and asks for drive gets it.
"""

from __future__ import annotations

import dataclasses
import functools
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

from evlib.ground.reach import Reached, Step, explore

POSITIONS = ("park", "reverse", "neutral", "low", "drive")
SPEEDS = ("rest", "walking", "medium", "fast")
VALUES: dict[str, tuple[str, ...]] = {
    "on": ("off", "on"),
    "position": POSITIONS,
    "change": ("done", "in progress"),
    "speed": SPEEDS,
    "pedal": ("up", "down"),
    "brake": ("on", "off"),
    "plug": ("out", "in"),
    "pack": ("good", "low"),
    "pressure": ("good", "low"),
    "lost": ("none", "speed", "pedal", "pressure", "pack"),
}
SENSORS = VALUES["lost"][1:]
LEVELS = ("none", "reduced", "full")
FORWARD = ("low", "drive")


class State(NamedTuple):
    """One moment: what is true, and which sensor is lost (then the controller no longer knows that value)."""

    on: str = "off"
    position: str = "park"
    change: str = "done"
    speed: str = "rest"
    pedal: str = "up"
    brake: str = "on"
    plug: str = "out"
    pack: str = "good"
    pressure: str = "good"
    lost: str = "none"


FIELD = {name: number for number, name in enumerate(State._fields)}


def _now(state: State, name: str, value: str) -> State:
    """The state with one value changed: ``_replace``, but a search makes two hundred thousand of them."""
    at = FIELD[name]
    return State._make((*state[:at], value, *state[at + 1 :]))


Condition = tuple[tuple[int, frozenset[str]], ...]


@dataclasses.dataclass(frozen=True)
class Table:
    """A selector table: order of the lever, when it starts, what may be entered, when current is allowed."""

    order: tuple[str, ...]
    start: Condition
    enter: tuple[tuple[str, frozenset[str], Condition], ...]
    current: tuple[tuple[str, Condition], ...]
    source: str = ""

    def known(self, state: State) -> State:
        """What the controller knows of a state: a lost sensor's value is unknown, and meets no condition."""
        return state if state.lost == "none" else _now(state, state.lost, "unknown")

    def level(self, state: State) -> str:
        """Motor current allowed in a state: none, reduced or full."""
        seen = self.known(state)
        return next((level for level, wanted in self.current if _met(wanted, seen)), "none")

    def grants(self, state: State, position: str) -> bool:
        """Whether a position asked for is entered."""
        return position in self.granted(state)

    def granted(self, state: State) -> set[str]:
        """Every position that would be entered if it were asked for."""
        seen = self.known(state)
        return {
            to for to, before, wanted in self.enter if (not before or state.position in before) and _met(wanted, seen)
        }

    def starts(self, state: State) -> bool:
        """Whether the key switches the drive on."""
        return _met(self.start, self.known(state))

    def why_refused(self, state: State, position: str) -> str:
        """Why a position asked for is not entered, in words; empty where it is."""
        if self.grants(state, position):
            return ""
        seen = self.known(state)
        lines = [w for to, before, w in self.enter if to == position and (not before or state.position in before)]
        if not lines:
            return f"{position} cannot be entered from {state.position}"
        unmet = min(([(f, a) for f, a in wanted if seen[f] not in a] for wanted in lines), key=len)
        return "; ".join(f"{State._fields[f]} is {seen[f]}, wanted {' or '.join(sorted(a))}" for f, a in unmet)


def _met(wanted: Condition, state: State) -> bool:
    for field, allowed in wanted:  # noqa: SIM110 - half a million times in a search; all() takes twice as long
        if state[field] not in allowed:
            return False
    return True


def read_table(path: str | Path) -> Table:
    """Read a selector table from a TOML file. Raises ``ValueError`` that names every mistake."""
    with Path(path).open("rb") as file:
        try:
            return table(tomllib.load(file))
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            raise ValueError(f"{Path(path).name} is not a TOML file: {error}") from None


def table(data: dict[str, Any]) -> Table:
    """A table from what a TOML file holds. Raises ``ValueError`` that names every mistake and what is allowed."""
    wrong: list[str] = []

    def condition(entry: dict[str, Any], place: str, besides: tuple[str, ...]) -> Condition:
        found = []
        for name, allowed in entry.items():
            if name in besides:
                continue
            if name not in VALUES or name == "lost":
                wrong.append(f"{place}: {name!r} is not known; known: {', '.join(v for v in VALUES if v != 'lost')}")
            elif not isinstance(allowed, list) or not allowed or not set(map(str, allowed)) <= set(VALUES[name]):
                wrong.append(f"{place}: {name} is {allowed!r}; allowed: a list of {', '.join(VALUES[name])}")
            else:
                found.append((FIELD[name], frozenset(allowed)))
        return tuple(found)

    order = tuple(data.get("order", ()))
    if sorted(map(str, order)) != sorted(POSITIONS):
        wrong.append(f"order: {list(order)}; wanted each of {', '.join(POSITIONS)} once")
    start = condition(data.get("start", {}), "start", ())
    enter, current = [], []
    for entry in data.get("enter", []):
        to, before = entry.get("to"), entry.get("from", [])
        if to not in POSITIONS or not isinstance(before, list) or not set(map(str, before)) <= set(POSITIONS):
            wrong.append(f"enter: to {to!r} from {before!r}; allowed: {', '.join(POSITIONS)}")
            continue
        enter.append((to, frozenset(before), condition(entry, f"enter {to}", ("to", "from"))))
    for entry in data.get("current", []):
        if entry.get("allowed") not in LEVELS:
            wrong.append(f"current: allowed is {entry.get('allowed')!r}; wanted one of {', '.join(LEVELS)}")
            continue
        current.append((entry["allowed"], condition(entry, "current", ("allowed",))))
    if wrong:
        raise ValueError("selector table: " + "; ".join(wrong))
    return Table(order, start, tuple(enter), tuple(current), str(data.get("source", "")))


def steps(table: Table) -> Callable[[State], Iterator[tuple[str, State]]]:
    """Everything that can happen next: what the driver does, what the car does, what breaks."""

    def after(state: State) -> Iterator[tuple[str, State]]:
        yield from _driver(table, state)
        yield from _car(state)
        if state.lost == "none":
            for sensor in SENSORS:
                yield f"{sensor} sensor is lost", _now(state, "lost", sensor)

    return after


def _driver(table: Table, state: State) -> Iterator[tuple[str, State]]:
    if state.on == "off" and table.starts(state):
        yield "key on", _now(state, "on", "on")
    if state.on == "on":
        yield "key off", _now(state, "on", "off")
    granted = table.granted(state)
    for position in POSITIONS:
        if position in granted and position != state.position:
            yield f"ask for {position}", _now(_now(state, "position", position), "change", "in progress")
    for name, one, other in (("pedal", "up", "down"), ("brake", "on", "off")):
        then = other if getattr(state, name) == one else one
        yield f"{name} {then}", _now(state, name, then)
    if state.plug == "in":
        yield "pull the plug out", _now(state, "plug", "out")
    elif state.speed == "rest":
        yield "put the plug in", _now(state, "plug", "in")


def _car(state: State) -> Iterator[tuple[str, State]]:
    if state.change == "in progress":
        yield "the change is done", _now(state, "change", "done")
    at = SPEEDS.index(state.speed)
    locked = state.position == "park" and state.change == "done" and at == 0
    if at < len(SPEEDS) - 1 and not locked:  # a hill does it, with or without current
        yield "the car gets faster", _now(state, "speed", SPEEDS[at + 1])
    if at > 0:
        yield "the car gets slower", _now(state, "speed", SPEEDS[at - 1])
    for name in ("pack", "pressure"):
        other = "low" if getattr(state, name) == "good" else "good"
        yield f"{name} becomes {other}", _now(state, name, other)


@dataclasses.dataclass(frozen=True)
class TooFast:
    """Which of the table's speeds are too fast on a car: for low, and for reverse and park.

    "fast" has no upper end, so it is always too fast for low. What "walking" and "medium" mean in km/h are settings of
    the build; where a setting is too high, that speed is too fast as well, and a rule about it is broken.
    """

    low: frozenset[str] = frozenset({"fast"})
    reverse: frozenset[str] = frozenset({"medium", "fast"})


# Rules about a state: true where it is broken. They look at what is true, not at what the controller knows.
# (state, motor current allowed in it, the same if no sensor were lost, what is too fast)
StateRule = Callable[[State, str, str, TooFast], bool]
STATE_RULES: dict[str, StateRule] = {
    "no motor current in park or neutral (the box is open inside, and the motors unloaded)": lambda s, now, _, too: (
        s.position in ("park", "neutral") and now != "none"
    ),
    "no motor current while a change is in progress": lambda s, now, _, too: (
        s.change == "in progress" and now != "none"
    ),
    "no pull with the plug in": lambda s, now, _, too: s.plug == "in" and now != "none",
    "no drive without pressure": lambda s, now, _, too: s.pressure == "low" and now != "none",
    "no motor current in reverse or low where the car is too fast for it": lambda s, now, _, too: (
        ((s.position == "reverse" and s.speed in too.reverse) or (s.position == "low" and s.speed in too.low))
        and now != "none"
    ),
    "no motor current with the key off": lambda s, now, _, too: s.on == "off" and now != "none",
    "no motor current with the pedal up": lambda s, now, _, too: s.pedal == "up" and now != "none",
    "no full current from a pack that is nearly empty": lambda s, now, _, too: s.pack == "low" and now == "full",
    "losing a sensor never adds torque": lambda s, now, intact, too: LEVELS.index(now) > LEVELS.index(intact),
}

# Rules about a step: true where it is broken. (before, what was done, what is too fast)
StepRule = Callable[[State, str, TooFast], bool]
STEP_RULES: dict[str, StepRule] = {
    "reverse and park are entered only at rest or walking pace": lambda before, done, too: (
        done in ("ask for reverse", "ask for park") and before.speed in too.reverse
    ),
    "low is never entered too fast (a downshift over-speeds the armatures by itself)": lambda before, done, too: (
        done == "ask for low" and before.speed in too.low
    ),
    "straight from reverse to forward, or out of park, only at rest or walking pace": lambda before, done, too: (
        done in ("ask for low", "ask for drive")
        and before.position in ("reverse", "park")
        and before.speed in too.reverse
    ),
    "from park or neutral to a position that pulls only with the pedal up": lambda before, done, _: (
        done in ("ask for reverse", "ask for low", "ask for drive")
        and before.position in ("park", "neutral")
        and before.pedal == "down"
    ),
    "start only in park or neutral (49 CFR 571.102)": lambda before, done, too: (
        done == "key on" and before.position not in ("park", "neutral")
    ),
}
WATCHED = frozenset({"key on", *(f"ask for {position}" for position in POSITIONS)})  # steps that a rule is about
ORDER_RULES: dict[str, Callable[[tuple[str, ...]], bool]] = {
    "neutral stands between forward and reverse (49 CFR 571.102)": lambda order: (
        not (
            all(order.index("reverse") < order.index("neutral") < order.index(f) for f in FORWARD)
            or all(order.index("reverse") > order.index("neutral") > order.index(f) for f in FORWARD)
        )
    ),
    "park stands at the end, beside reverse (49 CFR 571.102)": lambda order: (
        order.index("park") not in (0, len(order) - 1) or abs(order.index("park") - order.index("reverse")) != 1
    ),
}
RULES = (*STATE_RULES, *STEP_RULES, *ORDER_RULES)


@dataclasses.dataclass(frozen=True)
class Broken:
    """A rule that the table breaks, with a shortest way that shows it (empty for the order of the lever)."""

    rule: str
    way: tuple[Step[State], ...] = ()

    def text(self) -> str:
        """The way in words: each step and what it changed."""
        words = []
        for before, step in zip((None, *self.way), self.way, strict=False):
            state = step.state
            words.append(f"{step.done} ({state.position}, {state.speed}, pedal {state.pedal}, brake {state.brake})"
                         if before is None or step.done == "start" else step.done)  # fmt: skip
        return f"{self.rule}: " + (" > ".join(words) or "the order of the selector")


@dataclasses.dataclass(frozen=True)
class Proof:
    """What the search found: how many states and steps, and every rule that is broken."""

    states: int
    combinations: int
    steps: int
    broken: tuple[Broken, ...]

    def text(self) -> str:
        """A sentence with the counts, and what it does not prove."""
        result = f"{len(self.broken)} of {len(RULES)} rules broken" if self.broken else f"all {len(RULES)} rules hold"
        every = self.states == self.combinations
        of = "every combination, each can be reached" if every else f"of {self.combinations} combinations"
        return (
            f"{result}. Searched: {self.states} states ({of}) and {self.steps} steps between them. "
            "This is about the table, not about wiring, sensors or hardware, nor about which way the car rolls."
        )


def combinations() -> int:
    """How many combinations of values there are, reachable or not."""
    count = 1
    for values in VALUES.values():
        count *= len(values)
    return count


@functools.lru_cache(maxsize=64)
def prove(table: Table, too_fast: TooFast = TooFast()) -> Proof:
    """Explore every state that can be reached from a parked car, and try every rule on every state and step.

    Some tenths of a second for a table; the same table and speeds again are looked up.
    """
    after, count = steps(table), 0
    found: dict[str, tuple[State, tuple[Step[State], ...]]] = {}  # rule to where it is first broken, and by which step

    def look(state: State) -> Iterator[tuple[str, State]]:
        """Try the rules while the search goes on: it asks once for each state, nearest first."""
        nonlocal count
        now = table.level(state)
        intact = now if state.lost == "none" else table.level(_now(state, "lost", "none"))
        for rule, breaks in STATE_RULES.items():
            if rule not in found and breaks(state, now, intact, too_fast):
                found[rule] = state, ()
        for done, then in after(state):
            count += 1
            if done in WATCHED:
                for rule, breaks_step in STEP_RULES.items():
                    if rule not in found and breaks_step(state, done, too_fast):
                        found[rule] = state, (Step(done, then),)
            yield done, then

    starts = [State(pedal=p, brake=b, plug=i) for p in ("up", "down") for b in ("on", "off") for i in ("out", "in")]
    reached: Reached[State] = explore(starts, steps=look)
    broken = [Broken(rule) for rule, breaks in ORDER_RULES.items() if breaks(table.order)]
    broken += [Broken(rule, (*reached.way_to(state), *step)) for rule, (state, step) in found.items()]
    return Proof(len(reached), combinations(), count, tuple(broken))
