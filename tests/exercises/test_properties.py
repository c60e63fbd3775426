"""What holds for every exercise, over 200 course codes; and for whatever a learner may type."""

import math
import string
import types

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evlib.exercises.base import DEMONSTRATION, Mark
from evlib.exercises.choice import Choice
from evlib.exercises.free import Free
from evlib.exercises.marker import mark
from evlib.exercises.number import Number
from evlib.exercises.register import everything
from evlib.ground import units

CODES = [DEMONSTRATION, *(f"K{i % 10}-{i:03d}" for i in range(199))]
ALL = everything()
NUMBERS = [e for e in ALL if isinstance(e, Number)]
CHOICES = [e for e in ALL if isinstance(e, Choice)]
names = lambda exercises: [pytest.param(e, id=e.id) for e in exercises]  # noqa: E731


def typed(exercise, value, unit, *, figures=None):
    """A value in SI as a learner would type it in a unit."""
    wanted = exercise.wanted
    number = float(units.to_shown(value, wanted.unit, shown=unit, kind=wanted.kind))
    text = repr(number) if figures is None else f"{number:.{figures}g}"
    return f"{text} {unit}".strip()


def round3(value):
    return float(f"{value:.2e}")


@pytest.mark.parametrize("exercise", names(NUMBERS))
def test_declared_soundly(exercise):
    fields = {name for _, name, _, _ in string.Formatter().parse(exercise.text) if name}
    assert fields | set(exercise.hidden) == set(exercise.given), "text and picture show exactly what is given"
    assert not fields & set(exercise.hidden), "what is to be read off is not in the text"
    for code in CODES:
        assert exercise.problems(code) == (), code
        assert "{" not in exercise.asked(code)
    if math.prod(len(draw.texts()) for draw in exercise.given.values()) >= 50:
        assert len({exercise.case(code).right for code in CODES}) >= 5, "learners have numbers of their own"


@pytest.mark.parametrize("exercise", names(NUMBERS))
def test_right_answer_is_right_in_every_usual_unit(exercise):
    for code in CODES:
        right = exercise.case(code).right
        for unit in exercise.unit_names():
            for figures in (None, 4, 3) if not exercise.wanted.whole else (None,):
                text = typed(exercise, right, unit, figures=figures)
                assert mark(exercise, text, code=code).verdict == "right", (code, text)


@pytest.mark.parametrize("exercise", names(NUMBERS))
@pytest.mark.parametrize("system", ["as computed", "SI", "shop"])
def test_rounding_every_line_to_three_figures_stays_right(exercise, system):
    """The tolerance is computed by nudging; this walks the lines and really rounds, so neither can be wrong alone."""
    if exercise.wanted.whole:
        return  # a count is exact: nothing is rounded on the way to it
    for code in CODES if system == "as computed" else CODES[:60]:
        case = exercise.case(code)
        known = {name: round3(value) for name, value in case.values.items()}
        for step in exercise.steps:
            value = step.function(
                **{n: known[n] for n in step.function.__code__.co_varnames[: step.function.__code__.co_argcount]}
            )
            unit = step.unit if system == "as computed" else units.shown_unit(step.unit, system=system)
            one = units.to_shown(1.0, step.unit, shown=unit) - units.to_shown(0.0, step.unit, shown=unit)
            offset = units.to_shown(0.0, step.unit, shown=unit)
            known[step.name] = (round3(value * one + offset) - offset) / one
        text = typed(exercise, known[exercise.steps[-1].name], exercise.unit_names()[0], figures=3)
        assert mark(exercise, text, code=code).verdict == "right", (code, text, case)


@pytest.mark.parametrize("exercise", names(NUMBERS))
def test_each_slip_gets_its_own_hint_and_no_answer(exercise):
    for i, code in enumerate(CODES):
        case = exercise.case(code)
        for slip, value in ((wrong.slip, wrong.value) for wrong in case.wrong):
            assert abs(value - case.right) > case.tolerance, (code, slip.name)
            for unit in exercise.unit_names() if i < 60 else exercise.unit_names()[:1]:
                for figures in (None, 3):
                    got = mark(exercise, typed(exercise, value, unit, figures=figures), code=code)
                    assert (got.verdict, got.sentence) == ("slip", slip.hint), (code, slip.name, unit, got)
            for answer in case.answers:
                assert f"{answer:.3g}" not in slip.hint.split()


@pytest.mark.parametrize("exercise", names(NUMBERS))
def test_wrong_and_missing_units_are_recognised(exercise):
    for code in CODES:
        case, (first, *_) = exercise.case(code), exercise.unit_names()
        number = typed(exercise, case.right, first).split()[0]
        strange = "kg" if exercise.wanted.unit != "kg" else "m"
        assert mark(exercise, f"{number} {strange}", code=code).verdict == "unit", code
        if first:
            bare = mark(exercise, number, code=code)
            assert bare.verdict == "unit" and "unit" in bare.sentence, code
        for other in exercise.unit_names()[1:]:
            factor = units.to_shown(2.0, exercise.wanted.unit, shown=first) / units.to_shown(
                2.0, exercise.wanted.unit, shown=other
            )
            if other and exercise.wanted.unit != "K" and abs(math.log(abs(factor))) > 0.1:
                got = mark(exercise, f"{number} {other}", code=code).verdict
                assert got in ("unit", "slip"), (code, other)  # a slip can have the very same value


@pytest.mark.parametrize("exercise", names(NUMBERS))
@pytest.mark.parametrize(
    "text", ["", "   ", "hello", "12 wibble", "a" * 5000, "1/0 N m", "--", "nan", "inf N m", "12 gal"]
)
def test_rubbish_gets_one_clear_sentence(exercise, text):
    got = mark(exercise, text, code=DEMONSTRATION)
    assert got.verdict == "unread", got
    assert 10 < len(got.sentence) < 220 and "\n" not in got.sentence and got.sentence.endswith(".")


@pytest.mark.parametrize("exercise", names(CHOICES))
def test_every_option_is_judged_with_its_reason(exercise):
    right = next(option for option in exercise.choices if option.right)
    for code in CODES[:50]:
        for letter, text in exercise.options(code):
            option = next(o for o in exercise.choices if o.text == text)
            for way in (letter, f"{letter.upper()})", text):
                got = mark(exercise, way, code=code)
                assert (got.verdict == "right") == option.right and got.sentence == option.reason
            assert option.right or right.text.casefold() not in option.reason.casefold()
    assert mark(exercise, "z", code=DEMONSTRATION).verdict == "unread"
    orders = {exercise.options(code) for code in CODES}
    assert len(orders) > 1, "the order is the learner's own"


@pytest.mark.parametrize("exercise", names([e for e in ALL if isinstance(e, Free)]))
def test_free_answers_have_a_guide(exercise):
    assert exercise.guide and all(len(point.split()) >= 2 for point in exercise.guide)
    assert mark(exercise, exercise.model, code=DEMONSTRATION).verdict == "kept"


@settings(max_examples=150, deadline=None)
@given(text=st.text(max_size=120), index=st.integers(0, 10_000))
def test_the_marker_always_answers_in_one_sentence(text, index):
    got = mark(ALL[index % len(ALL)], text, code=DEMONSTRATION)
    assert isinstance(got, Mark) and got.sentence and "\n" not in got.sentence


@settings(max_examples=150, deadline=None)
@given(
    number=st.text("0123456789.,-+e/ ½", max_size=12),
    unit=st.text("NmrpkWPasih/ %°·²", max_size=8),
    index=st.integers(0, 10_000),
)
def test_near_numbers_are_read_or_refused_but_never_break(number, unit, index):
    exercise = NUMBERS[index % len(NUMBERS)]
    got = mark(exercise, f"{number} {unit}", code=DEMONSTRATION)
    assert isinstance(got, Mark) and got.sentence and "\n" not in got.sentence


@settings(max_examples=150, deadline=None)
@given(off=st.floats(-3, 3), index=st.integers(0, 10_000), code=st.sampled_from(CODES))
def test_right_ends_exactly_at_the_tolerance(off, index, code):
    exercise = NUMBERS[index % len(NUMBERS)]
    case = exercise.case(code)
    if not exercise.unit and abs(abs(off) - 1) > 1e-3:
        got = mark(exercise, f"{case.right + off * case.tolerance!r} {exercise.wanted.unit}".strip(), code=code)
        assert (got.verdict == "right") == (abs(off) < 1)


@pytest.mark.parametrize("value", [None, 85, 85.0, ["85 N m"], b"85 N m", types])
def test_an_answer_that_is_no_text_is_told_so(value):
    assert mark(ALL[0], value, code=DEMONSTRATION).verdict == "unread"
