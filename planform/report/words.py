"""Values in the reader's units, and the cautions that stand on every sheet."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from planform.design.units import INCH, KINDS, LENGTH_STEP, POUND, SQUARE_FOOT, show, to_si
from planform.sheet.tables import Band, Words, stated

if TYPE_CHECKING:
    from planform.design.place import Place
    from planform.fit.check import Check

BALANCE_CAUTIONS = (
    "A weight and balance record is made by weighing, by a person entitled to sign it. What is "
    "estimated here plans a lift or a move, never a flight.",
    "The limits are the user's own, from the designer and flight test; none is made up here. "
    "Body, propeller and stall are in none of these figures: a body commonly moves the neutral "
    "point forward by several % MAC.",
    "Ground ballast is tagged, in a place where it is seen, and is not flight ballast; take it "
    "out before the aircraft is loaded. Flight ballast is fixed and entered in the record.",
    "A canard's empty CG is far aft: before anyone steps off, the engine goes on or a foreplane "
    "comes off, hold the nose down or support the tail. Keep out from under the nose and clear "
    "of the propeller; a nose that rises goes fast.",
    "Weigh in a closed building, level, with the tare of chocks and stands known and the fluids "
    "aboard written down; chock the wheels and steady the aircraft on its scales.",
)

CAUTIONS = (
    "Planning aid only. Structure, loads and airworthiness are the designer's and a licensed "
    "person's to judge; nothing here approves a flight.",
    "Weights given here plan a lift. A weight and balance record is made by weighing, by a person "
    "entitled to sign it.",
    "Before lifting or blocking: chock, support the tail, keep hands and heads out from under, and "
    "never trust a single jack or hoist.",
    "Measure the door opening again on the day, doors fully open, and put a walker at each tip, "
    "the nose and the propeller; one word stops all.",
    "Open canopies and doors fall: pin the struts. Stand ladders on level ground. Look up for "
    "lines and lamps before anything tall goes outside.",
    "Local building, fire and electrical codes come first, whatever a clearance here says.",
)


ROOM_SIDES = (
    "Left and right of the room: as one stands inside with the front wall behind. Of the aircraft: "
    "as one sits in it. Walls and jambs beside a door: before it and past it, from the corner that "
    "it is measured from."
)
"""The one rule for sides, told on every page with a room."""


def plain_kind(kind: str) -> str:
    """The kind of quantity behind a measure's kind: a station is a length."""
    return KINDS.get(kind, kind)


def said(value: float, kind: str, system: str) -> str:
    """A value as text; stations, butt lines and waterlines stay in inches or millimetres.

    'fine' is a length told finer than a tape reads: to 0.01 in or 0.1 mm; 'fine_up' never less.
    'gap' is a clearance, never rounded up; 'over' an overlap or a lack, never rounded down.
    'mass_up', 'volume_up' are rounded up and 'mass_down' down, to a tenth, so that the safe side
    is shown; with '_fine' to a thousandth.
    """
    if kind in ("station", "butt", "water"):
        unit = "in" if system in ("ft-in", "in") else "mm"
        if kind == "butt":
            side = "" if abs(value) < 0.5e-4 else " R" if value > 0.0 else " L"
            return f"BL {show(abs(value), 'length', unit)}{side}"
        return f"{'FS' if kind == 'station' else 'WL'} {show(value, 'length', unit)}"
    if kind in ("fine", "fine_up"):
        inches = system in ("ft-in", "in")
        if kind == "fine_up":
            step = 0.01 * INCH if inches else 1e-4
            value = math.ceil(value / step - 1e-6) * step
        return f"{value / INCH:z.2f} in" if inches else f"{value * 1000.0:z.1f} mm"
    if kind in ("gap", "over"):
        step = LENGTH_STEP[system]
        whole = math.floor(value / step + 1e-6) if kind == "gap" else math.ceil(value / step - 1e-6)
        return show(whole * step, "length", system)
    if kind == "drag_area":
        feet = system in ("ft-in", "in")
        return f"{value / SQUARE_FOOT:z.3f} ft2" if feet else f"{value:z.4f} m2"
    if kind == "percent_fine":
        return f"{value * 100.0:z.3f} %"
    if kind == "coefficient":
        return f"{value:z.5f}"
    if "_up" in kind or kind == "mass_down":
        return _to_the_safe_side(value, kind, system)
    return show(value, kind, system)


def _to_the_safe_side(value: float, kind: str, system: str) -> str:
    """A value rounded up, or down for 'mass_down'; noise of the last bits apart."""
    feet = system in ("ft-in", "in")
    unit = {"mass": ("kg", "lb"), "volume": ("L", "gal (US)")}[KINDS[kind]][feet]
    places = 3 if kind.endswith("_fine") else 1
    steps = value / to_si(1, unit) * 10**places
    down = kind == "mass_down"
    whole = math.floor(steps + 1e-9) if down else math.ceil(steps - 1e-9)
    return f"{whole / 10**places:.{places}f} {unit}"


def reader(system: str) -> Callable[[float, str], str]:
    """How values are said in a system of units."""
    return lambda value, kind: said(value, kind, system)


def counted(count: int, noun: str) -> str:
    """How many of a thing: no steps, 1 step, 2 steps."""
    return f"{count or 'no'} {noun}{'' if count == 1 else 's'}"


def plus_minus(value: float, kind: str, system: str) -> str:
    """A tolerance as text, finer than the values themselves; empty where there is none."""
    fine = kind in ("drag_area", "coefficient", "percent_fine")
    if fine and value > 0.0:
        return f"± {said(value, kind, system)}"
    kind = plain_kind(kind)
    if not stated(value, kind):
        return ""
    inches = system in ("ft-in", "in")
    if kind == "angle":
        return f"± {math.degrees(value):.2f}°"
    if kind == "length":
        return f"± {value / INCH:.2f} in" if inches else f"± {value * 1000.0:.1f} mm"
    if kind == "area":
        return f"± {value / SQUARE_FOOT:.2f} ft2" if inches else f"± {value:.3f} m2"
    if kind == "mass":
        return f"± {value / POUND:.1f} lb" if inches else f"± {value:.2f} kg"
    if kind == "percent":
        return f"± {value * 100.0:.2f} %"
    return f"± {value:.3f}"


def curved(check: Check, system: str) -> str:
    """What of a gap is taken off for curves, where a tape would show it."""
    if check.curves < 0.0005:
        return ""
    return f"{said(check.curves, 'over', system)} taken off for curves that stand beyond the facets"


def whence(place: Place, check: Check) -> str:
    """Where a wanted clearance comes from, where the place takes any of them from a guide."""
    return f"wanted: {check.wanted_from}" if place.clearances.guide and check.wanted_from else ""


def cell(value: Any, system: str) -> str:
    """A cell of a sheet's table as text: words, or a value with its tolerance."""
    if value is None or isinstance(value, str):
        return value or ""
    if isinstance(value, Words):
        return value.filled([said(v.value, v.kind, system) for v in value.values])
    if isinstance(value, Band):
        return plus_minus(value.value, value.kind, system)
    worst = plus_minus(value.worst, value.kind, system)
    return said(value.value, value.kind, system) + (f" {worst}" if worst else "")
