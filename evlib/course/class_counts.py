"""What a class has done, counted: by learner and lesson, by exercise, by objective, and which slip is common."""

from __future__ import annotations

import collections
import dataclasses

from evlib.course.class_files import Sheet
from evlib.course.lessons import Lesson
from evlib.exercises.base import Exercise
from evlib.exercises.free import Free

Common = tuple[str, int]  # a slip and how many learners made it; ("", 0) for none


@dataclasses.dataclass(frozen=True)
class OfExercise:
    """One exercise of a lesson: how many learners tried it, were right at once, have it done; slips, commonest first.

    ``tries`` is the mean number of tries of those who tried.
    """

    exercise: Exercise
    tried: int
    first: int
    done: int
    tries: float
    slips: tuple[Common, ...]


@dataclasses.dataclass(frozen=True)
class OfObjective:
    """One objective: its exercises; learners who tried one of them, who have all done; the common slip and where."""

    objective: str
    exercises: tuple[str, ...]
    tried: int
    done: int
    slip: Common
    where: str


@dataclasses.dataclass(frozen=True)
class OfLesson:
    """A lesson with its exercises and objectives counted, and for each learner how many of its exercises are done."""

    lesson: Lesson
    exercises: tuple[OfExercise, ...]
    objectives: tuple[OfObjective, ...]
    done: tuple[int, ...]

    @property
    def begun(self) -> int:
        """Learners who have something of it done."""
        return sum(count > 0 for count in self.done)

    @property
    def share(self) -> float:
        """The mean share of its exercises that are done, 0 to 1."""
        return sum(self.done) / (len(self.done) * len(self.exercises)) if self.done and self.exercises else 0.0


@dataclasses.dataclass(frozen=True)
class Class:
    """All that is counted about a class."""

    sheets: tuple[Sheet, ...]
    lessons: tuple[OfLesson, ...]

    def slips(self) -> tuple[tuple[str, str, int], ...]:
        """Every slip as (exercise, slip, learners), commonest first."""
        seen = {one.exercise.id: one.slips for lesson in self.lessons for one in lesson.exercises}
        rows = [(name, slip, count) for name, slips in seen.items() for slip, count in slips]
        return tuple(sorted(rows, key=lambda row: (-row[2], row[0], row[1])))


def count(sheets: tuple[Sheet, ...], lessons: tuple[Lesson, ...]) -> Class:
    """Count a class."""
    return Class(sheets, tuple(_lesson(lesson, sheets) for lesson in lessons))


def _lesson(lesson: Lesson, sheets: tuple[Sheet, ...]) -> OfLesson:
    exercises = tuple(_exercise(one, sheets) for one in lesson.exercises)
    objectives = tuple(_objective(lesson, objective, sheets) for objective in lesson.objectives)
    done = tuple(sum(sheet.is_done(one.id) for one in lesson.exercises) for sheet in sheets)
    return OfLesson(lesson, exercises, objectives, done)


def _exercise(exercise: Exercise, sheets: tuple[Sheet, ...]) -> OfExercise:
    name = exercise.id
    tried = [sheet for sheet in sheets if sheet.tries.get(name)]
    tries = sum(len(sheet.tries[name]) for sheet in tried) / len(tried) if tried else 0.0
    first = 0 if isinstance(exercise, Free) else sum(sheet.at_once(name) for sheet in tried)
    return OfExercise(exercise, len(tried), first, sum(s.is_done(name) for s in tried), tries, _slips(name, tried))


def _slips(name: str, sheets: list[Sheet]) -> tuple[Common, ...]:
    made = collections.Counter(slip for sheet in sheets for slip in sheet.slips(name))
    return tuple(sorted(made.items(), key=lambda each: (-each[1], each[0])))


def _objective(lesson: Lesson, objective: str, sheets: tuple[Sheet, ...]) -> OfObjective:
    names = tuple(exercise.id for exercise in lesson.serving(objective))
    tried = [sheet for sheet in sheets if any(sheet.tries.get(name) for name in names)]
    done = sum(all(sheet.is_done(name) for name in names) for sheet in tried)
    common = [(slip, learners, name) for name in names for slip, learners in _slips(name, tried)[:1]]
    slip, learners, where = max(common, key=lambda each: each[1], default=("", 0, ""))
    return OfObjective(objective, names, len(tried), done, (slip, learners), where)
