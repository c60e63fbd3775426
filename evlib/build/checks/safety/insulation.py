"""Checks of the insulation between pack and chassis."""

from __future__ import annotations

from typing import Any

import numpy as np

from evlib.build.protection import full_volts
from evlib.build.registry import check
from evlib.build.view import View, derived
from evlib.ground.checks import Check, Working
from evlib.ground.quantity import Number
from evlib.safety import insulation

R100 = "UN R100 5.1.3: 100 ohm/V for DC alone, 500 ohm/V with AC; local rule first"


@derived
def asked(b: View) -> Number:
    """Insulation that is asked [ohm]."""
    return insulation.required(full_volts(b), ohm_per_volt=b.protection.insulation.ohm_per_volt)


def _insulation(b: View, found: Any, equation: str) -> Check:
    part = b.protection.insulation
    return Check(
        "", "safety", asked(b), found, "ohm",
        working=Working(equation + "; asked: r V", {"R_p": (part.leak_positive, "ohm"),
                        "R_n": (part.leak_negative, "ohm"), "r": (part.ohm_per_volt, "ohm/V"),
                        "V": (full_volts(b), "V")}, (found, "ohm")),
        source=R100,
        advice="find the leak with the pack split in halves: brush dust, damp, a pinched cable; dry, clean, read again",
        target=1.0,  # a reading just above what is asked is within the meter's error and the next damp day
    )  # fmt: skip


@check("insulation, smaller leak", topic="safety")
def insulation_smaller(b: View) -> Check:
    """The smaller of the two leaks to the chassis, which the voltmeter method finds, against what is asked."""
    part = b.protection.insulation
    return _insulation(b, np.minimum(part.leak_positive, part.leak_negative), "R = smaller of R_p, R_n")


@check("insulation, both leaks", topic="safety")
def insulation_both(b: View) -> Check:
    """Both leaks side by side, which a monitor sees, against what is asked."""
    part = b.protection.insulation
    both = insulation.parallel_value(part.leak_positive, leak_negative=part.leak_negative)
    return _insulation(b, both, "R = R_p R_n / (R_p + R_n)")
