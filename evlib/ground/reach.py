"""Reachability over states: everything that can be reached, and the shortest way to a state that breaks a rule."""

from __future__ import annotations

import dataclasses
from collections import deque
from collections.abc import Callable, Hashable, Iterable
from typing import Generic, TypeVar

S = TypeVar("S", bound=Hashable)


@dataclasses.dataclass(frozen=True)
class Step(Generic[S]):
    """One step of a way: what was done, and the state that it led to."""

    done: str
    state: S


@dataclasses.dataclass(frozen=True)
class Reached(Generic[S]):
    """All states that can be reached, each with the step that first led there; starts have none."""

    came_by: dict[S, tuple[str, S | None]]

    def __len__(self) -> int:
        return len(self.came_by)

    def way_to(self, state: S) -> list[Step[S]]:
        """The shortest way from a start to a state; the first step is the start itself."""
        way: list[Step[S]] = []
        at: S | None = state
        while at is not None:
            done, before = self.came_by[at]
            way.append(Step(done, at))
            at = before
        return way[::-1]

    def first(self, breaks: Callable[[S], bool]) -> S | None:
        """The nearest state that breaks a rule, or None. States stand in the order of their distance."""
        return next((state for state in self.came_by if breaks(state)), None)


def explore(starts: Iterable[S], *, steps: Callable[[S], Iterable[tuple[str, S]]]) -> Reached[S]:
    """Every state that can be reached from the starts, nearest first (breadth first, so ways are shortest).

    >>> reached = explore([0], steps=lambda n: [("double", 2 * n % 10), ("add 1", (n + 1) % 10)])
    >>> len(reached), [step.done for step in reached.way_to(4)]
    (10, ['start', 'add 1', 'double', 'double'])
    """
    came_by: dict[S, tuple[str, S | None]] = {start: ("start", None) for start in starts}
    waiting = deque(came_by)
    while waiting:
        state = waiting.popleft()
        for done, reached in steps(state):
            if reached not in came_by:
                came_by[reached] = (done, state)
                waiting.append(reached)
    return Reached(came_by)
