"""The marks on the floor of a look: where wheels, tips, nose and tail stand over it."""

from __future__ import annotations

from planform.airframe.stance import Standing
from planform.design.place import Spot
from planform.design.told import said
from planform.fit.moves import at_spot
from planform.fit.swept import contact_marks, end_marks
from planform.report.record import Record

OUTERMOST = ", its outermost point"
"""What a mark of a tip is; the highest point of the tip may be another."""


def marks_look(standing: Standing, spot: Spot, system: str) -> list[Record]:
    """Wheels and ends of a parked aircraft, plumbed down to the floor; place axes [m]."""
    pose = at_spot(spot)
    out: list[Record] = []
    for mark in (*contact_marks(standing), *end_marks(standing)):
        x, y, over = (float(v) for v in mark.at(pose))
        high = "" if over < 1e-4 else f", {said(over, 'length', system)} over the floor"
        where = f"{said(x, 'length', system)} along, {said(y, 'length', system)} in"
        out.append(
            {
                "name": mark.name,
                "kind": mark.kind,
                "at": [x, y],
                "height": over,
                "text": f"{mark.name}{OUTERMOST * (mark.kind == 'tip')}: {where}{high}",
            }
        )
    return out
