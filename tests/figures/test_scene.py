"""The live picture is the printed picture: the harvested scene against what matplotlib itself writes.

The outside reference is matplotlib's own SVG writer: another path through its drawing code than ours, giving path
coordinates and texts of the same figure.
"""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ElementTree

import matplotlib
import numpy as np
import pytest

from evlib.figures import base, scene

SVG = "{http://www.w3.org/2000/svg}"


def printed(figure):
    """(paths, texts) of the figure as matplotlib writes it: paths in pixels from the top left, by drawing order."""
    saved = io.StringIO()
    with matplotlib.rc_context({"svg.fonttype": "none", "path.simplify": False, "path.snap": False}):
        figure.savefig(saved, format="svg")
    root = ElementTree.fromstring(saved.getvalue())
    scale = figure.dpi / 72  # the file is in points
    paths = []
    for path in root.iter(f"{SVG}path"):
        numbers = [float(v) for v in re.findall(r"[-\d.]+(?:e-?\d+)?", path.get("d", ""))]
        if numbers and len(numbers) % 2 == 0:
            paths.append(np.array(numbers).reshape(-1, 2) * scale)
    texts = ["".join(text.itertext()).strip() for text in root.iter(f"{SVG}text")]
    return paths, [text for text in texts if text]


def nearest(points, paths):
    """The largest distance between a harvested line and the printed path that fits it best, in pixels."""
    points = points[np.isfinite(points).all(axis=1)]
    fits = [np.abs(path - points).max() for path in paths if path.shape == points.shape]
    return min(fits, default=np.inf)


def curves(number, axes):
    amps = np.linspace(1, 600, 120)
    axes.plot(amps, number * np.sqrt(amps), label="root")
    axes.plot(amps, number * amps / 20, label="straight")
    axes.axhline(10, color=base.GREY, linestyle=":")
    axes.axvline(200, color=base.GREY, linestyle="--")
    axes.text(300, 5, "a word")
    axes.set(xlabel="current I [A]", ylabel="torque T [N m]", xlim=(0, 600), ylim=(0, 80))
    base.label_lines(axes)


def logarithmic(number, axes):
    amps = np.geomspace(1, 1000, 60)
    axes.plot(amps, number * amps**1.5)
    axes.set(xscale="log", yscale="log", xlim=(1, 1000), ylim=(1, 1e5), xlabel="x", ylabel="y")


def two_scales(number, axes):
    axes.plot([0, 1, 2], [0, number, 2 * number])
    axes.set(xlim=(0, 2), ylim=(0, 10), xlabel="x", ylabel="left")
    other = axes.twinx()
    other.plot([0, 1, 2], [100, 50 * number, 0], color=base.COLOURS["vermilion"])
    other.set(ylim=(0, 500), ylabel="right")


def automatic(number, axes):
    axes.plot([0, 1, 2], [0, number, 30 * number])
    axes.step([0, 1, 2], [3, number, 3], where="post")


def with_legend(number, axes):
    axes.plot([0, 1], [0, number], label="one")
    axes.plot([0, 1], [number, 0], label="two")
    axes.set(xlim=(0, 1), ylim=(0, 5))
    axes.set_title("a title")
    axes.legend(loc="upper right")


PICTURES = [curves, logarithmic, two_scales, automatic, with_legend]


def drawn(draw, number=2.0):
    figure, axes = base.figure()
    base.call_draw(draw, number, axes)
    return figure, axes


@pytest.mark.parametrize("draw", PICTURES)
def test_every_line_lies_where_matplotlib_draws_it(draw):
    figure, _ = drawn(draw)
    lines = [item for item in scene.harvest(figure).items if item.kind == "line"]  # before matplotlib draws anything
    paths, _ = printed(figure)
    assert sum(nearest(item.points, paths) < 0.05 for item in lines) >= 2 * len(figure.axes)  # the axes' own lines too
    harvested = [item for item in lines if item.clip is not None]
    assert len(harvested) == sum(len(each.lines) for each in figure.axes)
    for item in harvested:
        assert nearest(item.points, paths) < 0.05


@pytest.mark.parametrize("draw", PICTURES)
def test_every_text_that_matplotlib_writes_is_in_the_scene_and_no_other(draw):
    figure, _ = drawn(draw)
    _, texts = printed(figure)
    ours = scene.harvest(figure).texts()
    plain = [re.sub(r"\s", "", text) for text in texts]
    if draw is not logarithmic:  # there matplotlib sets powers of ten in pieces
        assert sorted(re.sub(r"\s", "", text) for text in ours) == sorted(plain)
    else:
        assert {"10⁰", "10¹", "10²", "10³"} <= set(ours)


def test_filled_areas_and_points_lie_where_matplotlib_draws_them():
    def draw(_, axes):
        axes.fill_between([0, 1, 2], [0, 1, 0], [2, 3, 4], color=base.PALE)
        axes.add_patch(matplotlib.patches.Rectangle((0.5, 0.5), 1, 2, facecolor=base.COLOURS["blue"]))
        axes.set(xlim=(0, 2), ylim=(0, 5))

    figure, axes = drawn(draw)
    paths, _ = printed(figure)
    areas = [item for item in scene.harvest(figure).items if item.kind == "area"]
    assert len(areas) == 2
    rectangle = axes[0].transData.transform([(0.5, 0.5), (1.5, 2.5)])
    assert areas[0].points[:, 0].min() == pytest.approx(rectangle[0, 0])
    assert areas[0].points[:, 1].max() == pytest.approx(370 - rectangle[0, 1])  # 3.7 in at 100 dots
    corners = [(0, 0), (0, 2), (1, 3), (2, 4), (2, 0), (1, 1)]  # the outline of the band
    for item, wanted in zip(areas[::-1], (corners, [(0.5, 0.5), (1.5, 0.5), (1.5, 2.5), (0.5, 2.5)]), strict=True):
        turned = axes[0].transData.transform(wanted)
        turned[:, 1] = 370 - turned[:, 1]
        for point in turned:
            assert np.abs(item.points - point).max(axis=1).min() < 0.01
        for point in item.points:
            assert np.abs(turned - point).max(axis=1).min() < 0.01
    printed_rectangle = areas[0].points  # the band is written as a reference to a shape kept elsewhere in the file
    assert nearest(printed_rectangle[:4], [path[:4] for path in paths if len(path) in (4, 5)]) < 0.05


def test_scatter_and_markers_stand_at_their_data():
    def draw(_, axes):
        axes.scatter([1, 2], [3, 4], s=30)
        axes.plot([1.5], [2.0], marker="s", linestyle="none")
        axes.set(xlim=(0, 3), ylim=(0, 5))

    figure, axes = drawn(draw)
    areas = [item.points for item in scene.harvest(figure).items if item.kind == "area"]
    centres = sorted(tuple((np.nanmax(a, axis=0) + np.nanmin(a, axis=0)) / 2) for a in areas)
    wanted = axes[0].transData.transform([(1, 3), (1.5, 2), (2, 4)])
    wanted[:, 1] = 370 - wanted[:, 1]
    assert np.allclose(centres, wanted, atol=0.2)


def test_an_image_fills_its_extent():
    def draw(_, axes):
        axes.imshow(np.arange(6.0).reshape(2, 3), extent=(0, 3, 0, 2), aspect="auto", origin="lower")

    figure, axes = drawn(draw)
    (image,) = [item for item in scene.harvest(figure).items if item.kind == "image"]
    box = axes[0].bbox
    assert np.allclose(image.points, [[box.x0, 370 - box.y1], [box.x1, 370 - box.y0]])
    assert image.look["href"].startswith("data:image/png;base64,")


@pytest.mark.parametrize("draw", PICTURES)
def test_a_kept_figure_drawn_again_is_the_same_as_a_fresh_one(draw):
    figure, axes = base.figure()
    kept = None
    for number in (1.0, 3.0, 2.0):
        for extra in figure.axes[1:]:
            extra.remove()
        base.clear(axes[0])
        base.call_draw(draw, number, axes)
        kept = scene.harvest(figure).message()
    fresh, _ = drawn(draw)
    assert kept == scene.harvest(fresh).message()


@pytest.mark.parametrize("draw", PICTURES)
def test_rendering_changes_nothing_in_the_scene(draw):
    figure, _ = drawn(draw)
    before = scene.harvest(figure).message()
    base.png(figure)
    assert scene.harvest(figure).message() == before


def test_spines_run_along_the_axes_and_ticks_stand_at_their_values():
    figure, axes = drawn(curves)
    box = axes[0].bbox
    loose = [item.points for item in scene.harvest(figure).items if item.kind == "line" and item.clip is None]
    left = [[box.x0, 370 - box.y0], [box.x0, 370 - box.y1]]
    bottom = [[box.x0, 370 - box.y0], [box.x1, 370 - box.y0]]
    for spine in (left, bottom):
        assert any(np.allclose(points, spine) for points in loose)
    at_300 = axes[0].transData.transform((300, 0))[0]
    assert any(np.allclose(points[:, 0], at_300) and points[1, 1] > points[0, 1] for points in loose)


def test_what_differs_in_the_result_differs_in_the_scene():
    one, _ = drawn(curves, 2.0)
    other, _ = drawn(curves, 2.2)
    assert scene.harvest(one).message() != scene.harvest(other).message()


def test_a_gap_stays_a_gap():
    def draw(_, axes):
        axes.plot([0, 1, 2, 3, 4], [0, 1, np.nan, 1, 0])

    figure, _ = drawn(draw)
    (line,) = [i for i in scene.harvest(figure).message()["items"] if i["kind"] == "line" and i["clip"] is not None]
    assert [len(part) for part in line["parts"]] == [4, 4]


def test_hidden_things_are_left_out():
    def draw(_, axes):
        axes.plot([0, 1], [0, 1], visible=False)
        axes.set_axis_off()

    figure, _ = drawn(draw)
    assert scene.harvest(figure).items == []


def test_mathematics_in_text_is_refused_and_powers_of_ten_are_plain():
    figure, _ = drawn(lambda _, axes: axes.text(0, 0, "$T_x$"))
    with pytest.raises(ValueError, match="plain Unicode"):
        scene.harvest(figure)
    assert scene.plain_text(r"$\mathdefault{10^{-2}}$") == "10⁻²"


def test_an_artist_that_the_scene_does_not_know_is_an_error():
    from matplotlib.offsetbox import AnchoredText

    figure, _ = drawn(lambda _, axes: axes.add_artist(AnchoredText("no", loc="center")))
    with pytest.raises(TypeError, match="does not know AnchoredText"):
        scene.harvest(figure)


def test_a_held_case_follows_the_present_limits():
    figure, axes = drawn(lambda _, a: (a.plot([0, 10], [0, 10]), a.set(xlim=(0, 10), ylim=(0, 10))))
    held = scene.data_lines(axes)
    base.clear(axes[0])
    base.call_draw(lambda _, a: a.set(xlim=(0, 20), ylim=(0, 20)), None, axes)
    (ghost,) = [item for item in scene.harvest(figure, ghost=held).items if item.look.get("ghost")]
    box = axes[0].bbox
    assert np.allclose(ghost.points[1], [(box.x0 + box.x1) / 2, 370 - (box.y0 + box.y1) / 2])
