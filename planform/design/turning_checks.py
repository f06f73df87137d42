"""Checks of what turns about a line: blades, folds, and what a stance has turned."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planform.core.shape.blades import meeting
from planform.design.kinds import turning
from planform.design.models import Design, Stance
from planform.design.problems import Problem, unknown
from planform.design.propellers import Propeller
from planform.design.surfaces import Surface
from planform.design.units import like

JOINTS = ("lifting.*.cuts",)
"""What the names of folding panels come from."""

ROUNDING = 1e-9
"""What an angle may be over its limit [rad] is rounding."""

MOST_ROOT = 0.5
"""Blades that meet farther out than this share of the radius are asked about: no propeller's are;
common practice, no source."""


def check_turning(design: Design) -> Iterator[Problem]:
    """Problems of what turns; `design` may lack what could not be read."""
    if design.propeller is not None:
        yield from _check_blades("propeller", design.propeller)
    for name, surface in design.lifting.items():
        yield from _check_folds(f"lifting.{name}", surface)


def check_turns(path: str, stance: Stance, written: Design) -> Iterator[Problem]:
    """Problems of what a stance has folded or turned."""
    folding, known = turning(written, "lifting"), turning(written)
    for name in stance.folded:
        if name not in folding:
            yield unknown(f"{path}.folded", name, folding, JOINTS)
        elif name in stance.turned:
            allowed = "allowed: in folded, or in turned with its angle, not in both"
            yield Problem(f"{path}.folded", repr(name), allowed)
    for name, angle in stance.turned.items():
        if name not in known:
            yield unknown(f"{path}.turned", name, known, JOINTS)
            continue
        least, most = known[name]
        if not least - ROUNDING <= angle <= most + ROUNDING:
            ends = " to ".join(f"{math.degrees(end):g} deg" for end in (least, most))
            yield Problem(f"{path}.turned.{name}", repr(angle.text), f"allowed: {ends}")


def _check_folds(path: str, surface: Surface) -> Iterator[Problem]:
    for k, cut in enumerate(surface.cuts):
        fold = cut.fold
        if fold is None:
            continue
        if not 0.0 < fold.angle <= math.pi + ROUNDING:
            allowed = "allowed: more than 0 and at most 180 deg, from spread"
            yield Problem(f"{path}.cuts[{k + 1}].fold.angle", repr(fold.angle.text), allowed)
        if k in (0, len(surface.cuts) - 1):
            allowed = "allowed: at a joint between the first cut and the last"
            yield Problem(f"{path}.cuts[{k + 1}].fold", "a fold at the end", allowed)


def _check_blades(path: str, propeller: Propeller) -> Iterator[Problem]:
    if propeller.blades is None or propeller.chord is None:
        return
    radius, hub = 0.5 * float(propeller.diameter), propeller.hub_diameter
    root = 0.5 * float(propeller.chord)
    tip = 0.5 * float(propeller.tip_chord or propeller.chord)
    if meeting(propeller.blades, root, tip, radius) > MOST_ROOT * radius:
        yield Problem(
            f"{path}.chord",
            repr(propeller.chord.text),
            f"{propeller.blades} blades this wide grow into one another half way out; allowed: "
            "narrower ones, or leave out blades and chord, and the whole disc counts",
            rests=(f"{path}.diameter", f"{path}.blades"),
        )
    most = MOST_ROOT * 2.0 * radius
    if hub is not None and hub > most:
        yield Problem(
            f"{path}.hub_diameter",
            repr(hub.text),
            f"allowed: at most half the diameter ({like(most, hub.text)})",
            rests=(f"{path}.diameter",),
        )
