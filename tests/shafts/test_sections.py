"""Torsion of keyed and splined sections by finite differences: a second way, independent of every formula here."""

import math

import numpy as np
import pytest
from matplotlib.path import Path
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

from evlib.shafts import spline, torsion

near = pytest.approx


def _stiffness(inside, width, points):
    """Torsion constant [m4] of a section: Prandtl's stress function, -laplace(f) = 2 inside, 0 outside; J = 2 sum f."""
    x = np.linspace(-width / 2, width / 2, points)
    h = x[1] - x[0]
    grid = np.stack(np.meshgrid(x, x, indexing="ij"), axis=-1)
    mask = inside(grid.reshape(-1, 2)).reshape(points, points)
    number = np.full(mask.shape, -1)
    number[mask] = np.arange(mask.sum())
    rows, columns, values = [number[mask]], [number[mask]], [np.full(mask.sum(), 4.0)]
    for axis, step in ((0, 1), (0, -1), (1, 1), (1, -1)):
        other = np.roll(number, step, axis=axis)
        both = mask & (other >= 0)
        rows.append(number[both])
        columns.append(other[both])
        values.append(np.full(both.sum(), -1.0))
    matrix = coo_matrix((np.concatenate(values), (np.concatenate(rows), np.concatenate(columns)))).tocsc()
    return 2 * spsolve(matrix, np.full(mask.sum(), 2 * h**2)).sum() * h**2


def _keyed():
    """28 mm round with a slot 8 mm wide and 4 mm deep, root fillet 0.4 mm."""
    r, half, floor, fillet = 0.014, 0.004, 0.010, 0.0004

    def inside(p):
        x, y = np.abs(p[:, 0]), p[:, 1]
        slot = (x < half) & (y > floor)
        corner = (x > half - fillet) & (y < floor + fillet) & slot
        metal = corner & (np.hypot(x - half + fillet, y - floor - fillet) > fillet)
        return (np.hypot(p[:, 0], y) < r) & (~slot | metal)

    return inside, 2.02 * r


def test_keyed_section_keeps_its_published_stiffness():
    """sectionproperties 3.10.2: J / J0 = 0.8367 (28 mm, slot 8 x 4, root fillet 0.4 mm). J0: the grid's circle."""
    (inside, width), points = _keyed(), 301
    keyed = _stiffness(inside, width, points)
    round_ = _stiffness(lambda p: np.hypot(p[:, 0], p[:, 1]) < 0.014, width, points)
    assert round_ == near(torsion.polar_inertia(0.028), rel=0.02)  # the grid's steps stand out by half a cell
    assert keyed / round_ == near(0.8367, rel=0.01)


@pytest.mark.parametrize(("teeth", "module"), [(18, 0.002), (12, 0.0025)])
def test_a_splined_shaft_is_taken_as_its_root_circle(teeth, module):
    """The formulas use the root circle alone. The true toothed section is stiffer than it, and softer than the pitch
    circle's: so counting with the root errs to the careful side, and not by more than teeth could add."""
    g = spline.spline_geometry(teeth, spline_module=module, pressure_angle=math.radians(30), root_form="fillet")
    line = spline.external_outline(g, teeth=teeth, points=12)
    outline = Path(np.column_stack([line.x, line.y]))
    width = 1.02 * float(g.external_major)
    true = _stiffness(outline.contains_points, width, 321)
    circle = _stiffness(lambda p: np.hypot(p[:, 0], p[:, 1]) < g.external_minor / 2, width, 321)
    root, pitch = (torsion.polar_inertia(d) for d in (g.external_minor, g.pitch_diameter))
    assert circle == near(root, rel=0.02)  # the grid's steps stand out by half a cell
    assert 1.02 < true / circle < pitch / root
