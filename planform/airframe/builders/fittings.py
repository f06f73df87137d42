"""Small things on the skin of a part, as solids."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from planform.airframe.builders.made import Made
from planform.airframe.builders.meeting import nearest_host, on_skin
from planform.airframe.part import Part
from planform.airframe.surfaces import sided_name, sides
from planform.core.shape import loft
from planform.core.shape.prism import prism
from planform.design.fittings import ACROSS, Fitting
from planform.design.hinges import DIRECTIONS
from planform.design.problems import InputError, Problem

Array = NDArray[np.float64]

AXES = {"fs": 0, "bl": 1, "wl": 2}


def build_fitting(name: str, fitting: Fitting, *hosts: Part) -> Made:
    """A rod or a box on the skin of its host, or one on each side.

    hosts : the parts that its name means, those of both sides
    Raises InputError where no skin is at the place given.
    """
    out = []
    for sign in sides(fitting.side):
        foot, host = _foot(name, fitting, hosts, sign)
        mesh = _rod(fitting, foot) if fitting.rod is not None else _box(fitting, foot)
        points, faces = mesh if sign > 0 else loft.mirrored(*mesh)
        own = sided_name(name, fitting.side, sign)
        under = (*host.hosts, host.name, host.group)
        out.append(Part(own, name, "fitting", points, faces, host.bulge, hosts=under))
    return Made(tuple(out))


def _foot(name: str, fitting: Fitting, hosts: tuple[Part, ...], sign: int) -> tuple[Array, Part]:
    """Where a fitting begins, shape (3,) [m], and the part that it stands on.

    sign : of a left one (-1) this is its mirror image
    """
    along = ACROSS[fitting.way]
    given = {field: getattr(fitting.at, field) for field in AXES}
    point = np.array([float(given[field] or 0.0) for field in AXES])
    if given[along] is not None:
        return point, nearest_host(hosts, point, sign)
    axis = AXES[along]
    sense = float(np.sign(DIRECTIONS[fitting.way][axis]))
    met = on_skin(hosts, point, axis, sense, sign)
    if met is None:
        where = ", ".join(given[field].text for field in AXES if given[field] is not None)
        allowed = f"no skin of {fitting.on} there; allowed: a place over it, or give {along} too"
        raise InputError("design", [Problem(f"fittings.{name}.at", repr(where), allowed)])
    return met


def _rod(fitting: Fitting, foot: Array) -> loft.Mesh:
    rod = fitting.rod
    assert rod is not None
    way = np.array(DIRECTIONS[fitting.way])
    way = way + np.array([math.tan(rod.leans_aft), math.tan(rod.leans_out), 0.0])
    way /= np.linalg.norm(way)
    return loft.cylinder(foot, foot + float(rod.length) * way, 0.5 * float(rod.diameter), sides=12)


def _box(fitting: Fitting, foot: Array) -> loft.Mesh:
    box = fitting.box
    assert box is not None
    size = np.array([float(box.fore_aft), float(box.across), float(box.upright)])
    middle = foot + 0.5 * size * np.array(DIRECTIONS[fitting.way])
    low, high = middle - 0.5 * size, middle + 0.5 * size
    ring = np.array([[low[0], low[1]], [high[0], low[1]], [high[0], high[1]], [low[0], high[1]]])
    return prism(ring, float(low[2]), float(high[2]))
