"""The one live panel: it names the quantities, the function and the figure; this class does the rest.

:class:`Panel` is the declaration, made of plain functions. :class:`Session` is one learner's use of it: it takes the
page's messages and answers with frames. It knows nothing of browsers, so tests drive it directly.
"""

from __future__ import annotations

import dataclasses
import html
import inspect
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from evlib.panels.controls import Button, Choice, Control, QuantityControl, button, choice, quantity
from evlib.panels.twin import Amount, Table, Twin, amount, table_html

__all__ = ["Amount", "Panel", "Session", "Table", "Twin", "amount", "button", "choice", "corners", "quantity"]


@dataclasses.dataclass(frozen=True)
class Panel:
    """A live panel, declared.

    ``compute(**values)`` gives a result from plain values named by the controls; ``draw(result, axes)`` draws it and
    ``twin(result)`` says it (either may take ``system``). ``coarse(**values)``, for calculations over 30 ms, is what
    follows the drag; ``coarse_note`` says what is coarse about it. ``probe`` names the control that the browser test
    moves, and ``probe_start`` what it types into others first, so that the move changes picture and text.
    """

    id: str
    title: str
    controls: tuple[Control, ...]
    compute: Callable[..., Any]
    draw: Callable[..., None]
    twin: Callable[..., Twin]
    coarse: Callable[..., Any] | None = None
    coarse_note: str = "coarse while you move"
    size: tuple[float, float] = (6.0, 3.7)
    layout: tuple[int, int] = (1, 1)
    room: float = 0.2
    system: str = "SI"
    probe: str = ""
    probe_start: Mapping[str, str] = dataclasses.field(default_factory=dict)

    def __post_init__(self) -> None:
        if not self.id.replace(".", "").replace("_", "").isalnum():
            raise ValueError(f"id: {self.id!r} was given; allowed: letters, digits, '.' and '_'")
        names = [control.name for control in self.controls]
        if not names or len(set(names)) != len(names):
            raise ValueError(f"{self.id}: controls need names that differ; given: {names}")
        for wanted in [*self.probe_start, *([self.probe] if self.probe else [])]:
            if wanted not in names:
                raise ValueError(f"{self.id}: probe {wanted!r} is not one of the controls {names}")

    @property
    def start(self) -> dict[str, Any]:
        """The values it starts from."""
        return {control.name: control.start for control in self.controls}

    def case(self, values: Mapping[str, Any]) -> str:
        """The values as a fragment of a build file, under the build paths that the controls are named by."""
        sections: dict[str, list[str]] = {}
        for control in self.controls:
            section, _, name = control.path.rpartition(".")
            if section and not isinstance(control, Button):
                sections.setdefault(section, []).append(f"{name} = {control.toml(values[control.name])}")
        return "\n\n".join(f"[{section}]\n" + "\n".join(lines) for section, lines in sections.items()) + "\n"

    def say(self, result: Any, *, system: str = "SI") -> Twin:
        """The text twin of a result."""
        if "system" in inspect.signature(self.twin).parameters:
            return self.twin(result, system=system)
        return self.twin(result)

    def show(self) -> None:
        """Show it in the lesson: the static picture and its twin; where a kernel runs in a page, the live panel too."""
        from evlib.panels.markup import show_panel

        show_panel(self)


class Session:
    """One learner's use of a panel: present values, the held case, the unit system."""

    def __init__(self, panel: Panel) -> None:
        from evlib.figures import base

        self.panel = panel
        self.system = panel.system
        self.values: dict[str, Any] = panel.start
        self.controls = {control.name: control for control in panel.controls}
        self.held: tuple[dict[str, Any], Twin, list[Any]] | None = None
        self.figure, self.axes = base.figure(size=panel.size, layout=panel.layout, room=panel.room)
        self.drawn: tuple[Any, Twin] | None = None

    def receive(self, message: Mapping[str, Any]) -> dict[str, Any]:
        """Answer one message of the page with a frame; what is wrong with it is said in the frame, not raised."""
        final = bool(message.get("final", True))
        problems: dict[str, str] = {}
        kind = message.get("kind")
        before = dict(self.values)
        if kind == "set":
            problems = self._set(message.get("set", {}))
        elif kind == "reset":
            self.values, self.held = self.panel.start, None
        elif kind == "system":
            self.system = "shop" if self.system == "SI" else "SI"
        elif kind == "hold":
            self._hold()
        frame = self.frame(final=final)
        if frame["problem"]:
            self.values = before
            frame["controls"] = self._states()
        frame["problems"] = problems
        frame["seq"] = message.get("seq", 0)
        if kind == "copy":
            frame["case"] = self.panel.case(self.values)
        return frame

    def _set(self, changes: Mapping[str, Mapping[str, Any]]) -> dict[str, str]:
        """Take new values; gives what can't be taken, by control, in words."""
        problems = {}
        for name, change in changes.items():
            control = self.controls[name]
            if isinstance(control, Button):
                self.values[name] += int(change["press"])
            elif isinstance(control, Choice):
                if change["option"] in control.options:
                    self.values[name] = change["option"]
            elif "step" in change:
                self.values[name] = control.at(float(change["step"]), system=self.system)
            else:
                try:
                    self.values[name] = control.typed(str(change["text"]), system=self.system)
                except ValueError as error:
                    problems[name] = str(error)
        return problems

    def _hold(self) -> None:
        from evlib.figures import scene

        if self.held is not None:
            self.held = None
            return
        result = self.panel.compute(**self.values)
        self._draw(result)
        self.held = (dict(self.values), self.panel.say(result, system=self.system), scene.data_lines(self.figure.axes))

    def _draw(self, result: Any) -> None:
        from evlib.figures import base

        for extra in self.figure.axes[len(self.axes) :]:  # twin axes that the last picture added
            extra.remove()
        for axes in self.axes:
            base.clear(axes)
        base.call_draw(self.panel.draw, result, self.axes, system=self.system)

    def frame(self, *, final: bool = True) -> dict[str, Any]:
        """The present picture, its twin, and the state of the controls."""
        from evlib.figures import scene

        coarse = self.panel.coarse is not None and not final
        compute = self.panel.coarse if coarse and self.panel.coarse else self.panel.compute
        frame: dict[str, Any] = {"problem": "", "coarse": self.panel.coarse_note if coarse else "",
                                 "controls": self._states(), "system": self.system,
                                 "held": self.held is not None}  # fmt: skip
        try:
            result = compute(**self.values)
            twin = self.panel.say(result, system=self.system)
            self._draw(result)
        except ValueError as error:  # outside a table's range, say: the last good picture stays
            frame["problem"] = str(error)
            return frame
        picture = scene.harvest(self.figure, ghost=self.held[2] if self.held else None)
        frame |= {
            "scene": picture.message(), "alt": twin.alt, "sentence": twin.sentence,
            "table": twin.table.html(system=self.system), "differences": self._differences(twin),
        }  # fmt: skip
        return frame

    def _states(self) -> dict[str, Any]:
        states: dict[str, Any] = {}
        for name, control in self.controls.items():
            if isinstance(control, QuantityControl):
                states[name] = control.state(self.values[name], system=self.system)
            else:
                states[name] = {"option": self.values[name]}
        return states

    def _differences(self, twin: Twin) -> str:
        """The table that compares the held case with the present one, as HTML; empty where nothing is held."""
        if self.held is None:
            return ""
        values, before, _ = self.held
        rows = []
        for name, control in self.controls.items():
            old, new = values[name], self.values[name]
            if old == new:
                continue
            if isinstance(control, QuantityControl):
                shown = [amount(v, control.quantity) for v in (old, new)]
                texts = [control.show(v, system=self.system) for v in (old, new)]
                rows.append([control.label, *texts, shown[1].change(shown[0], system=self.system)])
            else:
                rows.append([control.label, str(old), str(new), ""])
        rows += twin.table.differences(before.table, system=self.system)
        if not rows:
            return "<p>Held. Move something: the dotted grey lines stay, and the differences are listed here.</p>"
        caption = html.escape("Held case against the present one")
        return f"<p>{caption}</p>" + table_html(("what", "held", "now", "change"), rows)


def corners(panel: Panel) -> Iterator[dict[str, Any]]:
    """Every corner and the middle of a panel's sliders, with every option of its choices; for sweep tests."""
    import itertools

    ends: list[list[Any]] = []
    middle: dict[str, Any] = {}
    for control in panel.controls:
        if isinstance(control, QuantityControl):
            ends.append([control.at(0), control.at(control.steps)])
            middle[control.name] = control.at(control.steps // 2)
        elif isinstance(control, Choice):
            ends.append(list(control.options))
            middle[control.name] = control.start
        else:
            ends.append([0, 1])
            middle[control.name] = 0
    yield panel.start
    yield middle
    for combination in itertools.product(*ends):
        yield dict(zip(middle, combination, strict=True))
