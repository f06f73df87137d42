"""Aircraft of a number as built: a few parts otherwise than drawn; moved and mirrored."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import Any

from planform.design.as_built import ANGLES
from planform.design.as_built_checks import may_differ
from planform.design.load import design_from
from tests.laws.changed import SIDES, number, shifted
from tests.laws.worlds import Table, World

ROWS = 5
ANGLE, LENGTH = 1.0, 0.02
"""Most that a part is off [deg], [m]."""
TURNED_OVER = ("tilt", "skew", "bend_sideways", "hull_twist")
"""What changes its sign in a mirror; of a whole part `bl` does too."""


def built(found: World, seed: int) -> World:
    """The world with some parts of its aircraft built otherwise."""
    dice = random.Random(f"built {seed}")
    design = design_from(found.design)
    may = [
        (of, side, kind)
        for of, sides in sorted(may_differ(design).items())
        if of not in design.pads
        for side, kinds in sorted(sides.items())
        for kind in kinds
    ]
    rows: dict[tuple[str, str], Table] = {}
    for of, side, kind in dice.sample(may, min(ROWS, len(may))):
        row = rows.setdefault((of, side), {"of": of} | ({"side": side} if side else {}))
        angle = f"{dice.uniform(-ANGLE, ANGLE):.4f} deg"
        row[kind] = angle if kind in ANGLES else f"{dice.uniform(-LENGTH, LENGTH):.4f} m"
    return replace(found, design=found.design | {"as_built": list(rows.values())})


def mirror_built(rows: list[Table]) -> list[Table]:
    """What was built otherwise, as a mirror shows it."""
    return [_mirrored(row) for row in rows]


def _mirrored(row: Table) -> Table:
    out: Table = dict(row)
    if "side" in row:
        return out | {"side": SIDES[row["side"]]}
    for kind in (*TURNED_OVER, "bl"):
        if kind in row:
            value, unit = row[kind].split(" ")
            out[kind] = f"{-float(value):.4f} {unit}"
    return out


def shifted_built(found: World, fs: float, wl: float) -> World:
    """From another datum; what was built otherwise stays as it is."""
    there = shifted(found, fs, wl)
    return replace(there, design=there.design | {"as_built": found.design["as_built"]})


def opposite(rows: list[Table]) -> list[Table]:
    """As much the other way."""
    kept = ("of", "side")
    return [
        {k: v if k in kept else f"{-number(v):.4f} {v.split(' ')[1]}" for k, v in row.items()}
        for row in rows
    ]


def without(found: World) -> World:
    """The world as drawn."""
    drawn: dict[str, Any] = {k: v for k, v in found.design.items() if k != "as_built"}
    return replace(found, design=drawn)
