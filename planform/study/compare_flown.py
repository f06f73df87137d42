"""What an option does in the air: its lattice, trim, drag and bending."""

from __future__ import annotations

import json
from typing import Any

import numpy as np

from planform.aero.answer import Pair, pair
from planform.aero.lifting import lifting_surfaces
from planform.airframe.stance import Standing
from planform.core.shape.canard import static_margin
from planform.design.problems import InputError, Problem
from planform.study.terms import Figures, Terms, problem_words


def flown(standing: Standing, area: float, mac: float, terms: Terms, base_area: float) -> Figures:
    """The lattice's figures of the surfaces on at the stage that is judged too.

    Raises InputError where they cannot be solved.
    """
    surfaces = lifting_surfaces(standing.airframe, standing.stage)
    if not any(surface.role == "wing" for surface in surfaces):
        words = f"no wing is on at the stage {standing.stage.name}"
        raise InputError(standing.airframe.design.name, [Problem("", "", words)])
    lattice = pair(surfaces, area, mac)
    point = lattice.figure(lambda f: f.neutral_point)
    out: dict[str, Any] = {
        "surfaces": ", ".join(surface.name for surface in surfaces),
        "neutral_point": point.value,
        "neutral_point_error": point.change,
        "neutral_point_coarse": lattice.coarse.neutral_point,
        "lift_at_zero": lattice.fine.lift_at_zero,
        "moment_at_zero": lattice.fine.moment_at_zero,
    }
    if terms.cg is None:
        return out
    out["static_margin"] = static_margin(point.value, terms.cg, mac)
    lift = terms.lift * base_area / area  # the same lift for every option
    try:
        return out | _trimmed(lattice, lift, terms.cg, area, base_area)
    except InputError as error:
        return out | {"lattice": problem_words(error)}


def _trimmed(lattice: Pair, lift: float, cg: float, area: float, base_area: float) -> Figures:
    """The figures in trim; InputError where no angle of the linear range trims."""
    fine, coarse = (f.trim(lift, cg) for f in (lattice.fine, lattice.coarse))
    loading = [
        [name, *(np.round(values, 6).tolist() for values in lines)]
        for name, *lines in lattice.fine.loading(fine.circulation)
    ]
    return {
        "nose_up_angle": fine.nose_up_angle,
        "turned_by": fine.turned_by,
        "set_to": fine.set_to,
        "trimmer": lattice.fine.trimmer,
        "section_lift": fine.section_lift,
        "section_lift_on": fine.section_on,
        "section_lift_bl": fine.section_bl,
        "shares": json.dumps({name: round(share, 6) for name, share in fine.share.items()}),
        "loading": json.dumps(loading),
        "drag_area": fine.drag * area,
        "drag_area_error": abs(fine.drag - coarse.drag) * area,
        "drag_area_coarse": coarse.drag * area,
        "drag_coefficient": fine.drag * area / base_area,
        "drag_least": lattice.fine.least_drag(lift)[0] * area,
        "bending": fine.bending,
        "bending_error": abs(fine.bending - coarse.bending),
        "bending_coarse": coarse.bending,
        "bending_bl": lattice.fine.root[0],
        "bending_wl": lattice.fine.root[1],
    }
