"""Parts on a trailer or in a container, as tables, drawings, JSON and a page."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from planform.core.spread import NO_SPREAD
from planform.design.kinds import ROLES
from planform.design.models import Design
from planform.design.told import reader, said
from planform.drawing.drawing import Drawing
from planform.drawing.sheet import Sheet
from planform.drawing.views import scale_bar
from planform.drawing.writers import save_all
from planform.report import to_json
from planform.report.folder import whole_folder
from planform.report.page import drawn, page, words_for
from planform.report.table import Cell, Quantity, SheetTable, Words, bands, to_csv
from planform.report.words import cell
from planform.study.hauling import Haul
from planform.study.load_limits import LimitCheck
from planform.study.stowing import Piece, PlacedPiece, least_box

NOTES = (
    "Each piece counts as the box round it in one of the attitudes tried: its least box found and "
    "those of the aircraft's axes, on any face. It stands on the bed with nothing on top; one "
    "on its edge or on end needs a cradle that holds it there; "
    "racks and leaning pieces are not looked at. Not found is not no.",
    "The load on the hitch is statics about the middle of the axles, which are taken to carry "
    "alike. Common practice, no source: a tenth to a seventh of the loaded trailer on the hitch; "
    "the trailer's and the tow vehicle's plates come first. A light hitch makes a trailer swing.",
    "Masses are estimates of the design file: weigh the axles and the hitch before the road.",
)

MIND = (
    "Lash every piece fore, aft and sideways on its own, on pads, never over a skin alone; a "
    "wing lifts in the wind of the road. 49 CFR 393.102 asks for 0.8 g forward, 0.5 g rearward and "
    "0.5 g sideways; local rules come first.",
    "Flag and light what stands out at the rear as the local rules ask. Look again after the "
    "first miles.",
)


def headline(found: Haul) -> str:
    """The answer in one sentence."""
    if found.found:
        return f"{found.verdict}: a place for each piece was found and checked"
    if found.too_large:
        return f"not found: {found.too_large[0]} goes on in none of the attitudes tried"
    return "not found: no placing for all pieces together; that proves nothing"


def tables(found: Haul) -> tuple[SheetTable, ...]:
    """Pieces, places, limits."""
    out = [_pieces(found)]
    if found.found:
        out.append(_places(found))
    if found.lines:
        out.append(_limits(found))
    return tuple(out)


def _size(values: Any) -> Words:
    return Words("{0} x {1} x {2}", tuple(Quantity(float(v), "length") for v in values))


def _pieces(found: Haul) -> SheetTable:
    rows = tuple(
        (piece.name, _size(sorted(least_box(piece.carried)[2], reverse=True)), _mass(piece))
        for piece in found.pieces
    )
    columns = ("piece", "least box found", "mass")
    return SheetTable("pieces", "Pieces", columns, rows)


def _mass(piece: Piece) -> Cell:
    if piece.item is None:
        missing = ", ".join(piece.missing) or piece.name
        return f"not judged: give masses for {missing}"
    return Quantity(piece.item.mass, "mass")


def _places(found: Haul) -> SheetTable:
    rows = tuple(
        (
            one.attitude.piece.name,
            one.attitude.words,
            _size(one.attitude.size),
            Quantity(one.along, "length"),
            Quantity(one.across, "length"),
        )
        for one in found.loaded
    )
    columns = ("piece", "stands", "along x across x up", "from the front", "from the left")
    remarks: list[str | Words] = []
    if found.shift:
        pushed = "The whole load is pushed back for the hitch; the measures above hold with that."
        remarks.append(pushed)
    return SheetTable("places", "Places on the bed", columns, rows, tuple(map(str, remarks)))


def _limits(found: Haul) -> SheetTable:
    def value(amount: float | None, kind: str) -> Cell:
        return None if amount is None else Quantity(amount, kind)

    def taken(line: LimitCheck) -> tuple[Cell, Cell]:
        spread = found.spreads.get(line.name, NO_SPREAD)
        kind = "fine" if line.kind == "length" else line.kind
        return (None, None) if line.left is None else bands(spread, kind)

    rows = tuple(
        (
            line.name,
            value(line.value, line.kind),
            value(line.limit, line.kind),
            value(line.left, line.kind),
            *taken(line),
            line.verdict,
            line.source,
        )
        for line in found.lines
    )
    columns = (
        "held against its limit",
        "is",
        "limit",
        "to spare",
        "worst case",
        "99 %",
        "verdict",
        "from",
    )
    return SheetTable("limits", "Limits", columns, rows)


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


def _sheet(found: Haul, ends: np.ndarray[Any, Any]) -> Sheet:
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


def as_json(found: Haul) -> dict[str, Any]:
    """The answer as a table."""
    number = to_json.number

    def known(value: float | None, kind: str) -> dict[str, Any] | None:
        return None if value is None else number(value, kind)

    centre = found.centre
    return {
        "answer": headline(found),
        "verdict": found.verdict,
        "searched_to_its_end": found.whole,
        "pieces": [
            {
                "name": piece.name,
                "least_box": [number(float(v), "length") for v in least_box(piece.carried)[2]],
                "mass": known(None if piece.item is None else piece.item.mass, "mass"),
                "without_mass": list(piece.missing),
            }
            for piece in found.pieces
        ],
        "places": [
            {
                "piece": one.attitude.piece.name,
                "stands": one.attitude.words,
                "size": [number(float(v), "length") for v in one.attitude.size],
                "from_front": number(one.along, "length"),
                "from_left": number(one.across, "length"),
            }
            for one in found.loaded
        ],
        "pushed_back": known(found.shift, "length"),
        "centre_of_load": None if centre is None else [number(float(v), "length") for v in centre],
        "limits": [
            {
                "name": line.name,
                "is": known(line.value, line.kind),
                "limit": known(line.limit, line.kind),
                "to_spare": known(line.left, line.kind),
                "tolerance": to_json.tolerance(found.spreads.get(line.name, NO_SPREAD), line.kind),
                "verdict": line.verdict,
                "from": line.source,
            }
            for line in found.lines
        ],
        "notes": list(NOTES),
    }


def write_haul(design: Design, found: Haul, folder: Path, system: str) -> list[str]:
    """Write page, drawings, table and JSON into a folder; returns the files' names.

    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    with whole_folder(folder, "haul") as workshop:
        drawings = {}
        if found.found:
            drawings = {"plan": plan(found, system), "side": side(found, system)}
        save_all(drawings, workshop)
        sheets = tables(found)
        (workshop / "haul.csv").write_text(to_csv(sheets, reader(system)), encoding="utf-8")
        content = {"design": design.name, "carrier": found.carrier.name, **as_json(found)}
        (workshop / "haul.json").write_text(to_json.document("haul", content), encoding="utf-8")
        whole = page(
            "haul.html",
            **words_for(system),
            design=design,
            carrier=found.carrier,
            headline=headline(found),
            tables=sheets,
            cell=lambda value: cell(value, system),
            pictures=[drawn(one) for one in drawings.values()],
            notes=NOTES,
            mind=MIND,
        )
        (workshop / "haul.html").write_text(whole, encoding="utf-8")
        return sorted(path.name for path in workshop.iterdir())
