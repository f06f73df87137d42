"""What a place leaves open overhead and around, and what it was then taken as."""

from __future__ import annotations

from collections.abc import Iterator

from planform.design.place import Place
from planform.design.roof import roof_lines
from planform.design.slope import extent
from planform.design.told import said
from planform.design.units import like

SHORT = 0.01
"""A profile that ends this near to a wall ends at it [m]; assumption."""


def asked(place: Place) -> Iterator[str]:
    """Questions back about the ceiling of a place."""
    ceiling = place.ceiling
    if ceiling is None or ceiling.profile is None:
        return
    low, high = extent(place, 0 if ceiling.along == "width" else 1)
    first, last = ceiling.profile[0], ceiling.profile[-1]
    for level, short in ((first, float(first.at) - low), (last, high - float(last.at))):
        if short > SHORT:
            yield (
                f"ceiling: the profile ends at {level.at.text}, {like(short, level.at.text)} "
                "before the wall; is the ceiling level from there on? It is taken so, at "
                f"{level.height.text}: give its height at the wall."
            )


def taken(place: Place) -> Iterator[str]:
    """What of a place counts as something plainer, from the safe side."""
    for line in roof_lines(place):
        if line.arc:
            most = said(line.arc, "over", place.units)
            yield (
                f"the arched ceiling counts as {len(line.at) - 1} flats under its arc, nowhere "
                f"more than {most} lower than it is"
            )
