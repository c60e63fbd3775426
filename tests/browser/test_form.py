"""The form of a learner's own vehicle, filled in by keyboard, past a refusal, a kernel that dies, and a new start."""

from __future__ import annotations

import json

import checks
import lab
import pytest

CELLS = [
    "from evlib.lesson import vehicle\nmine = vehicle.my_build('form_test')",
    "vehicle.fill_in(mine, 'vehicle', 'hydraulics')",
    "print(vehicle.read(mine).value('vehicle.mass'))",
]
OURS = ".evlib-form, .evlib-static"


@pytest.fixture
def book(folder, page, address):
    (folder / "form_test.ipynb").write_text(lab.notebook(CELLS), encoding="utf-8")
    found = lab.Notebook(page, address, "form_test.ipynb")
    found.run_all()
    lab.wait_for(lambda: page.locator(".evlib-form").count(), 30, "the form")
    yield found
    found.close()


def entry(page, path):
    return page.locator(f'.evlib-entry[data-path="{path}"]')


def said(page, path, words):
    lab.wait_for(lambda: words in entry(page, path).locator(".evlib-said").inner_text(), 20, words)


def test_a_value_is_typed_refused_mended_and_never_lost(page, book, folder):
    mass = page.get_by_label("mass of the vehicle as driven, m", exact=True)
    mass.focus()
    page.keyboard.type("1400")
    page.keyboard.press("Enter")
    said(page, "vehicle.mass", "1400 has no unit")
    assert mass.get_attribute("aria-invalid") == "true"
    page.keyboard.type(" kg")
    page.keyboard.press("Enter")
    said(page, "vehicle.mass", "Saved as a guess")
    assert mass.get_attribute("aria-invalid") is None
    source = entry(page, "vehicle.mass").get_by_role("combobox")
    source.select_option("measured")
    said(page, "vehicle.mass", "Saved.")
    assert "1 of" in page.locator(".evlib-form > p").inner_text()
    assert "guess" not in page.locator(".evlib-form > p").inner_text()

    hydraulics = page.locator('details[data-part="hydraulics"] > summary')
    hydraulics.press("Enter")
    fitted = entry(page, "hydraulics.fitted").get_by_role("combobox")
    fitted.select_option("no")
    lab.wait_for(lambda: "not fitted" in hydraulics.inner_text(), 20, "the part is told as not fitted")
    assert checks.axe_findings(page, OURS) == []

    # typed, and the kernel has died without a word: the form says that nobody answers, and nothing typed is lost
    radius = entry(page, "vehicle.wheel_radius").get_by_role("textbox")
    radius.focus()
    page.keyboard.type("0.31 m")
    book.kernel_dies()
    page.keyboard.press("Enter")
    said(page, "vehicle.wheel_radius", "no answer")
    assert radius.input_value() == "0.31 m"
    page.reload()
    page.wait_for_selector(".jp-NotebookPanel:not(.lm-mod-hidden) .jp-Cell", timeout=60_000)
    lab.wait_for(book.ready, 90, "a kernel that waits for work")
    earlier = entry(page, "vehicle.wheel_radius").get_by_text("Typed earlier")
    for _ in range(5):  # asked too early, a new kernel runs nothing
        book.menu("Run", "Run All Cells")
        page.wait_for_timeout(3000)
        if earlier.count():
            break
    said(page, "vehicle.wheel_radius", "not saved yet")
    assert entry(page, "vehicle.wheel_radius").get_by_role("textbox").input_value() == "0.31 m"
    assert entry(page, "vehicle.mass").get_by_role("textbox").input_value() == "1400 kg"
    assert entry(page, "vehicle.mass").get_by_role("combobox").input_value() == "measured"
    lab.wait_for(lambda: "1400.0" in page.locator(".jp-OutputArea-output").last.inner_text(), 20, "the file has it")
    radius = entry(page, "vehicle.wheel_radius").get_by_role("textbox")
    radius.focus()
    page.keyboard.press("Enter")
    said(page, "vehicle.wheel_radius", "Saved as a guess")
    book.restart()
    lab.wait_for(lambda: page.locator(".evlib-static:visible").count(), 30, "the table is back")
    assert page.locator(".evlib-form:visible").count() == 0
    page.wait_for_timeout(3000)  # the server calls it idle before the restart has begun
    lab.wait_for(book.ready, 90, "a kernel that can be ended")
    assert page.errors == []


def test_without_a_kernel_the_form_is_a_table_that_says_how(page, book, folder, address):
    made = json.loads((folder / "form_test.ipynb").read_text(encoding="utf-8"))
    assert made["cells"]
    assert "how to get it" in page.locator(".evlib-static").first.inner_html()
    assert page.locator(".evlib-static").first.locator("th[scope=row]").count() > 10
