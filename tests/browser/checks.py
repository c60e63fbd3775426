"""What browser tests look at: errors in outputs, axe's findings, panels before and after a move."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import lab

# Outputs of the open notebook that say something went wrong.
ERRORS = """
() => {
  const panel = document.querySelector(".jp-NotebookPanel:not(.lm-mod-hidden)") || document.body;
  const marked = panel.querySelectorAll('[data-mime-type="application/vnd.jupyter.error"], [data-mime-type="application/vnd.jupyter.stderr"], .jp-RenderedText[data-mime-type*="error"]');
  const said = [...marked].map((each) => each.textContent.slice(0, 300));
  const outputs = [...panel.querySelectorAll(".jp-OutputArea, .jp-Cell-outputWrapper")].map((each) => each.textContent).join(" ");
  for (const words of ["Loading widget", "model not found", "Error displaying widget", "Traceback (most recent", "Error creating widget", "That did not work."])
    if (outputs.includes(words)) said.push(words);
  return said;
}
"""  # noqa: E501

# Our pictures: can each be seen, and has it come?
PICTURES = """
() => [...document.querySelectorAll('img[src^="data:image/png;base64,"]')]
  .map((image) => image.naturalWidth > 100 && image.getBoundingClientRect().width > 100 && Boolean(image.alt))
"""

# Parts of a live panel that reach out of it, or text of the picture that reaches out of the picture.
STICKING = """
() => {
  const out = [];
  for (const panel of document.querySelectorAll(".evlib-panel")) {
    if (!panel.offsetParent) continue;
    const box = panel.getBoundingClientRect();
    for (const part of panel.querySelectorAll("input, button, label, p, table, svg, textarea, span, legend")) {
      const edge = part.getBoundingClientRect();
      if (edge.width && (edge.right > box.right + 1 || edge.left < box.left - 1))
        out.push(panel.dataset.panel + ": " + part.outerHTML.slice(0, 100));
    }
    const picture = panel.querySelector("svg").getBoundingClientRect();
    for (const text of panel.querySelectorAll("svg text")) {
      const edge = text.getBoundingClientRect();
      if (edge.right > picture.right + 1 || edge.left < picture.left - 1 || edge.top < picture.top - 2 || edge.bottom > picture.bottom + 2)
        out.push(panel.dataset.panel + ": " + text.textContent);
    }
  }
  return out;
}
"""  # noqa: E501

STATE = """
(root) => ({
  picture: root.querySelector("svg").innerHTML.replaceAll(/evlib-[0-9a-f]{8}-[0-9]+/g, ""),
  alt: root.querySelector("svg").getAttribute("aria-label"),
  sentence: root.querySelector(".evlib-said").textContent,
  table: root.querySelector(".evlib-table").textContent,
  frame: root.dataset.frame,
})
"""


def axe_source() -> str:
    """axe-core, from the installed test package: nothing is fetched."""
    import axe_playwright_python

    return (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")


def axe_findings(page: Any, where: str) -> list[str]:
    """What axe finds in our own parts of the page, as ``rule: element``."""
    if not page.evaluate("() => Boolean(window.axe)"):
        page.evaluate(axe_source())
    found = page.evaluate(
        "async (where) => { const all = [...document.querySelectorAll(where)]; if (!all.length) return [];"
        " const r = await axe.run({ include: all }, { resultTypes: ['violations'] });"
        " return r.violations.flatMap((v) => v.nodes.map((n) => v.id + ': ' + n.html.slice(0, 160))); }",
        where,
    )
    # These are about the page around us, which is Lab's.
    around = ("region:", "landmark", "page-has-heading", "document-title")
    return [line for line in found if not line.startswith(around)]


def panels(page: Any) -> list[Any]:
    """The live panels of the page."""
    return list(page.query_selector_all(".evlib-panel"))


def state(panel: Any) -> dict[str, str]:
    """Picture, words and number of the frame."""
    return dict(panel.evaluate(STATE))


def settled(page: Any, panel: Any) -> dict[str, str]:
    """The state when nothing is under way any more."""
    last: dict[str, str] = {}

    def same() -> bool:
        nonlocal last
        page.wait_for_timeout(150)
        before, last = last, state(panel)
        return before == last and panel.query_selector("[aria-busy=true]") is None

    lab.wait_for(same, 20, "the panel to settle")
    return last


def move_probe(page: Any, panel: Any) -> tuple[dict[str, str], dict[str, str]]:
    """Bring the panel to its start case, move its probe by keyboard; states before and after."""
    for name, text in json.loads(panel.get_attribute("data-probe-start") or "{}").items():
        box = panel.query_selector(f'[data-typed="{name}"]')
        box.fill(str(text))
        box.press("Enter")
    before = settled(page, panel)
    control = panel.query_selector(f'[data-control="{panel.get_attribute("data-probe")}"]')
    if control.evaluate("e => e.tagName") == "FIELDSET":
        control.query_selector("input:checked").focus()
        page.keyboard.press("ArrowRight")
    elif control.evaluate("e => e.tagName") == "BUTTON":
        control.focus()
        page.keyboard.press("Enter")
    else:
        control.focus()
        key = (
            "ArrowRight"
            if int(control.evaluate("e => e.value")) <= int(control.get_attribute("max")) - 5
            else "ArrowLeft"
        )
        for _ in range(5):
            page.keyboard.press(key)
    return before, settled(page, panel)


def sticking_out(page: Any) -> list[str]:
    """What reaches out of a panel or its picture."""
    return list(page.evaluate(STICKING))
