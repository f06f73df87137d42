"""Aircraft whose left and right differ, and the same ones written with a part for each side."""

from __future__ import annotations

import copy
import random
from typing import Any

from planform.design.load import design_from
from planform.design.problems import InputError
from tests.laws.worlds import Table, World

SIDES = ("left", "right")
PAIRED = {"lifting": "both", "winglets": "both", "bodies": "centre", "wheels": "centre",
          "pads": "centre", "fittings": "centre"}  # fmt: skip
"""The side of a part that names none, by the field of a design."""
KEPT = {"flat_drop", "steers"}
"""Numbers that other rules than that of the shape speak of."""


def pairs_of(design: Table) -> list[tuple[str, str]]:
    """Field and name of every part that stands on both sides."""
    return [
        (field, name)
        for field, usual in PAIRED.items()
        for name, part in design.get(field, {}).items()
        if part.get("side", usual) == "both"
    ]


def apart(found: World, seed: int, most: float = 0.05) -> World:
    """The world with numbers of its pairs different on the left, by up to a share of each.

    A part whose numbers would not go together is left alike.
    """
    dice, design = random.Random(seed), copy.deepcopy(found.design)
    for field, name in pairs_of(design):
        before = design[field][name]
        design[field][name] = _apart(before, dice, most, "")
        try:
            design_from(design)
        except InputError:
            design[field][name] = before
    return World(design, found.place, found.carrier)


def _apart(item: Any, dice: random.Random, most: float, key: str) -> Any:
    if isinstance(item, dict):
        return {k: _apart(v, dice, most, k) for k, v in item.items()}
    if isinstance(item, list):
        return [_apart(v, dice, most, key) for v in item]
    value, _, unit = str(item).partition(" ")
    if unit not in ("m", "deg") or key in KEPT or float(value) == 0.0 or dice.random() < 0.4:
        return item
    left = float(value) * (1.0 + dice.uniform(-most, most))
    return {"left": f"{left:.4f} {unit}", "right": item}


IN_OTHERS = ("controls", "struts", "spars", "ribs", "bulkheads")
"""Fields of parts that name the pair they stand in."""


def without_named_pairs(found: World) -> World:
    """The world without folds and parts that stand in a pair, and without all that names them."""
    design = copy.deepcopy(found.design)
    gone = {name for field in IN_OTHERS for name in design.pop(field, {})}
    design.pop("joints", None)
    gone |= {f"{side} {name}" for side in SIDES for name in gone}
    for surface in design["lifting"].values():
        for cut in surface["cuts"]:
            cut.pop("fold", None)
    for stance in design["stances"].values():
        for key in ("folded", "turned", "deflected"):
            stance.pop(key, None)
    for stage in design["stages"]:
        for key in ("parts", "without", "open"):
            if key in stage:
                stage[key] = [name for name in stage[key] if name not in gone]
    design["masses"] = [mass for mass in design["masses"] if mass.get("part") not in gone]
    return World(design, found.place, found.carrier)


def on_one(item: Any, side: str) -> Any:
    """What is written of a pair, as it is on one side."""
    if isinstance(item, dict):
        if set(item) == set(SIDES):
            return item[side]
        return {k: on_one(v, side) for k, v in item.items()}
    return [on_one(v, side) for v in item] if isinstance(item, list) else item


def one_a_side(found: World) -> World:
    """The same aircraft with a part of its own for each side of every pair."""
    design = copy.deepcopy(found.design)
    groups = {name for _, name in pairs_of(design)}
    cuts = [cut for surface in design["lifting"].values() for cut in surface["cuts"]]
    outer = {cut["joint"] for cut in cuts if "joint" in cut}
    for field, name in pairs_of(design):
        part = design[field].pop(name)
        for side in reversed(SIDES):
            one = on_one(part, side) | {"side": side}
            for cut in one.get("cuts", ()):
                if "joint" in cut:
                    cut["joint"] = f"{side} {cut['joint']}"
            design[field][f"{side} {name}"] = one

    standing = ("winglets", "fittings", "spars")
    for one in (one for field in standing for one in design.get(field, {}).values()):
        if one["on"] in groups | outer:
            one["on"] = f"{one.get('side', 'right')} {one['on']}"

    def both(names: list[str]) -> list[str]:
        pairs = ([f"{side} {n}" for side in SIDES] if n in groups | outer else [n] for n in names)
        return [one for pair in pairs for one in pair]

    for stance in design["stances"].values():
        for key in ("on", "flat", "retracted"):
            if key in stance:
                stance[key] = both(stance[key])
        for key in ("heights", "compressed"):
            if key in stance:
                stance[key] = {one: v for n, v in stance[key].items() for one in both([n])}
    for stage in design["stages"]:
        for key in ("parts", "without"):
            if key in stage:
                stage[key] = both(stage[key])
    design["masses"] = [half for mass in design["masses"] for half in _halves(mass, groups)]
    return World(design, found.place, found.carrier)


def _halves(mass: Table, groups: set[str]) -> list[Table]:
    """A mass item of a pair as two of half the mass at the same place, one of each side."""
    if mass.get("part") not in groups:
        return [mass]
    half = f"{0.5 * float(mass['mass'].split(' ')[0])!r} kg"
    return [
        mass | {"name": f"{mass['name']} {side}", "mass": half, "part": f"{side} {mass['part']}"}
        for side in SIDES
    ]
