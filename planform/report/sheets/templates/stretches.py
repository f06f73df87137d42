"""The stretch of a lifting surface that a part's name means, and the place on it that is asked."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planform.airframe.build import Airframe
from planform.airframe.sections import along_at
from planform.airframe.surfaces import Half
from planform.design.notation import NotationError, read
from planform.design.problems import InputError, Problem
from planform.design.told import said

PLACES = "'BL 60 in', '20 in' along it from its root, or '40 %' of its span"


@dataclass(frozen=True, eq=False)
class Stretch:
    """One side of a surface from a place to another, along it from its first cut [m]."""

    name: str
    half: Half
    start: float
    end: float


def stretches(airframe: Airframe, name: str) -> list[Stretch]:
    """The stretches that a part's or a group's name means, the right one first."""
    out = []
    for half in airframe.halves:
        run, prefix = half.developed, half.name.removesuffix(half.group)
        ends = [*(k for k, _ in half.joints), len(run) - 1]
        if name in (half.group, half.name):
            out.append(Stretch(half.name, half, 0.0, float(run[-1])))
        for (k, joint), last in zip(half.joints, ends[1:], strict=True):
            if name in (joint, prefix + joint):
                out.append(Stretch(prefix + joint, half, float(run[k]), float(run[last])))
    return sorted(out, key=lambda one: -one.half.side)


def refused(option: str, given: str | None, allowed: str) -> InputError:
    """What is wrong with an option, in one sentence."""
    return InputError("option", [Problem(option, repr(given) if given else "", allowed)])


def quantity(option: str, text: str, kind: str = "length") -> float:
    """A quantity given as an option, in SI."""
    try:
        return float(read(text, kind))
    except NotationError as error:
        raise refused(option, text, error.allowed) from None


def place_on(stretch: Stretch, at: str, system: str) -> float:
    """How far along the surface a place is [m], from the surface's first cut.

    at : as `PLACES` tells. Raises InputError where it is none, or the stretch is not there.
    """
    if at.rstrip().endswith("%"):
        share = quantity("--at", at, "percent")
        if not 0.0 <= share <= 1.0:
            raise refused("--at", at, "allowed: 0 % at its root to 100 % at its tip")
        return stretch.start + share * (stretch.end - stretch.start)
    value = quantity("--at", at)
    if "BL" in at.upper():
        y = np.interp([stretch.start, stretch.end], stretch.half.developed,
                      stretch.half.leading_edge[:, 1])  # fmt: skip
        try:
            found = along_at(stretch.half, abs(value))
        except ValueError:
            found = np.inf
        if not stretch.start - 1e-9 <= found <= stretch.end + 1e-9:
            ends = " to ".join(said(float(one), "butt", system) for one in np.abs(np.sort(y)))
            raise refused("--at", at, f"allowed: on the {stretch.name}, {ends}")
        return found
    length = stretch.end - stretch.start
    if not 0.0 <= value <= length + 1e-9:
        most = said(length, "length", system)
        raise refused("--at", at, f"allowed: 0 to {most} along the {stretch.name}; or {PLACES}")
    return min(stretch.start + value, stretch.end)


def on_side(found: list[Stretch], at: str) -> list[Stretch]:
    """Of both sides, the one whose butt line is meant, where it tells: 'BL 60 in L'."""
    side = {"L": -1, "R": 1}.get(at.strip().upper()[-1:] if "BL" in at.upper() else "")
    return [one for one in found if side is None or one.half.side == side] or found
