"""The boxes under exercises, worked as a new learner works them: by keyboard, wrong first, through a restart."""

import checks
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


@pytest.fixture
def kinds(page, address, folder):
    """Opens a page with one exercise of each form of box, after the answers that are given."""

    def opened(**answers):
        cells = ["from evlib.exercises import answer, ask"]
        cells += [f"answer({name.replace('_', '.')!r}, {text!r})" for name, text in answers.items()]
        cells += [f'ask("{name}")' for name in KINDS]
        (folder / "kinds.ipynb").write_text(lab.notebook(cells), encoding="utf-8")
        found = lab.Notebook(page, address, "kinds.ipynb")
        found.run_all()
        return found

    return opened


KINDS = ("motors.15", "hydraulics.14", "hydraulics.15", "start.1", "start.14")


def rows(found):
    return found.locator("li").evaluate_all(
        "rows => rows.map((row) => row.querySelector('span:last-child').textContent)"
    )


def test_steps_are_put_in_order_by_keyboard(page, kinds):
    kinds()
    question, exercise = box(page, "motors.15"), find("motors.15")
    wanted = [stage.text for stage in exercise.stages]
    assert rows(question) == [text for _, text in exercise.options(DEMONSTRATION)]
    question.get_by_role("button", name="Check").press("Enter")  # as it stands: wrong, and helped
    hints = tuple(rule.hint for rule in exercise.rules)
    lab.wait_for(lambda: any(hint in question.locator(".evlib-heard").inner_text() for hint in hints), 20, "a hint")
    for place, text in enumerate(wanted):
        up = question.get_by_role("button", name=f"Up: {text}")
        up.focus()
        for _ in range(rows(question).index(text) - place):
            page.keyboard.press("Enter")
            assert up.evaluate("each => each === document.activeElement"), "the focus goes with the row"
    assert rows(question) == wanted
    up.press("Enter")  # the last one goes up, and down again
    assert rows(question) == [*wanted[:-2], wanted[-1], wanted[-2]]
    assert f"Now step {len(wanted) - 1} of {len(wanted)}: {wanted[-1]}" in question.locator(".evlib-moved").inner_text()
    for _ in range(3):  # at the end it stays
        question.get_by_role("button", name=f"Down: {wanted[-1]}").press("Enter")
    assert rows(question) == wanted
    question.get_by_role("button", name="Check").press("Enter")
    heard(question, f"right: Right. {exercise.why}")


def test_a_wrong_line_is_found_and_mended_by_keyboard(page, kinds):
    kinds()
    question, exercise = box(page, "hydraulics.14"), find("hydraulics.14")
    wrong, value = exercise.wrong_at(DEMONSTRATION), exercise.value(DEMONSTRATION)
    field = question.get_by_label("what should stand there, with its unit, once the line is found")
    question.get_by_role("radio").first.focus()
    page.keyboard.press("Space")
    for at, line in enumerate(exercise.lines):
        question.get_by_role("button", name="Check").press("Enter")
        heard(question, "half right: That is the line" if at == wrong else line.holds)
        question.get_by_role("radio", checked=True).press("ArrowDown")
    question.get_by_role("radio").nth(wrong).check()
    case = value.case(DEMONSTRATION)
    for number, unit, said in (
        (case.wrong[0].value, "N m", case.wrong[0].slip.hint), (case.right, "", "right number, wrong unit"),
        (case.right, "N m", "right: Right."),
    ):  # fmt: skip
        field.fill("")
        field.focus()
        page.keyboard.type(f"{number:.4g} {unit}")
        page.keyboard.press("Enter")
        heard(question, said)


def test_a_dial_is_seen_heard_and_read(page, kinds):
    kinds()
    question, exercise = box(page, "hydraulics.15"), find("hydraulics.15")
    picture = exercise.picture(DEMONSTRATION)
    seen = page.get_by_role("img", name=picture.words)
    assert seen.evaluate("image => image.naturalWidth") > 300
    page.get_by_text("The picture in words").first.press("Enter")
    assert page.get_by_text(picture.words).first.is_visible()
    dial, case = exercise.dial, exercise.case(DEMONSTRATION)
    field = question.get_by_role("textbox")
    for value, said in (
        (dial.counted(case.right, 10), exercise.slips[0].hint), (dial.backwards(case.right), exercise.slips[2].hint),
        (case.right, "right: Right."),
    ):  # fmt: skip
        field.fill(f"{value / 1000:g} kPa")
        field.press("Enter")
        heard(question, said)


def test_boxes_of_every_kind_pass_axe_and_come_back_as_they_were_left(page, kinds, screenshots):
    order, line = find("motors.15"), find("hydraulics.14")
    kinds(motors_15=order.answer(DEMONSTRATION), hydraulics_14=line.answer(DEMONSTRATION))
    left = rows(box(page, "motors.15"))
    assert left == [stage.text for stage in order.stages], "the last answer stands in the box"
    number, _, value = line.answer(DEMONSTRATION).partition(": ")
    line = box(page, "hydraulics.14")
    assert line.get_by_role("radio", checked=True).input_value() == number
    assert line.get_by_role("textbox").input_value().split()[0] == value.split()[0]
    for name in KINDS:
        box(page, name)
        assert checks.axe_findings(page, f'{OPEN} .evlib-box[data-exercise="{name}"]') == []
    assert checks.axe_findings(page, f"{OPEN} section") == []
    assert page.errors == []
    if screenshots:
        scroll(page, -100_000)
        lab.picture(page, screenshots / "boxes.png", lab.WIDE[0])


def test_an_answer_that_nobody_hears_is_kept_and_no_verdict_stands_beside_another_answer(page, kinds):
    opened = kinds()
    first = box(page, "start.1")
    first.get_by_role("radio").first.check()
    first.get_by_role("button", name="Check").press("Enter")
    lab.wait_for(lambda: first.locator(".evlib-heard").inner_text(), 20, "a verdict")
    first.get_by_role("radio").nth(1).check()
    assert first.locator(".evlib-heard").inner_text() == ""  # it was about the other choice

    number = box(page, "hydraulics.15")
    field = number.get_by_role("textbox")
    field.fill("")  # an earlier test's answer stands there
    field.focus()
    page.keyboard.type("7 kPa")
    opened.kernel_dies()
    page.keyboard.press("Enter")
    heard(number, "No answer came")
    assert field.input_value() == "7 kPa"
    page.reload()
    page.wait_for_selector(".jp-NotebookPanel:not(.lm-mod-hidden) .jp-Cell", timeout=60_000)
    lab.wait_for(opened.ready, 90, "a kernel that waits for work")
    for _ in range(5):  # asked too early, a new kernel runs nothing
        opened.menu("Run", "Run All Cells")
        page.wait_for_timeout(3000)
        if page.locator('.evlib-box[data-exercise="hydraulics.15"]:visible').count():
            break
    again = box(page, "hydraulics.15")
    heard(again, "Typed earlier and not marked yet")
    assert again.get_by_role("textbox").input_value() == "7 kPa"
    again.get_by_role("textbox").press("Enter")
    heard(again, "not yet")
