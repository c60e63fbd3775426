"""Short circuits: how much current, how fast, and whether contactor, fuse and cable agree about who breaks it."""

from __future__ import annotations

import numpy as np

from evlib.ground import fuse, wire
from evlib.ground.fuse import ArcingTime, ClearingIntegral, FuseCurve
from evlib.ground.quantity import Number, calculation, result
from evlib.safety import quantities as q


@calculation
def prospective_current(open_voltage: q.PackVoltage, *, pack_resistance: q.PackResistance,
                        circuit_resistance: q.CircuitResistance) -> Number:  # fmt: skip
    """Current of a dead short behind the fuse, once it has risen.

    I = V / (R_b + R_c)

    open_voltage: no-load voltage of the pack in that state [V]; pack_resistance in that state, circuit_resistance
    [ohm]. Gives [A]. Two cases matter: hot and full gives the most, which the fuse must be able to break; cold and
    nearly empty gives the least, which must still melt it quickly. Cells sag further in the first second, so the
    least is less still: measure the resistance over a second.

    >>> round(prospective_current(345.6, pack_resistance=0.060, circuit_resistance=0.010))
    4937
    """
    return open_voltage / (pack_resistance + circuit_resistance)


@calculation
def time_constant(loop_inductance: q.LoopInductance, *, pack_resistance: q.PackResistance,
                  circuit_resistance: q.CircuitResistance) -> Number:  # fmt: skip
    """Time constant of the fault's loop, against which a DC fuse is rated.

    tau = L / (R_b + R_c)

    loop_inductance [H], pack_resistance, circuit_resistance [ohm]. Gives [s].

    >>> round(time_constant(20e-6, pack_resistance=0.06, circuit_resistance=0.01) * 1e3, 3)
    0.286
    """
    return loop_inductance / (pack_resistance + circuit_resistance)


@calculation
def current_after(time: q.Time, *, open_voltage: q.PackVoltage, pack_resistance: q.PackResistance,
                  circuit_resistance: q.CircuitResistance, loop_inductance: q.LoopInductance) -> Number:  # fmt: skip
    """Current a time after the short.

    i = I (1 - exp(-t / tau))

    time [s], open_voltage [V], pack_resistance, circuit_resistance [ohm], loop_inductance [H]. Gives [A].

    >>> round(current_after(1e-3, open_voltage=350.0, pack_resistance=0.06, circuit_resistance=0.01,
    ...                     loop_inductance=70e-6))
    3161
    """
    resistance = pack_resistance + circuit_resistance
    return -open_voltage / resistance * np.expm1(-time * resistance / loop_inductance)


@result
class OpeningBand:
    """Currents [A] at which the contactor would open first on more than it can break; closed where upper <= lower."""

    lower: Number
    upper: Number
    width: Number


@calculation
def opening_band(breaking_current: q.ContactorBreakingCurrent, *, release_time: q.ContactorReleaseTime,
                 curve: FuseCurve, arcing_time: ArcingTime, largest_current: q.Current) -> OpeningBand:  # fmt: skip
    """The forbidden opening band: too much for the contactor, and too little for the fuse to be quicker.

    lower = I_brk; upper = smaller of I(fuse clears in t_rel) and the largest prospective current

    breaking_current of the contactor [A], release_time from coil off to arc out [s], curve and arcing_time of the
    fuse, largest_current: prospective, hot and full [A]. Above the upper end the fuse has cleared before the
    contacts part; below the lower end the contacts can break it. In between a press on the emergency switch, or an
    over-speed trip, draws an arc that the contactor cannot put out. The remedy is a contactor that breaks more, a
    faster fuse, or a release held back until the fuse has had its time.

    >>> curve = fuse.Curve(x=np.array([500.0, 2500.0]), y=np.array([100.0, 0.01]), logarithmic=True)
    >>> band = opening_band(1000.0, release_time=0.030, curve=curve, arcing_time=0.008, largest_current=5000.0)
    >>> round(band.lower), round(band.upper)
    (1000, 2178)
    """
    if np.any(np.asarray(release_time) <= np.asarray(arcing_time)):
        raise ValueError("release_time: shorter than the fuse's arcing time, so no current is cleared before it")
    quicker = fuse.melting_current(np.asarray(release_time) - arcing_time, curve=curve)
    upper = np.minimum(quicker, largest_current)
    lower, upper = np.broadcast_arrays(np.asarray(breaking_current, float), upper)
    return OpeningBand(lower=lower, upper=upper, width=np.maximum(upper - lower, 0.0))


@calculation
def cable_withstand(area: wire.ConductorArea, *, start: wire.ConductorTemperature,
                    end: wire.ConductorTemperature) -> Number:  # fmt: skip
    """The I²t that a cable stands from a temperature to its short-circuit limit, with no heat leaving.

    I^2 t = (k A)^2

    area [m2], start, end [K]. Gives [A2 s]. For times up to about 5 s.

    >>> round(cable_withstand(50e-6, start=363.15, end=523.15) / 1e6, 1)
    51.0
    """
    return np.square(wire.withstand_factor(start, end=end) * area)


@calculation
def cable_peak_temperature(current: q.Current, *, curve: FuseCurve, arcing_time: ArcingTime,
                           clearing_integral: ClearingIntegral, area: wire.ConductorArea,
                           start: wire.ConductorTemperature) -> Number:  # fmt: skip
    """Temperature of the copper when the fuse has cleared, with no heat leaving.

    t = (beta + t_start) exp(I^2 t / (226 A)^2) - beta, temperatures in °C

    current: prospective [A], curve, arcing_time [s] and clearing_integral [A2 s] of the fuse, area [m2], start [K].
    Gives [K], at most 1e6; 1e6 too where the fuse does not melt: then no time limits it. Past 5 s it reads high.

    >>> curve = fuse.Curve(x=np.array([500.0, 2500.0]), y=np.array([100.0, 0.01]), logarithmic=True)
    >>> round(cable_peak_temperature(5000.0, curve=curve, arcing_time=0.008, clearing_integral=2e5, area=67.4e-6,
    ...                              start=363.15) - 273.15, 1)
    90.3
    """
    through = fuse.let_through(current, curve=curve, arcing_time=arcing_time, clearing_integral=clearing_integral)
    per_area = wire.COPPER_HEAT * (wire.COPPER_BETA + 20) / wire.COPPER_RESISTIVITY
    exponent = np.minimum(np.divide(through, per_area * np.square(area)), 50.0)
    offset = wire.COPPER_BETA - 273.15
    return np.minimum((start + offset) * np.exp(exponent) - offset, 1e6)
