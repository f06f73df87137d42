"""Checks of the leaves of doors against their openings and the ceiling."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planform.design.doors import LEAVES, Door
from planform.design.leaves import Bifold
from planform.design.place import Place
from planform.design.problems import Problem
from planform.design.roof import height_at
from planform.design.units import like


def check_leaf(place: Place, path: str, door: Door) -> Iterator[Problem]:
    """Problems of a door's leaf; the wall of the door is there."""
    given = [name for name in LEAVES if getattr(door, name)]
    if len(given) > 1:
        yield Problem(
            f"{path}.{given[1]}",
            f"with {given[0]}",
            "allowed: one kind of leaf for a door; an opening with two needs two doors",
        )
        return
    yield from _check_leaf_height(path, door)
    if door.sectional is not None:
        yield from _check_sectional(place, path, door)
    if door.bifold is not None:
        yield from _check_drop(path, door, door.bifold)
    for k, swung in enumerate(door.hinged):
        if not 0.0 <= swung.open <= math.pi:
            yield Problem(
                f"{path}.hinged[{k + 1}].open",
                repr(swung.open.text),
                "allowed: from 0 deg (shut) to 180 deg (flat against the wall)",
            )
        if swung.hinge in [other.hinge for other in door.hinged[:k]]:
            yield Problem(
                f"{path}.hinged[{k + 1}].hinge",
                repr(swung.hinge),
                "allowed: one leaf hinged at each jamb",
            )
    curtain = door.strip_curtain
    if curtain is not None and not curtain.lower_end < door.clear_height:
        yield Problem(
            f"{path}.strip_curtain.lower_end",
            repr(curtain.lower_end.text),
            f"allowed: under the clear height ({door.clear_height.text}); the strips hang in the "
            "opening",
            (f"{path}.clear_height",),
        )
    under = None if door.roller is None else door.roller.underside
    if under is not None and under < door.clear_height:
        yield Problem(
            f"{path}.roller.underside",
            repr(under.text),
            f"allowed: at least the clear height ({door.clear_height.text}), which is what "
            "the open door leaves",
            (f"{path}.clear_height",),
        )


def _check_leaf_height(path: str, door: Door) -> Iterator[Problem]:
    for name in ("sectional", "bifold"):
        leaf = getattr(door, name)
        if leaf is not None and leaf.leaf_height < door.clear_height:
            yield Problem(
                f"{path}.{name}.leaf_height",
                repr(leaf.leaf_height.text),
                f"allowed: at least the clear height ({door.clear_height.text}), as the leaf "
                "covers the opening when shut",
                (f"{path}.clear_height",),
            )


def _check_drop(path: str, door: Door, leaf: Bifold) -> Iterator[Problem]:
    """A folded leaf hangs down from its upper edge by its two panels at the least."""
    drop = leaf.leaf_height - door.clear_height
    if 0.0 <= drop < 2.0 * leaf.thickness:
        most = like(leaf.leaf_height - 2.0 * leaf.thickness, door.clear_height.text)
        yield Problem(
            f"{path}.clear_height",
            repr(door.clear_height.text),
            f"allowed: at most {most}: the folded leaf hangs down from its upper edge by its "
            "two panels at least; measure what is left clear with the door open",
            (f"{path}.bifold.leaf_height", f"{path}.bifold.thickness"),
        )


def _check_sectional(place: Place, path: str, door: Door) -> Iterator[Problem]:
    leaf = door.sectional
    assert leaf is not None
    at = f"{path}.sectional"
    if leaf.track_height < door.clear_height:
        yield Problem(
            f"{at}.track_height",
            repr(leaf.track_height.text),
            f"allowed: at least the clear height ({door.clear_height.text}), which is what the "
            "open leaf and its rails leave",
            (f"{path}.clear_height",),
        )
    if leaf.track_radius > leaf.track_height:
        yield Problem(
            f"{at}.track_radius",
            repr(leaf.track_radius.text),
            f"allowed: at most the height of the rails ({leaf.track_height.text})",
            (f"{at}.track_height",),
        )
    if place.ceiling is None:
        return
    (x0, y0), (x1, y1) = place.floor.walls[door.wall]
    share = (door.from_corner + 0.5 * door.clear_width) / math.hypot(x1 - x0, y1 - y0)
    over = height_at(place, x0 + share * (x1 - x0), y0 + share * (y1 - y0))
    if leaf.track_height + leaf.thickness > over + 1e-9:
        yield Problem(
            f"{at}.track_height",
            repr(leaf.track_height.text),
            f"allowed: rails and leaf under the ceiling, which is at "
            f"{like(over, leaf.track_height.text)} there; the leaf is {leaf.thickness.text} thick",
            ("ceiling", f"{at}.thickness"),
        )
