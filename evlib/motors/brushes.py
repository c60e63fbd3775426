"""Brushes in use: current density, spring force, friction, and hours until they must be changed."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Number, calculation, result
from evlib.motors.quantities import (
    BrushArea,
    BrushesPerPolarity,
    BrushFriction,
    BrushLength,
    BrushLengthLeast,
    BrushPressure,
    BrushWear,
    CommutatorRadius,
    Current,
    Speed,
)

# Spring pressure for carbon brushes; common practice, no source: makers' guides give 15 to 25 kPa for machines that
# stand still, 25 to 45 kPa where the machine is shaken by a road.
PRESSURE_ROAD = (25e3, 45e3)  # Pa
BEDDED = 0.75  # part of the face that must shine before full current; common practice, no source


@result
class BrushCard:
    """Figures for the maintenance card of one machine's brushes."""

    current_density: Number  # A/m2 of brush face
    spring_force: Number  # N on one brush
    friction_power: Number  # W, all brushes
    hours_left: Number  # running hours
    check_every: Number  # running hours between readings


@calculation
def spring_force(brush_pressure: BrushPressure, *, brush_area: BrushArea) -> Number:
    """Force that a spring balance should read as it lifts the spring off one brush: F = p A.

    brush_pressure: p [Pa]; brush_area: A of one brush [m2].

    >>> round(spring_force(30e3, brush_area=8e-4), 6)
    24.0

    Source: pressure as force over area.
    """
    return np.asarray(np.asarray(brush_pressure) * brush_area)


@calculation
def current_density(current: Current, *, brush_area: BrushArea, brushes_per_polarity: BrushesPerPolarity) -> Number:
    """Current per area of brush face.

    j = I / (n_br A)

    current: I in the machine [A]; brush_area: A of one brush [m2]; brushes_per_polarity: n_br. About 100 000 A/m2
    (10 A/cm2) for hours and two to three times that for a minute are common practice, no source.

    >>> round(current_density(400.0, brush_area=8e-4, brushes_per_polarity=4))
    125000

    Source: definition.
    """
    return np.asarray(current / (np.asarray(brushes_per_polarity) * brush_area))


@calculation
def hours_left(brush_length: BrushLength, *, brush_length_least: BrushLengthLeast, brush_wear: BrushWear) -> Number:
    """Running hours until the shortest brush reaches its least length.

    t = (l - l_0) / u

    brush_length: l now [m]; brush_length_least: l_0 [m]; brush_wear: u [m/s]. Wear rises steeply with sparking, dust
    and low humidity: measure it on your own machine. Zero once at the least length.

    >>> round(hours_left(0.032, brush_length_least=0.016, brush_wear=0.008e-3 / 3600))
    2000

    Source: definition of a wear rate.
    """
    return np.maximum(np.asarray(brush_length) - brush_length_least, 0.0) / brush_wear / 3600.0


@calculation
def maintenance_card(
    current: Current,
    *,
    speed: Speed,
    brush_area: BrushArea,
    brushes_per_polarity: BrushesPerPolarity,
    brush_pressure: BrushPressure,
    brush_friction: BrushFriction,
    commutator_radius: CommutatorRadius,
    brush_length: BrushLength,
    brush_length_least: BrushLengthLeast,
    brush_wear: BrushWear,
) -> BrushCard:
    """The numbers of one machine's brush card.

    F = p A;  P = 2 n_br F f w r;  hours = (l - l_0) / u, read again at a fifth of what is left, at least every 200 h

    current: usual [A]; speed: usual [rad/s]; brush_area [m2]; brushes_per_polarity; brush_pressure [Pa];
    brush_friction [1]; commutator_radius [m]; brush_length, brush_length_least [m]; brush_wear [m/s]. Carbon dust
    conducts: blow it out (dead, outdoors, with mask and eye protection) and read insulation before and after.

    >>> c = maintenance_card(200.0, speed=300.0, brush_area=8e-4, brushes_per_polarity=4, brush_pressure=30e3,
    ...     brush_friction=0.2, commutator_radius=0.07, brush_length=0.032, brush_length_least=0.016,
    ...     brush_wear=0.008e-3 / 3600)
    >>> round(c.spring_force, 3), round(c.friction_power, 1), round(c.hours_left), c.check_every
    (24.0, 806.4, 2000, 200.0)

    Source: pressure, friction and wear as defined.
    """
    force = spring_force(brush_pressure, brush_area=brush_area)
    left = hours_left(brush_length, brush_length_least=brush_length_least, brush_wear=brush_wear)
    rubbing = 2.0 * np.asarray(brushes_per_polarity) * force * brush_friction * speed * commutator_radius
    density = current_density(current, brush_area=brush_area, brushes_per_polarity=brushes_per_polarity)
    return BrushCard(density, force, rubbing, left, np.minimum(np.asarray(left) / 5.0, 200.0))
