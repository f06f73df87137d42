"""What the things of a place fill: plan pieces over heights, each bounded from outside."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.convex import counter_clockwise
from planform.design.floor import Corner
from planform.design.guidance import figure
from planform.design.place import Place
from planform.design.slope import TOWARD, extent
from planform.design.things import Car, Hoist, Incline, KeptFree, Obstacle, Swing
from planform.fit.hung import hung

Array = NDArray[np.float64]

SIDES = 24
"""A round thing counts as so many sides round it: 0.9 % of its radius outside it at most."""

SLICES = 8
"""A round thing that lies counts as so many slices of its height."""

STEP = 0.05
"""A sloping top or underside counts as steps of at most this [m], or `MOST_STEPS`; assumption."""

MOST_STEPS = 24

SECTOR = math.radians(15.0)
"""What a door sweeps counts as pieces of at most this angle, drawn round it."""


@dataclass(frozen=True, eq=False)
class Filled:
    """A plan outline (n, 2), counter-clockwise, over a height range [m]; high None: to the roof."""

    name: str
    outline: Array
    low: float
    high: float | None
    kind: str = "obstacle"


def plan(points: Sequence[Corner]) -> Array:
    """Corners of a file as an array (n, 2) [m]."""
    return np.array([[float(x), float(y)] for x, y in points])


def rounded(centre: Array, radius: float) -> Array:
    """A regular outline round a circle."""
    angles = 2.0 * np.pi * (np.arange(SIDES) + 0.5) / SIDES
    ring = np.column_stack([np.cos(angles), np.sin(angles)])
    return np.asarray(centre + radius / math.cos(math.pi / SIDES) * ring)


def along_line(points: Array, half: float) -> list[Array]:
    """A strip of a half width along each piece of a line; drawn on round the corners between."""
    out = []
    for k, (a, b) in enumerate(itertools.pairwise(points)):
        way = (b - a) / np.linalg.norm(b - a)
        aside = np.array([-way[1], way[0]])
        start = a - half * way if k > 0 else a
        end = b + half * way if k < len(points) - 2 else b
        ring = [start - half * aside, end - half * aside, end + half * aside, start + half * aside]
        out.append(np.array(ring))
    return out


def things(place: Place) -> Iterator[Filled]:
    """All that stands and hangs in a place, and what is kept free in it."""
    for thing in place.obstacles:
        yield from obstacle(place, thing)
    for hoist in place.hoists:
        yield from _hoist(hoist)
    for car in place.cars:
        yield from _car(car)
    for zone in place.kept_free:
        yield from _zone(zone)


def obstacle(place: Place, thing: Obstacle) -> list[Filled]:
    """What a thing fills, each of a row by its number."""
    first = [*_pieces(place, thing), *_swings(thing)]
    shifts = list(repeats(place, thing))
    out = []
    for number, shift in enumerate(shifts, start=1):
        for piece in first:
            name = piece.name if len(shifts) == 1 else f"{piece.name} {number}"
            moved = replace(piece, name=name, outline=piece.outline + shift)
            if thing.drop is None:
                out.append(moved)
                continue
            for ring, low in hung(place, thing, moved.outline):
                out.append(replace(moved, outline=ring, low=low))
    return out


def repeats(place: Place, thing: Obstacle) -> Iterator[Array]:
    """How far each of a row or grid is from the first, the first one too, shape (2,) [m]."""
    middle = np.concatenate([p.outline for p in _pieces(place, thing)]).mean(axis=0)
    counts, steps = [], []
    for row in thing.rows:
        step = plan([row.step])[0]
        counts.append(row.count or _to_the_end(place, middle, step))
        steps.append(step)
    for numbers in itertools.product(*(range(count) for count in counts)):
        yield sum((n * s for n, s in zip(numbers, steps, strict=True)), np.zeros(2))


def _to_the_end(place: Place, middle: Array, step: Array) -> int:
    """How many of a row stand over the floor's width and depth, the first one in any case."""
    most = 100
    for axis in (0, 1):
        low, high = extent(place, axis)
        if abs(step[axis]) > 1e-9:
            end = high if step[axis] > 0.0 else low
            most = min(most, math.floor((end - middle[axis]) / step[axis] + 1e-9) + 1)
    return max(1, most)


def _pieces(place: Place, thing: Obstacle) -> Iterator[Filled]:
    """What one thing fills."""
    low = float(thing.bottom)
    high = None if thing.top is None else float(thing.top)
    if thing.line is not None and thing.diameter is not None:
        yield from _lying(thing.name, plan(thing.line), 0.5 * float(thing.diameter), low)
        return
    for ring in rings(thing):
        if thing.incline is not None:
            yield from _inclined(Filled(thing.name, ring, low, high), thing.incline)
        else:
            yield Filled(thing.name, ring, low, high)
    if thing.legs is not None and thing.outline is not None:
        yield from _legs(thing.name, plan(thing.outline), float(thing.legs), low)


def rings(thing: Obstacle | KeptFree) -> list[Array]:
    """The plan of one thing, of a row the first: an outline, a circle or strips along a line."""
    if thing.outline is not None:
        return [counter_clockwise(plan(thing.outline))]
    if thing.centre is not None and thing.diameter is not None:
        return [rounded(plan([thing.centre])[0], 0.5 * float(thing.diameter))]
    assert thing.line is not None
    across = thing.width or thing.diameter
    wide = figure("exit width") if across is None else float(across)
    return along_line(plan(thing.line), 0.5 * wide)


def _lying(name: str, line: Array, radius: float, low: float) -> Iterator[Filled]:
    """Something round along a line, as slices of its height that hold it."""
    levels = np.cos(np.linspace(np.pi, 0.0, SLICES + 1)) * radius
    for under, over in itertools.pairwise(levels):
        nearest = max(0.0, under, -over)  # to the height of its middle
        half = math.sqrt(radius * radius - nearest * nearest)
        for ring in along_line(line, half):
            yield Filled(name, ring, low + radius + under, low + radius + over)


def steps_of(thing: Obstacle) -> int:
    """In how many steps a thing that slopes counts; 0 where it does not slope."""
    slope = thing.incline
    if slope is None:
        return 0
    rises = [
        abs(float(far) - float(near))
        for near, far in ((thing.bottom, slope.bottom), (thing.top, slope.top))
        if near is not None and far is not None
    ]
    return min(MOST_STEPS, max(1, math.ceil(max(rises, default=0.0) / STEP)))


def _inclined(flat: Filled, slope: Incline) -> Iterator[Filled]:
    """Steps along the way a thing slopes, each holding all of it over its piece of the plan."""
    import shapely

    axis, sense = TOWARD[slope.toward]
    along = sense * flat.outline[:, axis]
    near, far = float(along.min()), float(along.max())
    ends = [(flat.low, flat.low if slope.bottom is None else float(slope.bottom))]
    if flat.high is not None:
        ends.append((flat.high, flat.high if slope.top is None else float(slope.top)))
    count = max(math.ceil(abs(b - a) / STEP) for a, b in ends)
    count = min(MOST_STEPS, max(1, count))
    whole = shapely.polygons(flat.outline)
    low, high = flat.outline.min(axis=0) - 1.0, flat.outline.max(axis=0) + 1.0
    for k in range(count):
        shares = k / count, (k + 1) / count
        edges = sorted(sense * (near + s * (far - near)) for s in shares)
        low[axis], high[axis] = edges
        heights = [sorted(a + s * (b - a) for s in shares) for a, b in ends]
        for part in shapely.get_parts(whole.intersection(shapely.box(*low, *high))):
            if part.geom_type == "Polygon" and part.area > 1e-9:
                ring = counter_clockwise(np.asarray(part.exterior.coords)[:-1])
                top = heights[1][1] if len(heights) > 1 else None
                yield Filled(flat.name, ring, heights[0][0], top, flat.kind)


def _legs(name: str, outline: Array, size: float, top: float) -> Iterator[Filled]:
    """A leg in each corner of an outline, as far as it is under it."""
    import shapely

    whole = shapely.polygons(outline)
    for corner in outline:
        square = shapely.box(*(corner - size), *(corner + size))
        for part in shapely.get_parts(whole.intersection(square)):
            if part.geom_type == "Polygon" and part.area > 1e-9:
                ring = counter_clockwise(np.asarray(part.exterior.coords)[:-1])
                yield Filled(name, ring, 0.0, top)


def _swings(thing: Obstacle) -> Iterator[Filled]:
    """What the doors of a thing sweep, kept free."""
    if not thing.swings:
        return
    middle = np.concatenate(rings(thing)).mean(axis=0)
    high = None if thing.top is None else float(thing.top)
    for swing in thing.swings:
        for ring in swept(swing, middle):
            yield Filled(f"door of {thing.name}", ring, float(thing.bottom), high, "kept free")


def swept(swing: Swing, middle: Array) -> Iterator[Array]:
    """What a door sweeps, away from a point, as triangles drawn round its sector."""
    hinge, shut = plan([swing.hinge, swing.shut])
    arm = shut - hinge
    cross = float(arm[0] * (middle - hinge)[1] - arm[1] * (middle - hinge)[0])
    sense = -1.0 if cross > 0.0 else 1.0
    count = math.ceil(float(swing.opens) / SECTOR - 1e-9)
    turn = float(swing.opens) / count
    start = math.atan2(arm[1], arm[0])
    reach = float(np.linalg.norm(arm)) / math.cos(0.5 * turn)
    angles = start + sense * turn * np.arange(count + 1)
    rim = hinge + reach * np.column_stack([np.cos(angles), np.sin(angles)])
    for a, b in itertools.pairwise(rim):
        yield counter_clockwise(np.array([hinge, a, b]))


def _hoist(hoist: Hoist) -> Iterator[Filled]:
    """A rail and its hook: where it is parked, or all of the rail where that is not said."""
    line = plan(hoist.line)
    yield Filled(
        hoist.name, along_line(line, 0.5 * float(hoist.width))[0], float(hoist.bottom), None
    )
    hook = hoist.hook
    if hook is None:
        return
    start, end = line
    length = float(np.linalg.norm(end - start))
    way, half = (end - start) / length, 0.5 * float(hook.length)
    first, last = (0.0, length) if hook.at is None else (float(hook.at) - half, hook.at + half)
    run = np.array([start + first * way, start + last * way])
    ring = along_line(run, 0.5 * float(hook.width))[0]
    yield Filled(hook_name(hoist), ring, float(hook.bottom), float(hoist.bottom))


def hook_name(hoist: Hoist) -> str:
    """What the hook of a hoist is called."""
    return f"hook of {hoist.name}"


def _car(car: Car) -> Iterator[Filled]:
    """A car's box, its bonnet lower."""
    heading = float(car.heading)
    ahead = np.array([math.sin(heading), math.cos(heading)])
    at, half = plan([car.at])[0], 0.5 * float(car.length)
    bonnet = 0.0 if car.bonnet is None else float(car.bonnet.length)
    ends = [(-half, half - bonnet, float(car.height))]
    if car.bonnet is not None:
        ends.append((half - bonnet, half, float(car.bonnet.height)))
    for first, last, high in ends:
        run = np.array([at + first * ahead, at + last * ahead])
        yield Filled(car.name, along_line(run, 0.5 * float(car.width))[0], 0.0, high)


def _zone(zone: KeptFree) -> Iterator[Filled]:
    """Room kept free for people."""
    guided = None if zone.guide is None else figure("exit height")
    top = guided if zone.top is None else float(zone.top)
    for ring in rings(zone):
        yield Filled(zone.name, ring, float(zone.bottom), top, "kept free")
