"""The toy panel in a browser: every control, hold, reset, units, copy, restart, reload; all by keyboard."""

from __future__ import annotations

import re

import checks
import lab
import pytest
from conftest import new_page

CELLS = [
    "import toy_panel",
    "toy_panel.panel().show()",
    "toy_panel.panel('toy.slow', takes_long=True, known=False).show()",
    "'last'",
]
TOY = '.evlib-panel[data-panel="toy.heat"]'


def opened(page, address, folder, name):
    (folder / name).write_text(lab.notebook(CELLS), encoding="utf-8")
    book = lab.Notebook(page, address, name)
    book.run_all()
    page.locator(TOY).wait_for(timeout=30_000)
    return book


@pytest.fixture(scope="module")
def shared(browser, address, folder):
    """One page with the toy panels, for the tests that leave it whole."""
    page = new_page(browser)
    book = opened(page, address, folder, "toy.ipynb")
    yield page
    assert page.errors == []
    book.close()
    page.context.close()


@pytest.fixture
def page(shared):
    shared.set_viewport_size({"width": lab.WIDE[0], "height": lab.WIDE[1]})
    for button in shared.query_selector_all(".evlib-tools button:text-is('Reset')"):
        button.click()
    shared.locator(f"{TOY} .evlib-said:has-text('At 300 A')").wait_for(timeout=10_000)
    if shared.locator(f"{TOY} button:text-is('Units: shop')").count():
        shared.click(f"{TOY} button:text-is('Units: shop')")
    shared.locator(f"{TOY} button:text-is('Units: SI')").wait_for()
    return shared


@pytest.fixture
def panel(page):
    return page.locator(TOY)


@pytest.fixture
def own(browser, address, folder, request):
    """A page and a notebook of one's own, for the tests that restart, reload or break something."""
    page = new_page(browser)
    book = opened(page, address, folder, f"{request.node.name[:40]}.ipynb")
    yield book
    book.close()
    page.context.close()


def said(panel):
    return panel.locator(".evlib-said").inner_text()


def until(panel, words):
    panel.locator(f".evlib-said:has-text('{words}')").wait_for(timeout=10_000)


def test_arrow_keys_move_a_slider_and_picture_and_words_follow(page, panel):
    slider = panel.locator('[data-control="current"]')
    slider.focus()
    before = checks.state(panel.element_handle())
    page.keyboard.press("ArrowRight")
    until(panel, "At 306 A")  # a hundredth of 0 to 600
    after = checks.state(panel.element_handle())
    assert before["picture"] != after["picture"] and before["alt"] != after["alt"]
    assert slider.get_attribute("aria-valuetext") == "306 A"
    page.keyboard.press("End")
    until(panel, "At 600 A")
    assert page.locator(".jp-NotebookPanel .jp-mod-editMode").count() == 0


def test_fast_moves_end_at_the_last_one(page, panel):
    panel.locator('[data-control="current"]').focus()
    for _ in range(30):
        page.keyboard.press("ArrowLeft")
    until(panel, "At 120 A")
    assert panel.locator('[data-typed="current"]').input_value() == "120"


def test_typing_takes_units_and_enter_is_enough(page, panel):
    box = panel.locator('[data-typed="torque"]')
    box.fill("50 lbf ft")
    box.press("Enter")
    panel.locator("td:has-text('67.8 N m')").wait_for()  # 50 x 1.355818 (NIST SP 811)
    assert box.input_value() == "67.79"
    box.fill("70")
    page.keyboard.press("Tab")
    panel.locator("td:has-text('70.0 N m')").wait_for()


def test_out_of_range_typing_explains_itself(page, panel):
    box = panel.locator('[data-typed="torque"]')
    before = said(panel)
    box.fill("9000")
    box.press("Enter")
    why = panel.locator(".evlib-why.evlib-problem")
    why.wait_for()
    assert "at most 2000 N m" in why.inner_text()
    assert box.get_attribute("aria-invalid") == "true" and box.input_value() == "9000"
    assert said(panel) == before
    box.fill("100")
    box.press("Enter")
    why.wait_for(state="detached")
    assert box.get_attribute("aria-invalid") == "false"


def test_choices_and_buttons_work_by_keyboard(page, panel):
    panel.get_by_label("alone").focus()
    page.keyboard.press("ArrowRight")
    until(panel, "3.60 kW")  # 300^2 x 2 x 20 mohm
    button = panel.get_by_role("button", name="Press me")
    button.focus()
    page.keyboard.press("Space")
    panel.locator("svg text:has-text('pressed 1')").wait_for()
    page.keyboard.press("Enter")
    panel.locator("svg text:has-text('pressed 2')").wait_for()


def test_hold_compare_reset(page, panel):
    panel.get_by_role("button", name="Hold this case").press("Enter")
    panel.get_by_text("Held. Move something").wait_for()
    box = panel.locator('[data-typed="winding_resistance"]')
    box.fill("40 mohm")
    box.press("Enter")
    panel.locator(".evlib-compared td:has-text('+1.80 kW')").wait_for()  # 300^2 x 20 mohm more
    assert panel.locator('svg path[stroke="#8C8C8C"]').count() == 5
    panel.get_by_role("button", name="Reset").press("Enter")
    until(panel, "1.80 kW")
    assert panel.locator(".evlib-compared").inner_text() == ""
    assert box.input_value() == "20"


def test_units_switch(page, panel):
    panel.get_by_role("button", name="Units: SI").press("Enter")
    panel.get_by_role("button", name="Units: shop").wait_for()
    assert panel.locator('[data-typed="torque"]').input_value() == "90"
    assert panel.locator(".evlib-unit", has_text="lbf ft").count() == 1


def test_copy_gives_a_build_file(page, panel):
    panel.get_by_role("button", name="Copy as build file").press("Enter")
    panel.get_by_text("Paste it into your build file").wait_for()
    text = page.evaluate("() => navigator.clipboard.readText()")
    assert '[machine]\nwinding_resistance = "20 mohm"' in text
    assert panel.locator("textarea").input_value() == text


def test_a_slow_panel_is_coarse_while_moved_and_whole_at_the_end(page):
    slow = page.locator('.evlib-panel[data-panel="toy.slow"]')
    assert "not known in this build" in slow.inner_text()
    slider = slow.locator('[data-control="current"]')
    slider.scroll_into_view_if_needed()
    page.evaluate("""() => { window.words = []; window.busy = 0;
      const panel = document.querySelector('[data-panel="toy.slow"]');
      new MutationObserver(() => window.words.push(panel.querySelector('.evlib-said').textContent))
        .observe(panel.querySelector('.evlib-said'), { childList: true });
      new MutationObserver(() => { window.busy += panel.querySelector('[aria-busy=true]') ? 1 : 0; })
        .observe(panel, { attributes: true, subtree: true }); }""")
    box = slider.bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    for step in range(1, 15):
        page.mouse.move(box["x"] + box["width"] * (0.5 + step / 50), box["y"] + box["height"] / 2)
        page.wait_for_timeout(20)
    page.mouse.up()
    until(slow, "400 points")
    page.wait_for_timeout(600)
    words = page.evaluate("() => window.words")
    assert any("12 points" in each for each in words) and "400 points" in words[-1]
    assert page.evaluate("() => window.busy") > 0


def test_the_picture_keeps_its_size_and_place(page, panel):
    sizes, heights = set(), set()
    panel.locator('[data-control="winding_resistance"]').focus()
    for key in ["ArrowRight"] * 6 + ["End", "Home"]:
        page.keyboard.press(key)
        page.wait_for_timeout(120)
        box = panel.locator("svg").bounding_box()
        sizes.add(tuple(round(box[side]) for side in ("x", "y", "width", "height")))
        heights.add(round(panel.bounding_box()["height"]))
    assert len(sizes) == len(heights) == 1


def test_nothing_for_axe_to_find(page, panel):
    panel.get_by_role("button", name="Hold this case").press("Enter")
    panel.get_by_role("button", name="Copy as build file").press("Enter")
    panel.locator("textarea").wait_for()
    assert checks.axe_findings(page, ".evlib-panel, .evlib-mount") == []


def test_axe_would_find_something(own):
    page = own.page
    page.evaluate("() => document.querySelector('.evlib-panel label').remove()")
    page.evaluate("() => document.querySelector('.evlib-panel svg').removeAttribute('aria-label')")
    found = " ".join(checks.axe_findings(page, ".evlib-panel"))
    assert "label:" in found and "svg-img-alt" in found


def test_the_live_panel_shows_what_the_static_one_shows(page, panel):
    live = panel.locator("svg").get_attribute("aria-label")
    still = page.locator(".evlib-static").first
    assert still.is_hidden()
    assert still.locator("img").get_attribute("alt") == live
    assert still.locator("table").text_content() == panel.locator("table").first.text_content()
    assert still.locator("p").nth(1).text_content() == said(panel)


def test_reload_keeps_the_learners_values_and_a_restart_brings_the_static_picture_back(own):
    page, book, panel = own.page, own, own.page.locator(TOY)
    panel.locator('[data-control="current"]').press("ArrowRight")
    until(panel, "At 306 A")
    book.menu("File", "Save Notebook")
    page.wait_for_timeout(1500)
    page.reload()
    panel.wait_for(timeout=60_000)
    until(panel, "At 306 A")
    book.restart()
    page.locator(".evlib-static").first.wait_for(state="visible", timeout=20_000)
    assert panel.is_hidden()
    assert page.evaluate(checks.ERRORS) == []
    book.menu("Run", "Run All Cells")
    page.locator('.evlib-panel[data-panel="toy.heat"]:visible').wait_for(timeout=30_000)
    until(panel, "At 300 A")


def test_running_a_cell_again_leaves_one_panel_and_it_moves(own):
    page, book, panel = own.page, own, own.page.locator(TOY)
    book.menu("Run", "Run All Cells")
    page.wait_for_timeout(3000)
    assert page.locator('.evlib-panel[data-panel="toy.heat"]').count() == 1
    panel.locator('[data-control="current"]').press("ArrowRight")
    until(panel, "At 306 A")


def test_when_the_kernel_is_shut_down_the_first_move_brings_the_static_picture_back(own):
    page, book, panel = own.page, own, own.page.locator(TOY)
    book.menu("Kernel", "Shut Down Kernel")
    page.wait_for_timeout(2000)
    if panel.is_visible():
        panel.locator('[data-control="current"]').press("ArrowRight")
    page.locator(".evlib-static").first.wait_for(state="visible", timeout=10_000)
    assert panel.is_hidden()


def test_every_input_keeps_its_keys_from_labs_shortcuts(page, panel):
    bare = page.evaluate("""() => [...document.querySelectorAll('.evlib-panel :is(input, button, textarea)')]
      .filter((e) => !e.hasAttribute('data-lm-suppress-shortcuts')).map((e) => e.outerHTML)""")
    assert bare == []


def test_no_widget_view_is_in_the_output(own, folder):
    own.menu("File", "Save Notebook")
    own.page.wait_for_timeout(1500)
    text = (folder / own.name).read_text(encoding="utf-8")
    assert "widget-view" not in text
    assert len(re.findall("data:image/png;base64,", text)) == 2


@pytest.mark.parametrize(("width", "height"), [lab.WIDE, lab.NARROW])
def test_nothing_sticks_out_of_the_panel(page, panel, width, height, screenshots):
    page.set_viewport_size({"width": width, "height": height})
    page.wait_for_timeout(400)
    assert checks.sticking_out(page) == []
    if screenshots:
        lab.picture(page, screenshots / f"toy_{width}.png", width)
