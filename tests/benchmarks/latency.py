"""How long from the press of a key on a slider to the frame that shows the new picture.

``python -m tests.benchmarks.latency`` prints the panel's and plain ``interact``'s, measured in the same page, kernel
and minute; the two are pressed by turns, so that a busy machine burdens both alike.
"""

from __future__ import annotations

import dataclasses
import sys
import tempfile
from pathlib import Path
from typing import Any

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
for folder in (ROOT / "tests" / "browser", ROOT / "tests" / "panels"):
    if str(folder) not in sys.path:
        sys.path.insert(0, str(folder))

PRESSES = 60

# What everyone writes: interact, pyplot, an inline PNG. Same curves, same slider.
INTERACT = """
import matplotlib.pyplot as plt
import ipywidgets
import numpy as np
plt.rcParams["figure.figsize"] = (6.0, 3.7)

def plot(current=300):
    amps = np.linspace(0, 600, 400)
    for share in (1, 0.75, 0.5, 0.25):
        plt.plot(amps, amps**2 * 0.02 * share / 1e3, label=f"{share:.0%} of it")
    plt.plot([current], [current**2 * 0.02 / 1e3], "ko")
    plt.axvline(current)
    plt.xlabel("current I [A]")
    plt.ylabel("heat P [kW]")
    plt.legend()
    plt.show()

ipywidgets.interact(plot, current=ipywidgets.IntSlider(300, 0, 600, 6));
"""

# Presses a key's worth on a slider through the browser's own key event; the clock starts at the event and stops in the
# first frame after the picture changed (a picture that must be decoded is decoded by then).
CLOCK = """
(where) => {
  window.clock = { times: [] };
  const area = document.querySelector(where);
  let start = 0;
  document.addEventListener("keydown", () => { start = performance.now(); }, true);
  const stop = () => {
    if (!start) return;
    const began = start;
    start = 0;
    const images = [...area.querySelectorAll("img")].filter((image) => image.offsetParent);
    Promise.all(images.map((image) => image.decode().catch(() => {})))
      .then(() => requestAnimationFrame(() => window.clock.times.push(performance.now() - began)));
  };
  const news = (changes) => changes.some((change) => [...change.addedNodes].some((node) =>
    node.nodeName === "path" || node.nodeName === "IMG" || node.querySelector?.("img, path")));
  new MutationObserver((changes) => { if (news(changes)) stop(); }).observe(area, { childList: true, subtree: true });
}
"""


@dataclasses.dataclass(frozen=True)
class Latency:
    """Milliseconds per press, of the panel and of ``interact``."""

    panel: list[float]
    interact: list[float]

    def text(self) -> str:
        """A small table."""
        lines = ["key press to new picture, ms          p50    p95"]
        for name, times in (("panel (drawn in the page)", self.panel), ("interact (inline PNG)", self.interact)):
            lines.append(f"{name:<34}{np.median(times):6.0f} {np.percentile(times, 95):6.0f}   ({len(times)} presses)")
        lines.append(f"ratio of the medians: {self.ratio:.2f} (aim: 0.25 or less)")
        return "\n".join(lines)

    @property
    def ratio(self) -> float:
        """Panel's median over interact's."""
        return float(np.median(self.panel) / np.median(self.interact))


def measure(*, presses: int = PRESSES, no_delay: bool = True) -> Latency:
    """Measure both in one JupyterLab."""
    import lab
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as scratch:
        folder = Path(scratch) / "notebooks"
        folder.mkdir()
        for name, cells in (("panel", ["import toy_panel\ntoy_panel.panel().show()"]), ("interact", [INTERACT])):
            (folder / f"{name}.ipynb").write_text(lab.notebook(cells), encoding="utf-8")
        with lab.jupyterlab(folder, Path(scratch), no_delay=no_delay) as address, sync_playwright() as tool:
            browser = tool.chromium.launch(executable_path=lab.chromium(), args=lab.FLAGS)
            pages = {
                name: _page(browser, address, name, slider)
                for name, slider in (("panel", ".evlib-panel input[type=range]"), ("interact", ".noUi-handle"))
            }
            times: dict[str, list[float]] = {"panel": [], "interact": []}
            for block in range(6):
                for name, (page, slider) in pages.items():
                    page.bring_to_front()
                    page.focus(slider)
                    times[name] += _press(page, presses // 6, "ArrowRight" if block % 2 == 0 else "ArrowLeft")
            browser.close()
    return Latency(times["panel"], times["interact"])


def _page(browser: Any, address: str, name: str, slider: str) -> tuple[Any, str]:
    import lab

    page = browser.new_page(viewport={"width": 1400, "height": 1000})
    opened = lab.Notebook(page, address, f"{name}.ipynb")
    opened.run_all()
    page.wait_for_selector(slider)
    page.wait_for_timeout(1500)
    page.evaluate(CLOCK, ".jp-NotebookPanel .jp-CodeCell")
    page.focus(slider)
    _press(page, 4, "ArrowRight")  # warm
    return page, slider


def _press(page: Any, presses: int, key: str) -> list[float]:
    """Press, wait for the frame, wait a little, press again."""
    page.evaluate("() => { window.clock.times = []; }")
    for count in range(presses):
        page.keyboard.press(key)
        page.wait_for_function("n => window.clock.times.length > n", arg=count, timeout=10_000)
        page.wait_for_timeout(60)
    return list(page.evaluate("() => window.clock.times"))


if __name__ == "__main__":
    print(measure(no_delay="--delay" not in sys.argv).text())
