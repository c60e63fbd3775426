"""The one reader and the one writer of numbers with units. Nothing else in the project parses a unit.

``read("1 1/2 in", "m")`` gives SI; ``show(0.0381, "m")`` gives text. What can mean two things is asked about, never
guessed: a gallon, a ton, a comma that could be either a decimal or a thousands mark inside a longer number.
"""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Mapping
from typing import Any

STANDARD_ATMOSPHERE = 101_325.0  # Pa; NIST SP 811
GAS_ZERO_C = 273.15  # K; ice point

FRACTIONS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip

# Spellings the trade uses, to the spelling that pint knows. Order matters only in that longer ones are tried first.
SPELLINGS: dict[str, str] = {
    "ft-lb": "ft*lbf", "lb-ft": "ft*lbf", "ft lb": "ft*lbf", "lb ft": "ft*lbf", "lbf ft": "ft*lbf",
    "ft lbf": "ft*lbf", "lbf-ft": "ft*lbf", "ft-lbf": "ft*lbf", "ft.lb": "ft*lbf", "foot pounds": "ft*lbf",
    "in-lb": "inch*lbf", "lb-in": "inch*lbf", "in lb": "inch*lbf", "lb in": "inch*lbf", "lbf in": "inch*lbf",
    "in lbf": "inch*lbf", "lbf-in": "inch*lbf", "in-lbf": "inch*lbf",
    "lb in2": "lb*inch^2", "lb ft2": "lb*ft^2",
    "Nm": "N*m", "N-m": "N*m", "Nmm": "N*mm", "kNm": "kN*m",
    "psig": "psi", "psia": "psi", "psid": "psi", "lbf/in2": "psi", "lb/in2": "psi", "ksi": "kpsi",
    "barg": "bar", "bara": "bar", "bar g": "bar", "bar a": "bar",
    "ps": "metric_horsepower", "PS": "metric_horsepower", "cv": "metric_horsepower", "CV": "metric_horsepower",
    "metric hp": "metric_horsepower", "hp metric": "metric_horsepower", "hp (metric)": "metric_horsepower",
    "hp": "horsepower", "HP": "horsepower", "bhp": "horsepower", "mechanical hp": "horsepower",
    "RPM": "rpm", "r/min": "rpm", "rev/min": "rpm", "1/min": "rpm",
    "kph": "km/h", "kmh": "km/h", "km/hr": "km/h", "mph": "mile/hour",
    "lpm": "L/min", "l/min": "L/min", "US gal": "gallon", "US gal/min": "gallon/min", "US gpm": "gallon/min",
    "imp gal": "imperial_gallon", "imp gal/min": "imperial_gallon/min",
    "thou": "inch/1000", "mil": "inch/1000", "thou.": "inch/1000", '"': "inch", "in.": "inch", "in": "inch",
    "inches": "inch", "'": "ft", "ft.": "ft", "lbs": "lb",
    "deg": "degree", "°": "degree", "Ω": "ohm", "mΩ": "milliohm", "kΩ": "kiloohm", "MΩ": "megaohm",
    "mohm": "milliohm", "Mohm": "megaohm", "kohm": "kiloohm", "µF": "microfarad", "uF": "microfarad",
    "µm": "micrometer", "um": "micrometer", "micron": "micrometer", "µs": "microsecond",
    "sqmm": "mm^2", "sq mm": "mm^2", "sq in": "inch^2", "sq ft": "ft^2", "cu in": "inch^3",
    "%": "percent", "per cent": "percent", "pct": "percent", "kgf": "kgf", "t": "tonne", "sec": "s", "secs": "s",
    "Ah": "A*hour", "A h": "A*hour", "Wh": "W*hour", "kWh": "kW*hour", "Wh/km": "W*hour/km",
    "cc": "cm^3", "cc/rev": "cm^3", "cm3/rev": "cm^3",
}  # fmt: skip

ASK: dict[str, str] = {
    "gal": "a US or an imperial gallon? write 'US gal' or 'imp gal'",
    "gallon": "a US or an imperial gallon? write 'US gal' or 'imp gal'",
    "gallons": "a US or an imperial gallon? write 'US gal' or 'imp gal'",
    "gpm": "US or imperial gallons a minute? write 'US gal/min' or 'imp gal/min'",
    "gal/min": "US or imperial gallons a minute? write 'US gal/min' or 'imp gal/min'",
    "ton": "which ton? write 't' (1000 kg), 'short_ton' or 'long_ton'",
    "tons": "which ton? write 't' (1000 kg), 'short_ton' or 'long_ton'",
    "oz": "an ounce of mass, or a fluid ounce? write 'g' or 'mL'",
    "cal": "write 'J' instead: there are several calories",
    "btu": "write 'J' instead: there are several British thermal units",
}

# How each SI unit is shown in the two systems a learner can switch between; a quantity may override it.
SHOWN: dict[str, dict[str, str]] = {
    "m": {"SI": "mm", "shop": "in"},
    "m/s": {"SI": "km/h", "shop": "mph"},
    "rad/s": {"SI": "rpm", "shop": "rpm"},
    "N m": {"SI": "N m", "shop": "lbf ft"},
    "N": {"SI": "N", "shop": "lbf"},
    "Pa": {"SI": "kPa", "shop": "psi"},
    "W": {"SI": "kW", "shop": "hp"},
    "J": {"SI": "kJ", "shop": "kJ"},
    "kg": {"SI": "kg", "shop": "lb"},
    "K": {"SI": "°C", "shop": "°F"},
    "m2": {"SI": "m2", "shop": "ft2"},
    "m3/s": {"SI": "L/min", "shop": "US gal/min"},
    "m3": {"SI": "L", "shop": "US gal"},
    "rad": {"SI": "deg", "shop": "deg"},
    "F": {"SI": "µF", "shop": "µF"},
    "C": {"SI": "Ah", "shop": "Ah"},
    "m2/s": {"SI": "cSt", "shop": "cSt"},
}


class UnitProblem(ValueError):
    """Text that is not a number with a unit of the wanted kind, or that can mean two things."""


@functools.cache
def _registry() -> Any:
    import pint

    registry: Any = pint.UnitRegistry(autoconvert_offset_to_baseunit=False)
    # NIST SP 811 appendix B: 1 hp = 550 ft lbf/s; the metric horsepower is 75 kgf m/s.
    registry.define("metric_horsepower = 75 * kgf * meter / second = hp_metric")
    registry.define("horsepower = 550 * foot * force_pound / second = hp_mechanical")
    return registry


def read(text: str, unit: str, *, kind: str = "") -> float:
    """Read text as a number in SI.

    ``unit`` is the SI unit wanted. ``kind`` tells apart what a dimension cannot: ``gauge``, ``absolute`` or
    ``pressure difference``; ``reading`` or ``difference`` for temperature; ``wire`` (copper area) and ``hose``
    (bore), which also take ``2/0`` and ``dash 6``. Raises :class:`UnitProblem`.

    >>> round(read("1 1/2 in", "m"), 6), read("1,200", ""), read("0,5", "")
    (0.0381, 1200.0, 0.5)
    >>> round(read("90 lbf ft", "N m"), 3)
    122.024
    """
    plain = _plain_text(text)
    if not plain:
        raise UnitProblem("empty text; a number with its unit is wanted" + _as(unit))
    if len(plain) > 80:
        raise UnitProblem(f"{len(plain)} characters; a number with its unit is wanted" + _as(unit))
    if kind in ("wire", "hose"):
        named = _wire(plain) if kind == "wire" else _hose(plain)
        if named is not None:
            return named
    number, rest = _number(plain)
    return _scaled(number, _tidy_unit(rest), unit, kind, plain)


def split(text: str) -> tuple[float, str]:
    """The number that a text begins with, and the unit written after it, neither checked nor converted.

    >>> split("1 1/2 in"), split("85")
    ((1.5, 'in'), (85.0, ''))
    """
    number, rest = _number(_plain_text(text))
    return number, _tidy_unit(rest)


def _plain_text(text: str) -> str:
    """One kind of space and one kind of minus."""
    return " ".join(str(text).replace("\u00a0", " ").replace("\u202f", " ").replace("−", "-").split())


def _number(text: str) -> tuple[float, str]:
    """Split the leading number from the unit text; knows mixed fractions and both decimal marks."""
    for sign, digits in FRACTIONS.items():
        text = text.replace(sign, f" {digits}")
    text = text.strip().replace("⁄", "/")
    mixed = re.match(r"([+-]?)(?:(\d+)[ -]+)?(\d+)\s*/\s*(\d+)(?![\d.,/])\s*(.*)$", text)
    if mixed:
        sign, whole, top, bottom, rest = mixed.groups()
        if int(bottom) == 0:
            raise UnitProblem(f"{text!r} divides by zero; only a wire size is written that way")
        value = int(whole or 0) + int(top) / int(bottom)
        return (-value if sign == "-" else value), rest
    found = re.match(r"([+-]?(?:\d[\d.,_]*(?: \d{3}(?![\d/]))*|\.\d+)[\d.,]*)(?:[eE]([+-]?\d+))?\s*(.*)$", text)
    if not found:
        raise UnitProblem(f"{text!r} does not begin with a number")
    digits, power, rest = found.groups()
    value = float(_plain_digits(digits, text))
    if power:
        if abs(int(power)) > 30:
            raise UnitProblem(f"{text!r}: the power of ten must lie between -30 and 30")
        value *= 10.0 ** int(power)
    return value, rest


def _plain_digits(digits: str, text: str) -> str:
    """Turn ``1,200`` ``1.200,5`` ``1 200`` ``0,5`` into what float() reads; refuse what can mean two things.

    A comma before exactly three digits is a thousands mark when the digits before it could be a thousands group
    (``1,200``), and a decimal mark when they could not (``0,125``). A value read so is echoed back in the report,
    and the quantity's limits catch the other meaning in nearly every case.
    """
    bare = digits.replace("_", "").replace(" ", "").rstrip(".,")
    commas, points = bare.count(","), bare.count(".")
    if commas and points:
        last = max(bare.rfind(","), bare.rfind("."))
        decimal, group = bare[last], "," if bare[last] == "." else "."
        if bare.count(decimal) > 1:
            raise UnitProblem(f"{text!r}: which mark is the decimal one? write the number without thousands marks")
        whole = bare[:last].split(group)
        if not (1 <= len(whole[0].lstrip("+-")) <= 3 and all(len(part) == 3 for part in whole[1:])):
            raise UnitProblem(f"{text!r}: thousands marks stand before groups of three digits")
        return bare.replace(group, "").replace(decimal, ".")
    if points > 1 or commas > 1:
        mark = "," if commas else "."
        parts = bare.split(mark)
        if 1 <= len(parts[0].lstrip("+-")) <= 3 and all(len(part) == 3 for part in parts[1:]):
            return bare.replace(mark, "")
        raise UnitProblem(f"{text!r}: thousands marks stand before groups of three digits")
    if commas:
        before, after = bare.split(",")
        before = before.lstrip("+-")
        if len(after) == 3 and 1 <= len(before) <= 3 and not before.startswith("0"):
            return bare.replace(",", "")
        return bare.replace(",", ".")
    return bare


def _tidy_unit(text: str) -> str:
    unit = text.strip().replace("²", "2").replace("³", "3").replace("·", " ").replace("×", " ").replace("μ", "µ")
    for degree in ("° ", "º", "deg "):
        unit = unit.replace(degree, "°" if degree != "deg " else "deg")
    return unit.strip()


def _scaled(number: float, unit: str, wanted: str, kind: str, text: str) -> float:
    """The number in SI, the unit's dimension checked against the wanted one."""
    if not unit:
        return number  # a bare number is SI
    if unit.lower() in ASK:
        raise UnitProblem(f"{text!r}: {ASK[unit.lower()]}")
    if wanted == "K":
        return _temperature(number, unit, kind, text)
    if wanted == "Pa":
        _pressure_kind(unit, kind, text)
    offset = _offset_pressure(unit, wanted, kind)
    factor = _factor(unit, wanted)
    if factor is None:
        raise UnitProblem(f"{text!r}: the unit {unit!r} is not one of{_as(wanted)}")
    return number * factor + offset


def _offset_pressure(unit: str, wanted: str, kind: str) -> float:
    if wanted != "Pa":
        return 0.0
    if kind == "gauge" and unit in ("psia", "bara", "bar a"):
        return -STANDARD_ATMOSPHERE
    if kind == "absolute" and unit in ("psig", "barg", "bar g"):
        return STANDARD_ATMOSPHERE
    return 0.0


def _pressure_kind(unit: str, kind: str, text: str) -> None:
    marked = unit in ("psia", "bara", "bar a", "psig", "barg", "bar g")
    if kind == "pressure difference" and marked and unit not in ("psid",):
        raise UnitProblem(f"{text!r}: a difference of pressures is neither gauge nor absolute; write psi or kPa")
    if kind == "absolute" and not marked and unit in ("psi", "bar"):
        raise UnitProblem(f"{text!r}: gauge or absolute? write {unit}g or {unit}a")


def _temperature(number: float, unit: str, kind: str, text: str) -> float:
    plain = unit.replace("deg", "").replace("°", "").strip()
    if plain not in ("C", "F", "K", "Celsius", "Fahrenheit", "R"):
        raise UnitProblem(f"{text!r}: a temperature is wanted in °C, °F or K")
    letter = plain[0]
    if kind == "difference":
        return number * (5 / 9 if letter in "FR" else 1.0)
    if letter == "C":
        return number + GAS_ZERO_C
    if letter == "F":
        return (number - 32) * 5 / 9 + GAS_ZERO_C
    return number if letter == "K" else number * 5 / 9


@functools.lru_cache(maxsize=4096)
def _factor(unit: str, wanted: str) -> float | None:
    """How many ``wanted`` one ``unit`` is; None where the dimensions differ or the unit is unknown."""
    if {"Hz", "rad"} <= set(re.findall(r"Hz|rad", f"{unit} {wanted}".replace("rpm", "rad"))):
        return None  # a turn is a number to pint, so 50 Hz would pass for 50 rad/s, 2 pi too little
    registry = _registry()
    for candidate in _candidates(unit):
        try:
            one = registry.Quantity(1.0, candidate)
            value = float(one.to(_pint(wanted)).magnitude)
        except Exception:
            continue
        if math.isfinite(value):
            return value
    return None


def _candidates(unit: str) -> list[str]:
    """Spellings to try, most specific first; ``lb`` may be force where a force is wanted."""
    first = SPELLINGS.get(unit) or SPELLINGS.get(unit.replace("*", " "))
    if first is None and not re.fullmatch(r"(?:1/)?[A-Za-z°µΩ%\"'][\w °µΩ%\"'*/^().-]*", unit):
        return []
    spelled = [first] if first else []
    spelled.append(_pint(unit))
    parts = re.split(r"([*/ ]+)", unit)
    swapped = "".join(SPELLINGS.get(part, part) for part in parts)
    spelled.append(_pint(swapped))
    spelled += [re.sub(r"\blb\b", "lbf", spelling) for spelling in list(spelled)]
    return spelled


def _pint(unit: str) -> str:
    """SI spelling of this project (``N m/rad``, ``W/m2 K``) to pint's; all after one slash is below the line."""
    if not unit:
        return "dimensionless"
    text = re.sub(r"([A-Za-zµΩ])([23])\b", r"\1^\2", unit)
    text = re.sub(r"(?<=[\w)\d]) +(?=[A-Za-zµΩ(])", "*", text)
    above, slash, below = text.partition("/")
    if slash and "/" not in below and not below.startswith("("):
        text = f"{above or '1'}/({below})"
    return text


def _wire(text: str) -> float | None:
    """Copper area [m2] of an AWG size: d = 0.005 in x 92^((36-n)/39); ASTM B258."""
    found = re.fullmatch(r"(?:AWG\s*)?(?:(\d+)/0|(\d{1,2}))(?:\s*(?:AWG|ga|gauge))?", text, re.IGNORECASE)
    if not found or (found[2] is not None and re.fullmatch(r"\d+", text)):
        return None
    if found[1] is not None:
        if not 1 <= int(found[1]) <= 4:
            raise UnitProblem(f"{text!r}: wire sizes run from 40 to 1, then 1/0 to 4/0")
        gauge = 1 - int(found[1])
    else:
        gauge = int(found[2])
        if gauge > 40:
            raise UnitProblem(f"{text!r}: wire sizes run from 40 to 1, then 1/0 to 4/0")
    return math.pi / 4 * float(gauge_diameter(gauge)) ** 2


def gauge_diameter(gauge: Any) -> Any:
    """Diameter [m] of solid wire of a gauge number or a column of them, 1/0 to 4/0 as 0 to -3; ASTM B258."""
    return 0.005 * 92.0 ** ((36 - gauge) / 39) * 0.0254


# Bores [m] by dash number of the SAE 100R1/R2 series; other series differ, so a build may give the bore instead.
HOSE_BORE = {4: 6.4e-3, 5: 7.9e-3, 6: 9.5e-3, 8: 12.7e-3, 10: 15.9e-3, 12: 19.0e-3, 16: 25.4e-3}


def _hose(text: str) -> float | None:
    """Bore [m] of a hose's dash size, SAE 100R1/R2 series (hose tables, secondary source)."""
    found = re.fullmatch(r"(?:dash\s*-?|size\s*-?|-|#)\s*(\d{1,2})", text, re.IGNORECASE)
    if not found:
        return None
    if int(found[1]) not in HOSE_BORE:
        allowed = ", ".join(map(str, HOSE_BORE))
        raise UnitProblem(f"{text!r}: dash sizes known here are {allowed}")
    return HOSE_BORE[int(found[1])]


def _as(unit: str) -> str:
    """' (for example: mm, in)' for a message."""
    if not unit:
        return " a plain number or per cent"
    names = dict.fromkeys([*SHOWN.get(unit, {}).values(), unit])
    return " " + ", ".join(names)


def factor(unit: str, wanted: str) -> float:
    """How many ``wanted`` one ``unit`` is. Raises :class:`UnitProblem` where the dimensions differ.

    >>> round(factor("lbf ft", "N m"), 6)
    1.355818
    """
    found = _factor(unit, wanted)
    if found is None:
        raise UnitProblem(f"{unit!r} is not one of{_as(wanted)}")
    return found


def shown_unit(unit: str, *, kind: str = "", system: str = "SI", shown: Mapping[str, str] | None = None) -> str:
    """The unit in which a value of SI ``unit`` is shown in a system (``SI`` or ``shop``)."""
    if system not in ("SI", "shop"):
        raise ValueError(f"system: {system!r}; allowed are 'SI' and 'shop'")
    name = str({**SHOWN.get(unit, {}), **(shown or {})}.get(system, unit))
    return "psia" if kind == "absolute" and name == "psi" else name


def to_shown(value: Any, unit: str, *, shown: str, kind: str = "") -> Any:
    """An SI value, or a column of them, in the unit ``shown``."""
    if unit == "K" and shown in ("°C", "°F"):
        if kind == "difference":
            return value * (1.0 if shown == "°C" else 1.8)
        return value - GAS_ZERO_C if shown == "°C" else (value - GAS_ZERO_C) * 1.8 + 32
    return value if shown == unit else value / factor(shown, unit)


def show(value: float, unit: str, *, kind: str = "", system: str = "SI", shown: Mapping[str, str] | None = None,
         digits: int = 3) -> str:  # fmt: skip
    """A value as text with its unit, to ``digits`` significant figures and no powers of ten.

    >>> show(0.0381, "m"), show(0.0381, "m", system="shop"), show(104.72, "rad/s")
    ('38.1 mm', '1.50 in', '1000 rpm')
    """
    name = shown_unit(unit, kind=kind, system=system, shown=shown)
    name = _scaled_name(name, abs(value))
    number = figures(float(to_shown(value, unit, shown=name, kind=kind)), digits)
    if number == "no limit":
        return number
    if kind == "difference" and name in ("°C", "°F"):
        name = name.replace("°C", "K")
    return f"{number} {pretty(name)}".strip()


def _scaled_name(name: str, value: float) -> str:
    """The unit's neighbour where the usual one would give long or tiny numbers: stresses, small powers."""
    if name == "kPa" and value >= 1e7:
        return "MPa"  # stresses; pressures of oil stay below
    if name in ("kW", "kJ") and 0 < value < 100:
        return name[1:]
    return name


def figures(value: float, digits: int = 3) -> str:
    """A number with significant figures, never fewer than its whole part, no exponent between 1e-4 and 1e9.

    >>> figures(1234.5), figures(0.04567), figures(0.0)
    ('1234', '0.0457', '0')
    """
    if not math.isfinite(value):
        return "no limit" if value == math.inf else str(value)
    if value == 0:
        return "0"
    size = math.floor(math.log10(abs(float(f"{value:.{digits - 1}e}"))))
    if size < -4 or size >= 9:
        return f"{value:.{digits - 1}e}"
    return f"{value:.{max(0, digits - 1 - size)}f}"


def pretty(unit: str) -> str:
    """``m3/s`` to ``m³/s``, for people."""
    return re.sub(r"(?<=[A-Za-z])3\b", "³", re.sub(r"(?<=[A-Za-z])2\b", "²", unit)).replace("percent", "%")
