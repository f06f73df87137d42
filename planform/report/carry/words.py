"""A part carried out by hand in words."""

from __future__ import annotations

from collections.abc import Mapping

from planform.core.spread import NO_SPREAD, Spread
from planform.fit.carrying import Through

Spreads = Mapping[str, Spread]
"""What the inputs' tolerances do, by door."""

NOTHING: Spreads = {}

NOTES = (
    "Straight along one direction, without turning on the way; along each direction exact for the "
    "convex hull of what was built, drawn out by what a true curve stands outside its facets. "
    "Directions are searched from many starts. Not found is not no: a curved part may pass while "
    "it is turned.",
    "The opening is the least rectangle itself: hands, padding and a tape's error come on top.",
    "Lift with enough people for its weight and its size, one of them calling; gloves on cut "
    "edges, goggles where it is overhead; nobody under it. Mind a gust at the door.",
)

LEAST = "the least opening found of all directions, searched from many starts"


def turnable(one: Through, spreads: Spreads) -> bool:
    """Whether the inputs' tolerances may take what is left, or give what is missing."""
    return bool(abs(one.spare) < spreads.get(one.opening, NO_SPREAD).worst)
