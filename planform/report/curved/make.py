"""The parts of a standing aircraft as curved solids, and what of them keeps its facets."""

from __future__ import annotations

from dataclasses import dataclass

from OCP.TopoDS import TopoDS_Shape

from planform.airframe.stance import Standing
from planform.airframe.true_shapes import Round, TrueShell, true_parts
from planform.design.problems import Failure
from planform.report.curved import faces
from planform.report.curved.document import written
from planform.report.exchange.solids import Axes, PartSolid, solids_of, standing_in


@dataclass(frozen=True)
class CurvedFile:
    """A file of curved solids.

    faceted : names of the parts that have plane facets in it
    """

    content: bytes
    faceted: tuple[str, ...]


def curved_file(standing: Standing, axes: Axes) -> CurvedFile:
    """The parts that are on, with the faces that they truly have where those are known.

    Raises Failure where a part is no closed solid to the kernel, or it writes no file.
    """
    solids = solids_of(standing, axes)
    true = true_parts(standing.airframe, standing_in(standing, axes))
    shapes: dict[str, TopoDS_Shape] = {}
    faceted = []
    for part, one in zip(solids.parts, true, strict=True):
        found = _curved(one) if one is not None else None
        if found is None:
            faceted.append(part.name)
            found = _by_facets(part)
        shapes[part.name] = found
    try:
        return CurvedFile(written(solids, shapes), tuple(faceted))
    except ValueError as error:
        raise Failure(f"the STEP file could not be made: {error}") from None


def _curved(one: TrueShell | Round) -> TopoDS_Shape | None:
    """The solid; None where the kernel finds a fault in it."""
    try:
        return faces.lofted(one) if isinstance(one, TrueShell) else faces.cylinder(one)
    except ValueError:
        return None


def _by_facets(part: PartSolid) -> TopoDS_Shape:
    try:
        return faces.faceted(part)
    except ValueError as error:
        raise Failure(f"{part.name} cannot be written as a solid of faces: {error}") from None
