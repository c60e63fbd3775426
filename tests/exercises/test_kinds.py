"""Order the steps, find the wrong line, enter a reading: right is right, each usual wrong one gets its own help."""

import dataclasses
import itertools
import math
import re

import numpy as np
import pytest

from evlib.exercises import page
from evlib.exercises.base import DEMONSTRATION
from evlib.exercises.marker import mark
from evlib.exercises.number import Draw, Number
from evlib.exercises.order import Before, Order, Stage
from evlib.exercises.reading import Dial, Pointed, Reading
from evlib.exercises.register import everything, find
from evlib.exercises.wrong_line import Fault, Line, WrongLine
from evlib.figures import base
from evlib.figures.instruments import draw_dial
from evlib.ground import units
from evlib.ground.quantity import Quantity

CODES = [DEMONSTRATION, *(f"K{i % 10}-{i:03d}" for i in range(199))]


def of(kind):
    return [pytest.param(one, id=one.id) for one in everything() if isinstance(one, kind)]


def letters(exercise, code, names):
    """Stage names as this learner would type them."""
    shown = {text: letter for letter, text in exercise.options(code)}
    texts = {stage.name: stage.text for stage in exercise.stages}
    return " ".join(shown[texts[name]] for name in names)


def test_each_new_kind_is_used_in_two_lessons_or_more():
    for kind in (Order, WrongLine, Reading):
        assert len({one.topic for one in everything() if isinstance(one, kind)}) >= 2, kind


# ---- order the steps


@pytest.mark.parametrize("exercise", of(Order))
def test_the_steps_are_mixed_and_the_declared_order_is_right(exercise):
    declared = [stage.name for stage in exercise.stages]
    for code in CODES:
        assert exercise.problems(code) == ()
        got = mark(exercise, letters(exercise, code, declared), code=code)
        assert got.verdict == "right" and got.sentence.endswith(exercise.why), code
        as_shown = " ".join(letter for letter, _ in exercise.options(code))
        assert mark(exercise, as_shown, code=code).verdict == "slip", "what is shown is not right already"
        assert letters(exercise, code, declared) in exercise.solution(code)[0]
    assert len({exercise.options(code) for code in CODES}) > 20


@pytest.mark.parametrize("exercise", of(Order))
def test_an_order_is_right_exactly_if_it_keeps_every_rule(exercise):
    """All orders that there are, judged here by the places of the names alone."""
    orders = list(itertools.permutations(stage.name for stage in exercise.stages))
    for names in orders[:: max(1, len(orders) // 700)]:
        place = {name: at for at, name in enumerate(names)}
        keeps = all(place[rule.first] < place[rule.later] for rule in exercise.rules)
        got = mark(exercise, letters(exercise, DEMONSTRATION, names), code=DEMONSTRATION)
        assert (got.verdict == "right") == keeps, names


@pytest.mark.parametrize("exercise", of(Order))
def test_each_usual_wrong_order_gets_its_own_hint(exercise):
    declared = [stage.name for stage in exercise.stages]
    hints = {rule.hint for rule in exercise.rules}
    assert len(hints) == len(exercise.rules)
    for rule in exercise.rules:
        names = [name for name in declared if name != rule.later]
        names.insert(names.index(rule.first), rule.later)  # the later one is pulled before the first one
        for code in CODES:
            got = mark(exercise, letters(exercise, code, names), code=code)
            assert got.verdict == "slip" and any(got.sentence.startswith(hint) for hint in hints)
        alone = [n for n in itertools.permutations(declared) if exercise.broken(n)[:1] == (rule,)]
        assert alone, f"no order has {rule.slip!r} as its first fault"
        got = mark(exercise, letters(exercise, DEMONSTRATION, alone[0]), code=DEMONSTRATION)
        assert got.slip == rule.slip and got.sentence.startswith(rule.hint)
        assert not any(stage.text in rule.hint for stage in exercise.stages), "the hint places a step"


@pytest.mark.parametrize("between", [" ", ", ", "", " > ", ") ", ".", " → "])
def test_ways_to_write_an_order(between):
    exercise = find("motors.15")
    typed = letters(exercise, DEMONSTRATION, [stage.name for stage in exercise.stages]).replace(" ", between)
    assert mark(exercise, typed.upper(), code=DEMONSTRATION).verdict == "right"


@pytest.mark.parametrize(
    ("typed", "said"),
    [("a b c d e", "f is missing"), ("a b c d e f f", "f is there more than once"), ("a a b c d e", "f is missing"),
     ("1 2 3", "letters a to f"), ("a b c d e z", "letters a to f"), ("first strap it", "letters a to f")],
)  # fmt: skip
def test_what_is_no_order_is_said(typed, said):
    got = mark(find("motors.15"), typed, code=DEMONSTRATION)
    assert got.verdict == "unread" and said in got.sentence


STAGES = tuple(Stage(name=name, text=f"Do {name}.") for name in "pqr")
ORDER = {"id": "start.99", "objective": "o", "depth": "Shop", "text": "Which?", "why": "So."}


@pytest.mark.parametrize(
    ("stages", "rules", "said"),
    [
        (STAGES[:2], [("p", "q")], "three to"),
        ((*STAGES, STAGES[0]), [("p", "q"), ("q", "r")], "different names"),
        (STAGES, [("p", "q")], "every stage"),
        (STAGES, [("p", "q"), ("q", "s")], "every stage"),
        (STAGES, [("p", "q"), ("r", "q")], "breaks the rule 'q before r'"),
    ],
)
def test_orders_that_cannot_work_are_refused(stages, rules, said):
    with pytest.raises(ValueError, match=said):
        Order(stages=stages, rules=tuple(Before(first=a, later=b, hint="h") for a, b in rules), **ORDER)


def test_a_hint_that_repeats_a_step_is_found():
    rules = (Before(first="p", later="q", hint="First you do P."), Before(first="q", later="r", hint="Why?"))
    assert "repeats the step 'p'" in Order(stages=STAGES, rules=rules, **ORDER).problems("A1-1")[0]


# ---- find the wrong line


def read(text):
    """The value at the end of a shown line, in SI."""
    value = text.rpartition(" = ")[2].replace("\u00a0", " ")
    number, _, unit = value.partition(" ")
    return float(number) * {"": 1, "N": 1, "kN": 1e3, "N m": 1, "mm": 1e-3, "kPa": 1e3}[unit]


# The sums by hand on the numbers that the learner reads, in SI; each line from what the lines above it show.
# Ring area, plates at the middle radius, planes by the sine: Mott, Machine Elements; standard gravity: ISO 80000-3.
BY_HAND = {
    "hydraulics.14": lambda g, v: (
        g["pressure"] * 1e3 * math.pi * ((g["outer"] / 2e3) ** 2 - (g["inner"] / 2e3) ** 2),
        v[0] - g["spring"],
        (g["face_outer"] / 2e3 + g["face_inner"] / 2e3) / 2,
        0.12 * v[1] * v[2] * g["faces"],
        v[3] / g["multiple"],
    ),
    "gearing.13": lambda g, v: (
        g["low"] * g["final"],
        g["torque"] * v[0] * g["efficiency"] / 100,
        v[1] / (g["radius"] / 1e3),
        g["mass"] * 9.80665 * g["grade"] / math.hypot(100, g["grade"]),
        v[2] - v[3],
    ),
}


@pytest.mark.parametrize("exercise", of(WrongLine))
def test_the_wrong_line_is_the_only_one_that_does_not_follow(exercise):
    seen = set()
    for code in CODES:
        assert exercise.problems(code) == (), code
        shown = [read(text) for _, text in exercise.options(code)]
        given = {name: float(text.split("\u00a0")[0]) for name, text in exercise.value(code).case(code).shown.items()}
        assert all(text in exercise.asked(code) for text in exercise.value(code).case(code).shown.values())
        hand = BY_HAND[exercise.id](given, shown)
        off = [n for n, (a, b) in enumerate(zip(shown, hand, strict=True), 1) if abs(a - b) > 2e-3 * abs(b)]
        assert len(off) == 1, (code, off)
        unit = exercise.value(code).wanted.unit
        got = mark(exercise, f"{off[0]}: {hand[off[0] - 1]:.3g} {unit}".strip(), code=code)
        assert got.verdict == "right" and got.sentence == f"Right. {exercise.fault(code).why}", (code, got)
        assert mark(exercise, exercise.answer(code), code=code).verdict == "right", code
        seen.add(exercise.fault(code).name + exercise.fault(code).line)
    assert len(seen) == len(exercise.faults), "every fault comes to somebody"


@pytest.mark.parametrize("exercise", of(WrongLine))
def test_every_wrong_choice_is_helped_and_none_tells_the_line(exercise):
    for code in CODES:
        value, wrong = exercise.value(code), exercise.wrong_at(code) + 1
        case = value.case(code)
        for number, line in enumerate(exercise.lines, 1):
            got = mark(exercise, str(number), code=code)
            if number == wrong:
                assert got.verdict == "half" and not any(f"{a:.3g}" in got.sentence for a in case.answers)
            else:
                assert (got.verdict, got.sentence) == ("slip", line.holds) and line.name.replace("_", " ") in got.slip
                assert not re.search(r"\bline \d|\d\d", got.sentence), "the hint names no other line and no number"
        again = [each for each in case.wrong if each.slip.name == exercise.fault(code).name]
        for each in again:
            got = mark(exercise, f"{wrong}: {each.value!r} {value.wanted.unit}".strip(), code=code)
            assert (got.verdict, got.slip) == ("slip", each.slip.name)
            assert got.sentence == f"The line is found. {exercise.fault(code).hint}", code
        assert again
        far = mark(exercise, f"{wrong}: {3.3 * case.right!r} {value.wanted.unit}".strip(), code=code)
        assert far.verdict in ("not yet", "slip") and far.sentence.startswith("The line is found.")
        bare = mark(exercise, f"{wrong}: {case.answers[0]!r}", code=code)
        assert bare.verdict == ("unit" if value.wanted.unit else "right")
        assert mark(exercise, f"{wrong}: wibble", code=code).verdict == "half"


@pytest.mark.parametrize("form", ["{}: {}", "{} {}", "line {}: {}", "Line {}, {}", "{}) {}", "{}; {}", "{}. {}"])
def test_ways_to_name_a_line(form):
    for exercise in (find("hydraulics.14"), find("gearing.13")):
        number, _, value = exercise.answer(DEMONSTRATION).partition(": ")
        assert mark(exercise, form.format(number, value), code=DEMONSTRATION).verdict == "right"


@pytest.mark.parametrize("typed", ["0", "6", "12", "3.5 kPa", "push", "the third", "-1", "1/2", "line"])
def test_what_names_no_line_is_said(typed):
    got = mark(find("hydraulics.14"), typed, code=DEMONSTRATION)
    assert got.verdict == "unread" and "lines 1 to 5" in got.sentence


X = Quantity("x", "m", "length")


def _sum(**changes):
    lines = (
        Line(name="a", equation="2 x", unit="m", function=lambda x: 2 * x, holds="Twice."),
        Line(name="b", equation="a + 1 m", unit="m", function=lambda a: a + 1, holds="One more."),
        Line(name="c", equation="3 b", unit="m", function=lambda b: 3 * b, holds="Thrice."),
    )
    faults = (
        Fault(line="a", name="squared", function=lambda x: x**2, hint="Twice?", why="Twice."),
        Fault(line="b", name="less", function=lambda a: a - 1, hint="More?", why="More."),
    )
    fields = {"id": "start.99", "objective": "o", "depth": "Shop", "text": "With {x}?", "lines": lines,
              "given": {"x": Draw(X, "2.0 m", "9.0 m", "0.1 m")}, "faults": faults,
              "right": lambda x: 3 * (2 * x + 1), **changes}  # fmt: skip
    return WrongLine(**fields)


def test_a_sum_that_disagrees_with_the_library_or_a_fault_without_effect_is_found():
    assert all(_sum().problems(code) == () for code in CODES)
    assert any("the library" in problem for problem in _sum(right=lambda x: 6 * x).problems("A1-1"))
    good = _sum()
    idle = (dataclasses.replace(good.faults[0], function=lambda x: 2.0001 * x), good.faults[1])
    assert any(_sum(faults=idle).problems(code) for code in CODES)


def test_sums_that_cannot_work_are_refused():
    good = _sum()
    with pytest.raises(ValueError, match="faults in two lines"):
        _sum(faults=good.faults[:1])
    with pytest.raises(ValueError, match="each in a line"):
        _sum(faults=(*good.faults, dataclasses.replace(good.faults[0], line="z")))
    with pytest.raises(ValueError, match="three to nine"):
        _sum(lines=good.lines[:2])


# ---- enter a reading


def by_words(text):
    """The reading as somebody counts it who hears the words and sees nothing."""
    marks = [float(n) for n in re.search(r"numbered marks are ([\d., ]+)\. Small", text)[1].split(", ")]
    space = (marks[1] - marks[0]) / int(re.search(r"into (\d+) equal spaces", text)[1])

    def at(words):
        number = float(re.search(r"numbered (\d+)", words)[1])
        past = re.search(r"small mark (\d+) after", words)
        return number + (int(past[1]) if past else 0) * space

    where = text.partition("The pointer stands ")[2]
    if not where.startswith("half-way"):
        return at(where), space
    first, _, second = where.partition(" and ")
    low = at(first)
    high = low + space if "numbered" not in second else at(second)
    assert high == pytest.approx(low + space)
    return (low + high) / 2, space


@pytest.mark.parametrize("exercise", of(Reading))
def test_a_learner_who_hears_the_picture_reads_the_same(exercise):
    for code in CODES:
        case, words = exercise.case(code), exercise.picture(code).words
        read_off, space = by_words(words)
        shown = float(case.shown[exercise.pointer].split("\u00a0")[0])
        assert read_off == pytest.approx(shown) and space == pytest.approx(exercise.dial.space)
        assert f"{shown:g}" not in re.findall(r"\d+(?:\.\d+)?", words), "the words do not say the reading itself"


def test_readings_by_hand():
    """Power is volts times amps; one unit of a scale to 50 is a fiftieth of the range."""
    for code in CODES:
        gauge, meter = find("hydraulics.15"), find("motors.14")
        kilopascal, space = by_words(gauge.picture(code).words)
        for off, good in ((0, True), (0.45, True), (-0.45, True), (0.9, False), (-0.9, False), (2, False)):
            got = mark(gauge, f"{kilopascal + off * space} kPa", code=code)
            assert (got.verdict == "right") == good, (code, off, got)
        assert mark(gauge, f"{kilopascal / 100} bar", code=code).verdict == "right"
        pointer, _ = by_words(meter.picture(code).words)
        volts, amps = (float(meter.case(code).shown[name].split("\u00a0")[0]) for name in ("volts", "range"))
        assert mark(meter, f"{volts * amps * pointer / 50 / 1000} kW", code=code).verdict == "right", code


@pytest.mark.parametrize("exercise", of(Reading))
def test_the_pointer_stands_where_it_should(exercise):
    """Each mark's angle comes from its numbers as drawn; the pointer's angle lies between them by its share."""
    for code in CODES[:20]:
        value = exercise.case(code).values[exercise.pointer]
        _, axes = base.figure()
        base.call_draw(draw_dial, Pointed(exercise.dial, value), axes)
        turn = lambda x, y: (225 - math.degrees(math.atan2(y, x))) % 360  # noqa: E731  clockwise from the lower left
        found = {float(t.get_text()): turn(*t.get_position()) for t in axes[0].texts if t.get_text().isdigit()}
        assert sorted(found) == list(exercise.dial.numbered)
        (pointer,) = [line for line in axes[0].lines if line.get_gid() == "pointer"]
        angle = turn(*np.array(pointer.get_data())[:, -1])
        drawn = np.interp(angle, [found[n] for n in sorted(found)], sorted(found))
        assert drawn == pytest.approx(value / exercise.dial.factor, abs=1e-6 * sorted(found)[-1])
        short = [line for line in axes[0].lines if line.get_linewidth() == 1.0]
        assert len(short) == (len(found) - 1) * (exercise.dial.parts - 1)


@pytest.mark.parametrize("exercise", of(Reading))
def test_the_card_shows_the_picture_with_its_words(exercise):
    shown, words = page.card(exercise, code=DEMONSTRATION), exercise.picture(DEMONSTRATION).words
    assert words in repr(shown) and shown._repr_html_().count(words) == 2  # as alternative text, and folded
    assert "<summary>The picture in words</summary>" in shown._repr_html_()
    assert exercise.picture(DEMONSTRATION).png.startswith(b"\x89PNG")
    assert "One small space is" in exercise.solution(DEMONSTRATION)[0]


@pytest.mark.parametrize(
    ("value", "where"),
    [(0.0, "on the mark numbered 0."), (5.0, "on the mark numbered 5."), (10.0, "on the mark numbered 10."),
     (1.0, "on small mark 1 after the mark numbered 0."),
     (0.5, "half-way between the mark numbered 0 and small mark 1."),
     (9.5, "half-way between small mark 4 after the mark numbered 5 and the mark numbered 10.")],
)  # fmt: skip
def test_places_on_a_dial_in_words(value, where):
    dial = Dial(name="length", unit="m", numbered=(0, 5, 10), parts=5, quantity=X)
    assert dial.words(value).endswith(f"The pointer stands {where}")
    assert by_words(dial.words(value)) == (value, 1.0)


@pytest.mark.parametrize("exercise", [*of(Order), *of(WrongLine), *of(Reading)])
@pytest.mark.parametrize("text", ["", "   ", "hello", "?", "a" * 5000, "--", "nan", "12 wibble"])
def test_rubbish_gets_one_clear_sentence(exercise, text):
    got = mark(exercise, text, code=DEMONSTRATION)
    assert got.verdict == "unread" and 10 < len(got.sentence) < 220
    assert "\n" not in got.sentence and got.sentence.endswith(".")


def test_units_of_a_reading_are_told_apart():
    exercise = find("hydraulics.15")
    number = float(units.to_shown(exercise.case(DEMONSTRATION).right, "Pa", shown="kPa"))
    assert isinstance(exercise, Number)
    for text, verdict in ((f"{number:g}", "unit"), (f"{number:g} psi", "unit"), (f"{number:g} kPa", "right")):
        assert mark(exercise, text, code=DEMONSTRATION).verdict == verdict
