"""The Deep pictures' cases, by a second route."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from evlib.build.safety_deep_cases import NOTHING, cable_case, failures, loop_case, precharge_case
from evlib.ground import wire
from evlib.safety.loop import GUARDS, shutdown_loop

LOOP = shutdown_loop(key="before the coils", emergency="after the coils", contactors="both poles",
                     guards=tuple(field for field, _, _ in GUARDS))  # fmt: skip


@pytest.mark.parametrize("load", [1e5, 600.0, 150.0])
def test_precharge_with_a_load_by_integration(load):
    volts, ohms, farads, wait, discharge = 326.4, 100.0, 3e-3, 0.7, 8200.0

    def rate(_t, y):
        current = (volts - y[0]) / ohms
        return [(current - y[0] / load - y[0] / discharge) / farads, current**2 * ohms]

    solved = solve_ivp(rate, (0, wait), [0.0, 0.0], rtol=1e-9, atol=1e-9).y[:, -1]
    case = precharge_case(ohms, link_capacitance=farads, precharge_wait=wait, load_resistance=load,
                          discharge_resistance=discharge, pack_voltage=volts,
                          pack_resistance=0.06, circuit_resistance=0.0, closing_difference=0.05)  # fmt: skip
    assert (case.reached, case.heat) == pytest.approx(tuple(solved), rel=1e-5)
    assert case.blow == pytest.approx((volts - solved[0]) / 0.06, rel=1e-5)
    assert case.early == (solved[0] < 0.95 * volts)


def test_cable_case_meets_its_limit_at_the_current_it_carries():
    given = dict(steady_current=150.0, joint_resistance=1e-4, limit=398.15, diameter=0.017, stranding_factor=1.02,
                 length=2.6)  # fmt: skip
    case = cable_case(67.43e-6, cable_ambient=323.15, **given)
    at = wire.steady_temperature(case.carries, area=67.43e-6, diameter=0.017, stranding_factor=1.02, ambient=323.15)
    assert at == pytest.approx(398.15, abs=0.05)
    assert case.joint == pytest.approx(150**2 * 1e-4)  # I^2 R
    assert case.drop == pytest.approx(2 * 2.6 * case.per_metre / 150, rel=1e-6)  # V = P / I over both ways
    warmer = cable_case(67.43e-6, cable_ambient=353.15, **given)
    assert warmer.carries < case.carries and warmer.settled > case.settled


def test_a_loop_case_says_what_the_ladder_shows():
    healthy = loop_case(LOOP, fails=NOTHING, demand=NOTHING)
    assert healthy.connected and healthy.coils_live and healthy.opened == ()
    assert healthy.switches[-1] == "emergency switch" and healthy.before == len(healthy.switches) - 1
    off = loop_case(LOOP, fails=NOTHING, demand="key off")
    assert off.opened == ("key",) and off.joined == 0 and not off.coils_live
    stuck = loop_case(LOOP, fails="key stays closed", demand="key off")
    assert stuck.connected and stuck.opened == () and "emergency" in stuck.other_ways
    welded = loop_case(LOOP, fails="positive contactor welded", demand="emergency")
    assert welded.joined == 1 and not welded.connected and not welded.coils_live
    fed = loop_case(LOOP, fails="12 V touches the coils' feed", demand="key off")
    assert fed.connected and fed.opened == ("key",) and fed.other_ways == ("emergency",)


def test_every_part_can_be_chosen_to_fail():
    names = set(failures(LOOP))
    for line in LOOP.lines:
        if line.kind in ("switch", "contact"):
            assert any(name.startswith(line.name) for name in names), line.name
    assert all(np.isfinite(loop_case(LOOP, fails=f, demand=d).joined) for f in names for d in (NOTHING, *LOOP.demands))
