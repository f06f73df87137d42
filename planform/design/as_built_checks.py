"""What of a design may be built otherwise than drawn, and what is wrong with what is told."""

from __future__ import annotations

from collections.abc import Iterator

from planform.design.as_built import ANGLES, LARGE_ANGLE, LARGE_LENGTH
from planform.design.bodies import Body
from planform.design.kinds import KINDS, part_names
from planform.design.models import Design
from planform.design.problems import Problem, unknown
from planform.design.sided import SIDES, on_side

PANEL = ("span", "chord", "twist", "incidence", "dihedral", "sweep")
WHOLE = ("fs", "bl", "wl", "incidence", "tilt", "skew")
WINGLET = ("fs", "span", "chord", "toe", "cant", "sweep")
HULL = ("bend_sideways", "bend_up", "hull_twist")
PLACE = ("fs", "bl", "wl")

May = dict[str, dict[str, tuple[str, ...]]]
"""Kinds of differences by side, '' for the whole; by name."""


def may_differ(design: Design) -> May:
    """What of a design may be built otherwise than drawn."""
    out: May = {}
    for name, surface in design.lifting.items():
        for part in (name, *(cut.joint for cut in surface.cuts if cut.joint is not None)):
            out[part] = _sided(surface.side == "both", PANEL)
        if surface.side == "both":
            out[name][""] = WHOLE
    for name, winglet in design.winglets.items():
        host = design.lifting.get(winglet.on)
        pair = host is not None and host.side == "both"
        out[name] = _sided(pair, WINGLET)
        if pair and winglet.side in SIDES:
            out[name] = {winglet.side: WINGLET}
    hulls = {name: body for name, body in design.bodies.items() if body.role == "fuselage"}
    if hulls:
        longest = max(hulls, key=lambda name: _length(hulls[name]))
        out[longest] = {"": HULL}
    names = set(part_names(design))
    for kind in KINDS:
        if kind.roles and kind.field not in ("lifting", "winglets", "bodies", "controls"):
            for name in kind.of(design):
                out[name] = _sided(f"left {name}" in names, PLACE)
    return out


def _length(body: Body) -> float:
    """How long a body is [m]."""
    cuts = on_side(body, "right").cuts
    return float(cuts[-1].fs) - float(cuts[0].fs)


def _sided(pair: bool, kinds: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    return dict.fromkeys(SIDES, kinds) if pair else {"": kinds}


def check_as_built(design: Design) -> Iterator[Problem]:
    """Problems of what was built otherwise than drawn."""
    known = may_differ(design) if design.as_built else {}
    seen: set[tuple[str, str, str]] = set()
    for k, row in enumerate(design.as_built):
        path = f"as_built[{k + 1}]"
        if row.of not in known:
            yield unknown(f"{path}.of", row.of, known)
            continue
        side = row.side or ""
        for kind, value in row.given().items():
            where = f"{path}.{kind}"
            if kind not in known[row.of].get(side, ()):
                yield Problem(
                    where, f"of the {side} {row.of}".replace("  ", " "), _may(known[row.of])
                )
            if (row.of, side, kind) in seen:
                yield Problem(where, "a second time", "allowed: once")
            seen.add((row.of, side, kind))
            angle = kind in ANGLES
            if abs(value) > (LARGE_ANGLE if angle else LARGE_LENGTH):
                most = "5 deg" if angle else "150 mm (about 6 in)"
                allowed = f"allowed: up to {most} either way; what differs more is drawn anew"
                yield Problem(where, repr(value.text), allowed)


def _may(sides: dict[str, tuple[str, ...]]) -> str:
    """What a part may differ in, in words."""
    found = [
        ", ".join(kinds) + (' with side = "left" or "right"' if side else " without a side")
        for side, kinds in sides.items()
        if side != "right"
    ]
    return f"allowed: {'; '.join(found)}"
