"""What a cell's output holds: a picture with alternative text and, beneath it, its text twin. No widget view.

A live panel is *mounted* into this output by the page (see ``panel.js``); without a kernel, exported, or untrusted, the
static picture simply stays. The run mark in the mount's class ties it to the kernel that made it; a saved notebook
has it masked (:func:`masked`), so that it is reproducible.
"""

from __future__ import annotations

import base64
import html
import re
import secrets
from collections.abc import Callable
from typing import Any

from evlib.panels.panel import Panel
from evlib.panels.twin import Twin

LIVE: dict[str, Any] = {}  # the live widget of each panel id, so that running a cell again replaces it


def masked(text: str) -> str:
    """A cell's output without what differs between runs or machines: the run mark and the pixels."""
    text = re.sub(r"evlib-run-[0-9a-f]{8}", "evlib-run-saved", text)
    return re.sub(r"data:image/png;base64,[A-Za-z0-9+/=]+", "data:image/png;base64,", text)


def static_html(
    draw: Callable[..., None], result: Any, twin: Twin, *, title: str = "", system: str = "SI",
    size: tuple[float, float] = (6.0, 3.7), layout: tuple[int, int] = (1, 1), room: float = 0.2,
) -> str:  # fmt: skip
    """The picture as an embedded PNG with its alternative text, and its twin: sentence and table."""
    from evlib.figures import base

    figure, axes = base.figure(size=size, layout=layout, room=room)
    base.call_draw(draw, result, axes, system=system)
    data = base64.b64encode(base.png(figure)).decode()
    heading = f"<p><strong>{html.escape(title)}</strong></p>" if title else ""
    return (
        f'{heading}<figure style="margin:0"><img alt="{html.escape(twin.alt)}" width="{size[0] * 100:.0f}" '
        f'style="max-width:100%;height:auto" src="data:image/png;base64,{data}"></figure>'
        f"<p>{html.escape(twin.sentence)}</p>{twin.table.html(system=system)}"
    )


def plain(twin: Twin, *, title: str = "", system: str = "SI") -> str:
    """The twin as plain text, for terminals and text-only readers."""
    return "\n".join(filter(None, [title, twin.sentence, twin.table.plain(system=system)]))


def show(
    draw: Callable[..., None], result: Any, twin: Twin, *, title: str = "", system: str = "SI", **look: Any
) -> None:
    """Show a picture that nobody moves: PNG with alternative text, and its twin beneath."""
    body = static_html(draw, result, twin, title=title, system=system, **look)
    _display(f'<div class="evlib-picture">{body}</div>', plain(twin, title=title, system=system))


def panel_html(panel: Panel, run: str = "saved") -> tuple[str, str]:
    """The output of a panel's cell at its start values, as HTML and as plain text."""
    result = panel.compute(**panel.start)
    twin = panel.say(result, system=panel.system)
    body = static_html(panel.draw, result, twin, title=panel.title, system=panel.system,
                       size=panel.size, layout=panel.layout, room=panel.room)  # fmt: skip
    return mount(body, run), plain(twin, title=panel.title, system=panel.system)


def mount(static: str, run: str) -> str:
    """The place of something live, and what stands there without a kernel."""
    return (
        f'<div class="evlib-mount evlib-run-{run}"><div class="evlib-live"></div>'
        f'<div class="evlib-static">{static}</div></div>'
    )


def display_mounted(static: str, text: str, *, run: str) -> bool:
    """Show what is to stand without a kernel; true where a kernel runs, so that the live part can follow."""
    _display(mount(static, run), text)
    return in_kernel()


def show_panel(panel: Panel) -> None:
    """Show the static panel and, where a kernel is at work, start the live one behind it."""
    run = secrets.token_hex(4)
    _display(*panel_html(panel, run))
    if not in_kernel():
        return
    from evlib.panels.live import Live

    if panel.id in LIVE:
        LIVE.pop(panel.id).close()
    LIVE[panel.id] = Live(panel, run)


def in_kernel() -> bool:
    """Whether this runs in a notebook's kernel."""
    from IPython.core.getipython import get_ipython

    shell = get_ipython()
    return shell is not None and hasattr(shell, "kernel")


def _display(markup: str, text: str) -> None:
    from IPython.display import display

    display({"text/html": markup, "text/plain": text}, raw=True)  # type: ignore[no-untyped-call]
