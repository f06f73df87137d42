"""Builders' notation: feet, inches and fractions, stations, degrees, pounds, gallons.

A small grammar of our own reads the text exactly, or refuses it and says how to write it.
Nothing is guessed: bare numbers, decimal commas and gallons of no country are asked about. Zero
needs no unit, and a number behind feet is inches.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from functools import lru_cache

from planform.design.reading import Reading
from planform.design.units import SPELLINGS, kind_of, to_si

SOURCES = ("drawing", "measured", "assumed")
LONGEST = 80

ALLOWED = {
    "length": "allowed: a length with its unit (m, cm, mm, in, ft), "
    "such as 11'-4 1/2\", 136.5 in or 1250 mm",
    "angle": "allowed: an angle with its unit (deg, rad), such as 2.5 deg or 2° 30'",
    "mass": "allowed: a mass with its unit (kg, g, lb, oz), such as 1854 lb or 396 kg",
    "volume": "allowed: a volume with its unit (gal (US), gal (imp), qt (US), L, m3), "
    "such as 60 gal (US) or 20 L",
    "density": "allowed: a density with its unit (kg/m3, kg/L, g/cm3, g/L, lb/gal (US)), "
    "such as 6 lb/gal (US) or 0.72 kg/L",
    "area_density": "allowed: a mass per area with its unit (kg/m2, g/m2, lb/ft2, oz/yd2), "
    "such as 0.3 kg/m2 or 9 oz/yd2",
    "moment": "allowed: a moment, mass times arm, with its unit (lb in, lb ft, kg m, kg mm), "
    "such as 12391 lb in or 142.8 kg m",
    "force": "allowed: a force with its unit (N, lbf), such as 350 N or 80 lbf",
    "percent": "allowed: a share of the MAC in percent, such as 18.5 % or -40 %",
}
USUAL_UNITS = {
    "length": ("in", "mm"),
    "angle": ("deg", "rad"),
    "mass": ("lb", "kg"),
    "volume": ("gal (US)", "L"),
    "density": ("lb/gal (US)", "kg/L"),
    "area_density": ("oz/yd2", "kg/m2"),
    "moment": ("lb in", "kg m"),
    "percent": ("%", "% MAC"),
    "force": ("lbf", "N"),
}
COUNTRYLESS = {
    **dict.fromkeys(("gal", "gallon", "gallons"), ("gallon", "gal")),
    **dict.fromkeys(("qt", "qts", "quart", "quarts"), ("quart", "qt")),
    "lb/gal": ("gallon", "lb/gal"),
    "lb/qt": ("quart", "lb/qt"),
}
"""Units that two countries have a size of, with the word for them and how they are written."""
FORCES = ("lbf", "kgf", "n", "kn")

_NUMBER = r"(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.[0-9]+|[0-9]+)"
_FEET = rf"({_NUMBER}) ?(?:feet|foot|ft\.?|') ?-? ?({_NUMBER})"
_BARE = re.compile(_NUMBER)
_SIMPLE = re.compile(rf"({_NUMBER}) ?([^0-9 .,/+*-].*)")
_ZERO = re.compile(r"0+(?:\.0+)?|\.0+")
_FEET_INCHES = re.compile(rf'{_FEET} ?(?:inches|inch|in\.?|")?', re.IGNORECASE)
_DEGREES = re.compile(
    rf"({_NUMBER}) ?(?:degrees?|deg|°) ?({_NUMBER}) ?(?:'|min)(?: ?({_NUMBER}) ?(?:\"|sec))?",
    re.IGNORECASE,
)
_STATION = re.compile(r"(FS|[LR]?BL|WL) ?(?![A-Z])(.+)", re.IGNORECASE)
_LEANS = re.compile(
    r"(?:(?:leans|leaning|canted) )?(?:(inboard|outboard),? (.+)|(.+?),? (inboard|outboard))",
    re.IGNORECASE,
)
_SIDE = re.compile(r"(.*(?: |[\"']))(L|R|left|right)", re.IGNORECASE)
_SOURCE = re.compile(r"(.*) ?\( ?([^()]*?) ?\)")
_NOT_FINITE = re.compile(r"[+-]?(?:nan|inf|infinity)\b", re.IGNORECASE)
_COMMA_NUMBER = re.compile(r"[0-9.,]*,[0-9.,]*")

_PLAIN = str.maketrans(
    dict.fromkeys("\u2010\u2011\u2012\u2013\u2212\ufe63\uff0d", "-")
    | dict.fromkeys("\u2018\u2019\u02b9\u2032\u00b4`", "'")
    | dict.fromkeys("\u201c\u201d\u02ba\u2033", '"')
    | dict.fromkeys("\u00ba\u02da", "°")
    | {"\u2044": "/", "\u2215": "/", "²": "2", "³": "3"}
)


class NotationError(ValueError):
    """A text that is not read: `given` as shown to the builder, `allowed` says what to write."""

    def __init__(self, given: str, allowed: str) -> None:
        super().__init__(given, allowed)
        self.given = given
        self.allowed = allowed

    def __str__(self) -> str:
        return f"given {self.given}; {self.allowed}"


class _Refusal(Exception):
    """Why a part of the text is not read."""


def read(text: object, kind: str, *, leans: bool = False) -> Reading:
    """Read one quantity as builders write it.

    text : str    such as `11'-4 1/2"`, `BL 55.5 in L`, `174 in ± 1/8 in (measured)`
    kind : str    a key of `ALLOWED`: 'length', 'angle', 'mass', 'volume', 'density', ...
    leans : bool  an angle that is outboard positive, so that `inboard 4 deg` has its sense
    Returns a `Reading` in SI. Raises `NotationError` for anything else than one clear quantity.
    """
    if kind not in ALLOWED:
        raise ValueError(f"expected a kind of {', '.join(ALLOWED)}, got {kind!r}")
    try:
        if type(text) is str:
            return _read_text(text, kind, leans)
        return _read(text, kind, leans=leans)
    except _Refusal as refusal:
        raise NotationError(_shown(text), str(refusal)) from None


@lru_cache(maxsize=4096)
def _read_text(text: str, kind: str, leans: bool) -> Reading:
    """The reading of a text; a file says the same lengths again and again, and so does a change."""
    return _read(text, kind, leans=leans)


def _read(text: object, kind: str, *, leans: bool) -> Reading:
    if isinstance(text, (int, float)) and not isinstance(text, bool):
        if text == 0:
            return Reading(0.0, 0.0, None, "0", kind)
        bare = _digits(text)
        raise _Refusal(_finite_hint(bare) or _no_unit(bare, kind))
    if not isinstance(text, str):
        raise _Refusal(ALLOWED[kind])
    if len(text) > LONGEST:
        raise _Refusal(f"too long: at most {LONGEST} characters; {ALLOWED[kind]}")
    whole, source = _split_source(plain(text))
    value, *bands = (part.strip() for part in whole.split("±"))
    if len(bands) > 1:
        raise _Refusal("one tolerance is allowed, such as 174 in ± 1/8 in")
    number = _leaning(value, leans=leans) if kind == "angle" else _value(value, kind)
    return Reading(number, _tolerance(bands[0], kind) if bands else 0.0, source, text, kind)


def _shown(given: object) -> str:
    if isinstance(given, int) and not isinstance(given, bool):
        return _digits(given)
    if isinstance(given, str) and len(given) > LONGEST:
        return repr(given[:40] + "...")
    shown = repr(given)
    return shown if len(shown) <= 2 * LONGEST else f"{shown[:40]}..."


def _digits(number: float) -> str:
    huge = isinstance(number, int) and abs(number) >= 10**15
    return "a very large number" if huge else str(number)


def plain(text: str) -> str:
    """One spelling for dashes, primes, spaces and fractions that look alike."""
    out: list[str] = []
    for at, mark in enumerate(text):
        if not unicodedata.decomposition(mark).startswith("<fraction>"):
            out.append(mark)
            continue
        before = text[at - 1 : at].isdigit()
        after = text[at + 1 : at + 2].isdigit()
        out.append(" " * before + unicodedata.normalize("NFKC", mark) + " " * after)
    alike = "".join(out).translate(_PLAIN).replace("''", '"').replace("+/-", "±")
    return " ".join(alike.split())


def _split_source(whole: str) -> tuple[str, str | None]:
    match = _SOURCE.fullmatch(whole)
    if not match or match[2].lower() in ("us", "imp"):
        return whole, None
    source = match[2].lower()
    if source not in SOURCES:
        raise _Refusal(f"no such source; allowed in parentheses: {', '.join(SOURCES)}")
    return match[1].strip(), source


def _tolerance(part: str, kind: str) -> float:
    if part.startswith(("-", "+")):
        raise _Refusal("a tolerance has no sign of its own; write ± 1/8 in, for example")
    return _quantity(part, kind)


def _leaning(part: str, *, leans: bool) -> float:
    """A signed angle, or one with its sense in words, where outboard is positive."""
    match = _LEANS.fullmatch(part)
    if match is None:
        return _signed(part, "angle")
    word, size = (match[1] or match[4]).lower(), (match[2] or match[3]).strip()
    if not leans:
        raise _Refusal(f"this angle is not one outboard or inboard; write {size} or -{size}")
    if size.startswith(("-", "+")):
        raise _Refusal(f"a sign and {word} are two signs; write {size[1:].strip()} {word}")
    value = _quantity(size, "angle")
    return -value if word == "inboard" and value else value


def _value(part: str, kind: str) -> float:
    """A signed quantity, or a station with its side."""
    station = _STATION.fullmatch(part) if kind == "length" else None
    if not station:
        return _signed(part, kind)
    name, rest = station[1].upper(), station[2]
    if len(name) > 2:  # LBL, RBL: the side in front
        if _SIDE.fullmatch(rest):
            raise _Refusal(f"two sides; write BL 55.5 in {name[0]}")
        name, rest = "BL", f"{rest} {name[0]}"
    if _BARE.fullmatch(rest) and not _ZERO.fullmatch(rest):
        raise _Refusal(f"no unit; write {name} {rest} in or {name} {rest} mm")
    side = _SIDE.fullmatch(rest)
    if not side:
        return _signed(rest, kind)
    if name != "BL":
        raise _Refusal(f"only a butt line has a side; write {name} 142.5 in, for example")
    if rest[0] in "+-":
        raise _Refusal("a sign and a side are two signs; write BL 55.5 in L or BL -55.5 in")
    size = _quantity(side[1].strip(), kind)
    return -size if side[2].lower() in ("l", "left") and size else size


def _signed(part: str, kind: str) -> float:
    if not part.startswith(("-", "+")):
        return _quantity(part, kind)
    size = part[1:].strip()
    if size.startswith(("-", "+")):
        raise _Refusal("two signs; write one, such as -12 in")
    value = _quantity(size, kind)
    return -value if part[0] == "-" and value else value


def _quantity(part: str, kind: str) -> float:
    """An unsigned number with its unit, in SI."""
    if _ZERO.fullmatch(part):
        return 0.0
    hint = _hint(part, kind)
    if hint:
        raise _Refusal(hint)
    if kind == "length" and (match := _FEET_INCHES.fullmatch(part)):
        return _feet_inches(match[1], match[2])
    if kind == "angle" and (match := _DEGREES.fullmatch(part)):
        return _degrees(match[1], match[2], match[3])
    match = _SIMPLE.fullmatch(part)
    if not match:
        raise _Refusal(ALLOWED[kind])
    return to_si(_number(match[1]), _unit(match[1], match[2], kind))


def _hint(part: str, kind: str) -> str | None:
    """What is wrong with a text that is no quantity at all, if it is a mistake we know."""
    if not part:
        return f"nothing is written; {ALLOWED[kind]}"
    if part.startswith("#"):
        return f"a spreadsheet error, not a value; {ALLOWED[kind]}"
    if _BARE.fullmatch(part):
        return _no_unit(part, kind)
    return _finite_hint(part) or _comma_hint(part, kind)


def _finite_hint(part: str) -> str | None:
    return "not a finite number; write a plain number" if _NOT_FINITE.match(part) else None


def _no_unit(number: str, kind: str) -> str:
    first, second = USUAL_UNITS[kind]
    return f"no unit; write {number} {first} or {number} {second}"


def _comma_hint(part: str, kind: str) -> str | None:
    match = _COMMA_NUMBER.search(part)
    if not match:
        return None
    found = match[0]
    last = max(found.rfind(","), found.rfind("."))
    whole = re.sub("[.,]", "", found[:last]) or "0"
    as_point = f"{whole}.{found[last + 1 :]}".rstrip(".")
    as_group = re.sub("[.,]", "", found) or "0"
    rest = part[match.end() :] or f" {USUAL_UNITS[kind][0]}"
    if "." in found:
        return f"a comma in a number; write {as_point}{rest}"
    if found.count(",") > 1:
        return f"a comma in a number; write {as_group}{rest}"
    return f"a comma can be read two ways; write {as_point}{rest} or {as_group}{rest}"


def _number(text: str) -> Fraction:
    """A decimal, a proper fraction, or a whole number and a proper fraction."""
    if "/" not in text:
        return Fraction(text)
    *whole, part = re.split("[ -]", text)
    above, below = (int(digits) for digits in part.split("/"))
    if below == 0:
        raise _Refusal(f"{part} divides by zero; write a fraction such as 5/8")
    count = int(whole[0]) if whole else 0
    if above >= below:
        units, rest = divmod(above, below)
        tidy = f"{count + units} {Fraction(rest, below)}" if rest else f"{count + units}"
        raise _Refusal(f"{part} is not less than one; if that is meant, write {tidy}")
    return count + Fraction(above, below)


def _unit(number: str, written: str, kind: str) -> str:
    """The unit as spelled in the table, if it is one of this kind."""
    unit = re.sub(r" ?\( ?(\w+) ?\)", r" (\1)", written.lower())
    unit = re.sub(r" ?/ ?", "/", unit).replace("^", "")
    if unit in SPELLINGS[kind]:
        return unit
    asked = COUNTRYLESS.get(unit) if kind in ("volume", "density") else None
    if asked is not None:
        word, short = asked
        raise _Refusal(f"which {word}? write {number} {short} (US) or {number} {short} (imp)")
    if unit in FORCES:
        raise _Refusal(f"{written} is a unit of force; {ALLOWED[kind]}")
    other = kind_of(unit)
    if other:
        raise _Refusal(f"{written} is a unit of {other.replace('_', ' ')}; {ALLOWED[kind]}")
    raise _Refusal(ALLOWED[kind])


def _feet_inches(feet: str, inches: str) -> float:
    if not feet.isdecimal():
        raise _Refusal("feet in front of inches are whole; write 11'-4 1/2\" or 11.375 ft")
    rest = _number(inches)
    if rest >= 12:
        more, left = divmod(rest, 12)
        tidy = f"{int(feet) + more} ft {_mixed(left)} in"
        raise _Refusal(f"inches behind feet stay below 12; if that is meant, write {tidy}")
    return to_si(int(feet) * 12 + rest, "in")


def _mixed(number: Fraction) -> str:
    whole, part = divmod(number, 1)
    return f"{whole} {part}" if part and whole else f"{part or whole}"


def _degrees(degrees: str, minutes: str, seconds: str | None) -> float:
    leading = (degrees,) if seconds is None else (degrees, minutes)
    if not all(text.isdecimal() for text in leading):
        raise _Refusal("only the last part may have decimals; write 2° 30' or 2.5 deg")
    parts = (_number(minutes), _number(seconds or "0"))
    if max(parts) >= 60:
        raise _Refusal("minutes and seconds stay below 60; write 2° 30' 15\", for example")
    return to_si(int(degrees) + parts[0] / 60 + parts[1] / 3600, "deg")
