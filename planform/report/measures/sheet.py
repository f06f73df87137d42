"""The dimension sheet for hangar planning, as data: rows that every writer prints alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import chain

from planform.airframe.airfield import code_letter, design_group
from planform.airframe.measure import BIG, Measures
from planform.airframe.stance import Standing
from planform.core.spread import Spread
from planform.design.gear import Wheel
from planform.design.models import Design
from planform.design.sided import SIDES, on_side
from planform.design.told import said
from planform.report.writers.csv import csv_text


@dataclass(frozen=True)
class Row:
    """One line of the sheet: what, stage and stance, SI value, kind of quantity, tolerance.

    asked : what a builder asks who wants it, of `QUESTIONS` in airframe/measure.py
    """

    what: str
    where: str
    value: float
    kind: str
    worst: float = 0.0
    rss: float = 0.0
    asked: str = BIG


KEYS = (
    "length",
    "width",
    "height",
    "tip_height",
    "lowest_point",
    "propeller_ground_clearance",
    "footprint.area",
    "footprint.hull_area",
    "footprint.rectangle_long",
    "footprint.rectangle_short",
    "turning_circle_axle",
    "turning_circle_wheel",
    "pitch",
)


OF_PANELS = (".open_angle", ".free_edge", ".headroom")


def rows(
    heights: tuple[Measures, ...], spreads: tuple[dict[str, Spread], ...]
) -> tuple[tuple[Row, ...], ...]:
    """The sheet's lines of each stage."""
    return tuple(_rows(*pair) for pair in zip(heights, spreads, strict=True))


def _rows(found: Measures, spread: dict[str, Spread]) -> tuple[Row, ...]:
    out = []
    for item in found.items:
        if item.key in KEYS or item.key.endswith(OF_PANELS):
            s = spread.get(item.key, Spread())
            out.append(
                Row(item.label, item.reference, item.value, item.kind, s.worst, s.rss, item.asked)
            )
    return tuple(out)


def classes(design: Design, standing: Standing, found: Measures) -> tuple[str, ...]:
    """Airfield classes of the aircraft as it stands, with their sources."""
    return tuple(
        f"{what} {one} ({standing.title}; {source})"
        for what, one, source in airfield_classes(design, found)
    )


def airfield_classes(design: Design, found: Measures) -> tuple[tuple[str, str, str], ...]:
    """What each airfield class is called, the aircraft's own one, and its source."""
    wheels = [w for w in design.wheels.values() if w.side == "both"]
    gear = max((sum(map(_reach, SIDES, (w, w))) for w in wheels), default=None)
    return (
        (
            "Airplane design group",
            _of(design_group, found["width"], found["height"]),
            "FAA AC 150/5300-13, Table 1-1",
        ),
        (
            "Aerodrome code letter",
            _of(code_letter, found["width"], gear),
            "ICAO Annex 14 Vol. I, Table 1-1",
        ),
    )


def _reach(side: str, wheel: Wheel) -> float:
    """How far out the wheel of a pair on one side reaches [m]."""
    one = on_side(wheel, side)
    return float(one.bl) + 0.5 * float(one.width)


def _of(named: Callable[..., str], *sizes: float | None) -> str:
    """The class by its name, or that the aircraft is larger than the last of its table."""
    try:
        return named(*sizes)
    except ValueError as error:
        return f"none, {error}"


def sheet_csv(lines: Sequence[Sequence[Row]], system: str) -> str:
    """The sheet as CSV: SI values with their units, and as they are read."""
    from planform.design.units import SI_UNIT

    lines_of: list[Sequence[object]] = [
        ("what", "stage and stance", "value", "unit", "worst case", "root sum square", "as read")
    ]
    for row in chain.from_iterable(lines):
        lines_of.append(
            (
                row.what,
                row.where,
                f"{row.value:.4f}",
                SI_UNIT[row.kind],
                f"{row.worst:.4f}" if row.worst else "",
                f"{row.rss:.4f}" if row.rss else "",
                said(row.value, row.kind, system),
            )
        )
    return csv_text(lines_of)
