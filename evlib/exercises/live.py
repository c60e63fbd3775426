"""The widget behind a box: it carries answers from the page to the marker and back, and has no view of its own.

The mount in the cell's output, and how it is found and left again, are those of the panels (``panels/mount.js``).
"""

from __future__ import annotations

import pathlib
from collections.abc import Callable
from typing import Any

import anywidget
import traitlets

import evlib.panels

HERE = pathlib.Path(__file__).parent
MOUNT = pathlib.Path(evlib.panels.__file__).with_name("mount.js")
BOXES: dict[str, Live] = {}  # the live box of each exercise, so that running a cell again replaces it


class Live(anywidget.AnyWidget):
    """Never displayed: its ``initialize`` finds the mount in the cell's output and builds the box there."""

    _esm = MOUNT.read_text(encoding="utf-8") + (HERE / "box.js").read_text(encoding="utf-8")
    _css = (HERE / "box.css").read_text(encoding="utf-8")
    spec = traitlets.Dict().tag(sync=True)

    def __init__(self, spec: dict[str, Any], respond: Callable[[str], dict[str, str]]) -> None:
        self.respond, self.last = respond, spec["last"] or {}
        super().__init__(spec=spec)
        self.on_msg(self._message)

    def _message(self, _: Any, message: dict[str, Any], buffers: Any) -> None:
        if message.get("kind") == "answer":
            text = str(message.get("text", ""))
            self.last = {"text": text, **self.respond(text)}
        self.send(self.last)


def start(spec: dict[str, Any], respond: Callable[[str], dict[str, str]]) -> None:
    """Start the live box for a mount; an earlier one of the same exercise ends."""
    if spec["id"] in BOXES:
        BOXES.pop(spec["id"]).close()
    BOXES[spec["id"]] = Live(spec, respond)
