"""Switched systems in time: integrate a segment, stop at the event, change the mode, go on.

A pump that is on or off, a check valve, a relief, a latch: each makes the rate of change jump. An ``if`` inside the
rate is met by the integrator at trial points and while it searches its step, so that a switch with memory toggles where
nothing happened. Here the rate is smooth within a *mode*; guards say what ends the mode, and the time at which one
crosses zero is found by root search.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Hashable, Sequence
from typing import Any

import numpy as np

from evlib.ground.quantity import Array

Rate = Callable[[float, Array, Any], Sequence[float]]


@dataclasses.dataclass(frozen=True)
class Guard:
    """What ends a mode: it fires when ``crossing(t, state)`` rises through zero, or is above zero at the start.

    ``crossing`` must be continuous within the mode. What jumps at a known time (a signal that drops out) is a guard on
    time that changes the mode, not a jump inside a guard: its root would be found a hair too early, again and again.
    Two guards that undo each other need a gap between them, or they fire without end.
    """

    name: str
    crossing: Callable[[float, Array], float]


@dataclasses.dataclass(frozen=True)
class Event:
    """One change of mode: when, which guard, from and to which mode, and the state just before."""

    time: float
    name: str
    before: Hashable
    after: Hashable
    state: Array


@dataclasses.dataclass(frozen=True)
class Segment:
    """A stretch in one mode: times, states (one row for each time), and the interpolant between them."""

    mode: Hashable
    time: Array
    state: Array
    between: Callable[[Any], Array]


@dataclasses.dataclass(frozen=True, eq=False)
class Run:
    """What an integration gives: its segments and its events, in time order."""

    segments: tuple[Segment, ...]
    events: tuple[Event, ...]

    @property
    def time(self) -> Array:
        """All times; a change of mode has two, just before and just after."""
        return np.concatenate([segment.time for segment in self.segments])

    @property
    def state(self) -> Array:
        """All states, one row for each time."""
        return np.concatenate([segment.state for segment in self.segments])

    def times_of(self, name: str) -> list[float]:
        """When the guard of this name fired."""
        return [event.time for event in self.events if event.name == name]

    def at(self, times: Any) -> Array:
        """States at given times, one row each. At a change of mode: the state after it."""
        wanted = np.atleast_1d(np.asarray(times, dtype=float))
        starts = np.array([segment.time[0] for segment in self.segments])
        if wanted.min() < starts[0] or wanted.max() > self.segments[-1].time[-1]:
            raise ValueError(f"times: {wanted.min():g} to {wanted.max():g} s reach outside the run")
        which = np.searchsorted(starts, wanted, side="right") - 1
        out = np.empty((wanted.size, self.segments[0].state.shape[1]))
        for index in np.unique(which):
            here = which == index
            out[here] = self.segments[index].between(wanted[here]).T
        return out

    def mode_at(self, time: float) -> Hashable:
        """The mode at a time."""
        starts = [segment.time[0] for segment in self.segments]
        return self.segments[int(np.searchsorted(starts, time, side="right")) - 1].mode


def integrate(
    rate: Rate,
    *,
    state: Sequence[float],
    mode: Hashable,
    guards: Callable[[Any], Sequence[Guard]],
    change: Callable[[str, float, Array, Any], tuple[Hashable, Sequence[float] | Array]],
    end: float,
    start: float = 0.0,
    breaks: Sequence[float] = (),
    method: str = "LSODA",
    rtol: float = 1e-7,
    atol: Any = 1e-9,
    max_step: float = np.inf,
    most_events: int = 20_000,
) -> Run:
    """Integrate a switched system from ``start`` to ``end`` in segments between events.

    ``rate(t, state, mode)`` is smooth within a mode; ``guards(mode)`` are what can end it; ``change(name, t, state,
    mode)`` gives the next mode and state. ``breaks`` are times at which the rate has a kink (the corners of a drive
    sequence). More than ``most_events`` events, or a hundred at one instant, raise ``ValueError``: the switch chatters
    without end. An event that comes and goes within one step can be missed: set ``max_step`` below its length.

    >>> falling = integrate(lambda t, y, m: (y[1], -9.81), state=(1.0, 0.0), mode="air", end=1.0,
    ...     guards=lambda m: [Guard("floor", lambda t, y: -y[0])] if m == "air" else [],
    ...     change=lambda name, t, y, m: ("rest", y))
    >>> round(falling.times_of("floor")[0], 6)   # sqrt(2 h / g)
    0.451524
    """
    corners = sorted({float(time) for time in breaks if start < time < end}) + [float(end)]
    time, now = float(start), np.asarray(state, dtype=float)
    segments: list[Segment] = []
    events: list[Event] = []
    for corner in corners:
        while time < corner:
            here = list(guards(mode))
            fired = _already(here, time, now)
            if fired is None:
                segment, fired = _segment(rate, time, corner, now, mode, here, method, rtol, atol, max_step)
                segments.append(segment)
                time, now = float(segment.time[-1]), segment.state[-1]
            if fired is not None:
                after, later = change(fired, time, now, mode)
                events.append(Event(time, fired, mode, after, now))
                mode, now = after, np.asarray(later, dtype=float)
                _refuse_chatter(events, most_events)
    return Run(tuple(segments), tuple(events))


def _already(here: Sequence[Guard], time: float, state: Array) -> str | None:
    """The first guard that is above zero before the segment begins."""
    return next((guard.name for guard in here if guard.crossing(time, state) > 0), None)


def _segment(
    rate: Rate, time: float, corner: float, state: Array, mode: Hashable, here: Sequence[Guard],
    method: str, rtol: float, atol: Any, max_step: float,
) -> tuple[Segment, str | None]:  # fmt: skip
    """One smooth stretch, up to the first guard or the corner."""
    from scipy.integrate import solve_ivp

    def smooth(t: float, y: Array) -> Sequence[float]:
        return rate(t, y, mode)

    crossings: list[Any] = []
    for guard in here:

        def crossing(t: float, y: Array, guard: Guard = guard) -> float:
            return guard.crossing(t, y)

        crossing.terminal = True  # type: ignore[attr-defined]
        crossing.direction = 1.0  # type: ignore[attr-defined]
        crossings.append(crossing)
    solver: Any = solve_ivp
    found = solver(
        smooth, (time, corner), state, method=method, events=crossings or None, rtol=rtol, atol=atol,
        max_step=max_step, dense_output=True,
    )  # fmt: skip
    if not found.success:
        raise ValueError(f"the integration stopped at {found.t[-1]:g} s in mode {mode!r}: {found.message}")
    fired = None
    if found.status == 1:
        fired = next(guard.name for guard, hits in zip(here, found.t_events, strict=True) if len(hits))
    return Segment(mode, found.t, found.y.T, found.sol), fired


def _refuse_chatter(events: list[Event], most_events: int) -> None:
    if len(events) > most_events:
        raise ValueError(f"more than {most_events} changes of mode by {events[-1].time:g} s: the switch chatters")
    if len(events) > 100 and events[-1].time == events[-101].time:
        names = sorted({event.name for event in events[-100:]})
        raise ValueError(f"changes without end at {events[-1].time:g} s between {', '.join(names)}")
