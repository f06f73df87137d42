"""Struts between two parts, as solids."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.airframe.builders.made import Made
from planform.airframe.builders.meeting import nearest_host, on_skin
from planform.airframe.part import Part
from planform.airframe.surfaces import sided_name, sides
from planform.core.shape import loft
from planform.design.problems import InputError, Problem
from planform.design.struts import NEAR, LiftStrut, StrutEnd

Array = NDArray[np.float64]

AXES = ("fs", "bl", "wl")
THICKEST = 0.3
"""Share of the chord of a symmetric four-digit section where it is thickest (NACA Report 460)."""
AHEAD = 0.1
"""A faired strut makes at least this angle's sine with the stream; assumption."""


def build_strut(name: str, strut: LiftStrut, *hosts: Part) -> Made:
    """A strut between two parts, or one on each side.

    hosts : the parts that the names of its ends mean, those of both sides
    Raises InputError where no skin is at an end, or where it has no length.
    """
    out = []
    for sign in sides(strut.side):
        found = [
            _end(f"struts.{name}.{field}", getattr(strut, field), hosts, sign)
            for field in ("inner_end", "outer_end")
        ]
        (start, one), (end, two) = found
        line = end - start
        if float(np.linalg.norm(line)) < NEAR:
            raise _refused(
                f"struts.{name}.outer_end", "the inner end itself", "ends that stand apart"
            )
        mesh, bulge = (
            _round(strut, start, end) if strut.diameter else _faired(name, strut, start, end)
        )
        points, faces = mesh if sign > 0 else loft.mirrored(*mesh)
        own = sided_name(name, strut.side, sign)
        under = tuple(dict.fromkeys(n for p in (one, two) for n in (*p.hosts, p.name, p.group)))
        bulge += max(one.bulge, two.bulge)
        out.append(Part(own, name, "strut", points, faces, bulge, hosts=under))
    return Made(tuple(out))


def _refused(path: str, given: str, allowed: str) -> InputError:
    return InputError("design", [Problem(path, given, f"allowed: {allowed}")])


def _end(path: str, end: StrutEnd, hosts: tuple[Part, ...], sign: int) -> tuple[Array, Part]:
    """Where a strut ends, as on the right, shape (3,) [m], and the part that it ends on."""
    on = [part for part in hosts if end.on in (part.name, part.group)]
    point = np.array([float(getattr(end, field) or 0.0) for field in AXES])
    left_out = [k for k, field in enumerate(AXES) if getattr(end, field) is None]
    if not left_out:
        return point, nearest_host(on, point, sign)
    axis, sense = left_out[0], (1.0 if left_out[0] == 1 else -1.0)
    met = on_skin(on, point, axis, sense, sign)
    if met is None:
        given = ", ".join(getattr(end, f).text for f in AXES if getattr(end, f) is not None)
        words = f"a place where the {end.on} has a skin, or give {AXES[axis]} too"
        raise _refused(path, repr(given), words)
    return met


def _round(strut: LiftStrut, start: Array, end: Array) -> tuple[loft.Mesh, float]:
    return loft.cylinder(start, end, 0.5 * float(strut.diameter or 0.0), sides=16), 0.0


def _faired(name: str, strut: LiftStrut, start: Array, end: Array) -> tuple[loft.Mesh, float]:
    """A symmetric four-digit section across the line, its chord as near aft as may be."""
    chord, thickness = float(strut.chord or 0.0), float(strut.thickness or 0.0)
    line = (end - start) / np.linalg.norm(end - start)
    aft = np.array([1.0, 0.0, 0.0]) - line[0] * line
    if float(np.linalg.norm(aft)) < AHEAD:
        words = "a diameter where the strut runs fore and aft; a fairing has no way to point"
        raise _refused(f"struts.{name}.chord", repr(strut.chord.text if strut.chord else ""), words)
    aft /= np.linalg.norm(aft)
    section = (0.0, 0.0, thickness / chord)
    ring = loft.section_ring(*section, closed=True)
    flat = chord * ((ring[:, :1] - THICKEST) * aft + ring[:, 1:] * np.cross(line, aft))
    mesh = loft.panel_chain(np.stack([start + flat, end + flat]), closed=True)
    return mesh, chord * loft.section_bulge(*section)
