"""Checks of what stands and hangs in a place: its plan, its heights, its rows, its doors."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from planform.design.floor import Corner
from planform.design.outline_checks import NEAR, check_outline
from planform.design.place import Place
from planform.design.problems import Problem
from planform.design.roof import height_at, heights_along
from planform.design.things import Car, Hoist, KeptFree, Obstacle, Swing
from planform.design.units import like

PLANS = ("outline", "centre", "line")

HALF_TURN = math.pi


def check_things(place: Place) -> Iterator[Problem]:
    """Problems of the things of a place; `place` may lack what could not be read."""
    for k, thing in enumerate(place.obstacles or ()):
        yield from check_obstacle(f"obstacles[{k + 1}]", thing)
        yield from _check_drop(place, f"obstacles[{k + 1}]", thing)
    for k, hoist in enumerate(place.hoists or ()):
        yield from _check_hoist(f"hoists[{k + 1}]", hoist)
    for k, car in enumerate(place.cars or ()):
        yield from _check_car(f"cars[{k + 1}]", car)
    for k, zone in enumerate(place.kept_free or ()):
        yield from _check_zone(f"kept_free[{k + 1}]", zone)


def check_obstacle(path: str, thing: Obstacle) -> Iterator[Problem]:
    """Problems of one thing, of a row the first."""
    yield from _check_plan(path, thing, width_known=False)
    yield from _check_heights(path, thing)
    yield from _check_incline(path, thing)
    if thing.legs is not None and (thing.outline is None or not thing.bottom > 0.0):
        allowed = "allowed: legs under an outline that has its bottom height"
        yield Problem(f"{path}.legs", repr(thing.legs.text), allowed, (f"{path}.outline",))
    elif thing.legs is not None and thing.outline is not None:
        columns = zip(*((float(x), float(y)) for x, y in thing.outline), strict=True)
        least = min(max(at) - min(at) for at in columns)
        if 2.0 * thing.legs > least + 1e-9:
            half = like(0.5 * least, thing.legs.text)
            allowed = f"allowed: at most half its plan's lesser side, {half}"
            yield Problem(f"{path}.legs", repr(thing.legs.text), allowed, (f"{path}.outline",))
    for k, row in enumerate(thing.rows):
        if math.hypot(*row.step) < NEAR:
            yield Problem(
                f"{path}.rows[{k + 1}].step",
                f"{row.step[0].text!r}, {row.step[1].text!r}",
                "allowed: a step above zero to the next one, along the front wall and away from it",
            )
    for k, swing in enumerate(thing.swings):
        yield from _check_swing(f"{path}.swings[{k + 1}]", swing)


def _check_plan(path: str, thing: Obstacle | KeptFree, *, width_known: bool) -> Iterator[Problem]:
    """One plan: an outline, a centre with its diameter, or a line with its width or diameter."""
    given = [name for name in PLANS if getattr(thing, name) is not None]
    if len(given) != 1:
        allowed = (
            "allowed: one plan: an outline of corners, a centre with a diameter, or a line with a "
            "width"
        )
        yield Problem(path, " and ".join(given) or "no outline", allowed)
        return
    if thing.outline is not None:
        yield from check_outline(f"{path}.outline", list(thing.outline))
    if thing.line is not None:
        yield from check_line(f"{path}.line", thing.line)
    sizes = [name for name in ("width", "diameter") if getattr(thing, name) is not None]
    allowed_sizes = {"outline": (), "centre": ("diameter",), "line": ("width", "diameter")}
    good = not sizes if given[0] == "outline" else len(sizes) == 1 or (not sizes and width_known)
    if not good or any(size not in allowed_sizes[given[0]] for size in sizes):
        allowed = {
            "outline": "allowed: no width and no diameter beside an outline",
            "centre": "allowed: a diameter beside a centre, and no width",
            "line": "allowed: a width beside a line, or a diameter if it is round",
        }[given[0]]
        field = sizes[-1] if sizes else "diameter" if given[0] == "centre" else "width"
        value = getattr(thing, field)
        yield Problem(f"{path}.{field}", "nothing" if value is None else repr(value.text), allowed)


def check_line(path: str, line: Sequence[Corner]) -> Iterator[Problem]:
    """A line whose points are apart."""
    for k in range(1, len(line)):
        if math.dist(line[k - 1], line[k]) < NEAR:
            given = f"points {k} and {k + 1} at one place"
            yield Problem(path, given, "allowed: points that are apart, in order along the line")
            return


def _check_heights(path: str, thing: Obstacle) -> Iterator[Problem]:
    if thing.line is not None and thing.diameter is not None:
        if thing.top is not None:
            allowed = "allowed: a bottom and a diameter; what is round has its top by these"
            yield Problem(f"{path}.top", repr(thing.top.text), allowed, (f"{path}.diameter",))
        if thing.drop is not None:
            allowed = "allowed: a bottom for what is round along a line"
            yield Problem(f"{path}.drop", repr(thing.drop.text), allowed, (f"{path}.diameter",))
        return
    if thing.kind == "standing" and thing.top is None:
        yield Problem(f"{path}.top", "nothing", "a standing thing needs its top height")
    if thing.drop is not None:
        if thing.kind == "standing" or thing.bottom > 0.0 or thing.top is not None:
            allowed = "allowed: on a hanging thing, in place of its bottom and top"
            yield Problem(f"{path}.drop", repr(thing.drop.text), allowed, (f"{path}.kind",))
        return
    if thing.kind == "hanging" and not thing.bottom > 0.0:
        given = repr(thing.bottom.text) if "bottom" in thing.model_fields_set else "nothing"
        yield Problem(f"{path}.bottom", given, "a hanging thing needs its bottom height, or a drop")
    sloped = thing.incline is not None and thing.incline.top is not None
    if thing.top is not None and not (thing.top > thing.bottom or (sloped and not thing.top)):
        yield Problem(
            f"{path}.top",
            repr(thing.top.text),
            f"allowed: above its bottom ({thing.bottom.text}); is it upside down?",
            (f"{path}.bottom",),
        )


def _check_incline(path: str, thing: Obstacle) -> Iterator[Problem]:
    slope = thing.incline
    if slope is None:
        return
    if slope.bottom is None and slope.top is None:
        allowed = "allowed: the height of its bottom or top at that end"
        yield Problem(f"{path}.incline", "neither bottom nor top", allowed)
    if thing.drop is not None or (thing.line is not None and thing.diameter is not None):
        allowed = "allowed: on what has its bottom height and is not round along a line"
        yield Problem(f"{path}.incline", f"toward = {slope.toward!r}", allowed)
    if slope.top is not None and thing.top is None:
        allowed = "allowed: beside the thing's own top, which is the height at the other end"
        yield Problem(f"{path}.incline.top", repr(slope.top.text), allowed, (f"{path}.top",))
    if thing.top is None:
        return
    bottom = thing.bottom if slope.bottom is None else slope.bottom
    top = thing.top if slope.top is None else slope.top
    edge = top == bottom == 0.0 and thing.top > thing.bottom  # it runs out on the floor
    if not (top > bottom or edge):
        field = "top" if slope.top is not None else "bottom"
        yield Problem(
            f"{path}.incline.{field}",
            repr(getattr(slope, field).text) if getattr(slope, field) is not None else "nothing",
            f"allowed: a top ({top.text}) above the bottom ({bottom.text}) at that end",
            (f"{path}.bottom", f"{path}.top"),
        )


def _check_swing(path: str, swing: Swing) -> Iterator[Problem]:
    if math.dist(swing.hinge, swing.shut) < NEAR:
        allowed = "allowed: the place of the door's free edge when shut, a width off its hinge"
        yield Problem(f"{path}.shut", f"{swing.shut[0].text!r}, {swing.shut[1].text!r}", allowed)
    if not 0.0 < swing.opens <= HALF_TURN + 1e-9:
        allowed = "allowed: an angle above 0 deg, up to 180 deg"
        yield Problem(f"{path}.opens", repr(swing.opens.text), allowed)


def _check_drop(place: Place, path: str, thing: Obstacle) -> Iterator[Problem]:
    """A thing that hangs by its drop under a ceiling that the place gives."""
    if thing.drop is None or place.floor is None:
        return
    if place.ceiling is None:
        allowed = "allowed: where the place gives a ceiling; else give its bottom"
        yield Problem(f"{path}.drop", repr(thing.drop.text), allowed, ("ceiling",))
        return
    if thing.line is not None:  # it follows the ceiling: where it is deeper, it ends on the floor
        over = max(heights_along(place, thing.line))
    else:
        corners = thing.outline or (() if thing.centre is None else (thing.centre,))
        over = min((height_at(place, float(x), float(y)) for x, y in corners), default=math.inf)
    if not thing.drop < over:
        allowed = f"allowed: less than the ceiling's height there, {like(over, thing.drop.text)}"
        yield Problem(f"{path}.drop", repr(thing.drop.text), allowed, ("ceiling",))


def _check_hoist(path: str, hoist: Hoist) -> Iterator[Problem]:
    yield from check_line(f"{path}.line", hoist.line)
    hook = hoist.hook
    if hook is None:
        return
    if not hook.bottom < hoist.bottom:
        allowed = f"allowed: below the rail's underside ({hoist.bottom.text})"
        yield Problem(f"{path}.hook.bottom", repr(hook.bottom.text), allowed, (f"{path}.bottom",))
    run, half = math.dist(*hoist.line), 0.5 * float(hook.length)
    if hook.length > run + 1e-9:
        allowed = f"allowed: no longer than its rail, {like(run, hook.length.text)}"
        yield Problem(f"{path}.hook.length", repr(hook.length.text), allowed, (f"{path}.line",))
    elif hook.at is not None and not half - 1e-9 <= hook.at <= run - half + 1e-9:
        allowed = (
            f"allowed: its middle {like(half, hook.at.text)} to {like(run - half, hook.at.text)} "
            "from the rail's first end"
        )
        rests = (f"{path}.line", f"{path}.hook.length")
        yield Problem(f"{path}.hook.at", repr(hook.at.text), allowed, rests)


def _check_car(path: str, car: Car) -> Iterator[Problem]:
    bonnet = car.bonnet
    if bonnet is None:
        return
    for field, whole in (("length", car.length), ("height", car.height)):
        given = getattr(bonnet, field)
        if not given < whole:
            allowed = f"allowed: less than the car's own ({whole.text})"
            yield Problem(f"{path}.bonnet.{field}", repr(given.text), allowed, (f"{path}.{field}",))


def _check_zone(path: str, zone: KeptFree) -> Iterator[Problem]:
    yield from _check_plan(path, zone, width_known=zone.guide is not None)
    if zone.top is None and zone.guide is None:
        allowed = "allowed: the height up to which it stays free, or a guide that gives it"
        yield Problem(f"{path}.top", "nothing", allowed)
    if zone.top is not None and not zone.top > zone.bottom:
        allowed = f"allowed: above its bottom ({zone.bottom.text})"
        yield Problem(f"{path}.top", repr(zone.top.text), allowed, (f"{path}.bottom",))
