"""A machine's constants from its test sheet: fitted, with how sure they are, and which row is off."""

from __future__ import annotations

import numpy as np

from evlib.ground.quantity import Array, result
from evlib.motors.bench import BadSheet, BenchTable

FITTED = ("mutual_inductance", "saturation_current", "winding_resistance", "brush_drop", "friction_torque")
NOT_ASKED = ("windage_coefficient", "iron_conductance")  # a load test at one temperature does not separate them
POSITIVE = {"mutual_inductance", "saturation_current", "winding_resistance"}
USUAL_BRUSH_DROP = 2.0  # V a machine; common practice, no source
TELLABLE_BRUSH_DROP = 0.5  # V: a 95 % interval wider than +- this says nothing that "about 2 V" does not
ODDS = 0.01  # a row is called off where chance alone would call any row of the table so once in a hundred tables


@result
class Constant:
    """A fitted constant with its 95 % interval; ``held`` says why it was not fitted, if it was not."""

    value: float
    low: float
    high: float
    held: str = ""


@result
class Fit:
    """What a test sheet says about a machine."""

    constants: dict[str, Constant]
    volts_residual: Array  # measured minus fitted [V]
    torque_residual: Array  # [N m]
    volts_noise: float  # standard deviation about the fit [V]
    torque_noise: float  # [N m]
    worst_line: int  # the row that fits worst ...
    worst_score: float  # ... by its studentised residual ...
    is_off: bool  # ... and whether that is more than chance allows among so many rows (1 in 100)
    report: str

    def values(self) -> dict[str, float]:
        """Constant names to values."""
        return {name: constant.value for name, constant in self.constants.items()}


def fit_machine(
    sheet: BenchTable, *, held: dict[str, float] | None = None, volts_noise: float = 0.5, torque_noise: float = 1.0
) -> Fit:
    """Fit one series machine's constants to a bench table by weighted least squares on volts and torque together.

    V = k w + R I + V_b and T = k I - T_f - c_w w^2 - G_i k^2 w with k = L I / (1 + I/I_s)

    sheet: the table; held: constants not to be fitted, with their values (windage and iron are held at 0 unless
    given); volts_noise, torque_noise: first guesses of the scatter, corrected from the residuals. Where the brush
    drop's own 95 % interval would be wider than +-0.5 V, resistance and brush drop cannot be told apart: the drop is
    held at 2 V and the report says so. Resistance is that of the winding as warm as it was on the bench.
    Intervals are from the curvature at the optimum and Student's t. Source: any text on non-linear regression.
    """
    fixed = {**dict.fromkeys(NOT_ASKED, 0.0), **(held or {})}
    unknown = set(fixed) - {*FITTED, *NOT_ASKED}
    if unknown:
        raise ValueError(f"held: {', '.join(sorted(unknown))} is no constant of this fit; known: {', '.join(FITTED)}")
    first = _solve(sheet, fixed, volts_noise, torque_noise)
    notes = {name: "held as given" for name in held or {}}
    if "brush_drop" not in fixed and not first.half["brush_drop"] <= TELLABLE_BRUSH_DROP:
        fixed["brush_drop"] = USUAL_BRUSH_DROP
        notes["brush_drop"] = (
            f"held at 2 V: this table cannot tell it from the resistance (alone it would be uncertain by "
            f"+-{first.half['brush_drop']:.1f} V)"
        )
        first = _solve(sheet, fixed, volts_noise, torque_noise)
    constants = {
        name: Constant(value, value - first.half[name], value + first.half[name])
        for name, value in first.values.items()
    }
    for name, value in fixed.items():
        constants[name] = Constant(value, value, value, notes.get(name, "held at 0: not asked of this table"))
    return _told(sheet, first, constants)


@result
class _Solution:
    values: dict[str, float]
    half: dict[str, float]  # half width of the 95 % interval
    volts: Array  # residuals
    torque: Array
    score: Array  # studentised residuals, volts then torque
    noise: tuple[float, float]
    freedom: int


def _residuals(sheet: BenchTable, c: dict[str, float]) -> tuple[Array, Array]:
    k = c["mutual_inductance"] * sheet.current / (1.0 + sheet.current / c["saturation_current"])
    volts = k * sheet.speed + c["winding_resistance"] * sheet.current + c["brush_drop"]
    drag = c["friction_torque"] + c["windage_coefficient"] * sheet.speed**2 + c["iron_conductance"] * k**2 * sheet.speed
    return sheet.volts - volts, sheet.torque - (k * sheet.current - drag)


def _start(sheet: BenchTable) -> dict[str, float]:
    """First guesses: a tenth of the volts lost in the winding at most amps, k from the torque at fewest and most."""
    order = np.argsort(sheet.current)
    amps, k = sheet.current[order], np.maximum(sheet.torque[order] / sheet.current[order], 1e-6)
    # 1/k is straight in 1/I: 1/k = 1/(L I) + 1/(L I_s)
    slope, level = np.polyfit(1.0 / amps, 1.0 / k, 1)
    slope, level = max(float(slope), 1e-3), max(float(level), 1e-3)
    return {
        "mutual_inductance": 1.0 / slope,
        "saturation_current": slope / level,
        "winding_resistance": float(0.1 * sheet.volts[order][-1] / amps[-1]),
        "brush_drop": USUAL_BRUSH_DROP,
        "friction_torque": float(0.02 * np.max(sheet.torque)) + 0.1,
    }


def _leverage(jacobian: Array) -> Array:
    """Diagonal of the hat matrix: how far each reading pulls the fit to itself."""
    q, _ = np.linalg.qr(jacobian)
    return np.asarray(np.sum(q * q, axis=1))


def _solve(sheet: BenchTable, fixed: dict[str, float], volts_noise: float, torque_noise: float) -> _Solution:
    from scipy.optimize import least_squares
    from scipy.stats import t as student

    free = [name for name in FITTED if name not in fixed]
    rows, freedom = len(sheet.current), 2 * len(sheet.current) - len(free)
    if freedom < 4:
        raise BadSheet(f"{sheet.name}: {rows} rows are too few for {len(free)} constants")
    start = _start(sheet)
    scale = np.array([max(abs(start[name]), 1e-4) for name in free])
    low = [1e-6 if name in POSITIVE else -np.inf for name in free]
    noise, x = (volts_noise, torque_noise), np.array([start[name] for name in free]) / scale

    def constants(x: Array) -> dict[str, float]:
        return {**fixed, **dict(zip(free, (x * scale).tolist(), strict=True))}

    def weighted(x: Array) -> Array:
        volts, torque = _residuals(sheet, constants(x))
        return np.concatenate([volts / noise[0], torque / noise[1]])

    for again in (True, True, False):  # the scatter of volts and of torque is found from the residuals
        found = least_squares(weighted, x, bounds=(low, np.inf), xtol=1e-9, ftol=1e-11, gtol=1e-10)
        x, jacobian = found.x, np.asarray(found.jac, float)
        leverage = _leverage(jacobian)
        if again:
            noise = _scatter(sheet, _residuals(sheet, constants(x)), leverage)
    covariance = np.linalg.pinv(jacobian.T @ jacobian) * max(2.0 * found.cost / freedom, 1e-30)
    # Each scatter rests on its own rows, so Student's t gets their freedom and not that of both together.
    half = student.ppf(0.975, rows - len(free) / 2) * np.sqrt(np.diag(covariance)) * scale
    volts, torque = _residuals(sheet, constants(x))
    inside = found.fun / np.sqrt(np.maximum(1.0 - leverage, 1e-9) * max(2.0 * found.cost / freedom, 1e-30))
    outside = inside * np.sqrt((freedom - 1) / np.maximum(freedom - inside**2, 1e-9))
    values = dict(zip(free, (x * scale).tolist(), strict=True))
    return _Solution(
        values, dict(zip(free, half.tolist(), strict=True)), volts, torque, outside, noise, freedom
    )  # fmt: skip


def _scatter(sheet: BenchTable, residuals: tuple[Array, Array], leverage: Array) -> tuple[float, float]:
    """Standard deviation of volts and of torque about the fit, each with its share of the freedom."""
    rows, found = len(sheet.current), []
    for part, pull, of in zip(residuals, (leverage[:rows], leverage[rows:]), (sheet.volts, sheet.torque), strict=True):
        least = 1e-9 * float(np.max(np.abs(of)))  # a table without scatter would weigh without end
        found.append(max(float(np.sqrt(np.sum(part**2) / max(rows - pull.sum(), 1.0))), least))
    return found[0], found[1]


def _told(sheet: BenchTable, solution: _Solution, constants: dict[str, Constant]) -> Fit:
    from scipy.stats import t as student

    rows = len(sheet.current)
    each = np.maximum(np.abs(solution.score[:rows]), np.abs(solution.score[rows:]))
    worst = int(np.argmax(each))
    allowed = float(student.ppf(1.0 - ODDS / (2.0 * 2.0 * rows), solution.freedom - 1))
    is_off = bool(each[worst] > allowed)
    line = int(sheet.line[worst])
    lines = [f"{sheet.name}: {rows} rows; {sheet.source}"]
    for name, c in constants.items():
        said = c.held or f"95 % interval {c.low:.4g} to {c.high:.4g}"
        lines.append(f"{name.replace('_', ' ')}: {c.value:.4g} ({said})")
    lines.append(f"scatter about the fit: {solution.noise[0]:.2g} V, {solution.noise[1]:.2g} N m")
    what = "is off: measure it again, or say why it differs" if is_off else "fits worst, but no worse than chance"
    lines.append(f"line {line} {what} (score {each[worst]:.1f}, {allowed:.1f} is allowed)")
    return Fit(
        constants, solution.volts, solution.torque, *solution.noise, line, float(each[worst]), is_off,
        "\n".join(lines),
    )  # fmt: skip
