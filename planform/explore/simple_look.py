"""What is seen of one stage, as data for the page."""

from __future__ import annotations

import base64
import hashlib

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing
from planform.fit.answer import FitAnswer


def mesh_of(points: NDArray[np.float64], faces: NDArray[np.int64]) -> tuple[str, dict[str, str]]:
    """A mesh and its name by content."""
    held = points.astype("<f4").tobytes(), faces.astype("<u4").tobytes()
    name = hashlib.sha256(held[0] + b"|" + held[1]).hexdigest()[:20]
    texts = [base64.b64encode(one).decode() for one in held]
    return name, {"points": texts[0], "faces": texts[1], "edges": ""}


def look_of(standing: Standing, answer: FitAnswer | None, has: frozenset[str]) -> dict[str, object]:
    """One stage, with the meshes that the page has not."""
    meshes, parts = {}, []
    for part in standing.parts:
        points = (part.points - standing.shift) @ standing.turn
        name, mesh = mesh_of(points, part.faces)
        if name not in has:
            meshes[name] = mesh
        parts.append({"name": part.name, "group": part.group, "role": part.role,
                      "colour": "#8899aa", "opacity": 1.0, "mesh": name, "mass": "",
                      "sizes": [], "least": None})  # fmt: skip
    matrix = np.eye(4)
    matrix[:3, :3], matrix[:3, 3] = standing.turn, standing.shift
    numbers = [s.name for s in standing.airframe.design.stages]
    stage: dict[str, object] = {
        "key": str(numbers.index(standing.stage.name) + 1),
        "stage": standing.stage.name, "stance": standing.stance_name, "title": standing.title,
        "text": "", "change": "", "body2floor": matrix.ravel().tolist(), "floor2place": None,
        "spot": None, "parts": parts, "leaders": [], "heights": [], "lines": [], "way": None,
        "checks": None, "measures": {"title": "", "columns": [], "rows": [], "remarks": []},
        "balance": None, "marks": [],
        "verdict": None if answer is None else {
            "word": answer.verdict.value, "key": answer.verdict.colour, "why": ""},
    }  # fmt: skip
    return {"schema": "planform look 1", "meshes": meshes, "stages": [stage]}
