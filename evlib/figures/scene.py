"""The drawn artists of a figure as a small scene of plain arrays, from which a live panel draws in the page.

There is one drawing code: a figure function draws with matplotlib; the printed picture is that figure rendered, the
live picture is that figure *harvested*. Nothing here knows what is drawn. Coordinates are pixels from the top left.
An artist that the scene does not know is an error, never a silently different picture.
"""

from __future__ import annotations

import base64
import dataclasses
import functools
import io
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Points = NDArray[np.float64]


@dataclasses.dataclass(frozen=True)
class Item:
    """One thing to draw: ``line``, ``area``, ``text`` or ``image``; ``clip`` is the number of the axes it stays in."""

    kind: str
    points: Points  # n x 2; a row of NaN breaks a line
    look: dict[str, Any]
    clip: int | None = None


@dataclasses.dataclass(frozen=True)
class Scene:
    """A whole picture: its size, the box of each axes [x, y, width, height], and the items from back to front."""

    width: float
    height: float
    boxes: list[list[float]]
    items: list[Item]

    def message(self) -> dict[str, Any]:
        """What is sent to the page: whole numbers, ten to a pixel."""
        return {
            "width": self.width, "height": self.height, "boxes": self.boxes,
            "items": [{"kind": item.kind, "clip": item.clip, "parts": _parts(item.points), **item.look}
                      for item in self.items],
        }  # fmt: skip

    def texts(self) -> list[str]:
        """All text in the picture, in the order drawn."""
        return [text for item in self.items if item.kind == "text" for text in item.look["lines"]]


def _parts(points: Points) -> list[list[int]]:
    """Split at NaN, round to a tenth of a pixel, leave out points that repeat the one before."""
    good = np.asarray(np.isfinite(points).all(axis=1))
    tenths = np.rint(np.clip(np.where(good[:, None], points, 0), -1e5, 1e5) * 10).astype(int)
    if len(points) <= 2 and good.all():
        return [tenths.ravel().tolist()]
    parts: list[list[int]] = []
    for run in np.split(np.arange(len(points)), np.flatnonzero(~good)):
        run = run[good[run]]
        if run.size:
            xy = tenths[run]
            keep = np.append(True, (np.diff(xy, axis=0) != 0).any(axis=1)) if run.size > 2 else np.ones(run.size, bool)
            parts.append(xy[keep].ravel().tolist())
    return parts


def data_lines(axes: list[Axes]) -> list[tuple[int, Points]]:
    """The lines and points drawn in data coordinates, with the number of their axes: a held case is kept as these."""
    kept = []
    for number, each in enumerate(axes):
        for line in each.lines:
            points = np.array(line.get_path().vertices, dtype=float)
            if line.get_visible() and line.get_transform() == each.transData and len(points):
                kept.append((number, points))
    return kept


def harvest(made: Figure, *, ghost: list[tuple[int, Points]] | None = None) -> Scene:
    """The scene of a drawn figure, without rendering it. ``ghost`` is a held case, drawn pale behind."""
    width, height = (float(v) for v in made.bbox.size)
    boxes, items = [], []
    scale = made.dpi / 72  # pixels in a point
    renderer: Any = made.canvas.get_renderer()  # type: ignore[attr-defined]  # for the places of legends and arrows
    for number, axes in enumerate(made.axes):
        axes.get_xlim(), axes.get_ylim()  # settles automatic limits
        box = axes.bbox
        boxes.append([round(v, 1) for v in (box.x0, height - box.y1, box.width, box.height)])
        gather = _Gather(axes, number, height, scale, renderer)
        items += gather.axis_items()
        for held, points in ghost or []:
            if held == number:
                items.append(_ghost(gather.flip(axes.transData.transform(points)), number))
        items += gather.artist_items()
    return Scene(width, height, boxes, items)


def _ghost(points: Points, number: int) -> Item:
    """A line, or a ring around a single point, of the held case."""
    if len(points) == 1:
        angle = np.linspace(0, 2 * np.pi, 25)
        points = points + 6 * np.column_stack([np.cos(angle), np.sin(angle)])
    look = {"colour": "#8C8C8C", "width": 2.2, "dash": "2 3", "opacity": 1.0, "ghost": True}
    return Item("line", points, look, number)


class _Gather:
    """Walks through one axes and turns each artist into items."""

    def __init__(self, axes: Axes, number: int, height: float, scale: float, renderer: Any) -> None:
        self.axes, self.number, self.height, self.scale, self.renderer = axes, number, height, scale, renderer

    def flip(self, points: Any) -> Points:
        """Matplotlib counts pixels from the bottom, the page from the top."""
        turned = np.array(points, dtype=float).reshape(-1, 2)
        turned[:, 1] = self.height - turned[:, 1]
        return turned

    # ---- axes: grid, spines, ticks, labels -------------------------------------------------------------------

    def axis_items(self) -> list[Item]:
        items: list[Item] = []
        if not self.axes.axison:
            return items
        for axis in (self.axes.xaxis, self.axes.yaxis):
            if axis.get_visible():
                items += self._axis(axis)
        for spine in self.axes.spines.values():
            if spine.get_visible():
                spine.get_window_extent()  # it has no place before it is asked
                ends = spine.get_transform().transform(spine.get_path().vertices)
                look = self._stroke(spine.get_edgecolor(), spine.get_linewidth())
                items.append(Item("line", self.flip(_straight(ends)), look))
        return items

    def _axis(self, axis: Any) -> Iterator[Item]:
        along = 0 if axis.axis_name == "x" else 1
        low, high = sorted(axis.get_view_interval())
        box = self.axes.bbox
        slack = 1e-9 * (high - low)
        for major in (True, False):
            places = np.asarray(axis.get_majorticklocs() if major else axis.get_minorticklocs(), dtype=float)
            formatter = axis.get_major_formatter() if major else axis.get_minor_formatter()
            labels = formatter.format_ticks(places) if len(places) else []
            ticks = axis.get_major_ticks(1) if major else (axis.get_minor_ticks(1) if len(places) else [])
            if not ticks:
                continue
            tick = ticks[0]
            for place, label in zip(places, labels, strict=True):
                if not low - slack <= place <= high + slack:
                    continue
                at = (place, place)
                pixel = float(self.axes.transData.transform(at)[along])
                yield from self._tick(tick, along, pixel, plain_text(label), box)
        if axis.label.get_visible() and axis.label.get_text():
            yield self._text(axis.label)

    def _tick(self, tick: Any, along: int, pixel: float, label: str, box: Any) -> Iterator[Item]:
        def point(a: float, b: float) -> tuple[float, float]:
            return (a, b) if along == 0 else (b, a)

        near, far = (box.y0, box.y1) if along == 0 else (box.x0, box.x1)
        line = tick.gridline
        if line.get_visible():
            look = self._stroke(line.get_color(), line.get_linewidth())
            yield Item("line", self.flip([point(pixel, near), point(pixel, far)]), look)
        length = tick._size * self.scale  # matplotlib has no public name for the length of a tick
        for mark, edge, way in ((tick.tick1line, near, -1), (tick.tick2line, far, 1)):
            if mark.get_visible() and length:
                look = self._stroke(mark.get_markeredgecolor(), mark.get_markeredgewidth())
                yield Item("line", self.flip([point(pixel, edge), point(pixel, edge + way * length)]), look)
        for text, edge, way in ((tick.label1, near, -1), (tick.label2, far, 1)):
            if text.get_visible() and label:
                where = self.flip([point(pixel, edge + way * tick.get_pad() * self.scale + way * length)])
                yield self._text(text, where=where, words=label)

    # ---- artists ----------------------------------------------------------------------------------------------

    def artist_items(self) -> list[Item]:
        axes = self.axes
        artists = [*axes.images, *axes.patches, *axes.collections, *axes.lines, *axes.texts, *axes.artists]
        items: list[Item] = []
        for artist in sorted(artists, key=lambda each: each.get_zorder()):
            if artist.get_visible():
                items += self._artist(artist, self.number if artist.get_clip_on() else None)
        for title in (axes.title, axes._left_title, axes._right_title):  # type: ignore[attr-defined]
            if title.get_text():
                items.append(self._text(title))
        legend = axes.get_legend()
        if legend is not None and legend.get_visible():
            items += self._legend(legend)
        return items

    def _legend(self, legend: Any) -> Iterator[Item]:
        from matplotlib.lines import Line2D
        from matplotlib.patches import Patch
        from matplotlib.text import Text

        legend.draw(self.renderer)  # its parts have no place before
        for artist in legend.findobj(lambda each: isinstance(each, Line2D | Patch | Text)):
            if artist.get_visible() and (artist is not legend.get_frame() or legend.get_frame_on()):
                yield from self._artist(artist, None)

    def _artist(self, artist: Any, clip: int | None) -> Iterator[Item]:
        from matplotlib.collections import Collection
        from matplotlib.image import AxesImage
        from matplotlib.lines import Line2D
        from matplotlib.patches import Patch
        from matplotlib.text import Annotation, Text

        if isinstance(artist, Line2D):
            yield from self._line(artist, clip)
        elif isinstance(artist, Patch):
            yield from self._patch(artist, clip)
        elif isinstance(artist, Collection):
            yield from self._collection(artist, clip)
        elif isinstance(artist, Annotation):
            artist.update_positions(self.renderer)
            if artist.arrow_patch is not None:
                yield from self._patch(artist.arrow_patch, None)
            if artist.get_text():
                yield from self._box(artist)
                yield self._text(artist)
        elif isinstance(artist, Text):
            if artist.get_text():
                yield from self._box(artist)
                yield self._text(artist)
        elif isinstance(artist, AxesImage):
            yield self._image(artist, clip)
        else:
            raise TypeError(f"the scene does not know {type(artist).__name__}; draw it with lines, patches or text")

    def _line(self, line: Any, clip: int | None) -> Iterator[Item]:
        points = line.get_transform().transform(line.get_path().vertices)
        if line.get_linestyle() not in ("None", "none", "", " ") and len(points) > 1:
            look = self._stroke(line.get_color(), line.get_linewidth(), line.get_alpha(), _dash(line))
            yield Item("line", self.flip(points), look, clip)
        marker = line.get_marker()
        if marker not in (None, "None", "none", "", " "):
            yield from self._markers(line, points, clip)

    def _markers(self, line: Any, points: Points, clip: int | None) -> Iterator[Item]:
        from matplotlib.markers import MarkerStyle
        from matplotlib.transforms import Affine2D

        style = MarkerStyle(line.get_marker(), fillstyle=line.get_fillstyle())
        size = Affine2D().scale(line.get_markersize() * self.scale)
        shapes = style.get_path().transformed(style.get_transform() + size).to_polygons(closed_only=False)
        fill = line.get_markerfacecolor() if style.is_filled() else None
        look = self._area(fill, line.get_markeredgecolor(), line.get_markeredgewidth(), line.get_alpha())
        good = points[np.isfinite(points).all(axis=1)]
        if len(good):
            yield Item("area", self.flip(_stack([shape + at for at in good for shape in shapes])), look, clip)

    def _patch(self, patch: Any, clip: int | None) -> Iterator[Item]:
        rings = patch.get_path().transformed(patch.get_transform()).to_polygons(closed_only=False)
        fill = patch.get_facecolor() if patch.get_fill() else None
        look = self._area(fill, patch.get_edgecolor(), patch.get_linewidth(), None, _dash(patch))
        if rings:
            yield Item("area", self.flip(_stack(rings)), look, clip)

    def _collection(self, many: Any, clip: int | None) -> Iterator[Item]:
        from matplotlib.transforms import Affine2D

        many.update_scalarmappable()
        paths, shapes = many.get_paths(), many.get_transforms()
        places = many.get_offset_transform().transform(np.ma.filled(many.get_offsets(), np.nan))
        base = many.get_transform()
        for index in range(max(len(paths), len(places))):
            if not paths:
                return
            path = paths[index % len(paths)]
            path = path.transformed(Affine2D(shapes[index % len(shapes)])) if len(shapes) else path
            place = places[index % len(places)]
            rings = [ring + place for ring in path.transformed(base).to_polygons(closed_only=False)]
            if not rings or not np.isfinite(place).all():
                continue
            look = self._area(_nth(many.get_facecolor(), index), _nth(many.get_edgecolor(), index),
                              _nth(many.get_linewidth(), index) or 0.0, None,
                              _dash_of(_nth(many.get_linestyle(), index), 1.0, self.scale))  # fmt: skip
            yield Item("area", self.flip(_stack(rings)), look, clip)

    def _box(self, text: Any) -> Iterator[Item]:
        """The frame around a text, where it has one with an outline; a plain backing is drawn with the text."""
        patch = text.get_bbox_patch()
        if patch is not None and _colour(patch.get_edgecolor())[0] != "none" and patch.get_linewidth():
            text.update_bbox_position_size(self.renderer)
            yield from self._patch(patch, None)

    def _image(self, image: Any, clip: int | None) -> Item:
        from PIL import Image

        pixels = np.asarray(image.to_rgba(image.get_array(), bytes=True))
        left, right, bottom, top = image.get_extent()
        corners = image.get_transform().transform([(left, bottom), (right, top)])
        if image.origin == "lower":
            pixels = pixels[::-1]
        (x0, y0), (x1, y1) = corners
        pixels = pixels[:: (1 if y1 >= y0 else -1), :: (1 if x1 >= x0 else -1)]
        saved = io.BytesIO()
        Image.fromarray(np.ascontiguousarray(pixels)).save(saved, format="PNG")
        href = "data:image/png;base64," + base64.b64encode(saved.getvalue()).decode()
        where = self.flip([(min(x0, x1), max(y0, y1)), (max(x0, x1), min(y0, y1))])
        return Item("image", where, {"href": href, "opacity": image.get_alpha() or 1.0}, clip)

    # ---- looks ------------------------------------------------------------------------------------------------

    def _text(self, text: Any, *, where: Points | None = None, words: str | None = None) -> Item:
        if where is None:
            x, y = text.get_unitless_position()
            where = self.flip(text.get_transform().transform((x, y)))
        lines = (plain_text(text.get_text()) if words is None else words).split("\n")
        if any("$" in line for line in lines):
            raise ValueError(
                f"{lines!r}: write symbols as plain Unicode, not as $...$; the page shows them as they are"
            )
        colour, _ = _colour(text.get_color())
        patch = text.get_bbox_patch()
        backed = patch is not None and _colour(patch.get_edgecolor())[0] in ("none", "#ffffff")
        look = {
            "lines": lines, "colour": colour, "size": round(text.get_fontsize() * self.scale, 1),
            "across": text.get_ha(), "up": text.get_va(), "turn": round(-text.get_rotation(), 1),
            "bold": str(text.get_weight()) in ("bold", "700", "heavy"), "backed": backed,
            "slanted": text.get_style() in ("italic", "oblique"),
        }  # fmt: skip
        return Item("text", where, look)

    def _stroke(self, colour: Any, width: float, alpha: float | None = None, dash: str = "") -> dict[str, Any]:
        name, opacity = _colour(colour, alpha)
        return {"colour": name, "width": round(width * self.scale, 2), "dash": dash, "opacity": opacity}

    def _area(self, fill: Any, edge: Any, width: float, alpha: float | None, dash: str = "") -> dict[str, Any]:
        inside, opacity = _colour(fill, alpha)
        outline, line_opacity = _colour(edge, alpha)
        wide = round(width * self.scale, 2) if outline != "none" else 0
        return {"fill": inside, "fill_opacity": opacity, "colour": outline, "opacity": line_opacity,
                "width": wide, "dash": dash}  # fmt: skip


def plain_text(text: str) -> str:
    r"""A tick label without matplotlib's mathematics: ``$\mathdefault{10^{-2}}$`` to ``10⁻²``."""
    if "$" not in text:
        return text
    bare = re.sub(r"\\math(?:default|regular|rm)\{(.*)\}", r"\1", text.strip("$"))
    raised = str.maketrans("0123456789-−", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁻")
    bare = re.sub(r"\^\{([-−\d]+)\}", lambda found: found[1].translate(raised), bare).replace(r"\times", "×")
    return bare if not re.search(r"[\\{}^_]", bare) else text


def _straight(vertices: Points) -> Points:
    return np.asarray(vertices, dtype=float)[:2]


def _stack(rings: list[Any]) -> Points:
    """Several rings as one array with a row of NaN between them."""
    gap = np.full((1, 2), np.nan)
    stacked = [piece for ring in rings for piece in (np.asarray(ring, dtype=float), gap)]
    return np.vstack(stacked[:-1])


def _nth(values: Any, index: int) -> Any:
    return values[index % len(values)] if len(values) else None


def _colour(colour: Any, alpha: float | None = None) -> tuple[str, float]:
    """Name and opacity of a colour; ``none`` for no colour."""
    if colour is None:
        return "none", 1.0
    return _named(colour if isinstance(colour, str) else tuple(colour), alpha)


@functools.lru_cache(maxsize=1024)
def _named(colour: Any, alpha: float | None) -> tuple[str, float]:
    from matplotlib.colors import to_hex, to_rgba

    rgba = to_rgba(colour, alpha)
    return ("none", 1.0) if rgba[3] == 0 else (to_hex(rgba), round(rgba[3], 3))


def _dash(artist: Any) -> str:
    """The dash pattern in pixels; matplotlib scales patterns with the line width and keeps the result privately."""
    return _dash_of(artist._dash_pattern, 1.0, artist.figure.dpi / 72 if artist.figure else 1.0)


def _dash_of(pattern: Any, width: float, scale: float) -> str:
    if pattern is None or isinstance(pattern, str) or pattern[1] is None:
        return ""
    return " ".join(f"{length * width * scale:.1f}" for length in pattern[1])
