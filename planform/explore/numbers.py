"""The numbers of the files as the page takes them: words, texts, and a slider for each."""

from __future__ import annotations

import math
import re
from dataclasses import asdict, dataclass
from functools import lru_cache

from planform.design.changing import PLACE, Source, bare
from planform.design.naming import Path, path_text, value_at, words_for
from planform.design.number_fields import NumberField, number_fields
from planform.design.reading import Reading, Shared
from planform.design.units import factor, kind_of, show_unit

THINGS = ("obstacles", "hoists", "cars", "kept_free", "spots")
"""Lists of a place whose things stand somewhere on the floor and can be moved there."""

POINTS = ("outline", "centre", "line", "at", "hinge", "shut")
"""Fields that hold points of the floor, which move with their thing."""

STEPS = {"in": 1 / 16, "mm": 1.0, "cm": 0.1, "m": 0.001, "ft": 1 / 192, "deg": 0.25, "rad": 0.005}
"""How far one step of a slider goes, in its unit."""

TURN = math.radians(20.0)
ROUND = math.pi
ASIDE = 0.6
COUNTED = 3
"""How far a slider goes to either side of an angle, a heading, a station and a count; assumptions.
"""


@dataclass(frozen=True)
class Slider:
    """A number of a file as the page shows and moves it; values in SI.

    bare : its text without tolerance and source
    least, most : what is allowed ; start, end, step : the range of a slider
    unit, factor, lead : a slider writes lead, number and unit; factor is SI for one unit
    file : the included file that it is in ; shared : the values that it stands on
    moves, axis : the thing that it moves along "x", "y" or "heading"
    """

    path: str
    label: str
    where: str
    kind: str
    text: str
    bare: str
    value: float
    tolerance: float
    source: str
    least: float | None
    most: float | None
    start: float
    end: float
    step: float
    unit: str
    factor: float
    lead: str
    says: str
    file: str
    shared: tuple[str, ...]
    moves: str
    axis: str

    def record(self) -> dict[str, object]:
        """The number as JSON has it."""
        held = asdict(self)
        return {{"start": "from", "end": "to"}.get(key, key): one for key, one in held.items()}


def sliders(source: Source) -> list[dict[str, object]]:
    """All numbers of a file."""
    return [_slider(source, one).record() for one in number_fields(source)]


def _slider(source: Source, one: NumberField) -> Slider:
    number, path = one.number, one.path
    reading = number if isinstance(number, Reading) else None
    kind = reading.kind if reading is not None else "ratio"
    text = f"{number:g}" if reading is None else reading.text
    unit, lead = written_in(text, kind, source.model.units)
    size = float(factor(unit)) if unit else 1.0
    start, end = _range(float(number), kind, str(path[-1]), one)
    step = STEPS.get(unit, 0.1 if unit else 0.01) * size
    origin = source.whole.origin(path)
    moves, axis = _moves(source, path)
    return Slider(
        path=path_text(path),
        label=words_for(source.model, path),
        where=path_text(path[:2]),
        kind=kind,
        text=text,
        bare=bare(text),
        value=float(number),
        tolerance=0.0 if reading is None else reading.tolerance,
        source="" if reading is None else reading.source or "",
        least=one.least,
        most=one.most,
        start=start,
        end=end,
        step=step if not isinstance(number, int) else 1.0,
        unit=unit,
        factor=size,
        lead=lead,
        says=one.says,
        file="" if origin is None else origin[0],
        shared=_shared(number),
        moves=moves,
        axis=axis,
    )


_LEAD = re.compile(r"[LR]?(FS|BL|WL) ", re.IGNORECASE)
_UNIT = re.compile(r"[0-9] ?([^0-9 .,/+*-].*?)(?: (?:L|R|left|right))?$")


def written_in(text: str, kind: str, system: str) -> tuple[str, str]:
    """The unit that a quantity is written in, and FS, BL or WL before it.

    The usual one of the file where it has none, or feet or degrees with others.
    """
    if kind == "ratio":
        return "", ""
    usual = show_unit(kind, system)
    plain = bare(text)
    lead = _LEAD.match(plain)
    found = _UNIT.search(plain[lead.end() :] if lead else plain)
    unit = found[1].strip() if found else ""
    unit = {'"': "in", "inches": "in", "°": "deg"}.get(unit, unit)
    known = kind_of(unit) == kind and unit not in ("ft", "'")
    return (unit if known else usual), (f"{lead[1].upper()} " if lead else "")


def _range(value: float, kind: str, field: str, one: NumberField) -> tuple[float, float]:
    """A range that one would move a value in, within what is allowed."""
    if isinstance(one.number, int):
        low, high = value - COUNTED, value + COUNTED
    elif kind == "angle":
        aside = ROUND if field == "heading" else TURN
        low, high = value - aside, value + aside
    elif one.least is None or one.least < 0.0:
        aside = max(ASIDE if kind == "length" else 0.0, 0.25 * abs(value))
        low, high = value - aside, value + aside
    else:
        low, high = 0.5 * value, 1.5 * value if value else 0.3
    low = low if one.least is None else max(low, one.least)
    high = high if one.most is None else min(high, one.most)
    return low, max(low, high)


def _shared(number: float) -> tuple[str, ...]:
    shares = number.shares if isinstance(number, Shared) else ()
    return tuple(path_text(share.path) for share in shares)


def _moves(source: Source, path: Path) -> tuple[str, str]:
    """The thing of the room that a number moves, and along what; empty where none."""
    if source.sort != PLACE or path[0] not in THINGS or len(path) < 3:
        return "", ""
    thing = getattr(value_at(source.model, path[:2]), "name", "")
    if path[2:] == ("heading",):
        return thing, "heading"
    fields = [step for step in path[2:-1] if isinstance(step, str)]
    if path[-1] in (0, 1) and fields and fields[-1] in POINTS:
        return thing, "xy"[int(path[-1])]
    return "", ""


@lru_cache(maxsize=4)
def movable(source: Source) -> frozenset[str]:
    """The things of a place that its numbers move."""
    found = (_moves(source, one.path)[0] for one in number_fields(source))
    return frozenset(name for name in found if name)
