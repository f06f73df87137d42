"""Checks of the ground along the way through a door."""

from __future__ import annotations

from collections.abc import Iterator

from planform.design.doors import Door
from planform.design.problems import Problem
from planform.design.units import like


def check_ground(path: str, door: Door, thickness: float) -> Iterator[Problem]:
    """Problems of a door's ground and planks.

    path : of the door, such as 'doors[1]'
    thickness : of the wall [m]
    """
    points = door.ground or ()
    if points and abs(points[0].height) > 1e-9:
        yield Problem(
            f"{path}.ground[1].height",
            repr(points[0].height.text),
            "allowed: zero, as heights are over the room's floor and the way begins on it",
        )
    for k in range(1, len(points)):
        here = f"{path}.ground[{k + 1}].at"
        if points[k].at < points[k - 1].at:
            yield Problem(
                here,
                repr(points[k].at.text),
                f"allowed: no nearer than the point before it ({points[k - 1].at.text}); points "
                "go outward, and inside the room they are negative",
                rests=(f"{path}.ground[{k}].at",),
            )
        elif k > 1 and points[k].at == points[k - 1].at == points[k - 2].at:
            yield Problem(
                here,
                repr(points[k].at.text),
                "a third point at one place; two make a step, from the lower to the upper height",
            )
    inside = [p for p in points if 0.0 <= p.at <= thickness]
    for point in inside:
        if not point.height < door.clear_height:
            yield Problem(
                f"{path}.ground",
                f"height {point.height.text!r} at {point.at.text!r}",
                f"allowed: in the opening, under its head ({door.clear_height.text})",
                rests=(f"{path}.clear_height", f"{path}.ground"),
            )
    half = 0.5 * float(door.clear_width)
    for k, plank in enumerate(door.planks):
        here = f"{path}.planks[{k + 1}]"
        if not plank.end > plank.start:
            yield Problem(
                f"{here}.end",
                repr(plank.end.text),
                f"allowed: further out than its start ({plank.start.text})",
                rests=(f"{here}.start",),
            )
        through = plank.start < thickness and plank.end > 0.0
        if through and abs(plank.middle) + 0.5 * plank.width > half + 1e-9:
            yield Problem(
                f"{here}.middle",
                f"{plank.middle.text!r}, {plank.width.text!r} wide",
                f"allowed: between the jambs, {like(half, plank.middle.text)} either side of the "
                "door's middle",
                rests=(f"{path}.clear_width", f"{here}.width"),
            )
