"""The two formulas of the lesson, derived rather than quoted: by sympy, loaded only when asked for."""

from __future__ import annotations

from typing import Any


def low_and_reverse() -> dict[str, Any]:
    """Low and reverse of a two-sun set, from the three mesh equations and nothing else.

    Gives sympy expressions in z_in, z_low, z_s and z_l (the planets' counts, which cancel out).

    >>> low_and_reverse()["low"]
    1 + z_low/z_in
    """
    import sympy

    z_in, z_low, z_s, z_l = sympy.symbols("z_in z_low z_s z_l", positive=True)
    w_in, w_low, w_ring, w_c, w_s, w_l = sympy.symbols("w_in w_low w_ring w_c w_s w_l")
    ring = z_low + 2 * z_s  # one axis for all
    meshes = [
        z_in * (w_in - w_c) + z_l * (w_l - w_c),
        z_l * (w_l - w_c) + z_s * (w_s - w_c),
        z_s * (w_s - w_c) + z_low * (w_low - w_c),
        z_s * (w_s - w_c) - ring * (w_ring - w_c),
    ]
    found = {}
    for name, held in (("low", w_low), ("reverse", w_ring)):
        rest = [w for w in (w_in, w_low, w_ring, w_s, w_l) if w is not held]
        solved = sympy.solve([mesh.subs(held, 0) for mesh in meshes], rest, dict=True)[0]
        found[name] = sympy.expand(sympy.simplify(solved[w_in] / w_c))
    return found


def reflected() -> Any:
    """Mass that a rotor adds, from kinetic energy: solve J w^2 / 2 = m v^2 / 2 with w = i v / r for m.

    >>> reflected()
    J*i**2/r**2
    """
    import sympy

    inertia, ratio, radius, speed, mass = sympy.symbols("J i r v m", positive=True)
    spin = ratio * speed / radius
    return sympy.solve(sympy.Eq(inertia * spin**2 / 2, mass * speed**2 / 2), mass)[0]
