"""Values told in the reader's units."""

from __future__ import annotations

import math
import re
from collections.abc import Callable

from planform.design.units import INCH, KINDS, LENGTH_STEP, POUND, SQUARE_FOOT, show, to_si


def plain_kind(kind: str) -> str:
    """The kind of quantity behind a measure's kind: a station is a length."""
    return KINDS.get(kind, kind)


PLACES = {
    "percent_fine": (100.0, 3, " %"),
    "angle_fine": (math.degrees(1.0), 2, " deg"),
    "coefficient": (1.0, 5, ""),
}
"""Kinds told alike in every system: a factor from SI, decimals, and the unit behind them."""


def said(value: float, kind: str, system: str) -> str:
    """A value as text; stations, butt lines and waterlines stay in inches or millimetres.

    'fine' is a length told finer than a tape reads: to 0.01 in or 0.1 mm; 'fine_up' never less.
    'thin' is a shim: to 0.001 in or 0.01 mm.
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
    if kind == "thin":
        inches = system in ("ft-in", "in")
        return f"{value / INCH:z.3f} in" if inches else f"{value * 1000.0:z.2f} mm"
    if kind in ("gap", "over"):
        step = LENGTH_STEP[system]
        whole = math.floor(value / step + 1e-6) if kind == "gap" else math.ceil(value / step - 1e-6)
        return show(whole * step, "length", system)
    if kind == "drag_area":
        feet = system in ("ft-in", "in")
        return f"{value / SQUARE_FOOT:z.3f} ft2" if feet else f"{value:z.4f} m2"
    if kind in PLACES:
        factor, places, unit = PLACES[kind]
        return f"{value * factor:z.{places}f}{unit}"
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


def stage_title(stage: str, stance: str) -> str:
    """Stage and stance as they stand in titles: “complete, kneeling”."""
    return stage + with_stance(stage, stance)


def with_stance(stage: str, stance: str) -> str:
    """What a stage's name lacks of its stance: a comma and it; empty where the name tells it."""
    held = re.search(rf"(?<!\w){re.escape(stance.lower())}(?!\w)", stage.lower())
    return "" if held else f", {stance}"


def counted(count: int, noun: str) -> str:
    """How many of a thing: no steps, 1 step, 2 steps."""
    return f"{count or 'no'} {noun}{'' if count == 1 else 's'}"


LEAST_BAND = 1e-4
"""Lengths that tolerances move by less than this [m] show none; assumption."""


def stated(value: float, kind: str) -> bool:
    """Whether tolerances do anything that is shown; else its place is blank, in every table."""
    return value > (LEAST_BAND if KINDS.get(kind, kind) == "length" else 0.0)


def plus_minus(value: float, kind: str, system: str) -> str:
    """A tolerance as text, finer than the values themselves; empty where it shows nothing."""
    text = _plus_minus(value, kind, system)
    return text if re.search("[1-9]", text.partition(" ")[2].partition(" ")[0]) else ""


def _plus_minus(value: float, kind: str, system: str) -> str:
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
    if kind == "moment":
        return f"± {show(value, kind, system)}"
    return f"± {value:.3f}"
