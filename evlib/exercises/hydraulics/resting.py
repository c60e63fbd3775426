"""Exercises on pressure at rest."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.hydraulics.words import FREE_FLOW, LEAK, PRESSURE, RATED_FLOW, RATED_PRESSURE, REST, TEST_PRESSURE
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.hydraulics import rest

CROSS = (
    "Pressure stands where what the pump gives equals what the gearbox takes. Write both flows for the same pressure."
)
BOTH = "Both fall against the pump at once: the steepness of its own curve and that of the leakage add up."


def _rest(free_flow: float, rated_flow: float, rated_pressure: float, seal_leak: float, test: float) -> float:
    found = rest.rest_point(
        free_flow=free_flow, rated_flow=rated_flow, rated_pressure=rated_pressure, rated_voltage=13.5,
        terminal_voltage=13.5, slip_share=0.0, pump_relief_pressure=1e7, cracking_pressure=0.0, check_loss=0.0,
        line_bore=0.1, line_length=0.0, line_fittings=0.0, viscosity=1e-5, density=850.0, thinning=1.0,
        leak_test_pressure=test, seal_leak=seal_leak, valve_body_leak=0.0, open_feed=0.0, internal_slip=0.0,
        clearance_growth=1.0, back_flow="open", regulator_set=5e6, regulator_override=1e6, displacement=1e-5,
    )  # fmt: skip
    return float(found.pressure)


RESTING: list[Exercise] = [
    Number(
        id="hydraulics.1",
        objective=REST,
        depth="Shop",
        text="An electric pump gives {free_flow} against no pressure and {rated_flow} against {rated_pressure}; "
        "between them "
        "its curve is straight. The gearbox leaks {seal_leak} at {test}, and in proportion to pressure. What "
        "pressure does the pump hold at rest?",
        given={
            "free_flow": Draw(FREE_FLOW, "8 L/min", "12 L/min", "0.5 L/min"),
            "rated_flow": Draw(RATED_FLOW, "4 L/min", "6 L/min", "0.5 L/min"),
            "rated_pressure": Draw(RATED_PRESSURE, "600 kPa", "800 kPa", "50 kPa"),
            "seal_leak": Draw(LEAK, "3 L/min", "5 L/min", "0.5 L/min"),
            "test": Draw(TEST_PRESSURE, "400 kPa", "500 kPa", "50 kPa"),
        },
        answer=PRESSURE,
        right=_rest,
        steps=(
            Step(
                "fall",
                "(free flow - rated flow) / rated pressure",
                "m3/s/Pa",
                lambda free_flow, rated_flow, rated_pressure: (free_flow - rated_flow) / rated_pressure,
            ),
            Step("leak", "leakage / test pressure", "m3/s/Pa", lambda seal_leak, test: seal_leak / test),
            Step(
                "pressure", "free flow / (fall + leak)", "Pa", lambda free_flow, fall, leak: free_flow / (fall + leak)
            ),
        ),
        slips=(
            Slip("the pump's rating", lambda rated_pressure: rated_pressure, CROSS),
            Slip(
                "no leakage",
                lambda free_flow, rated_flow, rated_pressure: free_flow * rated_pressure / (free_flow - rated_flow),
                CROSS,
            ),
            Slip("a curve that does not fall", lambda free_flow, seal_leak, test: free_flow * test / seal_leak, BOTH),
        ),
        teacher="Have them sketch both lines first: flow upwards, pressure to the right.",
    ),
]
