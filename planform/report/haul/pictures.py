"""The load from above and from the side."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.design.kinds import ROLES
from planform.design.told import said
from planform.drawing.drawing import Drawing
from planform.drawing.sheet import Sheet
from planform.drawing.views import scale_bar
from planform.study.hauling import Haul
from planform.study.stowing import PlacedPiece


def plan(found: Haul, system: str) -> Drawing:
    """The load from above, the front of the bed at the left."""
    bed = found.carrier.bed
    sheet = _sheet(found, np.array([0.0, float(bed.width)]))
    floor = [(0, 0), (bed.length, 0), (bed.length, bed.width), (0, bed.width)]
    sheet.polygon([(float(x), float(y)) for x, y in floor], "floor")
    sheet.polygon([(float(x), float(y)) for x, y in floor], "opening")
    for one in found.loaded:
        _piece(sheet, one, 1, found)
    _running(sheet, found, float(bed.width), system)
    centre = found.centre
    if centre is not None:
        _cross(sheet, (float(centre[0]), float(bed.width) - float(centre[1])), "load's centre")
    scale_bar(sheet, system)
    return sheet.drawing(f"the load on {found.carrier.name} from above")


def side(found: Haul, system: str) -> Drawing:
    """The load from its left, standing over the road."""
    bed = found.carrier.bed
    road = float(bed.over_road or 0.0)
    top = max([*(float(o.attitude.size[2]) for o in found.loaded), float(bed.headroom or 0.0)])
    sheet = _sheet(found, np.array([0.0, road + top]))
    if bed.headroom is not None:
        inside = [(0.0, road), (float(bed.length), road)]
        inside += [(x, road + float(bed.headroom)) for x, _ in reversed(inside)]
        sheet.polygon(inside, "floor")
        sheet.polygon(inside, "opening")
    sheet.line([(0.0, road), (float(bed.length), road)], "surface")
    for one in found.loaded:
        _piece(sheet, one, 2, found)
    run = found.carrier.running
    for axle in run.axles if run is not None else ():
        sheet.dot((float(axle), 0.5 * road), "pivot", 0.42 * road * sheet.scale)
    if road:
        sheet.line([(sheet.low[0], 0.0), (sheet.high[0], 0.0)], "thin")
    limit = found.carrier.road.height
    if limit is not None:
        sheet.line([(0.0, float(limit)), (float(bed.length), float(limit))], "leader")
        sheet.note((0.5 * float(bed.length), float(limit)), "road height limit", "small")
    centre = found.centre
    if centre is not None:
        _cross(sheet, (float(centre[0]), road + float(centre[2])), "load's centre")
    scale_bar(sheet, system)
    return sheet.drawing(f"the load on {found.carrier.name} from its left")


def _sheet(found: Haul, ends: NDArray[np.float64]) -> Sheet:
    bed, run = found.carrier.bed, found.carrier.running
    limit = found.carrier.road.height
    front = -float(run.hitch) if run is not None else 0.0
    back = max([float(bed.length), *(one.box[1] for one in found.loaded)])
    top = max(float(ends[1]), float(limit) if limit is not None and ends[1] > bed.width else 0.0)
    return Sheet(np.array([front, 0.0]), np.array([back, top]), width=760, margin=0.5)


def _piece(sheet: Sheet, one: PlacedPiece, axis: int, found: Haul) -> None:
    """A piece's solids and its box, seen across the other axis."""
    import shapely

    bed = found.carrier.bed
    shift = np.array([one.along, one.across, float(bed.over_road or 0.0)])
    attitude = one.attitude
    for part in attitude.piece.carried.parts:
        points = part.points @ attitude.axes.T - attitude.low + shift
        flat = points[:, [0, axis]]
        if axis == 1:
            flat[:, 1] = float(bed.width) - flat[:, 1]
        shapes = shapely.convex_hull(shapely.multipoints(flat[part.faces]))
        sheet.shape(shapely.union_all(shapes), ROLES[part.role].line, part.name)
    low = shift[axis]
    high = low + float(attitude.size[axis])
    if axis == 1:
        low, high = float(bed.width) - high, float(bed.width) - low
    a, b, _, _ = one.box
    sheet.line([(a, low), (b, low), (b, high), (a, high), (a, low)], "sight")
    if axis == 1:
        sheet.note(np.array([0.5 * (a + b), 0.5 * (low + high)]), attitude.piece.name, "small")


def _running(sheet: Sheet, found: Haul, width: float, system: str) -> None:
    run = found.carrier.running
    if run is None:
        return
    for axle in run.axles:
        sheet.line([(float(axle), -0.12), (float(axle), width + 0.12)], "board")
    sheet.line([(0.0, 0.5 * width), (-float(run.hitch), 0.5 * width)], "roof")
    sheet.dot((-float(run.hitch), 0.5 * width), "pivot", 6.0)
    loads = {line.name: line for line in found.lines}
    force = loads["load on the hitch, most"].value
    if force is not None:
        words = f"{said(force, 'mass', system)} on the hitch"
        sheet.note((-float(run.hitch), 0.5 * width), words, "strong")


def _cross(sheet: Sheet, point: tuple[float, float], words: str) -> None:
    sheet.dot(point, "pivot", 7.0)
    sheet.dot(point, "end", 3.0)
    sheet.note(np.array(point), words, "strong")
