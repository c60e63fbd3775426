"""The widget behind a form: it carries answers from the page to the build file and back, and has no view of its own."""

from __future__ import annotations

import pathlib
from typing import Any

import anywidget
import traitlets

from evlib.panels.form import Form

HERE = pathlib.Path(__file__).parent


class Live(anywidget.AnyWidget):
    """Never displayed: its ``initialize`` finds the mount in the cell's output and builds the form there."""

    _esm = "\n".join(file.read_text(encoding="utf-8") for file in (HERE.parent / "mount.js", HERE / "form.js"))
    _css = (HERE / "form.css").read_text(encoding="utf-8")
    spec = traitlets.Dict().tag(sync=True)

    def __init__(self, form: Form, run: str) -> None:
        self.form = form
        super().__init__(spec={**form.spec(), "run": run})
        self.on_msg(self._message)

    def _message(self, _: Any, message: dict[str, Any], buffers: Any) -> None:
        self.send(self.form.receive(message))
