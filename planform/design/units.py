"""Units at the edge: exact factors to SI, and values shown the way a builder reads them.

Inside everything is in m, kg, rad. The definitions are in the syntax of pint, which the tests read
them with; here they are worked out as fractions, so that no command waits for it.
Factors: NIST Special Publication 811 (2008), Appendix B; the inch, pound and US gallon are exact.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from functools import cache, lru_cache

SYSTEMS = ("ft-in", "in", "mm", "m")

SI_UNIT = {
    "length": "m",
    "area": "m2",
    "volume": "m3",
    "mass": "kg",
    "moment": "kg m",
    "density": "kg/m3",
    "area_density": "kg/m2",
    "angle": "rad",
    "ratio": "1",
    "percent": "1",
    "force": "N",
}

KINDS = {
    "station": "length",
    "butt": "length",
    "water": "length",
    "fine": "length",
    "fine_up": "length",
    "thin": "length",
    "gap": "length",
    "over": "length",
    "mass_up": "mass",
    "mass_down": "mass",
    "mass_up_fine": "mass",
    "volume_up": "volume",
    "volume_up_fine": "volume",
    "drag_area": "area",
    "coefficient": "ratio",
    "percent_fine": "percent",
    "angle_fine": "angle",
}
"""Kinds that reports show in a way of their own, and the quantity behind each."""

INCH = 0.0254
FOOT = 0.3048
SQUARE_FOOT = 0.09290304
POUND = 0.45359237
DEGREE = math.pi / 180.0
"""The same factors as floats [SI], for code that has no unit to read; all but the degree exact."""

# Names that pint's default registry knows too, so that a test can compare each of them.
DEFINITIONS = (
    "metre = [length]",
    "centimetre = metre / 100",
    "millimetre = metre / 1000",
    f"inch = {INCH} * metre",
    "foot = 12 * inch",
    "yard = 36 * inch",
    "kilogram = [mass]",
    "gram = kilogram / 1000",
    f"pound = {POUND} * kilogram",
    "ounce = pound / 16",
    "radian = []",
    "degree = 3.14159265358979323846264338327950288 / 180 * radian",
    "arcminute = degree / 60",
    "arcsecond = degree / 3600",
    "litre = metre ** 3 / 1000",
    "millilitre = litre / 1000",
    "US_liquid_gallon = 231 * inch ** 3",
    "US_liquid_quart = US_liquid_gallon / 4",
    "imperial_gallon = 4.54609 * litre",
    "imperial_quart = imperial_gallon / 4",
    "percent = 1 / 100",
    "second = [time]",
    "newton = kilogram * metre / second ** 2",
    "kilonewton = 1000 * newton",
    "pound_force = 9.80665 * pound * metre / second ** 2",
)

# What may be written, for each kind: spelling (lower case) -> expression in the names above.
SPELLINGS: dict[str, dict[str, str]] = {
    "length": {
        **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "metre"),
        "cm": "centimetre",
        "mm": "millimetre",
        **dict.fromkeys(("in", "in.", "inch", "inches", '"'), "inch"),
        **dict.fromkeys(("ft", "ft.", "foot", "feet", "'"), "foot"),
    },
    "angle": {
        **dict.fromkeys(("deg", "deg.", "degree", "degrees", "°"), "degree"),
        **dict.fromkeys(("rad", "radian", "radians"), "radian"),
    },
    "mass": {
        **dict.fromkeys(("kg", "kilogram", "kilograms"), "kilogram"),
        **dict.fromkeys(("g", "gram", "grams"), "gram"),
        **dict.fromkeys(("lb", "lb.", "lbs", "lbs.", "pound", "pounds"), "pound"),
        **dict.fromkeys(("oz", "oz.", "ounce", "ounces"), "ounce"),
    },
    "area": {
        "m2": "metre ** 2",
        "cm2": "centimetre ** 2",
        **dict.fromkeys(("ft2", "sq ft"), "foot ** 2"),
        **dict.fromkeys(("in2", "sq in"), "inch ** 2"),
    },
    "volume": {
        "m3": "metre ** 3",
        "cm3": "centimetre ** 3",
        "ft3": "foot ** 3",
        "in3": "inch ** 3",
        **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), "litre"),
        "ml": "millilitre",
        **dict.fromkeys(("gal (us)", "us gal"), "US_liquid_gallon"),
        **dict.fromkeys(("gal (imp)", "imp gal"), "imperial_gallon"),
        **dict.fromkeys(("qt (us)", "us qt"), "US_liquid_quart"),
        **dict.fromkeys(("qt (imp)", "imp qt"), "imperial_quart"),
    },
    "moment": {
        **dict.fromkeys(("kg m", "kg-m"), "kilogram * metre"),
        **dict.fromkeys(("kg cm", "kg-cm"), "kilogram * centimetre"),
        **dict.fromkeys(("kg mm", "kg-mm"), "kilogram * millimetre"),
        **dict.fromkeys(("kg in", "kg-in"), "kilogram * inch"),
        **dict.fromkeys(("lb in", "lb-in", "in lb", "in-lb"), "pound * inch"),
        **dict.fromkeys(("lb ft", "lb-ft"), "pound * foot"),
    },
    "percent": dict.fromkeys(("%", "% mac", "percent"), "percent"),
    "force": {"n": "newton", "kn": "kilonewton", "lbf": "pound_force"},
    "density": {
        "kg/m3": "kilogram / metre ** 3",
        "kg/l": "kilogram / litre",
        "g/l": "gram / litre",
        "g/ml": "gram / millilitre",
        "g/cm3": "gram / centimetre ** 3",
        "lb/ft3": "pound / foot ** 3",
        "lb/in3": "pound / inch ** 3",
        **dict.fromkeys(("lb/gal (us)", "lb/us gal"), "pound / US_liquid_gallon"),
        **dict.fromkeys(("lb/gal (imp)", "lb/imp gal"), "pound / imperial_gallon"),
        **dict.fromkeys(("lb/qt (us)", "lb/us qt"), "pound / US_liquid_quart"),
        **dict.fromkeys(("lb/qt (imp)", "lb/imp qt"), "pound / imperial_quart"),
    },
    "area_density": {
        "kg/m2": "kilogram / metre ** 2",
        "g/m2": "gram / metre ** 2",
        "lb/ft2": "pound / foot ** 2",
        "oz/ft2": "ounce / foot ** 2",
        "oz/yd2": "ounce / yard ** 2",
    },
}


@cache
def _defined() -> dict[str, Fraction]:
    """How many of its base unit each name of `DEFINITIONS` is, exact."""
    found: dict[str, Fraction] = {}
    for one in DEFINITIONS:
        name, _, expression = one.partition(" = ")
        found[name] = Fraction(1) if "[" in expression else _product(expression, found)
    return found


def _product(expression: str, known: dict[str, Fraction]) -> Fraction:
    """The value of names and numbers with * and / between them and whole powers after **."""
    value, divided = Fraction(1), False
    tokens = expression.split()
    for k, token in enumerate(tokens):
        if token in ("*", "/"):
            divided = token == "/"
        elif token != "**" and (not k or tokens[k - 1] != "**"):
            one = known[token] if token in known else Fraction(token)
            power = int(tokens[k + 2]) if tokens[k + 1 : k + 2] == ["**"] else 1
            value *= one**-power if divided else one**power
    return value


def kind_of(unit: str) -> str | None:
    """The kind a written unit belongs to, or None if it is not one of ours."""
    return next((kind for kind, names in SPELLINGS.items() if unit.lower() in names), None)


@cache
def factor(unit: str) -> Fraction:
    """How many SI units one `unit` (a spelling, in any case) is; exact, except for pi."""
    kind = kind_of(unit)
    if kind is None:
        raise ValueError(f"no such unit: {unit!r}")
    return _product(SPELLINGS[kind][unit.lower()], _defined())


def to_si(number: float | Fraction, unit: str) -> float:
    """`number` of `unit` in SI, rounded once.

    number : float or Fraction   finite
    unit : str                   a spelling of `SPELLINGS`, such as 'in' or 'gal (US)'
    """
    return float(_finite(number) * factor(unit))


@lru_cache(maxsize=16_384)
def show(value: float, kind: str, system: str) -> str:
    """A value as text in the reader's units.

    value : float   [SI unit of its kind], finite
    kind : str      a key of `SI_UNIT`
    system : str    one of `SYSTEMS`; 'ft-in' rounds lengths to 1/16 in, 'mm' to whole mm
    """
    unit, write = _style(kind, system)
    number = _finite(value) / factor(unit) if unit else _finite(value)
    return write(number)


def show_unit(kind: str, system: str) -> str:
    """The unit that `show` writes behind a value."""
    return _style(kind, system)[0]


def like(value: float, text: str) -> str:
    """A length [m] in the units that a text of the file is written in."""
    system = next(
        (system for mark, system in _MARKS if mark in text.lower()),
        "in",
    )
    return show(value, "length", system)


_MARKS = (("ft", "ft-in"), ("'", "ft-in"), ("mm", "mm"), ("cm", "mm"), (" m", "m"))
"""What tells the units of a length's text, in the order looked for; inches have none of them."""


def _finite(number: float | Fraction) -> Fraction:
    if not math.isfinite(number):
        raise ValueError(f"expected a finite number, got {number!r}")
    return number if isinstance(number, Fraction) else Fraction(float(number))


def _style(kind: str, system: str) -> tuple[str, Callable[[Fraction], str]]:
    """The unit a kind is shown in, and how its number is written there."""
    if kind not in SI_UNIT:
        raise ValueError(f"expected a kind of {', '.join(SI_UNIT)}, got {kind!r}")
    if system not in SYSTEMS:
        raise ValueError(f"expected a system of {', '.join(SYSTEMS)}, got {system!r}")
    if kind == "length":
        return _LENGTH[system]
    return _STYLE[kind][0 if system in ("ft-in", "in") else 1]


def _feet_inches(inches: Fraction) -> str:
    sixteenths = round(abs(inches) * 16)
    sign = "-" if inches < 0 and sixteenths else ""
    feet, rest = divmod(sixteenths, 12 * 16)
    whole, part = divmod(rest, 16)
    text = f"{whole} {Fraction(part, 16)}" if part else str(whole)
    return f"{sign}{feet}'-{text}\"" if feet else f'{sign}{text.removeprefix("0 ")}"'


def _fixed(number: Fraction, places: int) -> str:
    rounded = round(number, places)
    return f"{float(rounded):.{places}f}" if rounded else f"{0:.{places}f}"


def _trimmed(number: Fraction, places: int) -> str:
    text = _fixed(number, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _tenths(number: Fraction) -> str:
    """To 0.1, or to 0.001 below one, so that a small part does not show as nothing."""
    return _trimmed(number, 1 if abs(number) >= 1 else 3)


def _three_digits(number: Fraction) -> str:
    """Three significant digits; all the digits of a large whole number; never an exponent."""
    rounded = Fraction(f"{float(number):.2e}")
    if not rounded:
        return "0"
    size = math.floor(math.log10(abs(rounded)))
    return _fixed(number, min(max(0, 2 - size), 12))


def _as(write: Callable[..., str], unit: str, *places: int) -> Callable[[Fraction], str]:
    return lambda number: f"{write(number, *places)} {unit}"


_LENGTH: dict[str, tuple[str, Callable[[Fraction], str]]] = {
    "ft-in": ("in", _feet_inches),
    "in": ("in", _as(_trimmed, "in", 2)),
    "mm": ("mm", _as(_fixed, "mm", 0)),
    "m": ("m", _as(_fixed, "m", 3)),
}
LENGTH_STEP = {"ft-in": INCH / 16, "in": 0.000254, "mm": 0.001, "m": 0.001}
"""What a length is shown to [m]."""


def _unit(
    write: Callable[..., str], unit: str, *places: int
) -> tuple[str, Callable[[Fraction], str]]:
    return unit, _as(write, unit, *places)


# kind -> (for readers of feet and inches, for readers of metres)
_STYLE: dict[str, tuple[tuple[str, Callable[[Fraction], str]], ...]] = {
    "area": (_unit(_tenths, "ft2"), _unit(_trimmed, "m2", 3)),
    "volume": (_unit(_tenths, "gal (US)"), _unit(_tenths, "L")),
    "mass": (_unit(_tenths, "lb"), _unit(_tenths, "kg")),
    "moment": (_unit(_tenths, "lb in"), _unit(_trimmed, "kg m", 3)),
    "density": (_unit(_three_digits, "lb/ft3"), _unit(_three_digits, "kg/m3")),
    "area_density": (_unit(_three_digits, "lb/ft2"), _unit(_three_digits, "kg/m2")),
    "angle": (_unit(_fixed, "deg", 1), _unit(_fixed, "deg", 1)),
    "ratio": (("", _three_digits), ("", _three_digits)),
    "percent": (_unit(_fixed, "%", 1), _unit(_fixed, "%", 1)),
    "force": (_unit(_trimmed, "lbf", 1), _unit(_trimmed, "N", 1)),
}
