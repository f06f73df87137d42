"""What of a place reaches where it cannot be: through the walls, past the end of a wall."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from planform.design.floor import Corner
from planform.design.outline_checks import inside
from planform.design.outside import LINE_DISTANCE, LINE_SOURCE
from planform.design.place import Place
from planform.design.things import Car, Obstacle
from planform.design.told import said
from planform.design.units import show

SLACK = 0.01
"""What reaches no farther than this past the outer side of a wall, or its end [m], is not asked
about; assumption."""

Points = Sequence[tuple[float, float]]


def beyond(place: Place) -> Iterator[str]:
    """Questions about what reaches through the walls, or past the end of its wall."""
    for what, points in _things(place):
        far = max(_past(place, x, y) for x, y in points)
        if far > place.floor.thickness + SLACK:
            yield (
                f"{what}: it reaches {said(far, 'over', place.units)} past the inner wall line, "
                "through the wall; is a number or a unit wrong? What stands outside goes under "
                "outside."
            )
    yield from _leaves(place)
    yield from _near_lines(place)


def _things(place: Place) -> Iterator[tuple[str, Points]]:
    """What stands, hangs and is let in, by its kind and name, and the points it is given by.

    Not what may well lead out of a door: a rail, a drain, a way kept free.
    """
    for thing in place.obstacles:
        yield f"obstacle {thing.name!r}", _row(thing)
    for car in place.cars:
        yield f"car {car.name!r}", _box(car)
    for pit in place.floor.pits:
        yield f"pit {pit.name!r}", _plain(pit.outline)
    for level in place.floor.levels:
        yield f"level {level.name!r}", _plain(level.outline)


def _plain(points: Sequence[Corner]) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in points]


def _row(thing: Obstacle) -> list[tuple[float, float]]:
    """The points of a thing, of a row those of its last one too."""
    first = _plain(thing.outline or thing.line or (() if thing.centre is None else (thing.centre,)))
    out = list(first)
    for row in thing.rows:
        again = (row.count or 1) - 1
        dx, dy = again * float(row.step[0]), again * float(row.step[1])
        out += [(x + dx, y + dy) for x, y in out]
    return out


def _box(car: Car) -> list[tuple[float, float]]:
    """The corners of a car."""
    turn, x, y = float(car.heading), float(car.at[0]), float(car.at[1])
    ahead, aside = 0.5 * float(car.length), 0.5 * float(car.width)
    out = []
    for a, b in ((ahead, aside), (ahead, -aside), (-ahead, aside), (-ahead, -aside)):
        out.append(
            (
                x + a * math.sin(turn) + b * math.cos(turn),
                y + a * math.cos(turn) - b * math.sin(turn),
            )
        )
    return out


def _past(place: Place, x: float, y: float) -> float:
    """How far a point is outside the floor [m]; 0 on it."""
    walls = list(place.floor.walls.values())
    if inside([start for start, _ in walls], x, y):
        return 0.0
    return min(_off(x, y, start, end) for start, end in walls)


def _off(x: float, y: float, start: tuple[float, float], end: tuple[float, float]) -> float:
    """How far a point is from a wall [m]."""
    run, to = (end[0] - start[0], end[1] - start[1]), (x - start[0], y - start[1])
    share = (to[0] * run[0] + to[1] * run[1]) / max(run[0] ** 2 + run[1] ** 2, 1e-12)
    share = min(1.0, max(0.0, share))
    return math.hypot(to[0] - share * run[0], to[1] - share * run[1])


def _leaves(place: Place) -> Iterator[str]:
    """Leaves that slide inside past the end of their wall, and leaves wider than the opening."""
    for door in place.doors:
        (x0, y0), (x1, y1) = place.floor.walls[door.wall]
        before = float(door.from_corner)
        past = math.hypot(x1 - x0, y1 - y0) - before - float(door.clear_width)
        for leaf in door.sliding:
            room = past if leaf.beside == "left" else before  # the room is on the wall's left
            over = float(leaf.past_jamb) + float(leaf.width) - room
            if leaf.face == "inside" and over > SLACK:
                yield (
                    f"door {door.name!r}: its {leaf.beside} leaf stands {leaf.width.text} wide "
                    f"beside the opening, {said(over, 'over', place.units)} past the end of the "
                    "wall; does it stand there, or on its other side?"
                )
        wide = float(door.nominal_width or door.clear_width)
        leaves = door.hinged
        total = sum(float(leaf.width) for leaf in leaves)
        if total > 1.2 * wide:
            yield (
                f"door {door.name!r}: its hinged leaves are {said(total, 'over', place.units)} "
                f"wide together, the opening {said(wide, 'over', place.units)}; is a width wrong?"
            )


def _near_lines(place: Place) -> Iterator[str]:
    """A distance to a power line under that of its voltage in the published table."""
    for line in place.outside.power_lines if place.outside is not None else ():
        if line.distance is None or line.voltage is None:
            continue
        table = LINE_DISTANCE[line.voltage]
        if line.distance < table - 1e-9:
            yield (
                f"power line {line.name!r}: {line.distance.text} is given and kept, under the "
                f"{show(table, 'length', place.units)} of {LINE_SOURCE} for {line.voltage}; is it "
                "its utility's own word?"
            )
