"""The commutator: volts between bars, and the few bars that burn while the machine stands still under load."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Number, calculation
from evlib.motors.quantities import (
    BarVoltsLimit,
    BrushAngle,
    CommutatorBars,
    Conductors,
    Current,
    ParallelPaths,
    Poles,
    StallCurrent,
    StallTime,
    Time,
    Volts,
)


@calculation
def bar_volts(volts: Volts, *, commutator_bars: CommutatorBars, poles: Poles) -> Number:
    """Mean voltage between neighbouring commutator bars.

    v = V / (n_b / 2p)

    volts: V at one machine [V]; commutator_bars: n_b; poles: 2p. Between two brushes of opposite polarity lie n_b/2p
    bars. The largest voltage is half as much again and more, since the flux is not spread evenly and the armature
    distorts it.

    >>> bar_volts(150.0, commutator_bars=60, poles=4)
    10.0

    Source: commutator geometry; any text on DC machine design.
    """
    return np.asarray(volts) * poles / commutator_bars


@calculation
def volts_for_bar_limit(bar_volts_limit: BarVoltsLimit, *, commutator_bars: CommutatorBars, poles: Poles) -> Number:
    """Voltage at one machine at which the mean bar voltage reaches its limit: V = v_b n_b / 2p.

    bar_volts_limit: v_b [V]; commutator_bars: n_b; poles: 2p.

    >>> volts_for_bar_limit(15.0, commutator_bars=60, poles=4)
    225.0

    Source: bar_volts turned round.
    """
    return np.asarray(bar_volts_limit) * commutator_bars / poles


@calculation
def stall_time_allowed(current: Current, *, stall_current: StallCurrent, stall_time: StallTime) -> Number:
    """How long a current may stand on the same commutator bars.

    t = t_st (I_st / I)^2

    current: I [A]; stall_current: I_st, and stall_time: t_st, a pair that the maker allows [A], [s]. The bars under
    the brushes take up the heat with no time to pass it on, so I^2 t is what they bear. Good for seconds, up to
    about 30 s; not for currents much below I_st, where the film's contact drop (heat ~ I) counts: there it is
    optimistic no more than the pair itself. No winding sensor sees these bars. Infinite at no current.

    >>> stall_time_allowed(400.0, stall_current=200.0, stall_time=20.0)
    5.0

    Source: adiabatic heating, I^2 t; as for conductors in IEC 60364-5-54.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(stall_time * np.square(np.asarray(stall_current) / np.asarray(current, float)))


@calculation
def stall_current_allowed(time: Time, *, stall_current: StallCurrent, stall_time: StallTime) -> Number:
    """Largest current that may stand on the same commutator bars for a time: I = I_st sqrt(t_st / t).

    time: t [s]; stall_current: I_st [A]; stall_time: t_st [s]. No limit from the bars at no time at all.

    >>> stall_current_allowed(5.0, stall_current=200.0, stall_time=20.0)
    400.0

    Source: stall_time_allowed turned round.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(stall_current * np.sqrt(np.asarray(stall_time) / np.asarray(time, float)))


@calculation
def demagnetising_turns(
    current: Current, *, conductors: Conductors, parallel_paths: ParallelPaths, brush_angle: BrushAngle
) -> Number:
    """Ampere-turns per pole by which shifted brushes weaken the field of a machine whose brushes suit its rotation.

    AT_d = Z (I / a) theta / (2 pi)

    current: I in the armature [A]; conductors: Z; parallel_paths: a; brush_angle: theta, mechanical [rad]. A motor's
    brushes are advanced *against* its rotation: then the shift weakens the field. Turned the other way by the same
    brushes, the machine has its field strengthened by as much, and its coils commutate in flux of the wrong sign: it
    sparks.

    >>> round(demagnetising_turns(100.0, conductors=722, parallel_paths=2, brush_angle=np.radians(8.0)))
    802

    Source: armature reaction of shifted brushes; any text on DC machines (AT = Z I theta / 360).
    """
    belt = np.asarray(brush_angle) / (2.0 * np.pi)
    return np.asarray(np.asarray(conductors) * np.asarray(current) / parallel_paths * belt)


@calculation
def cross_magnetising_turns(
    current: Current,
    *,
    conductors: Conductors,
    parallel_paths: ParallelPaths,
    brush_angle: BrushAngle,
    poles: Poles,
) -> Number:
    """Ampere-turns per pole by which the armature distorts the field, brushes shifted.

    AT_c = Z (I / a) (1 / (2 * 2p) - theta / (2 pi))

    current: I in the armature [A]; conductors: Z; parallel_paths: a; brush_angle: theta, mechanical [rad]; poles: 2p.

    >>> round(cross_magnetising_turns(100.0, conductors=722, parallel_paths=2, brush_angle=np.radians(8.0), poles=4))
    3710

    Source: armature reaction of shifted brushes; any text on DC machines.
    """
    belt = 1.0 / (2.0 * np.asarray(poles)) - np.asarray(brush_angle) / (2.0 * np.pi)
    return np.asarray(np.asarray(conductors) * np.asarray(current) / parallel_paths * belt)
