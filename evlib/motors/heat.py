"""How long: a machine as two lumps, windings and frame, that warm up and cool; duty types; rated currents.

    C_w dT_w/dt = R_20 I^2 (1 + a (T_w - 20 C)) - G_wf (T_w - T_f)
    C_f dT_f/dt = P_o + G_wf (T_w - T_f) - G_fa (T_f - T_a)

Linear in the two temperatures at a steady current, so it is solved in closed form and works on columns. Blower on or
off is another G_fa. Hot spots, the commutator and the cooling that a shaft fan loses at low speed are left out.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.ground.quantity import Array, Number, calculation, result
from evlib.ground.solve import bisect
from evlib.motors.quantities import (
    AirTemperature,
    Current,
    CycleTime,
    DutyFraction,
    FrameConductance,
    FrameHeatCapacity,
    FrameTemperature,
    OtherLoss,
    Time,
    WindingConductance,
    WindingHeatCapacity,
    WindingLimit,
    WindingResistance,
    WindingRise,
    WindingTemperature,
)
from evlib.motors.series import COPPER_COEFFICIENT, TWENTY_C

LONGEST = 30 * 86_400.0  # s; a machine that has not reached its limit in thirty days never does


@result
class Warm:
    """Temperatures of windings and frame [K]."""

    winding: Number
    frame: Number


@result
class _Body:
    """The linear system x' = A x + b of one machine at one current."""

    a11: Any
    a12: Any
    a21: Any
    a22: Any
    b1: Any
    b2: Any

    def steady(self) -> tuple[Any, Any]:
        """The state at which nothing changes any more."""
        determinant = self.a11 * self.a22 - self.a12 * self.a21
        with np.errstate(divide="ignore", invalid="ignore"):
            return (
                (-self.b1 * self.a22 + self.b2 * self.a12) / determinant,
                (-self.b2 * self.a11 + self.b1 * self.a21) / determinant,
            )

    def step(self, time: Any) -> tuple[Any, Any, Any, Any, Any, Any]:
        """Give (m11, m12, m21, m22, c1, c2) with x(t) = M x(0) + c, from the two real eigenvalues."""
        mean, half = (self.a11 + self.a22) / 2.0, (self.a11 - self.a22) / 2.0
        root = np.sqrt(half * half + self.a12 * self.a21)  # a12, a21 > 0: always real and more than |half|
        first, second = np.exp((mean + root) * time), np.exp((mean - root) * time)
        even, odd = (first + second) / 2.0, (first - second) / (2.0 * root)
        m11, m12 = even + half * odd, self.a12 * odd
        m21, m22 = self.a21 * odd, even - half * odd
        s1, s2 = self.steady()
        return m11, m12, m21, m22, s1 - m11 * s1 - m12 * s2, s2 - m21 * s1 - m22 * s2

    def turning_time(self, first: Any, second: Any) -> Any:
        """When the winding, rising from these two temperatures, begins to fall again; LONGEST where it does not."""
        mean, half = (self.a11 + self.a22) / 2.0, (self.a11 - self.a22) / 2.0
        root = np.sqrt(half * half + self.a12 * self.a21)
        slow, fast = mean + root, mean - root
        slope = self.a11 * first + self.a12 * second + self.b1
        gap = first - self.steady()[0]
        a = (slope - fast * gap) / (2.0 * root)  # T_w - T_s = a exp(slow t) + b exp(fast t)
        with np.errstate(divide="ignore", invalid="ignore"):
            turn = np.log(-(gap - a) * fast / (a * slow)) / (2.0 * root)
        return np.where((slope > 0) & (turn > 1e-3) & (turn < LONGEST), turn, LONGEST)


def _body(current: Any, resistance: Any, other: Any, air: Any, cw: Any, cf: Any, gwf: Any, gfa: Any) -> _Body:
    loss20 = np.asarray(resistance, float) * np.square(current)
    return _Body(
        a11=(COPPER_COEFFICIENT * loss20 - gwf) / cw, a12=gwf / np.asarray(cw, float) + 0.0 * loss20,
        a21=gwf / np.asarray(cf, float) + 0.0 * loss20, a22=-(np.asarray(gwf, float) + gfa) / cf + 0.0 * loss20,
        b1=loss20 * (1.0 - COPPER_COEFFICIENT * TWENTY_C) / cw, b2=(np.asarray(gfa, float) * air + other) / cf,
    )  # fmt: skip


@calculation
def temperatures_after(
    time: Time,
    *,
    current: Current,
    winding_resistance: WindingResistance,
    other_loss: OtherLoss,
    air_temperature: AirTemperature,
    start_winding: WindingTemperature,
    start_frame: FrameTemperature,
    winding_heat_capacity: WindingHeatCapacity,
    frame_heat_capacity: FrameHeatCapacity,
    winding_conductance: WindingConductance,
    frame_conductance: FrameConductance,
) -> Warm:
    """Winding and frame temperature after a time at a steady current.

    x(t) = exp(A t) (x_0 - x_s) + x_s, the two-lump system of this file's head

    time: t [s]; current: I [A]; winding_resistance: R_20 [ohm]; other_loss: P_o into the frame [W]; air_temperature:
    T_a [K]; start_winding, start_frame [K]; winding_heat_capacity: C_w, frame_heat_capacity: C_f [J/K];
    winding_conductance: G_wf, frame_conductance: G_fa [W/K].

    >>> w = temperatures_after(600.0, current=200.0, winding_resistance=0.012, other_loss=300.0,
    ...     air_temperature=298.15, start_winding=298.15, start_frame=298.15, winding_heat_capacity=6000.0,
    ...     frame_heat_capacity=25000.0, winding_conductance=20.0, frame_conductance=15.0)
    >>> round(w.winding - 273.15, 1), round(w.frame - 273.15, 1)
    (53.8, 35.9)

    Source: two-lump thermal network, any text on machine heating.
    """
    body = _body(
        current, winding_resistance, other_loss, air_temperature, winding_heat_capacity, frame_heat_capacity,
        winding_conductance, frame_conductance,
    )  # fmt: skip
    m11, m12, m21, m22, c1, c2 = body.step(np.asarray(time, float))
    return Warm(m11 * start_winding + m12 * start_frame + c1, m21 * start_winding + m22 * start_frame + c2)


@calculation
def time_to_limit(
    current: Current,
    *,
    winding_limit: WindingLimit,
    winding_resistance: WindingResistance,
    other_loss: OtherLoss,
    air_temperature: AirTemperature,
    start_winding: WindingTemperature,
    start_frame: FrameTemperature,
    winding_heat_capacity: WindingHeatCapacity,
    frame_heat_capacity: FrameHeatCapacity,
    winding_conductance: WindingConductance,
    frame_conductance: FrameConductance,
) -> Number:
    """Time until the winding first reaches its limit at a steady current; infinite where it never does.

    T_w(t) = T_limit, solved by bisection on ln t

    current: I [A]; winding_limit [K]; winding_resistance: R_20 [ohm]; other_loss: P_o [W]; air_temperature [K];
    start_winding, start_frame [K]; winding_heat_capacity, frame_heat_capacity [J/K]; winding_conductance,
    frame_conductance [W/K]. Zero where it starts at or above the limit. Starts warm
    as well as cold.

    >>> round(time_to_limit(400.0, winding_limit=428.15, winding_resistance=0.012, other_loss=300.0,
    ...     air_temperature=298.15, start_winding=298.15, start_frame=298.15, winding_heat_capacity=6000.0,
    ...     frame_heat_capacity=25000.0, winding_conductance=20.0, frame_conductance=15.0) / 60.0, 1)
    9.9

    Source: the closed form of temperatures_after turned round.
    """
    body = _body(
        current, winding_resistance, other_loss, air_temperature, winding_heat_capacity, frame_heat_capacity,
        winding_conductance, frame_conductance,
    )  # fmt: skip
    limit, start = np.asarray(winding_limit, float), np.asarray(start_winding, float)

    def above(log_time: Array) -> Any:
        # Past the limit by so much that exp overflows is still 'above': cap the exponent's argument instead.
        with np.errstate(over="ignore", invalid="ignore"):
            m11, m12, _, _, c1, _ = body.step(np.exp(log_time))
            value = m11 * start + m12 * start_frame + c1 - limit
        return np.where(np.isnan(value), np.inf, value)

    turn = body.turning_time(start, np.asarray(start_frame, float))
    shape = np.broadcast(turn, limit).shape
    found = np.exp(bisect(above, low=np.full(shape, np.log(1e-3)), high=np.broadcast_to(np.log(turn), shape)))
    return np.where(start >= limit, 0.0, np.where(np.isnan(found), np.inf, found))


@calculation
def shortest_time(
    current: Current,
    *,
    winding_rise: WindingRise,
    winding_resistance: WindingResistance,
    winding_heat_capacity: WindingHeatCapacity,
) -> Number:
    """Time for a temperature rise if no heat left the winding: the real time is longer.

    t = C_w dt / (R I^2)

    current: I [A]; winding_rise: dt [K]; winding_resistance: R, at the mean temperature of the rise [ohm];
    winding_heat_capacity: C_w [J/K]. Close for a minute or so, pessimistic after that. Infinite without current.

    >>> shortest_time(500.0, winding_rise=100.0, winding_resistance=0.016, winding_heat_capacity=6000.0)
    150.0

    Source: adiabatic heating.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(
            winding_heat_capacity
            * np.asarray(winding_rise)
            / (winding_resistance * np.square(np.asarray(current, float)))
        )


@calculation
def continuous_current(
    winding_limit: WindingLimit,
    *,
    winding_resistance: WindingResistance,
    other_loss: OtherLoss,
    air_temperature: AirTemperature,
    winding_conductance: WindingConductance,
    frame_conductance: FrameConductance,
) -> Number:
    """Current that the machine carries for ever (duty type S1): where the winding settles at its limit.

    R I^2 = (T_m - T_a - P_o / G_fa) / (1/G_wf + 1/G_fa), R at T_m

    winding_limit: T_m [K]; winding_resistance: R_20 [ohm]; other_loss: P_o into the frame [W]; air_temperature: T_a
    [K]; winding_conductance: G_wf, frame_conductance: G_fa [W/K]. Zero where the other losses alone reach the limit.

    >>> round(continuous_current(428.15, winding_resistance=0.012, other_loss=300.0, air_temperature=298.15,
    ...     winding_conductance=20.0, frame_conductance=15.0), 1)
    226.6

    Source: steady state of the two-lump network; duty type S1 of IEC 60034-1.
    """
    resistance = np.asarray(winding_resistance) * (1.0 + COPPER_COEFFICIENT * (np.asarray(winding_limit) - TWENTY_C))
    rise = np.asarray(winding_limit) - air_temperature - np.asarray(other_loss) / frame_conductance
    path = 1.0 / np.asarray(winding_conductance) + 1.0 / np.asarray(frame_conductance)
    return np.sqrt(np.maximum(rise, 0.0) / path / resistance)


@calculation
def short_time_current(
    time: Time,
    *,
    winding_limit: WindingLimit,
    winding_resistance: WindingResistance,
    other_loss: OtherLoss,
    air_temperature: AirTemperature,
    winding_heat_capacity: WindingHeatCapacity,
    frame_heat_capacity: FrameHeatCapacity,
    winding_conductance: WindingConductance,
    frame_conductance: FrameConductance,
) -> Number:
    """Current that the machine carries for a time from cold (duty type S2): it just reaches its limit.

    T_w(t; I) = T_m from T_w = T_f = T_a, solved for I by bisection

    time: t, at least a second [s]; winding_limit: T_m [K]; the rest as in temperatures_after. A five-minute or a
    one-hour rating is this current at 300 s or 3600 s.

    >>> i = short_time_current(300.0, winding_limit=428.15, winding_resistance=0.012, other_loss=300.0,
    ...     air_temperature=298.15, winding_heat_capacity=6000.0, frame_heat_capacity=25000.0,
    ...     winding_conductance=20.0, frame_conductance=15.0)
    >>> round(i)
    498

    Source: duty type S2 of IEC 60034-1, on the two-lump network.
    """
    seconds = np.asarray(time, float)
    if (seconds < 1.0).any():
        raise ValueError(f"time: {seconds.min():g} s was given; a short-time rating is for a second or more")

    def above(amps: Array) -> Any:
        body = _body(
            amps, winding_resistance, other_loss, air_temperature, winding_heat_capacity, frame_heat_capacity,
            winding_conductance, frame_conductance,
        )  # fmt: skip
        with np.errstate(over="ignore", invalid="ignore"):
            m11, m12, _, _, c1, _ = body.step(seconds)
            value = (m11 + m12) * air_temperature + c1 - np.asarray(winding_limit)
        return np.where(np.isfinite(value), value, np.inf)

    # Without any cooling the winding would need at most this to reach its limit: a bound from above.
    most = np.asarray(winding_limit) - air_temperature
    most = most * (np.asarray(winding_heat_capacity) / seconds + winding_conductance)
    shape = np.broadcast(most, np.asarray(winding_resistance), np.asarray(other_loss)).shape
    high = np.broadcast_to(2.0 * np.sqrt(np.maximum(most, 0.0) / winding_resistance) + 1.0, shape)
    found = bisect(above, low=np.zeros(shape), high=high)
    return np.where(np.isnan(found), 0.0, found)


@calculation
def cyclic_peak(
    current: Current,
    *,
    duty_fraction: DutyFraction,
    cycle_time: CycleTime,
    winding_resistance: WindingResistance,
    other_loss: OtherLoss,
    air_temperature: AirTemperature,
    winding_heat_capacity: WindingHeatCapacity,
    frame_heat_capacity: FrameHeatCapacity,
    winding_conductance: WindingConductance,
    frame_conductance: FrameConductance,
) -> Warm:
    """Hottest winding (and the frame then) once equal cycles of load and rest repeat (duty type S3).

    x_peak = M_on (M_off x_peak + c_off) + c_on, a linear fixed point

    current: while loaded [A]; duty_fraction: loaded part of a cycle; cycle_time [s]; other_loss: while loaded [W];
    the rest as in temperatures_after. The machine stands at rest, without losses, for the other part. Raises
    ValueError where the cycle has no settled state: copper heats faster than it is cooled.

    >>> p = cyclic_peak(350.0, duty_fraction=0.4, cycle_time=600.0, winding_resistance=0.012, other_loss=300.0,
    ...     air_temperature=298.15, winding_heat_capacity=6000.0, frame_heat_capacity=25000.0,
    ...     winding_conductance=20.0, frame_conductance=15.0)
    >>> round(p.winding - 273.15)
    159

    Source: duty type S3 of IEC 60034-1, on the two-lump network.
    """
    rest = (air_temperature, winding_heat_capacity, frame_heat_capacity, winding_conductance, frame_conductance)
    part = np.asarray(duty_fraction, float)
    on = _body(current, winding_resistance, other_loss, *rest).step(part * cycle_time)
    off = _body(np.zeros_like(np.asarray(current, float)), winding_resistance, 0.0, *rest).step(
        (1.0 - part) * cycle_time
    )
    m11, m12 = on[0] * off[0] + on[1] * off[2], on[0] * off[1] + on[1] * off[3]
    m21, m22 = on[2] * off[0] + on[3] * off[2], on[2] * off[1] + on[3] * off[3]
    c1 = on[0] * off[4] + on[1] * off[5] + on[4]
    c2 = on[2] * off[4] + on[3] * off[5] + on[5]
    # The cycle settles where both eigenvalues of M lie inside the unit circle (Jury's conditions).
    trace, product = m11 + m22, m11 * m22 - m12 * m21
    if not ((np.abs(trace) < 1.0 + product) & (np.abs(product) < 1.0)).all():
        raise ValueError("current: this cycle never settles; the copper heats faster than it is cooled")
    determinant = (1.0 - m11) * (1.0 - m22) - m12 * m21
    return Warm(((1.0 - m22) * c1 + m12 * c2) / determinant, ((1.0 - m11) * c2 + m21 * c1) / determinant)
