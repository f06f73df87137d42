"""What changes from one stage to the next, in one sentence: parts, sizes, what is carried where."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from planform.airframe.presence import in_words
from planform.airframe.stance import Standing
from planform.balance.stages import Balanced, stage_balance
from planform.design.told import said

LEAST = 0.5e-3
"""A size that changes by less than this [m] is told as the same; assumption."""

SIZES = (
    ("longer", "shorter"),
    ("wider", "narrower"),
    ("higher", "lower"),
)
"""Words for the change of each size: aft, across, over the floor."""


def change_told(before: Standing, after: Standing, system: str) -> str:
    """What another stage or stance changes: what comes on and off, sizes, loads on the supports."""
    pieces = [*_parts(before, after), *_stance(before, after)]
    head = ", ".join(pieces)
    rest = ", ".join((*_sizes(before, after, system), *_loads(after, system)))
    return ": ".join(text for text in (head, rest) if text)


def _parts(before: Standing, after: Standing) -> Iterator[str]:
    old, new = ({part.name: part for part in one.parts} for one in (before, after))
    came = [part for name, part in new.items() if name not in old]
    went = [part for name, part in old.items() if name not in new]
    for parts, standing, word in ((came, after, "on"), (went, before, "off")):
        if parts:
            yield f"{listed(in_words(standing.airframe, parts))} {word}"
    for name in new:
        turns = before.turns.get(name, 0.0), after.turns.get(name, 0.0)
        if name in old and abs(turns[1] - turns[0]) > 1e-9 and new[name].role == "panel":
            yield f"{name} {'shut' if abs(turns[1]) < 1e-9 else 'open'}"


def _stance(before: Standing, after: Standing) -> Iterator[str]:
    if before.stance_name != after.stance_name:
        yield f"stance {after.stance_name} instead of {before.stance_name}"


def _sizes(before: Standing, after: Standing, system: str) -> Iterator[str]:
    sizes = []
    for one in (before, after):
        points = one.all_points()
        long, wide, _ = np.ptp(points, axis=0)
        sizes.append((long, wide, points[:, 2].max() - one.floor))
    for old, new, words in zip(*sizes, SIZES, strict=True):
        change = float(new - old)
        if abs(change) >= LEAST:
            yield f"{said(abs(change), 'length', system)} {words[0 if change > 0.0 else 1]}"


def _loads(after: Standing, system: str) -> Iterator[str]:
    """What the front supports carry, where the mass items tell."""
    found: Balanced | None = stage_balance(after)
    if found is None:
        return
    if found.sits_on:
        yield f"empty, it would sit on its {found.sits_on}"
    elif found.front:
        names = listed(tuple(name.replace("_", " ") for name in found.front))
        yield f"{names} load {said(found.front_load, 'mass', system)}, empty"
        if found.tips_without:
            off = listed(tuple(found.tips_without))
            yield f"with {off} off it would sit on its tail"


def listed(names: tuple[str, ...]) -> str:
    """Names in a row: a, b and c."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
