"""On paper: the laws of this lesson derived by algebra. sympy is imported only when one of these is called."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any


@dataclasses.dataclass(frozen=True)
class Derivation:
    """A derivation: words and equation for each step, and the last equation as a plain function of its symbols."""

    name: str
    steps: tuple[tuple[str, Any], ...]
    function: Callable[..., Any]
    arguments: tuple[str, ...]


def _symbols(names: str) -> Any:
    import sympy

    return sympy.symbols(names, positive=True)


def speed_torque_law() -> Derivation:
    """Speed against torque of an unsaturated series machine: w = V / sqrt(L T) - R / L."""
    import sympy

    volts, amps, speed, ohms, henry, torque = _symbols("V I omega R L T")
    loop = sympy.Eq(volts, henry * amps * speed + ohms * amps)
    shaft = sympy.Eq(torque, henry * amps**2)
    current = sympy.solve(shaft, amps)[0]
    law = sympy.simplify(sympy.solve(loop.subs(amps, current), speed)[0])
    steps = (
        ("Voltage law, unsaturated, brush drop left out", loop),
        ("Torque, unsaturated", shaft),
        ("Current from torque", sympy.Eq(amps, current)),
        ("Put into the voltage law and solved for speed", sympy.Eq(speed, law)),
    )
    names = ("V", "T", "R", "L")
    return Derivation("speed-torque law", steps, sympy.lambdify((volts, torque, ohms, henry), law, "numpy"), names)


def largest_power_of_a_source() -> Derivation:
    """Largest power of a source with resistance: at half its voltage, P = U^2 / (4 R)."""
    import sympy

    rest, amps, ohms = _symbols("U_0 I R")
    power = amps * (rest - ohms * amps)
    best = sympy.solve(sympy.diff(power, amps), amps)[0]
    volts, most = sympy.simplify(rest - ohms * best), sympy.simplify(power.subs(amps, best))
    steps = (
        ("Power that leaves the pack", sympy.Eq(sympy.Symbol("P"), power)),
        ("Slope is zero at", sympy.Eq(amps, best)),
        ("Voltage there", sympy.Eq(sympy.Symbol("U"), volts)),
        ("Power there", sympy.Eq(sympy.Symbol("P"), most)),
    )
    return Derivation("largest power", steps, sympy.lambdify((rest, ohms), most, "numpy"), ("U_0", "R"))


def torque_exponent() -> Derivation:
    """How torque grows with current: the exponent n in T ~ I^n, 2 with no saturation and 1 with full."""
    import sympy

    amps, henry, half = _symbols("I L I_s")
    torque = henry * amps**2 / (1 + amps / half)
    exponent = sympy.simplify(sympy.diff(sympy.log(torque), amps) * amps)
    steps = (
        ("Torque of a saturating machine", sympy.Eq(sympy.Symbol("T"), torque)),
        ("Exponent n = d ln T / d ln I", sympy.Eq(sympy.Symbol("n"), exponent)),
        ("At small current", sympy.Eq(sympy.Symbol("n"), sympy.limit(exponent, amps, 0))),
        ("At large current", sympy.Eq(sympy.Symbol("n"), sympy.limit(exponent, amps, sympy.oo))),
    )
    return Derivation("torque exponent", steps, sympy.lambdify((amps, half), exponent, "numpy"), ("I", "I_s"))


def largest_ripple_duty() -> Derivation:
    """The duty at which the link capacitor works hardest: one half, with half the motor current."""
    import sympy

    duty, amps = _symbols("D I_m")
    ripple = amps * sympy.sqrt(duty * (1 - duty))
    worst = sympy.solve(sympy.diff(ripple, duty), duty)[0]
    most = sympy.simplify(ripple.subs(duty, worst))
    steps = (
        ("Capacitor current, root mean square", sympy.Eq(sympy.Symbol("I_c"), ripple)),
        ("Slope is zero at", sympy.Eq(duty, worst)),
        ("Current there", sympy.Eq(sympy.Symbol("I_c"), most)),
    )
    return Derivation("largest ripple", steps, sympy.lambdify((amps,), most, "numpy"), ("I_m",))


ALL = (speed_torque_law, largest_power_of_a_source, torque_exponent, largest_ripple_duty)
