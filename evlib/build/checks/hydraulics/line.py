"""The hoses: loss, cavitation, a cold start."""

from __future__ import annotations

import numpy as np

from evlib.build.checks.hydraulics.pressure import launch_pressure
from evlib.build.launch import (
    hot_oil,
    leak_arguments,
    oil_at,
    pump_arguments,
    rest_hot,
)
from evlib.build.registry import check
from evlib.build.view import View
from evlib.ground.checks import Check, Working
from evlib.ground.quantity import Number
from evlib.ground.units import STANDARD_ATMOSPHERE
from evlib.hydraulics import line, pump


@check("line loss", topic="hydraulics")
def line_loss(b: View) -> Check:
    """Pressure that the hose from pump to gearbox loses at rest, oil hot, against what is accepted."""
    hose, oil, flow = b.hydraulics.line, hot_oil(b), rest_hot(b).flow
    loss = line.line_loss(
        flow, bore=hose.line_bore, length=hose.line_length, fittings=hose.line_fittings, viscosity=oil.viscosity,
        density=oil.density,
    )  # fmt: skip
    number = line.reynolds(flow, bore=hose.line_bore, viscosity=oil.viscosity)
    return Check(
        "line loss", "hydraulics", loss, hose.line_loss_allowed, "Pa",
        working=Working("Δp = (f L/D + ΣK) ρ v²/2", {"Q": (flow, "m3/s"), "D": (hose.line_bore, "m"),
                                                    "L": (hose.line_length, "m"), "Re": (number, "")}, (loss, "Pa")),
        source="Darcy and Weisbach; Colebrook", kind="pressure difference",
        advice="next hose size up, a shorter run, swept elbows",
    )  # fmt: skip


def _inlet(b: View, oil_temperature: Number, flow: Number) -> Number:
    hose, oil = b.hydraulics.line, oil_at(b, oil_temperature)
    return line.inlet_pressure(
        flow, bore=hose.suction_bore, length=hose.suction_length, fittings=hose.suction_fittings,
        lift=hose.suction_lift, viscosity=oil.viscosity, density=oil.density, air_pressure=STANDARD_ATMOSPHERE,
    )  # fmt: skip


@check("cavitation", topic="hydraulics")
def cavitation(b: View) -> Check:
    """Lowest inlet pressure allowed against the one at the pump's free flow, oil hot (absolute, at sea level)."""
    flow = b.hydraulics.electric_pump.free_flow
    there = _inlet(b, b.hydraulics.oil.hot_temperature, flow)
    return Check(
        "cavitation", "hydraulics", b.hydraulics.line.inlet_pressure_allowed, there, "Pa",
        working=Working("p = pa - ρ g h - Δp - ρ v²/2", {"Q": (flow, "m3/s"),
                                                        "D": (b.hydraulics.line.suction_bore, "m"),
                                                        "h": (b.hydraulics.line.suction_lift, "m")}, (there, "Pa")),
        source="Bernoulli; Darcy and Weisbach", kind="absolute", target=0.05,
        advice="mount the pump lower than the oil, with a wide and short suction line",
    )  # fmt: skip


@check("cold start", topic="hydraulics")
def cold_start(b: View) -> Check:
    """Flow that the gearbox takes at launch pressure with cold oil, against what the suction line lets through."""
    h = b.hydraulics
    oil = oil_at(b, h.oil.cold_temperature)
    pressure = np.maximum(launch_pressure(b, "low"), launch_pressure(b, "reverse"))
    box = leak_arguments(b)
    taken = np.asarray(pump.leakage(pressure, thinning=oil.thinning, **box)) + pump.internal_leak(
        pressure, internal_slip=h.internal_pump.internal_slip, clearance_growth=h.internal_pump.clearance_growth,
        leak_test_pressure=box["leak_test_pressure"], thinning=oil.thinning,
    )  # fmt: skip
    drawn = line.largest_suction_flow(
        h.line.inlet_pressure_allowed, bore=h.line.suction_bore, length=h.line.suction_length,
        fittings=h.line.suction_fittings, lift=h.line.suction_lift, viscosity=oil.viscosity, density=oil.density,
        air_pressure=STANDARD_ATMOSPHERE,
    )  # fmt: skip
    given = np.minimum(drawn, pump.electric_flow(pressure, thinning=oil.thinning, **pump_arguments(b)))
    return Check(
        "cold start", "hydraulics", taken, given, "m3/s",
        working=Working("least of what the suction lets through and what the pump gives at p",
                        {"oil": (h.oil.cold_temperature, "K"), "ν": (oil.viscosity, "m2/s"), "p": (pressure, "Pa"),
                         "suction lets through": (drawn, "m3/s")}, (given, "m3/s")),
        source="ASTM D341; Hagen and Poiseuille. Near -20 °C such oil is no longer Newtonian: measure there",
        advice="a wider suction line, a lower pump, an oil that is thinner in the cold, or time to warm it",
    )  # fmt: skip
