"""The one figure style: contrast by the published formula, colour never alone, pictures small."""

from __future__ import annotations

import io
import itertools

import numpy as np
import pytest
from PIL import Image

from evlib.figures import base
from evlib.ground.quantity import Quantity


def luminance(colour: str) -> float:
    """Relative luminance of WCAG 2.2 (definition in its glossary)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str = "#FFFFFF") -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_published_extremes():
    assert contrast("#000000") == pytest.approx(21.0)  # WCAG 2.2: black on white is 21 to 1
    assert contrast("#FFFFFF") == pytest.approx(1.0)


@pytest.mark.parametrize("name", base.COLOURS)
def test_lines_and_their_labels_stand_out_from_white(name):
    assert contrast(base.COLOURS[name]) >= 4.5  # WCAG 2.2, success criteria 1.4.11 (3 to 1, lines) and 1.4.3 (text)


@pytest.mark.parametrize("colour", [base.INK, base.GREY])
def test_text_stands_out_from_white(colour):
    assert contrast(colour) >= 4.5  # WCAG 2.2, success criterion 1.4.3


# Full deuteranopia and protanopia in linear RGB: Machado, Oliveira and Fernandes, IEEE Transactions on Visualization
# and Computer Graphics 15(6), 2009 (from memory).
BLINDNESS = {
    "deuteranopia": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
    "protanopia": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
}


@pytest.mark.parametrize("kind", BLINDNESS)
def test_the_colours_stay_apart_for_colour_blind_eyes(kind):
    def seen(colour):
        parts = np.array([int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)])
        linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
        mixed = np.clip(np.array(BLINDNESS[kind]) @ linear, 0, 1)
        return np.where(mixed <= 0.0031308, mixed * 12.92, 1.055 * mixed ** (1 / 2.4) - 0.055)

    for one, other in itertools.combinations(base.COLOURS.values(), 2):
        assert np.linalg.norm(seen(one) - seen(other)) > 0.2, (one, other)


def test_colour_is_never_alone():
    cycle = list(base.style()["axes.prop_cycle"])
    assert len({entry["color"] for entry in cycle}) == len({str(entry["linestyle"]) for entry in cycle}) == len(cycle)


def test_a_picture_is_small_and_has_the_size_asked_for():
    figure, axes = base.figure(size=(6, 3.7))
    base.call_draw(lambda _, a: [a.plot(np.arange(400), np.sin(np.arange(400) / n)) for n in range(2, 9)], None, axes)
    data = base.png(figure)
    assert len(data) <= 60_000
    assert Image.open(io.BytesIO(data)).size == (600, 370)


def test_a_picture_too_large_to_save_is_refused():
    noise = np.random.default_rng(1).random((370, 600, 3))
    figure, axes = base.figure()
    base.call_draw(lambda _, a: a.imshow(noise, aspect="auto"), None, axes)
    axes[0].set_position((0, 0, 1, 1))
    with pytest.raises(ValueError, match="allowed are 60000"):
        base.png(figure)


def test_labels_at_line_ends_do_not_overlap():
    def draw(_, axes):
        for n in range(5):
            axes.plot([0, 1], [0, 1 + n * 1e-3], label=f"line {n}")
        axes.set(xlim=(0, 1), ylim=(0, 2))
        base.label_lines(axes)

    figure, axes = base.figure()
    base.call_draw(draw, None, axes)
    boxes = [text.get_window_extent(figure.canvas.get_renderer()) for text in axes[0].texts]
    assert len(boxes) == 5
    assert not any(one.overlaps(other) for one, other in itertools.combinations(boxes, 2))


def test_axis_labels_name_quantity_and_unit_in_the_learners_units():
    torque = Quantity("T", "N m", "torque")
    assert base.axis_label(torque) == "torque T [N m]"
    assert base.axis_label(torque, system="shop") == "torque T [lbf ft]"
    assert base.shown(100.0, torque, system="shop") == pytest.approx(73.756, abs=1e-3)  # NIST SP 811: 1.355818 N m
