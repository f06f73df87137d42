"""Checks of shapes as written: what could not be built, or is not what its field says."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planform.design.bounds import OVERALL, overall
from planform.design.kinds import KINDS, LYING
from planform.design.models import Design
from planform.design.problems import Problem
from planform.design.surfaces import LiftingCut, Surface, Winglet

STEEPEST = math.radians(85.0)
"""Sweeps and dihedrals are measured off the lying or the standing direction; beyond this their
tangent says nothing. Assumption."""

ANGLES = (
    "dihedral",
    "sweep",
    "sweep_le_plan",
    "sweep_quarter_plan",
    "sweep_le_panel",
    "sweep_quarter_panel",
    "incidence",
)

SHAPES = ("lifting.*.cuts", "bodies.*.cuts")
"""Where the size of a whole aircraft comes from."""

NEAR = 1e-3
"""Points nearer than this to one another count as one [m]; assumption."""


def check_shapes(design: Design) -> Iterator[Problem]:
    """Problems of the shapes of a design; `design` may lack what could not be read."""
    for name, surface in (design.lifting or {}).items():
        yield from _check_surface(f"lifting.{name}", surface)
    for name, winglet in (design.winglets or {}).items():
        path = f"winglets.{name}"
        yield from _steep(path, winglet, ("sweep_le_panel", "toe"))
        host = (design.lifting or {}).get(winglet.on)
        if host is not None and not _broken(host):
            yield from _check_blend(path, winglet, host)
    for kind in (kind for kind in KINDS if not kind.inner):
        for name, item in kind.of(design).items():
            if getattr(item, "side", None) == "both" and hasattr(item, "bl") and not item.bl > 0.0:
                yield _mirrored(f"{kind.field}.{name}.bl", item.bl.text)
    yield from overall("lifting and bodies", _extents(design), OVERALL, SHAPES)


def _mirrored(path: str, given: str) -> Problem:
    return Problem(
        path,
        repr(given),
        "allowed: right of the centre line, above zero, where side is 'both': the left one is its "
        "mirror image",
    )


def _steep(path: str, item: object, fields: tuple[str, ...]) -> Iterator[Problem]:
    for field in fields:
        angle = getattr(item, field)
        if angle is not None and abs(angle) > STEEPEST:
            yield Problem(f"{path}.{field}", repr(angle.text), "allowed: within 85 deg either way")


def _broken(surface: Surface) -> bool:
    first = surface.cuts[0]
    placed = all(getattr(first, name) is not None for name in ("fs", "bl", "wl"))
    return not placed or any(s.bl is None and s.length is None for s in surface.cuts)


def _check_surface(path: str, surface: Surface) -> Iterator[Problem]:
    for k, cut in enumerate(surface.cuts):
        yield from _steep(f"{path}.cuts[{k + 1}]", cut, ANGLES)
    first = surface.cuts[0]
    if surface.side == "both" and first.bl is not None and first.bl < 0.0:
        yield _mirrored(f"{path}.cuts[1].bl", first.bl.text)
    if _broken(surface):
        return
    steps = _steps(surface)
    long = [math.hypot(y, z) for y, z in steps]
    if sum(long) < NEAR:
        allowed = "allowed: cuts that stand apart"
        yield Problem(f"{path}.cuts", "no span", allowed, rests=(f"{path}.cuts",))
    elif surface.role in LYING and sum(y for y, _ in steps) < 0.1 * sum(long):
        yield Problem(
            f"{path}.role",
            repr(surface.role),
            "allowed: fin, as it stands upright; or give its cuts a bl further out",
            rests=(f"{path}.cuts",),
        )


def _steps(surface: Surface) -> list[tuple[float, float]]:
    """How far out and up each panel of a surface goes [m]."""
    first = surface.cuts[0]
    y, z = float(first.bl or 0.0), float(first.wl or 0.0)
    out = []
    for cut in surface.cuts[1:]:
        step = _step(cut, y, z)
        out.append(step)
        y, z = y + step[0], z + step[1]
    return out


def _step(cut: LiftingCut, y: float, z: float) -> tuple[float, float]:
    angle = float(cut.dihedral or 0.0)
    if cut.cant is not None:
        angle = 0.5 * math.pi - float(cut.cant)
    if cut.length is not None:
        return float(cut.length) * math.cos(angle), float(cut.length) * math.sin(angle)
    out = float(cut.bl or 0.0) - y
    return out, float(cut.wl) - z if cut.wl is not None else out * math.tan(angle)


def _check_blend(path: str, winglet: Winglet, host: Surface) -> Iterator[Problem]:
    radius = winglet.blend_radius
    if not radius:
        return
    y, z = _steps(host)[-1]
    up = 1.0 if winglet.direction == "up" else -1.0
    end = up * (0.5 * math.pi - float(winglet.cant))
    arc = float(radius) * abs(end - math.atan2(z, y))
    if not arc < winglet.length:
        yield Problem(
            f"{path}.blend_radius",
            repr(radius.text),
            "allowed: a radius whose arc is shorter than the winglet's length",
            rests=(f"{path}.length", f"{path}.cant", f"lifting.{winglet.on}.cuts"),
        )


def _extents(design: Design) -> dict[str, float]:
    """How long, wide and high what is written is [m]; empty where nothing has a shape."""
    ends: dict[str, list[float]] = {"long": [], "wide": [], "high": []}
    for surface in (design.lifting or {}).values():
        if _broken(surface):
            continue
        first = surface.cuts[0]
        y, z = float(first.bl or 0.0), float(first.wl or 0.0)
        reach = [(y, z)]
        for dy, dz in _steps(surface):
            y, z = y + dy, z + dz
            reach.append((y, z))
        sides = (-1.0, 1.0) if surface.side == "both" else (1.0,)
        ends["wide"] += [side * y for y, _ in reach for side in sides]
        ends["high"] += [z for _, z in reach]
        for cut in surface.cuts:
            if cut.fs is not None:
                ends["long"] += [float(cut.fs), float(cut.fs) + float(cut.chord)]
    for body in (design.bodies or {}).values():
        for ring in body.cuts:
            ends["long"].append(float(ring.fs))
            ends["high"] += [float(ring.bottom), float(ring.top)]
            ends["wide"] += [-float(ring.half_width), float(ring.half_width)]
    return {name: max(e) - min(e) for name, e in ends.items() if e}
