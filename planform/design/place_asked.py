"""What a place leaves open overhead and around, and what it was then taken as."""

from __future__ import annotations

from collections.abc import Iterator

from planform.design.guidance import figure
from planform.design.outside import LINE_SOURCE
from planform.design.place import Place
from planform.design.roof import heights_along, roof_lines
from planform.design.slope import extent
from planform.design.told import said
from planform.design.units import like, show

SHORT = 0.01
"""A profile that ends this near to a wall ends at it [m]; assumption."""


def asked(place: Place) -> Iterator[str]:
    """Questions back about the ceiling of a place, its hooks and its power lines."""
    for hoist in place.hoists:
        if hoist.hook is not None and hoist.hook.at is None:
            yield (
                f"hoist {hoist.name!r}: where does its hook hang while the aircraft stands and "
                "moves? Without at it counts as anywhere along its rail."
            )
    for line in place.outside.power_lines if place.outside is not None else ():
        yield (
            f"power line {line.name!r}: did its utility give the distance to keep, and the height "
            "of its lowest wire when it sags most? Ask it before anything tall is moved near."
        )
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
    """What of a place counts as something plainer, from the safe side, and whence it comes."""
    yield from _from_sources(place)
    yield from _following(place)
    yield from _left_out(place)
    for line in roof_lines(place):
        if line.arc:
            most = said(line.arc, "over", place.units)
            yield (
                f"the arched ceiling counts as {len(line.at) - 1} flats under its arc, nowhere "
                f"more than {most} lower than it is"
            )


def _left_out(place: Place) -> Iterator[str]:
    """What stands outside, and as far as it counts."""
    around = place.outside
    if around is None:
        return
    names = [fence.name for fence in around.fences]
    names += [thing.name for thing in around.things]
    names += [line.name for line in around.power_lines]
    if names:
        yield (
            f"what stands outside ({', '.join(names)}) counts until the whole aircraft is outside "
            "the walls, where a way out ends; nothing is told of the ground on from there"
        )


def _following(place: Place) -> Iterator[str]:
    """Things along a line that hang by their drop, where the ceiling over them is not level."""
    for thing in place.obstacles:
        if thing.drop is None or thing.line is None or place.ceiling is None:
            continue
        heights = heights_along(place, thing.line)
        if max(heights) - min(heights) > SHORT:
            yield (
                f"{thing.name}: it follows the ceiling over it, {thing.drop.text} lower, and "
                "counts as steps under that; what is level has its bottom in place of the drop"
            )


def _from_sources(place: Place) -> Iterator[str]:
    """Figures that a place takes from published sources."""
    for zone in place.kept_free:
        if zone.guide is not None and (zone.width is None or zone.top is None):
            wide, high = (
                show(figure(k), "length", place.units) for k in ("exit width", "exit height")
            )
            yield (
                f"{zone.name}: what is not given of its width and top is {wide} and {high}, "
                f"{zone.guide} (read): guidance, not law for a private shop; local codes come first"
            )
    for line in place.outside.power_lines if place.outside is not None else ():
        if line.distance is None:
            kept = show(line.kept, "length", place.units)
            yield (
                f"{line.name}: {kept} are kept from it for {line.voltage}, {LINE_SOURCE} (from "
                "memory): the least for equipment in the USA; its utility and local codes come "
                "first, and no voltage is to be guessed"
            )
