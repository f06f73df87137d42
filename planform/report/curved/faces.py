"""Solids of a boundary representation kernel, from skins, rounds and facets, in millimetres."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from OCP.BRep import BRep_Builder
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Sewing,
)
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepLib import BRepLib
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder
from OCP.collections import Array1_double, Array1_gp_Pnt, Array1_int, Array2_gp_Pnt
from OCP.Geom import Geom_BSplineCurve, Geom_BSplineSurface
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.TopAbs import TopAbs_SHELL, TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS_Compound, TopoDS_Face, TopoDS_Shape, TopoDS_Solid

from planform.airframe.true_shapes import Band, Round, Skin, TrueShell
from planform.core.shape.parting import Plane
from planform.core.shape.splines import Spline, through
from planform.report.exchange.solids import MM, PartSolid
from planform.report.exchange.step_facets import pieces_of

Array = NDArray[np.float64]

SEWN = 1e-3
"""Edges of curved faces nearer than this are one [mm]."""
SAME = 1e-6
"""Edges of facets nearer than this are one [mm]."""
FLAT = 1e-7
"""A surface is degenerate where it is narrower than this [mm]."""


def lofted(shell: TrueShell) -> TopoDS_Shape:
    """The solid of a shell with its cuts made; ValueError where the kernel finds it open."""
    faces = [_face(skin) for band in shell.bands for skin in band]
    faces += [_end(shell.bands[0], 0), _end(shell.bands[-1], -1)]
    solid: TopoDS_Shape = _sewn(faces, SEWN)
    reach = 4.0 * MM * max(float(np.abs(s.points).max()) for b in shell.bands for s in b)
    for planes in shell.without:
        solid = BRepAlgoAPI_Cut(solid, _within(planes, reach)).Shape()
    if shell.within:
        solid = BRepAlgoAPI_Common(solid, _within(shell.within, reach)).Shape()
    return checked(solid)


def cylinder(one: Round) -> TopoDS_Shape:
    """A right round cylinder."""
    line = (one.end - one.start) * MM
    axes = gp_Ax2(_point(one.start * MM), gp_Dir(*(float(x) for x in line)))
    height = float(np.linalg.norm(line))
    return checked(BRepPrimAPI_MakeCylinder(axes, one.radius * MM, height).Shape())


def faceted(part: PartSolid) -> TopoDS_Shape:
    """A part by its facets, as plane faces: a solid for each of its connected pieces."""
    solids = []
    for piece in pieces_of(part.faces, len(part.points)):
        faces = []
        for corners in part.corners()[piece]:
            ring = BRepBuilderAPI_MakePolygon(*(_point(at) for at in corners), True)
            faces.append(BRepBuilderAPI_MakeFace(ring.Wire(), True).Face())
        solids.append(checked(_sewn(faces, SAME)))
    if len(solids) == 1:
        return solids[0]
    whole = TopoDS_Compound()
    builder = BRep_Builder()
    builder.MakeCompound(whole)
    for solid in solids:
        builder.Add(whole, solid)
    return whole


def checked(solid: TopoDS_Shape) -> TopoDS_Shape:
    """The same; ValueError where it holds no solid or the kernel's own check finds a fault."""
    if not TopExp_Explorer(solid, TopAbs_SOLID).More() or not BRepCheck_Analyzer(solid).IsValid():
        raise ValueError("Expected a closed solid, got one with a fault")
    return solid


def _point(at: Array) -> gp_Pnt:
    return gp_Pnt(float(at[0]), float(at[1]), float(at[2]))


def _knots(spline: Spline) -> tuple[Array1_double, Array1_int]:
    """The knots, each once, and how often each counts."""
    once, often = np.unique(spline.knots, return_counts=True)
    knots, counts = Array1_double(1, len(once)), Array1_int(1, len(once))
    for k, (knot, count) in enumerate(zip(once, often, strict=True), 1):
        knots.SetValue(k, float(knot))
        counts.SetValue(k, int(count))
    return knots, counts


def _face(skin: Skin) -> TopoDS_Face:
    along = through(skin.points.transpose(1, 0, 2) * MM, skin.at)
    rows = through(along.poles.transpose(1, 0, 2), np.arange(float(len(skin.points))))
    poles = Array2_gp_Pnt(1, len(along.poles), 1, len(rows.poles))
    for i in range(len(along.poles)):
        for j in range(len(rows.poles)):
            poles.SetValue(i + 1, j + 1, _point(rows.poles[j, i]))
    (u, v), (often_u, often_v) = zip(_knots(along), _knots(rows), strict=True)
    surface = Geom_BSplineSurface(poles, u, v, often_u, often_v, along.degree, rows.degree)
    return BRepBuilderAPI_MakeFace(surface, FLAT).Face()


def _end(band: Band, row: int) -> TopoDS_Face:
    """The flat end within one row of a band."""
    wire = BRepBuilderAPI_MakeWire()
    for skin in band:
        curve = through(skin.points[row] * MM, skin.at)
        poles = Array1_gp_Pnt(1, len(curve.poles))
        for k, at in enumerate(curve.poles, 1):
            poles.SetValue(k, _point(at))
        edge = BRepBuilderAPI_MakeEdge(Geom_BSplineCurve(poles, *_knots(curve), curve.degree))
        wire.Add(edge.Edge())
    return BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()


def _sewn(faces: list[TopoDS_Face], near: float) -> TopoDS_Solid:
    sewing = BRepBuilderAPI_Sewing(near)
    for face in faces:
        sewing.Add(face)
    sewing.Perform()
    if sewing.NbFreeEdges():
        raise ValueError("Expected faces that close, got open edges")
    solid = TopoDS_Solid()
    builder = BRep_Builder()
    builder.MakeSolid(solid)
    found = TopExp_Explorer(sewing.SewedShape(), TopAbs_SHELL)
    while found.More():
        builder.Add(solid, found.Current())
        found.Next()
    BRepLib.OrientClosedSolid_s(solid)
    return solid


def _within(planes: tuple[Plane, ...], reach: float) -> TopoDS_Shape:
    """What lies on the sides of all planes, out to a distance [mm]."""
    found = None
    for plane in planes:
        normal = plane.normal / np.linalg.norm(plane.normal)
        across = np.cross(normal, np.eye(3)[int(np.argmin(np.abs(normal)))])
        across /= np.linalg.norm(across)
        corner = plane.point * MM - 0.5 * reach * (across + np.cross(normal, across))
        axes = gp_Ax2(_point(corner), *(gp_Dir(*(float(x) for x in n)) for n in (normal, across)))
        half = BRepPrimAPI_MakeBox(axes, reach, reach, reach).Shape()
        found = half if found is None else BRepAlgoAPI_Common(found, half).Shape()
    return found
