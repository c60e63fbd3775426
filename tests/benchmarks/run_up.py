"""How long a run-up and a ratio map of ten thousand designs take, beside one ODE integration for each design.

``python -m tests.benchmarks.run_up`` prints times and, against one fine reference, the error of either way.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp

from evlib.build.file import find_build, read_build
from evlib.build.gears import drive
from evlib.build.ratio_map import climb_arguments, designs, two_speed
from evlib.build.run_up import Drive, coast, pull, run_up
from evlib.build.view import View

SPEED = 27.0  # m/s


def by_steps(d: Drive, change: float, *, rtol: float, step: float = np.inf, speed: float = SPEED) -> float:
    """The same run-up as an initial value problem, segment by segment; what one would write without quadrature."""

    def rate(gear: int) -> Callable[..., list[float]]:
        to_shaft = float(d.gears[gear] * d.final_drive_ratio / d.wheel_radius)

        def slope(_: float, y: Any) -> list[float]:
            speed = np.array([max(float(y[0]), 0.0)])
            torque = np.interp(speed * to_shaft, d.shaft_speed, d.torque)
            return [float(pull(d, gear, speed=speed, torque=torque).acceleration[0])]

        return slope

    def until(gear: int, start: float, end: float) -> float:
        def there(_: float, y: Any) -> float:
            return float(y[0]) - end

        there.terminal = True  # type: ignore[attr-defined]
        return float(solve_ivp(rate(gear), (0, 300), [start], events=there, rtol=rtol, atol=1e-11,
                               max_step=step).t[-1])  # fmt: skip

    after = float(coast(d, change, time=d.change_time)[0])
    return until(0, 0.0, change) + float(d.change_time) + until(1, after, speed)


def seconds(work: Callable[[], Any], times: int) -> float:
    """The quickest of several goes."""
    best = np.inf
    for _ in range(times):
        began = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - began)
    return best


def main() -> None:
    """Measure and print."""
    b = View(read_build(find_build("orchard_van")).parts)
    d = drive(b)
    change = 17.0
    exact = by_steps(d, change, rtol=1e-11, step=0.005)
    ours = float(np.asarray(run_up(d, speed=SPEED, change_speed=change).time))
    one = seconds(lambda: run_up(d, speed=SPEED, change_speed=change), 50)
    print(f"one run-up by quadrature        {1e3 * one:8.3f} ms   error {abs(ours / exact - 1):.1e}")
    for rtol in (1e-3, 1e-6):
        spent = seconds(lambda rtol=rtol: by_steps(d, change, rtol=rtol), 3)  # type: ignore[misc]
        off = abs(by_steps(d, change, rtol=rtol) / exact - 1)
        print(
            f"one by solve_ivp, rtol {rtol:.0e}     {1e3 * spent:8.3f} ms   error {off:.1e}   {spent / one:.0f} times"
        )
    two, given = two_speed(b), climb_arguments(b)
    low, final = np.meshgrid(np.linspace(1, 3, 100), np.linspace(2.5, 6, 100))
    spent = seconds(lambda: designs(two, low=low, final=final, **given), 3)
    each = seconds(lambda: by_steps(d, change, rtol=1e-6), 3)
    print(f"map of 10 000 designs           {spent:8.3f} s    one solve_ivp for each would take {10_000 * each:.0f} s, "
          f"{10_000 * each / spent:.0f} times as long")  # fmt: skip
    some = [(0, 0), (50, 50), (99, 0), (20, 80)]
    large = designs(two, low=low, final=final, **given).time.reshape(low.shape)
    off = max(
        abs(large[i, j] / designs(two, low=low[i, j], final=final[i, j], **given).time[0] - 1) for i, j in some
    )  # fmt: skip
    print(f"largest difference of the map from single designs on all points: {off:.1e}")


if __name__ == "__main__":
    main()
