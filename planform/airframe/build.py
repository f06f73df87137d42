"""Building the airframe: as drawn, and then as built where that differs."""

from __future__ import annotations

from planform.airframe.deviated import deviated
from planform.airframe.drawn import Airframe as Airframe
from planform.airframe.drawn import build_drawn
from planform.design.models import Design


def build(design: Design, like: Airframe | None = None) -> Airframe:
    """Build every part of a design, as built where the design says how that differs.

    like : an airframe of a design that shares pieces with this one; those are taken over
    """
    airframe = build_drawn(design, like)
    return deviated(airframe) if design.as_built else airframe


def drawn(design: Design) -> Design:
    """The design as it is drawn, without what was built otherwise."""
    return design.model_copy(update={"as_built": ()}) if design.as_built else design
