"""Airfield classes of an aircraft by its size."""

from __future__ import annotations

import math

from planform.design.units import FOOT

DESIGN_GROUPS = (
    ("I", 49.0, 20.0),
    ("II", 79.0, 30.0),
    ("III", 118.0, 45.0),
    ("IV", 171.0, 60.0),
    ("V", 214.0, 66.0),
    ("VI", 262.0, 80.0),
)
"""Group, wingspan and tail height below which it holds [ft]: FAA AC 150/5300-13, Table 1-1."""

CODE_LETTERS = (
    ("A", 15.0, 4.5),
    ("B", 24.0, 6.0),
    ("C", 36.0, 9.0),
    ("D", 52.0, 14.0),
    ("E", 65.0, 14.0),
    ("F", 80.0, 16.0),
)
"""Letter, wingspan and outer main gear span below which it holds [m]: ICAO Annex 14 Vol. I,
Table 1-1 (the gear span stands in older editions only)."""


def design_group(wingspan: float, tail_height: float) -> str:
    """Airplane design group; the more demanding of span and height governs.

    wingspan, tail_height : [m], above zero; a boundary value belongs to the higher group
    """
    for name, span, height in DESIGN_GROUPS:
        if _below(wingspan, span * FOOT) and _below(tail_height, height * FOOT):
            return name
    raise ValueError(f"larger than group VI: {wingspan:.1f} m span, {tail_height:.1f} m high")


def code_letter(wingspan: float, outer_gear_span: float | None = None) -> str:
    """Aerodrome code letter; with a gear span given, the more demanding of the two governs.

    wingspan, outer_gear_span : [m], above zero; a boundary value belongs to the higher letter
    """
    for name, span, gear in CODE_LETTERS:
        if _below(wingspan, span) and (outer_gear_span is None or _below(outer_gear_span, gear)):
            return name
    raise ValueError(f"larger than letter F: {wingspan:.1f} m span")


def _below(value: float, limit: float) -> bool:
    if not (math.isfinite(value) and value > 0.0):
        raise ValueError(f"a size above zero is wanted, given {value}")
    return value < limit * (1.0 - 1e-12)
