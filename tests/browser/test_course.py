"""The pages that the course writes: what a learner has done, and a teacher's class table."""

import sys

import checks
import lab
import pytest

sys.path.insert(0, str(lab.ROOT / "tests" / "course"))

from invented import hand_in, right, slip

from evlib.course.__main__ import main


@pytest.mark.parametrize("command", ["class", "progress"])
def test_a_page_of_the_course_passes_axe_and_fits_a_narrow_window(page, tmp_path, monkeypatch, command):
    monkeypatch.setenv("EVLIB_FOLDER", str(tmp_path))
    collected = tmp_path / "collected"
    collected.mkdir()
    for code in ("A1-1", "B2-2"):
        hand_in(collected, code, ("motors.1", slip("motors.1", code)), ("motors.15", right("motors.15", code)),
                ("start.14", right("start.14", code)), ("start.1", slip("start.1", code)))  # fmt: skip
    (collected / "broken.json").write_text("{")
    words = {"class": ["class", str(collected), "-o", str(tmp_path / "out")],
             "progress": ["progress", "-o", str(tmp_path / "progress.html")]}  # fmt: skip
    assert main(words[command]) in (0, 1)
    made = {"class": tmp_path / "out" / "class.html", "progress": tmp_path / "progress.html"}[command]
    page.set_viewport_size({"width": 420, "height": 900})
    page.goto(made.as_uri())
    for fold in page.locator("summary").all():
        fold.press("Enter")
    assert page.locator("details:not([open])").count() == 0
    assert checks.axe_findings(page, "body") == []
    assert page.title() in ("The class", "What you have done")
    for image in page.locator("img").all():
        assert image.evaluate("each => each.naturalWidth") > 300 and len(image.get_attribute("alt")) > 60
    assert page.evaluate("() => document.body.scrollWidth <= window.innerWidth"), "nothing sticks out"
    assert page.errors == []
