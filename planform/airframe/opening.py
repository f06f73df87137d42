"""How a door or canopy opens: heights, strut lengths, what holds it, what it comes near.

Statics are those of a rigid panel at rest about its hinge, with no friction and no wind.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.hinge import Hinge
from planform.airframe.part import Part
from planform.airframe.presence import covers
from planform.airframe.stance import Standing
from planform.core.quantity import Kilograms, Metres, Newtons, Radians
from planform.core.shape.distance import mesh_distance
from planform.core.shape.hinge import (
    STANDARD_GRAVITY,
    moment_about,
    off_line,
    spring_force,
)
from planform.core.shape.swing import least_over_turn
from planform.design.hinges import at, held_open
from planform.design.panels import Panel, Strut
from planform.design.sided import on_side

Array = NDArray[np.float64]

STEPS = 5
"""Angles of the table, shut and open among them."""

NEAR = 0.3
"""What a panel passes farther away than this is not told [m]; assumption."""

LOOKS = 9
"""Angles from which a box round a whole swing is drawn."""

TOUCHES = 1e-3
"""What is nearer than this to the shut panel belongs to its frame [m]; assumption."""


@dataclass(frozen=True)
class OpenAt:
    """A panel at one angle, on the aircraft as it stands.

    struts : between the mounts of each strut
    top, headroom : highest and lowest of its free edge over the floor
    hand : what a hand at its free edge, square to it, must lift with to hold it there; below zero
        it must pull it down; None where the mass or a strut's force is not known
    """

    angle: Radians
    struts: tuple[Metres, ...]
    top: Metres
    headroom: Metres
    hand: Newtons | None


@dataclass(frozen=True)
class Passes:
    """The nearest that a panel comes to another part of the aircraft while it opens."""

    part: str
    gap: Metres
    angle: Radians


@dataclass(frozen=True)
class PanelOpening:
    """How a panel opens at a stage.

    held_by : what ends the opening ; mass : of the panel ; missing : why there is no hand force
    frame : parts that it touches shut, which are not counted as in its way
    """

    panel: str
    angle: Radians
    held_by: str
    mass: Kilograms | None
    rows: tuple[OpenAt, ...]
    passes: Passes | None
    frame: tuple[str, ...]
    missing: str


def openings(standing: Standing) -> tuple[PanelOpening, ...]:
    """How each panel that is on the aircraft opens, shut ones too."""
    on = {part.name for part in standing.parts}
    airframe = standing.airframe
    return tuple(
        _opening(standing, part)
        for part in airframe.parts
        if part.role == "panel" and part.name in on
    )


def _opening(standing: Standing, part: Part) -> PanelOpening:
    side = "left" if part.name.startswith("left ") else "right"
    panel = on_side(standing.airframe.design.panels[part.group], side)
    hinge = part.hinge
    assert hinge is not None
    sides = np.array([1.0, _side(panel, part), 1.0])
    struts = [_Prop(s, at(s.frame_mount) * sides, at(s.panel_mount) * sides) for s in panel.struts]
    weight = _weight(standing, part)
    missing = _missing(panel, weight)
    rows = tuple(
        _open_at(standing, part, struts, float(angle), None if missing else weight)
        for angle in np.linspace(0.0, hinge.stop, STEPS)
    )
    _, held_by = held_open(panel, part.points.mean(axis=0) * sides)
    passes, frame = _passes(standing, part)
    mass = weight[0] if weight is not None else None
    return PanelOpening(part.name, hinge.stop, held_by, mass, rows, passes, frame, missing)


def _side(panel: Panel, part: Part) -> float:
    """-1 for a left panel, which is the mirror image of what is written."""
    return -1.0 if panel.side == "left" or part.name == f"left {part.group}" else 1.0


@dataclass(frozen=True, eq=False)
class _Prop:
    """A strut on its own side: its mount on the airframe, and on the panel shut [m]."""

    strut: Strut
    frame: Array
    mount: Array

    def length(self, hinge: Hinge, angle: float) -> float:
        """Between its mounts with the panel open by an angle [m]."""
        return float(np.linalg.norm(_turned(hinge, self.mount[None], angle)[0] - self.frame))

    def push(self, hinge: Hinge, angle: float) -> float:
        """Its moment about the hinge [N m], opening positive."""
        rated = self.strut.force
        assert rated is not None
        end = _turned(hinge, self.mount[None], angle)[0]
        run = end - self.frame
        length = float(np.linalg.norm(run))
        shut, out = self.length(hinge, 0.0), float(self.strut.length)
        force = spring_force(length, out, shut, float(rated), float(self.strut.force_shut or rated))
        return moment_about(hinge.origin, hinge.axis, force * run / length, end)


def _turned(hinge: Hinge, points: Array, angle: float) -> Array:
    turn, shift = hinge.at(angle)
    return np.asarray(points @ turn.T + shift)


def _weight(standing: Standing, part: Part) -> tuple[float, Array] | None:
    """Mass of a panel [kg] and its CG shut, shape (3,) [m]; None where no mass item names it."""
    airframe = standing.airframe
    pair = sum(other.group == part.group for other in airframe.parts) > 1
    total, moment = 0.0, np.zeros(3)
    for item in airframe.design.masses:
        if item.part is None or not covers(item.part, part):
            continue
        share = 0.5 if pair and item.part == part.group else 1.0
        point = np.array([float(item.fs), float(item.bl), float(item.wl)])
        if share < 1.0:
            point[1] = 0.5 * float(part.points[:, 1].min() + part.points[:, 1].max())
        total += share * float(item.mass)
        moment += share * float(item.mass) * point
    return (total, moment / total) if total > 0.0 else None


def _missing(panel: Panel, weight: object) -> str:
    """What is not known of the forces at the hinge; empty where all is."""
    if weight is None:
        return "no mass item names it"
    if any(strut.force is None for strut in panel.struts):
        return "a strut has no force"
    return ""


def _open_at(
    standing: Standing,
    part: Part,
    struts: list[_Prop],
    angle: float,
    weight: tuple[float, Array] | None,
) -> OpenAt:
    hinge = part.hinge
    assert hinge is not None
    rim = _turned(hinge, part.points[list(hinge.rim)], angle)
    heights = standing.to_floor(rim)[:, 2]
    lengths = tuple(one.length(hinge, angle) for one in struts)
    hand = None
    if weight is not None:
        mass, cg = weight
        down = standing.turn.T @ np.array([0.0, 0.0, -1.0])
        at_cg = _turned(hinge, cg[None], angle)[0]
        moment = moment_about(hinge.origin, hinge.axis, mass * STANDARD_GRAVITY * down, at_cg)
        moment += sum(one.push(hinge, angle) for one in struts)
        hand = -moment / float(off_line(hinge.origin, hinge.axis, rim).max())
    return OpenAt(angle, lengths, float(heights.max()), float(heights.min()), hand)


def _passes(standing: Standing, part: Part) -> tuple[Passes | None, tuple[str, ...]]:
    """The nearest that a panel comes to a part that does not touch it shut; and those that do.

    The nearest parts are looked at first; what is farther than one found need not be gone into.
    """
    hinge = part.hinge
    assert hinge is not None
    reach = float(off_line(hinge.origin, hinge.axis, part.points).max())
    turns = np.linspace(0.0, hinge.stop, LOOKS)
    swept = np.concatenate([_turned(hinge, part.points, angle) for angle in turns])
    between = reach * (1.0 - np.cos(0.5 * hinge.stop / (LOOKS - 1)))
    near: Passes | None = None
    frame = list(part.hosts)
    for off, other in sorted(_others(standing, part, swept), key=lambda pair: pair[0]):
        least = NEAR if near is None else min(NEAR, near.gap + part.bulge + other.bulge)
        if off - between > least:
            break
        limit = least + 0.25 * reach * hinge.stop

        def gap(angle: float, other: Part = other, limit: float = limit) -> float:
            points = _turned(hinge, part.points, angle)
            found = mesh_distance(points, part.faces, other.points, other.faces, limit)
            return min(found.distance, limit)

        if gap(0.0) < TOUCHES:
            frame.append(other.name)
            continue
        found, angle = least_over_turn(gap, hinge.stop, reach, least)
        one = Passes(other.name, found - part.bulge - other.bulge, angle)
        if found < least and (near is None or one.gap < near.gap):
            near = one
    on = {other.name for other in standing.parts}
    return near, tuple(dict.fromkeys(name for name in frame if name in on))


def _others(standing: Standing, part: Part, swept: Array) -> Iterator[tuple[float, Part]]:
    """The other parts that are on, but those that hang on it and its hosts, as they are built.

    With how far the box round each is from that round the points of its swing [m].
    """
    on = {other.name for other in standing.parts}
    low, high = swept.min(axis=0), swept.max(axis=0)
    for other in standing.airframe.parts:
        hung = {part.name, part.group} & {other.name, *other.hosts}
        if other.name in on and not hung and other.name not in part.hosts:
            apart = np.maximum(low - other.points.max(axis=0), other.points.min(axis=0) - high)
            yield float(np.linalg.norm(np.maximum(apart, 0.0))), other
