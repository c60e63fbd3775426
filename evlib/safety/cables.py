"""Cables in use: what is lost along them, and what a poor joint does. Heat and withstand stand in ``ground.wire``."""

from __future__ import annotations

import numpy as np

from evlib.ground import wire
from evlib.ground.quantity import Number, calculation
from evlib.safety import quantities as q


@calculation
def loop_drop(current: wire.WireCurrent, *, area: wire.ConductorArea, length: wire.CableLength,
              stranding_factor: wire.StrandingFactor, temperature: wire.ConductorTemperature,
              joint_resistance: q.JointResistance = 0.0, joint_count: q.JointCount = 0.0) -> Number:  # fmt: skip
    """Voltage lost in a run of cable, out and back, with its joints.

    V = I (2 R' l + n R_j)

    current [A], area [m2], length one way [m], stranding_factor [1], temperature of the copper [K], joint_resistance
    [ohm], joint_count: in both cables together [1]. Gives [V].

    >>> round(loop_drop(450.0, area=67.43e-6, length=3.0, stranding_factor=1.02, temperature=343.15,
    ...                 joint_resistance=0.1e-3, joint_count=4.0), 3)
    1.023
    """
    cable = wire.drop_both_ways(
        current, area=area, length=length, temperature=temperature, stranding_factor=stranding_factor
    )
    return cable + current * joint_resistance * joint_count


@calculation
def joint_power(current: q.Current, *, joint_resistance: q.JointResistance) -> Number:
    """Heat made in one joint.

    P = I^2 R_j

    current [A], joint_resistance [ohm]. Gives [W].

    >>> round(joint_power(300.0, joint_resistance=0.5e-3), 1)
    45.0
    """
    return np.square(current) * joint_resistance


@calculation
def joint_rise(current: q.Current, *, joint_resistance: q.JointResistance, joint_surface: q.JointSurface,
               heat_transfer: q.HeatTransfer) -> Number:  # fmt: skip
    """How much hotter a joint settles than the air around it, if all its heat leaves by its own surface.

    dT = I^2 R_j / (h A_j)

    current [A], joint_resistance [ohm], joint_surface [m2], heat_transfer [W/m2 K]. Gives [K]. The cable takes heat
    away too, so it reads high; compare joints with each other, and look for the one that stands out.

    >>> round(joint_rise(300.0, joint_resistance=0.1e-3, joint_surface=0.02, heat_transfer=10.0))
    45
    """
    return np.square(current) * joint_resistance / (heat_transfer * joint_surface)
