"""How exercises, marks and solutions look: HTML that needs no kernel, and the same words as text."""

from __future__ import annotations

import base64
import html

from evlib.exercises.base import Exercise, Mark, Picture
from evlib.exercises.free import Prediction
from evlib.ground.shown import Shown
from evlib.panels.markup import mount

HOW = "Run this cell for a box to answer in, or type in a cell:"
CARD = "border-left:4px solid #0072b2;padding:0.3em 0.9em;margin:0.4em 0"


def card(exercise: Exercise, *, code: str, run: str = "saved") -> Shown:
    """The exercise as it is saved in a notebook: where, how deep, the text, the options, how to answer.

    ``run`` ties the mount of the live box to the kernel that made it, as for panels.
    """
    words, asked, options = label(exercise), exercise.asked(code), exercise.options(code)
    caution = f"Caution. {exercise.caution}" if exercise.caution else ""
    picture = exercise.picture(code)
    lines = [words, caution, asked.replace("\u00a0", " "), picture.words if picture else "",
             *(f"  {letter}. {text}" for letter, text in options), f"{HOW} {call(exercise)}"]  # fmt: skip
    page = [f'<section style="{CARD}" aria-label="{html.escape(words)}"><p><small>{html.escape(words)}</small></p>']
    page += [f"<p><b>Caution.</b> {html.escape(exercise.caution)}</p>"] if caution else []
    page += [paragraphs(asked), picture_html(picture) if picture else ""]
    how = f"<p><small>{HOW} <code>{html.escape(call(exercise))}</code></small></p>"
    page += [mount(options_list(options) + how, run), "</section>"]
    return Shown("\n".join(line for line in lines if line), "".join(page))


def code_card(words: str, *, run: str) -> Shown:
    """The course code, and the place of the box that changes it."""
    how = 'To change it, run this cell for a box, or type in a cell: my_code("the code from your teacher")'
    return Shown(
        f"{words}\n{how}", f"<p>{html.escape(words)}</p>{mount(f'<p><small>{html.escape(how)}</small></p>', run)}"
    )


def label(exercise: Exercise) -> str:
    """``Exercise motors.3, Shop, at the desk``."""
    kind = "Prediction" if isinstance(exercise, Prediction) else "Exercise"
    place = {"desk": "at the desk", "vehicle": "at the vehicle"}.get(exercise.place, f"on the {exercise.place}")
    return f"{kind} {exercise.id}, {exercise.depth}, {place}"


def call(exercise: Exercise) -> str:
    """The call that answers it."""
    word = "predict" if isinstance(exercise, Prediction) else "answer"
    return f'{word}("{exercise.id}", "{exercise.typed}")'


def picture_html(picture: Picture) -> str:
    """What is to be looked at, with its words as alternative text and, folded, for everybody."""
    data = base64.b64encode(picture.png).decode()
    return (
        f'<figure style="margin:0"><img alt="{html.escape(picture.words)}" style="max-width:100%;height:auto" '
        f'src="data:image/png;base64,{data}"></figure>'
        f"<details><summary>The picture in words</summary><p>{html.escape(picture.words)}</p></details>"
    )


def paragraphs(text: str) -> str:
    """Plain text to paragraphs at blank lines."""
    return "".join(f"<p>{html.escape(part.strip())}</p>" for part in text.split("\n\n"))


def options_list(options: tuple[tuple[str, str], ...]) -> str:
    """The choices as a lettered list, in words, so that it reads the same everywhere."""
    if not options:
        return ""
    rows = "".join(f"<li><b>{letter}.</b> {html.escape(text)}</li>" for letter, text in options)
    return f'<ul style="list-style:none">{rows}</ul>'


def marked(exercise: Exercise, text: str, mark: Mark, report: str = "") -> Shown:
    """What the marker said to an answer."""
    extra = f" {report}" if report else ""
    words = f"{exercise.id}: {mark!r}{extra}"
    page = f"<p><b>{html.escape(exercise.id)}: {html.escape(mark.words)}.</b> {html.escape(mark.sentence + extra)}</p>"
    return Shown(words, page)


def sentence(text: str) -> Shown:
    """One plain sentence."""
    return Shown(text, f"<p>{html.escape(text)}</p>")


def solutions(exercises: tuple[Exercise, ...], *, code: str, opened: bool = False) -> Shown:
    """Worked solutions, each folded, or opened for a teacher's edition."""
    lines, page, fold = [], [], "<details open>" if opened else "<details>"
    for exercise in exercises:
        worked = exercise.solution(code)
        lines += [f"{exercise.id}:", *(f"  {line}" for line in worked)]
        body = "<br>".join(html.escape(line) for line in worked)
        page.append(f"{fold}<summary>Solution of {html.escape(exercise.id)}</summary><p>{body}</p></details>")
    return Shown("\n".join(lines), "".join(page))


def beside(question: str, predicted: str, outcome: str) -> Shown:
    """A prediction beside what came out."""
    mine = predicted or "nothing yet: go back and commit yourself, it is half of the learning"
    page = (
        f'<table><tbody><tr><th scope="row" style="text-align:left">You predicted</th>'
        f'<td style="text-align:left">{html.escape(mine)}</td></tr>'
        f'<tr><th scope="row" style="text-align:left">It came out</th>'
        f'<td style="text-align:left">{html.escape(outcome)}</td></tr></tbody></table>'
    )
    return Shown(f"{question}\nYou predicted: {mine}\nIt came out: {outcome}", page)
