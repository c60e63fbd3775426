"""The widget behind a live panel: it carries messages between the page and a :class:`Session`, and has no view."""

from __future__ import annotations

import json
import pathlib
from typing import Any

import anywidget
import traitlets

from evlib.panels.panel import Panel, Session

HERE = pathlib.Path(__file__).parent


class Live(anywidget.AnyWidget):
    """Never displayed: its ``initialize`` finds the mount in the cell's output and builds the panel there."""

    _esm = "\n".join((HERE / name).read_text(encoding="utf-8") for name in ("mount.js", "panel.js"))
    _css = (HERE / "panel.css").read_text(encoding="utf-8")
    spec = traitlets.Dict().tag(sync=True)

    def __init__(self, panel: Panel, run: str) -> None:
        self.session = Session(panel)
        first = self.session.receive({"kind": "hello"})
        spec = {
            "id": panel.id, "run": run, "title": panel.title, "coarse": panel.coarse is not None,
            "controls": [control.spec() for control in panel.controls], "frame": first,
            "probe": panel.probe, "probe_start": dict(panel.probe_start),
        }  # fmt: skip
        super().__init__(spec=spec)
        self.on_msg(self._answer)

    def _answer(self, _: Any, message: dict[str, Any], buffers: Any) -> None:
        # As bytes beside the message: what is inside a message the kernel walks through piece by piece before it sends
        # it, which took as long as the drawing.
        frame = json.dumps(self.session.receive(message), separators=(",", ":"))
        self.send({"kind": "frame"}, [frame.encode()])
