"""Sizes that no aircraft, room or carrier of a builder has: a mistyped unit, in all likelihood.

Every figure here is an assumption, set wide: a model of 1 m span and a hangar of 150 m are inside.
They keep memory and time bounded too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from planform.design.naming import Path, path_text
from planform.design.problems import Problem
from planform.design.reading import Reading
from planform.design.units import INCH, show
from planform.design.vary import readings

MOST = {
    "length": 300.0,
    "angle": 2.0 * math.pi,
    "mass": 100_000.0,
    "volume": 100.0,
    "density": 25_000.0,
    "moment": 1e7,
    "percent": 10.0,
    "force": 50_000.0,
}
"""The greatest value of any reading, by its kind, either side of zero [SI]; assumption."""

LEAST_LENGTH = 1e-4
"""The least of a length that is above zero [m]; assumption."""

TOLERANCE = 1.0
"""The greatest tolerance of a length [m]; assumption. More is no measurement."""

SIZES: dict[tuple[str, str], tuple[float, float]] = {
    ("LiftingCut", "chord"): (0.002, 30.0),
    ("LiftingCut", "length"): (0.005, 75.0),
    ("Winglet", "length"): (0.005, 30.0),
    ("Winglet", "root_chord"): (0.002, 30.0),
    ("Winglet", "tip_chord"): (0.002, 30.0),
    ("BodyCut", "half_width"): (0.0005, 15.0),
    ("Propeller", "diameter"): (0.02, 20.0),
    ("Propeller", "depth"): (0.0005, 5.0),
    ("Wheel", "diameter"): (0.003, 5.0),
    ("Wheel", "width"): (0.0005, 3.0),
    ("Panel", "width"): (0.005, 20.0),
    ("LiftStrut", "diameter"): (0.0005, 0.5),
    ("LiftStrut", "chord"): (0.0005, 1.0),
    ("LiftStrut", "thickness"): (0.0002, 0.5),
    ("Rod", "length"): (0.002, 5.0),
    ("Rod", "diameter"): (0.0005, 0.5),
    ("Box", "fore_aft"): (0.0005, 3.0),
    ("Box", "across"): (0.0005, 3.0),
    ("Box", "upright"): (0.0005, 3.0),
    ("Floor", "width"): (0.5, 300.0),
    ("Floor", "depth"): (0.5, 300.0),
    ("Floor", "wall_thickness"): (0.0, 10.0),
    ("Ceiling", "height"): (0.3, 100.0),
    ("RaisedFloor", "height"): (0.01, 20.0),
    ("Level", "height"): (0.1, 100.0),
    ("Gable", "eaves"): (0.1, 100.0),
    ("Gable", "ridge"): (0.3, 100.0),
    ("Hip", "eaves"): (0.1, 100.0),
    ("Hip", "ridge"): (0.3, 100.0),
    ("Arch", "rise"): (0.01, 100.0),
    ("Door", "clear_width"): (0.05, 300.0),
    ("Door", "clear_height"): (0.05, 100.0),
    ("Bed", "length"): (0.1, 60.0),
    ("Bed", "width"): (0.1, 20.0),
    ("GivenMac", "mac"): (0.002, 30.0),
}
"""Least and greatest of single fields [m]; assumptions."""

OVERALL = (0.4, 150.0)
"""Least and greatest extent of a whole aircraft, and of its span [m]; assumption."""

FLOOR = (0.5, 300.0)
"""Least and greatest extent of a floor given by its corners [m]; assumption."""

LONGEST_LIST = 200
"""Entries of one list: corners, obstacles, masses, cases; assumption."""

WHOLE_FILE = 8000
"""Values of a whole file; assumption. The demo design of three seats has about 500."""

SLIP = "is the unit right?"


def said(value: float, kind: str = "length") -> str:
    """A bound in both systems, as it is not known which one its reader knows."""
    if kind != "length":
        shown = [show(value, kind, system) for system in ("m", "in")]
        return shown[0] if shown[0] == shown[1] else f"{shown[0]} ({shown[1]})"
    metric = f"{value * 1000.0:g} mm" if value < 1.0 else f"{value:g} m"
    inches = value / INCH
    return f"{metric} ({f'{inches:.2g} in' if inches < 48.0 else f'{inches / 12.0:.0f} ft'})"


def too_large(reading: Reading) -> str | None:
    """What is allowed instead of a reading beyond the bounds of its kind; None where it is good."""
    most = MOST.get(reading.kind)
    if most is not None and abs(reading) > most:
        return f"allowed: at most {said(most, reading.kind)}; {SLIP}"
    if reading.kind == "length" and reading.tolerance > TOLERANCE:
        return f"allowed: a tolerance of at most {said(TOLERANCE)}; measure it"
    return None


def too_many(table: dict[str, Any]) -> Iterator[Problem]:
    """Lists and files of more than can be meant, told before anything is done with them."""
    total = 0
    level: list[tuple[Path, Any]] = [((), table)]
    while level:
        path, item = level.pop()
        inner = list(item.items()) if isinstance(item, dict) else list(enumerate(item))
        total += len(inner)
        if path and len(inner) > LONGEST_LIST:
            allowed = f"allowed: at most {LONGEST_LIST} entries"
            yield Problem(path_text(path), f"{len(inner)} entries", allowed)
            return
        if total > WHOLE_FILE:
            yield Problem("", f"more than {WHOLE_FILE} values", "is this the right file?")
            return
        level += [((*path, key), one) for key, one in inner if isinstance(one, dict | list)]


def out_of_size(item: object, path: Path = ()) -> Iterator[Problem]:
    """Fields with a size that none of their kind has."""
    if isinstance(item, BaseModel):
        for name in type(item).model_fields:
            value = getattr(item, name, None)
            bound = SIZES.get((type(item).__name__, name))
            if bound is None:
                yield from out_of_size(value, (*path, name))
                continue
            for inner, reading in readings(value, (*path, name)):
                if not bound[0] <= reading <= bound[1]:
                    allowed = f"allowed: {said(bound[0])} to {said(bound[1])}; {SLIP}"
                    yield Problem(path_text(inner), repr(reading.text), allowed)
    elif isinstance(item, dict):
        for key, value in item.items():
            yield from out_of_size(value, (*path, key))
    elif isinstance(item, tuple):
        for k, value in enumerate(item):
            yield from out_of_size(value, (*path, k))


def overall(
    path: str, extents: dict[str, float], bound: tuple[float, float], rests: tuple[str, ...]
) -> Iterator[Problem]:
    """The problem of a whole thing that is too large or too small.

    extents : what it is in each direction [m], by what that is called
    rests : the fields that they come from
    """
    if not extents:
        return
    name, most = max(extents.items(), key=lambda pair: pair[1])
    if not bound[0] <= most <= bound[1]:
        allowed = f"allowed: {said(bound[0])} to {said(bound[1])}; {SLIP}"
        yield Problem(path, f"{most:.4g} m {name} in all", allowed, rests)
