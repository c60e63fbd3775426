"""The pieces that stand in every lesson: what they show, and what they say when something is wrong."""

import pytest

from evlib import lesson
from evlib.build.file import BadBuild, parse_build
from evlib.ground.errors import NotKnown


@pytest.fixture
def build():
    return parse_build('[build]\nname = "toy"\n[vehicle]\nmass = "900 kg"\nwheelbase = "2.4 m"\ngrip = 0.8')


def test_a_lesson_starts_on_a_build_by_name(capsys):
    assert lesson.start("orchard_van").name == "Orchard van"
    assert capsys.readouterr().out == "This lesson works on: Orchard van (invented).\n"


def test_a_lesson_that_finds_no_build_says_so_in_one_sentence():
    with pytest.raises(BadBuild, match="no build of that name"):
        lesson.start("nowhere")


def test_numbers_shows_the_named_values_and_folds_the_rest(build):
    shown = lesson.numbers(build, "vehicle.mass", "vehicle.frontal_area")
    assert "900 kg (1984 lb)" in repr(shown)
    assert "not known" in repr(shown)
    assert "2400 mm" not in repr(shown)
    assert "<summary>" in shown._repr_html_()
    assert "2400 mm" in shown._repr_html_()


def test_a_value_that_is_not_stated_is_named(build):
    assert lesson.value(build, "vehicle.mass") == 900
    with pytest.raises(NotKnown, match=r"vehicle\.frontal_area is not known"):
        lesson.value(build, "vehicle.frontal_area")


def test_agreement_is_printed_and_disagreement_stops(capsys):
    lesson.agree("torque", by_hand=100.0, library=100.3, unit="N m")
    assert capsys.readouterr().out == (
        "torque: 100 N m (73.8 lbf ft) by hand, 100 N m (74.0 lbf ft) by the library: they agree within 0.5 %.\n"
    )
    with pytest.raises(AssertionError, match=r"torque: .* they differ by 1\.0 %"):
        lesson.agree("torque", by_hand=101.0, library=100.0, unit="N m")
    with pytest.raises(AssertionError):
        lesson.agree("torque", by_hand=float("nan"), library=100.0)


def test_a_table_escapes_what_is_markup():
    shown = lesson.table(("what", "value"), [("<b>", "1")])
    assert "&lt;b&gt;" in shown._repr_html_()
    assert "<b>" in repr(shown)
