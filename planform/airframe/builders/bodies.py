"""Bodies as solids."""

from __future__ import annotations

import numpy as np

from planform.airframe.builders.made import Made, sided
from planform.core.shape import loft
from planform.design.bodies import Body


def build_body(name: str, body: Body) -> Made:
    """One body, or one on each side."""
    column = {
        field: np.array([float(getattr(s, field)) for s in body.cuts])
        for field in ("fs", "half_width", "bottom", "top", "boxiness")
    }
    mesh = loft.body(
        column["fs"],
        column["half_width"],
        column["bottom"],
        column["top"],
        column["boxiness"],
        float(body.bl),
    )
    return Made(tuple(sided(name, body.side, body.role, mesh)))
