"""Routes built by hand, for tests."""

from __future__ import annotations

import math

import numpy as np

from planform.fit.moves import Move, Pose, Route


def turned(pose, point, angle):
    """A turn about a point of floor axes, clockwise positive."""
    centre = pose.place(np.array([point]))[0]
    first = Move(pose, Pose(pose.x, pose.y, pose.heading + angle), tuple(map(float, centre)))
    return Move(pose, first.at(1.0), first.centre)


def pushed(pose, length):
    """A push along the nose, ahead positive."""
    x = pose.x + length * math.sin(pose.heading)
    y = pose.y + length * math.cos(pose.heading)
    return Move(pose, Pose(x, y, pose.heading))


def slid(pose, dx, dy, turn=0.0):
    """A slide over the floor with an even turn."""
    return Move(pose, Pose(pose.x + dx, pose.y + dy, pose.heading + turn))


def chained(start, *makers, clearance=0.1, moving="dollies"):
    """A route of moves, each made from the pose that the one before ends at."""
    moves = []
    for make in makers:
        moves.append(make(moves[-1].end if moves else start))
    return Route(tuple(moves), clearance, moving)


def way_out(start):
    """Back, a turn about the left wheel of the plain design, a slide with the turn undone, out."""
    return chained(
        start,
        lambda p: pushed(p, -0.4),
        lambda p: turned(p, (0.0, -1.0), 0.15),
        lambda p: slid(p, 0.1, -0.1, -0.15),
        *[lambda p, k=k: slid(p, 0.005, -0.03, 0.001 * (-1) ** k) for k in range(8)],
        lambda p: pushed(p, 7.0),
    )


def mirrored(route, middle):
    """The same route on the other side of a line x = middle."""

    def pose(p):
        return Pose(2.0 * middle - p.x, p.y, -p.heading)

    moves = []
    for m in route.moves:
        centre = None if m.centre is None else (2.0 * middle - m.centre[0], m.centre[1])
        moves.append(Move(pose(m.start), pose(m.end), centre, (m.carried[0], -m.carried[1])))
    return Route(tuple(moves), route.clearance, route.moving)
