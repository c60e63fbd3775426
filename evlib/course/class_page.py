"""The page of the class table: two pictures with their twins, objectives, exercises, texts to mark, files left out."""

from __future__ import annotations

import html
from collections.abc import Sequence

from evlib.course.class_counts import Class, OfLesson
from evlib.course.class_files import Collected
from evlib.course.progress import page
from evlib.exercises.free import Free
from evlib.figures.course import Bars, Grid, draw_grid, draw_slips
from evlib.panels.markup import static_html
from evlib.panels.twin import Table, Twin, table_html

MOST = 40  # rows of one picture of the grid; a larger class gets several
SLIPS, ROWS = 12, 25  # bars of the picture of slips, rows of its table
NOT_MARKS = (
    "There is no name in an answer file, and there is none here: who has which code is known to you alone. The files "
    "show what was typed in, not who typed it. They are for helping; they are no examination."
)


def class_page(counted: Class, collected: Collected) -> str:
    """The whole page."""
    used = len(counted.sheets)
    parts = [f"<p>{used} answer file{'s' if used != 1 else ''} read. {NOT_MARKS}</p>"]
    parts += [_files("Files that were left out", collected.left_out), _files("Remarks", collected.remarks)]
    parts += ["<h2>What is done</h2>", *_grids(counted), "<h2>Slips that are common</h2>", _slips(counted)]
    parts += [_lesson(lesson) for lesson in counted.lessons if lesson.begun or any(e.tried for e in lesson.exercises)]
    return page("The class", "".join([*parts, _texts(counted)]))


def _files(title: str, sentences: Sequence[str]) -> str:
    if not sentences:
        return ""
    return f"<h2>{title}</h2><ul>{''.join(f'<li>{html.escape(each)}</li>' for each in sentences)}</ul>"


def _grids(counted: Class) -> list[str]:
    return [_grid(counted, slice(at, at + MOST)) for at in range(0, len(counted.sheets), MOST)]


def _grid(counted: Class, part: slice) -> str:
    codes = tuple(sheet.code for sheet in counted.sheets[part])
    totals = [max(1, len(lesson.exercises)) for lesson in counted.lessons]
    done = [lesson.done[part] for lesson in counted.lessons]
    rows = tuple(tuple(done[at][row] / totals[at] for at in range(len(totals))) for row in range(len(codes)))
    grid = Grid(codes, tuple(lesson.lesson.number for lesson in counted.lessons), rows)
    twin = Twin(_alt(codes, counted.lessons), _sentence(counted), _by_lesson(counted.lessons))
    return static_html(draw_grid, grid, twin, size=(7.6, 0.9 + 0.27 * (len(codes) + 1)), room=0.02)


def _alt(codes: tuple[str, ...], columns: tuple[OfLesson, ...]) -> str:
    span = codes[0] if len(codes) == 1 else f"{codes[0]} to {codes[-1]}"
    return (
        f"A grid of {len(codes)} rows, {span}, and {len(columns)} columns, lesson {columns[0].lesson.number} to "
        f"{columns[-1].lesson.number}. Each field gives the per cent of the lesson's exercises that the learner has "
        "done. The numbers stand in the file class.csv, and sums in the table below."
    )


def _sentence(counted: Class) -> str:
    most = max(counted.lessons, key=lambda lesson: lesson.share)
    begun = [lesson for lesson in counted.lessons if lesson.begun]
    least = min(begun, key=lambda lesson: lesson.share, default=most)
    return (
        f"Most is done in lesson {most.lesson.number}, {100 * most.share:.0f} % of its exercises; of the lessons that "
        f"are begun, least in lesson {least.lesson.number}, {100 * least.share:.0f} %."
    )


def _by_lesson(found: tuple[OfLesson, ...]) -> Table:
    rows = tuple((each.lesson.title, str(len(each.exercises)), str(each.begun), f"{100 * each.share:.0f} %")
                 for each in found)  # fmt: skip
    return Table(("lesson", "exercises", "learners who have some done", "done, mean"), rows)


def _slips(counted: Class) -> str:
    """The commonest slips as bars and as a table."""
    slips = counted.slips()
    if not slips:
        return "<p>No slip was recognised.</p>"
    top = slips[:SLIPS]
    name, slip, learners = slips[0]
    twin = Twin(
        f"Bars, the longest on top, for the {len(top)} commonest slips. Each says in which exercise and how many "
        "learners made it. The table below has the same in words and numbers.",
        f"The commonest slip: in {name}, {learners} of {len(counted.sheets)} learners: {slip}. "
        "The file exercises.csv has all slips.",
        Table(("exercise", "slip", "learners"), tuple((a, b, str(c)) for a, b, c in slips[:ROWS])),
    )
    bars = Bars(tuple(f"{a}: {b}" for a, b, _ in top), tuple(c for _, _, c in top))
    return static_html(draw_slips, bars, twin, size=(7.6, 0.9 + 0.42 * (len(top) + 1)), room=0.03)


def _lesson(lesson: OfLesson) -> str:
    """A lesson's objectives, and its exercises folded."""
    objectives = [[one.objective, str(one.tried), str(one.done), _common(one.slip, one.where)]
                  for one in lesson.objectives]  # fmt: skip
    rows = []
    for one in lesson.exercises:
        first = "a person marks it" if isinstance(one.exercise, Free) else str(one.first)
        slips = "; ".join(f"{slip} ({learners})" for slip, learners in one.slips) or "none"
        rows.append([one.exercise.id, str(one.tried), first, str(one.done), f"{one.tries:.1f}", slips])
    head = ("objective", "learners who tried", "who have all done", "commonest slip")
    inner = table_html(("exercise", "tried", "right at first", "done", "mean tries", "slips (learners)"), rows)
    title = html.escape(f"Lesson {lesson.lesson.title}")
    return (
        f"<h2>{title}</h2>{table_html(head, objectives)}"
        f"<details><summary>Each exercise of {title}</summary>{inner}</details>"
    )


def _common(slip: tuple[str, int], where: str) -> str:
    return f"{slip[0]} ({where}; {slip[1]})" if slip[1] else "none"


def _texts(counted: Class) -> str:
    """Answers in the learner's own words, each exercise with its marking guide."""
    parts = []
    for exercise in {e.exercise.id: e.exercise for lesson in counted.lessons for e in lesson.exercises}.values():
        if not isinstance(exercise, Free):
            continue
        rows = [
            [sheet.code, sheet.tries[exercise.id][-1].text] for sheet in counted.sheets if exercise.id in sheet.tries
        ]
        if rows:
            guide = "".join(f"<li>{html.escape(point)}</li>" for point in exercise.guide)
            parts.append(
                f"<details><summary>{html.escape(exercise.id)}: {len(rows)} to mark</summary>"
                f"<p>{html.escape(exercise.text)}</p><p>One mark for each point:</p><ul>{guide}</ul>"
                f"{table_html(('code', 'last answer'), rows)}</details>"
            )
    return "<h2>Answers that a person marks</h2>" + "".join(parts) if parts else ""
