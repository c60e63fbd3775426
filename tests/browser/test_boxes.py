"""The boxes under exercises, worked as a new learner works them: by keyboard, wrong first, through a restart."""

import lab
import pytest

from evlib.exercises.base import DEMONSTRATION
from evlib.exercises.register import find

OPEN = ".jp-NotebookPanel:not(.lm-mod-hidden)"


@pytest.fixture
def lesson(page, address):
    """Opens a lesson and runs it."""

    def opened(name):
        found = lab.Notebook(page, address, f"{name}.ipynb")
        found.run_all()
        return found

    return opened


def scroll(page, by):
    page.evaluate(f"(by) => document.querySelector('{OPEN} .jp-WindowedPanel-outer').scrollBy(0, by)", by)


def box(page, name):
    """The box of an exercise, scrolled to: cells far off are not in the page."""
    scroll(page, -100_000)
    found = page.locator(f'{OPEN} .evlib-box[data-exercise="{name}"]:visible')
    for _ in range(80):
        if found.count():
            found.first.scroll_into_view_if_needed()
            return found.first
        scroll(page, 400)
        page.wait_for_timeout(120)
    raise AssertionError(f"no box of {name}")


def heard(found, words):
    lab.wait_for(lambda: words in found.locator(".evlib-heard").inner_text(), 20, words)


def test_an_answer_is_typed_marked_mended_and_there_again_after_a_restart(page, lesson):
    opened = lesson("00b_bridges")
    first = box(page, "bridges.2")
    right = find("bridges.2").case(DEMONSTRATION).right
    field = first.get_by_label("your answer in rad/s, with the unit")
    field.focus()
    page.keyboard.type(f"{right * 9.5493:.0f} rad/s")  # the rpm, called rad/s
    page.keyboard.press("Enter")
    heard(first, "That number is still in rpm")
    field.fill("")
    field.focus()
    page.keyboard.type(f"{right:.3g}")
    page.keyboard.press("Enter")
    heard(first, "right number, wrong unit")
    field.focus()
    page.keyboard.press("End")
    page.keyboard.type(" rad/s")
    page.keyboard.press("Enter")
    heard(first, "right: Right.")

    guess = box(page, "bridges.p1")
    guess.get_by_role("textbox").fill("it doubles")
    guess.get_by_role("button", name="Keep").press("Enter")
    heard(guess, "kept")

    opened.restart()
    lab.wait_for(lambda: page.locator(f"{OPEN} .evlib-static:visible").count(), 30, "the static part is back")
    lab.wait_for(lambda: not page.locator(f"{OPEN} .evlib-box:visible").count(), 30, "no dead box stays")
    for _ in range(5):  # asked too early, a new kernel runs nothing
        opened.menu("Run", "Run All Cells")
        page.wait_for_timeout(3000)
        if page.locator(f"{OPEN} .evlib-box:visible").count():
            break
    again = box(page, "bridges.2")
    heard(again, "right: Right.")
    assert again.get_by_role("textbox").input_value() == f"{right:.3g} rad/s"


def test_every_choice_gives_its_reason_and_a_name_is_no_course_code(page, lesson):
    lesson("00_start_here")
    question, exercise = box(page, "start.1"), find("start.1")
    reasons = {option.text: option.reason for option in exercise.choices}
    question.get_by_role("radio").first.focus()
    page.keyboard.press("Space")
    for _, text in exercise.options(DEMONSTRATION):
        question.get_by_role("button", name="Check").press("Enter")
        heard(question, reasons[text])
        question.get_by_role("radio", checked=True).press("ArrowDown")
    code = box(page, "course code")
    for typed, said in (("Anna", "never your name"), ("k7-204", "Your course code is K7-204")):
        code.get_by_role("textbox").fill(typed)
        code.get_by_role("button", name="Keep").click()
        heard(code, said)
    stale = box(page, "start.11")  # its text still shows the numbers of the code before
    stale.get_by_role("textbox").fill("20 %")
    stale.get_by_role("textbox").press("Enter")
    heard(stale, "run this cell again")
    code = box(page, "course code")
    code.get_by_role("textbox").fill(DEMONSTRATION)
    code.get_by_role("button", name="Keep").click()
    heard(code, "the demonstration numbers")
