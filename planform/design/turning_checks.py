"""Checks of what turns about a line: blades."""

from __future__ import annotations

from collections.abc import Iterator

from planform.core.shape.blades import meeting
from planform.design.models import Design
from planform.design.problems import Problem
from planform.design.propellers import Propeller
from planform.design.units import like

MOST_ROOT = 0.5
"""Blades that meet farther out than this share of the radius are asked about: no propeller's are;
common practice, no source."""


def check_turning(design: Design) -> Iterator[Problem]:
    """Problems of what turns; `design` may lack what could not be read."""
    if design.propeller is not None:
        yield from _check_blades("propeller", design.propeller)


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
