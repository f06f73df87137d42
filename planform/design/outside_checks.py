"""Checks of what stands outside a place: off its floor, and a distance from each power line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planform.design.floor import Corner
from planform.design.outline_checks import inside
from planform.design.outside import LINE_SOURCE, PowerLine, Surroundings
from planform.design.place import Place
from planform.design.problems import Problem, unknown
from planform.design.things_checks import check_line, check_obstacle


def check_outside(place: Place) -> Iterator[Problem]:
    """Problems of what is outside; `place` may lack what could not be read."""
    around = place.outside
    if around is None:
        return
    yield from _check_aprons(place, around)
    for k, fence in enumerate(around.fences or ()):
        yield from check_line(f"outside.fences[{k + 1}].line", fence.line)
        yield from _off_floor(place, f"outside.fences[{k + 1}].line", fence.line)
    for k, thing in enumerate(around.things or ()):
        path = f"outside.things[{k + 1}]"
        yield from check_obstacle(path, thing)
        if thing.drop is not None:
            allowed = "allowed: a bottom; outside there is no ceiling to hang from"
            yield Problem(f"{path}.drop", repr(thing.drop.text), allowed)
        for name in ("outline", "line"):
            yield from _off_floor(place, f"{path}.{name}", getattr(thing, name) or ())
        if thing.centre is not None:
            yield from _off_floor(place, f"{path}.centre", (thing.centre,))
    for k, line in enumerate(around.power_lines or ()):
        yield from _check_power_line(f"outside.power_lines[{k + 1}]", line)


def _check_aprons(place: Place, around: Surroundings) -> Iterator[Problem]:
    doors = [door.name for door in place.doors or ()]
    seen: set[str] = set()
    for k, apron in enumerate(around.aprons or ()):
        path = f"outside.aprons[{k + 1}].door"
        if apron.door not in doors:
            yield unknown(path, apron.door, doors, ("doors",))
        elif apron.door in seen:
            yield Problem(path, repr(apron.door), "allowed: one apron before each door")
        seen.add(apron.door)


def _off_floor(place: Place, path: str, points: Sequence[Corner]) -> Iterator[Problem]:
    """A point that is on the floor of the room."""
    if place.floor is None:
        return
    corners = [start for start, _ in place.floor.walls.values()]
    for k, (x, y) in enumerate(points):
        if inside(corners, float(x), float(y)):
            given = f"{x.text!r}, {y.text!r}"
            allowed = "allowed: a point off the floor; what stands in the room is an obstacle"
            yield Problem(f"{path}[{k + 1}]", given, allowed, ("floor",))
            return


def _check_power_line(path: str, line: PowerLine) -> Iterator[Problem]:
    yield from check_line(f"{path}.line", line.line)
    if line.distance is None and line.voltage is None:
        allowed = (
            "allowed: the distance to keep from it, as its utility says; or its voltage, which "
            f"takes the distance from {LINE_SOURCE}"
        )
        yield Problem(f"{path}.distance", "nothing", allowed)
