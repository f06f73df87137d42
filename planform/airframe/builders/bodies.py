"""Bodies as solids."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np

from planform.airframe.builders.made import Made, sided
from planform.airframe.part import Part
from planform.core.shape import hulls
from planform.core.shape.hulls import Columns
from planform.design.bodies import Body, BodyCut, CanopyBulge


def build_body(name: str, body: Body) -> Made:
    """One body with its canopy bulge, or one on each side."""
    out = _lofted(name, body, body)
    if body.canopy_bulge is not None:
        bulge = _lofted(name, body, body.canopy_bulge)
        own = f"{name} canopy bulge"
        out += [
            replace(
                part,
                name=f"{part.name} canopy bulge",
                group=own,
                hosts=(part.name, part.group),
            )
            for part in bulge
        ]
    return Made(tuple(out))


def _lofted(name: str, body: Body, shape: Body | CanopyBulge) -> list[Part]:
    columns = columns_of(shape.cuts)
    bulge = 0.0
    if shape.smooth:
        bulge = hulls.smooth_bulge(columns)
        columns = columns.smoothed()
    return sided(name, body.side, body.role, hulls.body(columns, float(body.bl)), bulge)


def columns_of(cuts: tuple[BodyCut, ...]) -> Columns:
    """What is written of a body's cuts, as arrays."""
    return Columns(
        *(np.array([float(getattr(cut, f.name) or 0.0) for cut in cuts]) for f in fields(Columns))
    )


def outer_columns(body: Body) -> tuple[Columns, ...]:
    """The stations between which a body and its bulge run straight, as built."""
    shapes: list[Body | CanopyBulge] = [body]
    if body.canopy_bulge is not None:
        shapes.append(body.canopy_bulge)
    found = ((columns_of(one.cuts), one.smooth) for one in shapes)
    return tuple(one.smoothed() if smooth else one for one, smooth in found)
