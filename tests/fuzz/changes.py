"""Random changes of design, place and carrier files: the mistakes a hand makes, and worse."""

from __future__ import annotations

import copy
import datetime
import math
import random
import tomllib
from collections.abc import Iterator
from functools import cache
from typing import Any

from tests.conftest import DESIGNS, PLAIN, ROOM

HOSTILE = (
    "<script>document.title='run'</script>",
    '"><img src=x onerror="document.title=1">',
    "a & b",
    "]]>",
    "{{ 7 * 7 }}{% raw %}",
    "[bold]in brackets[/bold] [/]",
    "$x$ and $\\frac{1}{0}$",
    "=1+1",
    "-2+3",
    "@here",
    'it\'s "quoted"',
    "../../up",
    "..",
    ".",
    "a/b\\c",
    "CON",
    "left main",
    "%s {0} {name}",
    "é ü 漢字 🛩",
    "name, with, commas",
    "a.b[3].c",
    " ",
    "",
    "x" * 61,
    "line\nbreak",
    "bell\x07",
    "tab\tinside",
    "\x1b[31mred",
    "right\u202eleft",
    "\u200b",
)
"""Texts that some writer could take for more than a text."""

VALUES: tuple[Any, ...] = (
    "0 mm",
    "-1 mm",
    "1 mm",
    "5 mm",
    "100 in",
    "-40 in",
    "80 ft",
    "150 m",
    "9000 m",
    "9" * 70 + " m",
    "0." + "0" * 60 + "1 in",
    "1/3 in",
    "2 m ± 1 m",
    "3 m ± 900 m (measured)",
    "10 in ± 0 in (assumed)",
    "0 deg",
    "1 deg",
    "-12 deg",
    "45 deg",
    "89.9999 deg",
    "90 deg",
    "-90 deg",
    "180 deg",
    "721 deg",
    "1e3 mm",
    "0 kg",
    "1 g",
    "300 kg",
    "1100 gal (US)",
    "1 L",
    "10000 t",
    "-3 lb in",
    "40 %",
    "-5000 %",
    "9 lb/gal (US)",
    "BL 12 in L",
    "FS -400 in",
    "",
    "text",
    0,
    -1,
    3,
    2.5,
    math.nan,
    math.inf,
    10**400,
    True,
    False,
    [],
    {},
    [[]],
    ["1 m", "2 m"],
    ["nose", "main"],
    {"fs": "1 m", "bl": "0 m", "wl": "1 m"},
    datetime.date(2024, 2, 29),
    datetime.time(1, 2),
    "both",
    "left",
    "right",
    "centre",
    "up",
    "down",
    "wing",
    "fin",
    "NACA 0000",
    "NACA 9999",
    "NACA 2412",
)
"""Values that go to any field."""

BANDS = ("1 mm", "1/8 in (measured)", "100 mm", "3 ft", "0.5 deg", "20 deg (assumed)", "5 kg")
"""Tolerances that go to any number."""

FACTORS = (25.4, 1 / 25.4, 1000.0, 0.001, 12.0, 1 / 12, -1.0, 0.5, 2.0, 1.05, 0.95, 0.0)
"""What a number is taken times: mistyped units, signs, and a little more or less."""


@cache
def tables_of(sort: str) -> list[dict[str, Any]]:
    """The files that are changed (copies of them), of one sort."""
    names = {
        "design": ("quillwort", "marram", "samphire"),
        "place": ("garden-shed", "boatshed", "barn"),
        "carrier": ("flat-trailer", "box-container"),
    }[sort]
    out = [tomllib.loads((DESIGNS / f"{name}.toml").read_text("utf-8")) for name in names]
    own = {"design": PLAIN, "place": ROOM}.get(sort)
    return [*out, *([own] * 2 if own else [])]


def changed(table: dict[str, Any], dice: random.Random) -> dict[str, Any]:
    """A copy with one to three changes."""
    out = copy.deepcopy(table)
    for _ in range(dice.choice((1, 1, 1, 2, 3))):
        _change(out, dice)
    return out


def _spots(node: Any) -> Iterator[tuple[Any, Any]]:
    """Every container with every key or number in it."""
    items = node.items() if isinstance(node, dict) else enumerate(node)
    for key, value in list(items):
        yield node, key
        if isinstance(value, dict | list):
            yield from _spots(value)


def _change(table: dict[str, Any], dice: random.Random) -> None:
    spots = list(_spots(table))
    if not spots:
        return
    holder, key = dice.choice(spots)
    kind = dice.choice(("value", "value", *["number"] * 5, "text", "shape", "shape"))
    if kind == "value":
        holder[key] = copy.deepcopy(dice.choice(VALUES))
    elif kind == "number":
        numbers = [(h, k) for h, k in spots if isinstance(h[k], str) and h[k][:1] in "-.0123456789"]
        numbers = numbers or [(h, k) for h, k in spots if isinstance(h[k], str)]
        if numbers:
            holder, key = dice.choice(numbers)
            other, there = dice.choice(numbers)
            scaled = _scaled(str(holder[key]), dice.choice(FACTORS))
            banded = f"{str(holder[key]).partition(' ±')[0]} ± {dice.choice(BANDS)}"
            holder[key] = dice.choice((scaled, scaled, banded, other[there]))
    elif kind == "text":
        texts = [(h, k) for h, k in spots if isinstance(h[k], str)]
        if texts:
            holder, key = dice.choice(texts)
            holder[key] = dice.choice(HOSTILE)
    else:
        _reshape(holder, key, spots, dice)


def _scaled(text: str, factor: float) -> str:
    """A number with its unit, taken times a factor; what is no plain number stays."""
    number, space, unit = text.partition(" ")
    try:
        return f"{float(number) * factor:.6f}{space}{unit}"
    except ValueError:
        return text


def _reshape(holder: Any, key: Any, spots: list[tuple[Any, Any]], dice: random.Random) -> None:
    way = dice.choice(("drop", "again", "swap", "rename", "extra", "empty", "reverse", "copy"))
    value = holder[key]
    if way == "drop":
        del holder[key]
    elif way == "again" and isinstance(holder, list):
        holder.insert(key, copy.deepcopy(value))
    elif way == "rename" and isinstance(holder, dict):
        holder[dice.choice((*HOSTILE, "wing", "left main", "propeller"))] = holder.pop(key)
    elif way == "extra" and isinstance(holder, dict):
        holder[dice.choice(HOSTILE) or "extra"] = copy.deepcopy(value)
    elif way == "empty":
        holder[key] = {} if isinstance(value, dict) else [] if isinstance(value, list) else ""
    elif way == "reverse" and isinstance(value, list):
        value.reverse()
    else:
        other, there = dice.choice(spots)
        theirs = copy.deepcopy(other[there])
        if way == "swap":
            other[there] = copy.deepcopy(value)
        holder[key] = theirs


def written(table: dict[str, Any]) -> str:
    """The table as TOML."""
    return "".join(f"{_text(key)} = {_inline(value)}\n" for key, value in table.items())


def _inline(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_text(k)} = {_inline(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_inline, value)) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    return _text(value) if isinstance(value, str) else str(value)


def _text(text: str) -> str:
    out = []
    for mark in text:
        plain = mark >= " " and mark not in '"\\\x7f'
        out.append(mark if plain else f"\\u{ord(mark):04x}")
    return '"' + "".join(out) + '"'
