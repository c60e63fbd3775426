"""What a voltage and a charged capacitor can do to a person, and how long a controller stays dangerous.

Information for planning, never for choosing protective equipment: local rules and licensed persons decide that.
"""

from __future__ import annotations

from typing import Literal

import numpy as np

from evlib.ground.quantity import Number, calculation
from evlib.safety import quantities as q

DC_LIMIT, AC_LIMIT = 60.0, 30.0  # V; UN R100 2.17 "high voltage": above 60 V DC or 30 V AC rms; 49 CFR 571.305 S4
ENERGY_OPTION = 0.2  # J; UN R100 and 49 CFR 571.305, after a crash

# Levels from which one national laboratory treats a source as a hazard to life; its electrical safety page.
HAZARD_LEVELS: dict[str, tuple[float, float, str]] = {
    "direct current": (100.0, 0.040, "V and A through a person"),
    "capacitor": (100.0, 10.0, "V and J"),
    "battery, by its arc": (100.0, 500.0, "V and A of short-circuit current"),
}


@calculation
def above_voltage_limit(voltage: q.PackVoltage, *, kind: Literal["DC", "AC"]) -> Number:
    """1 where a circuit counts as high voltage, 0 where it does not.

    V > 60 V DC, or V > 30 V AC (root mean square)

    voltage: highest working voltage, a full pack's and not its nominal one [V]. A circuit below the limit can still
    burn: a spanner across 48 V carries thousands of amps.

    >>> above_voltage_limit(60.0, kind="DC"), above_voltage_limit(60.1, kind="DC")
    (0.0, 1.0)

    Source: UN R100; 49 CFR 571.305.
    """
    return np.where(np.asarray(voltage) > (DC_LIMIT if kind == "DC" else AC_LIMIT), 1.0, 0.0)


@calculation
def stored_energy(voltage: q.StartVoltage, *, link_capacitance: q.LinkCapacitance) -> Number:
    """Energy in a charged capacitor.

    W = C V^2 / 2

    voltage [V], link_capacitance [F]. Gives [J].

    >>> round(stored_energy(350.0, link_capacitance=2e-3), 1)
    122.5
    """
    return link_capacitance * np.square(voltage) / 2


@calculation
def capacitance_for_energy(energy: q.StoredEnergy, *, voltage: q.PackVoltage) -> Number:
    """The capacitance that holds an energy at a voltage.

    C = 2 W / V^2

    energy [J], voltage [V]. Gives [F].

    >>> round(capacitance_for_energy(0.2, voltage=400.0) * 1e6, 2)
    2.5
    """
    return 2 * energy / np.square(voltage)


@calculation
def discharge_time(start_voltage: q.StartVoltage, *, end_voltage: q.EndVoltage,
                   discharge_resistance: q.DischargeResistance,
                   link_capacitance: q.LinkCapacitance) -> Number:  # fmt: skip
    """Time in which a resistor empties a capacitor to a voltage.

    t = R C ln(V0 / V1)

    start_voltage, end_voltage [V], discharge_resistance [ohm], link_capacitance [F]. Gives [s]; 0 where the start is
    already at or below the end. The controller's own draw shortens it; a broken resistor makes it hours: prove dead
    with a meter, never with a clock.

    >>> round(discharge_time(400.0, end_voltage=60.0, discharge_resistance=2636.0, link_capacitance=1e-3), 2)
    5.0
    """
    ratio = np.maximum(np.asarray(start_voltage) / end_voltage, 1.0)
    return discharge_resistance * link_capacitance * np.log(ratio)


@calculation
def discharge_resistor(time: q.DischargeTimeAllowed, *, start_voltage: q.StartVoltage, end_voltage: q.EndVoltage,
                       link_capacitance: q.LinkCapacitance) -> Number:  # fmt: skip
    """The largest resistor that empties a capacitor to a voltage in a time.

    R = t / (C ln(V0 / V1))

    time [s], start_voltage, end_voltage [V], link_capacitance [F]. Gives [ohm]; infinite where nothing must be
    emptied.

    >>> round(discharge_resistor(5.0, start_voltage=400.0, end_voltage=60.0, link_capacitance=1e-3))
    2636
    """
    ratio = np.maximum(np.asarray(start_voltage) / end_voltage, 1.0)
    with np.errstate(divide="ignore"):
        return np.divide(time, link_capacitance * np.log(ratio))


@calculation
def resistor_power(voltage: q.PackVoltage, *, discharge_resistance: q.DischargeResistance) -> Number:
    """What a discharge resistor that is always connected must carry always.

    P = V^2 / R

    voltage [V], discharge_resistance [ohm]. Gives [W].

    >>> resistor_power(350.0, discharge_resistance=10_000.0)
    12.25
    """
    return np.square(voltage) / discharge_resistance
