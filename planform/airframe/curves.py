"""What is told of curves: a design's own profiles, and bodies smooth through their cuts."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planform.airframe.build import Airframe
from planform.airframe.part import Part
from planform.core.shape.drawn import Drawn, Figures, told
from planform.core.shape.profiles import bulge
from planform.design.kinds import roles_in
from planform.design.models import Design
from planform.design.profiles import section_named
from planform.design.units import INCH

TOLD = (
    ("thickness", "thickness", "percent", "across the camber line"),
    ("thickest", "thickest at", "percent", "from the leading edge"),
    ("camber", "camber", "percent", "over the line from nose to trailing edge"),
    ("most_cambered", "most cambered at", "percent", "from the leading edge"),
    ("nose_radius", "leading-edge radius", "ratio", "chords; parabola that touches there"),
    ("gap", "trailing edge, open by", "ratio", "chords"),
    ("bulge", "outside its facets, at most", "ratio", "chords; spline through its points"),
)
"""Key, words, kind and what it refers to, of each figure of a profile."""


def profiles_told(design: Design) -> dict[str, tuple[Figures, float]]:
    """What each of a design's own profiles is, and how far its curve stands outside its facets."""
    drawn = {name: section_named(name, design.profiles) for name in design.profiles}
    return {name: (told(one), bulge(one)) for name, one in drawn.items() if isinstance(one, Drawn)}


def profile_rows(design: Design) -> Iterator[tuple[str, str, float, str, str]]:
    """Key, label, value, kind and what it refers to, of each figure of each own profile."""
    for name, (one, off) in profiles_told(design).items():
        for key, label, kind, words in TOLD:
            value = off if key == "bulge" else float(getattr(one, key))
            yield f"profile.{name}.{key}", f"profile {name}: {label}", value, kind, words


def bulges(airframe: Airframe) -> dict[str, float]:
    """How far each smooth body, and each bulge on one, may stand outside its facets [m]."""
    roles = roles_in("bodies")
    found = [part for part in airframe.parts if part.role in roles and part.bulge]
    return {group: max(p.bulge for p in found if p.group == group) for group in _groups(found)}


def _groups(parts: list[Part]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(part.group for part in parts))


def curve_lines(airframe: Airframe) -> tuple[str, ...]:
    """One sentence on each of its own profiles, smooth bodies and panels cut from a skin."""
    smooth = (
        f"the {name} is smooth through its cuts and stands at most {_upward(off)} outside "
        "the built facets, which is taken off every clearance"
        for name, off in bulges(airframe).items()
    )
    cut = (
        f"the {part.name} is cut from a skin, which stands at most {_upward(part.bulge)} outside "
        "the built facets of it; this is taken off every clearance"
        for part in airframe.parts
        if part.bulge and part.role == "panel" and airframe.design.panels[part.group].frames
    )
    return (*_profile_lines(airframe.design), *smooth, *cut)


def _profile_lines(design: Design) -> tuple[str, ...]:
    return tuple(
        f"profile {name}{_from(design, name)}: {one.points} points, thickness "
        f"{_percent(one.thickness)} at {_percent(one.thickest)}, camber {_percent(one.camber)}"
        f"{f' at {_percent(one.most_cambered)}' if abs(one.camber) > LEVEL else ''}, leading-edge "
        f"radius {_percent(one.nose_radius)} of the chord; trailing edge "
        f"{f'open by {_percent(one.gap)}' if one.gap else 'closed'}; its curve stands at most "
        f"{100.0 * off + 0.005:.2f} % outside the built facets, which is taken off every clearance"
        for name, (one, off) in profiles_told(design).items()
    )


def _upward(length: float) -> str:
    """A bound in both systems, never told less than it is."""
    millimetres, inches = math.ceil(1e4 * length) / 10.0, math.ceil(100.0 * length / INCH) / 100.0
    return f"{millimetres:g} mm ({inches:g} in)"


LEVEL = 5e-5
"""A camber less than this is none, in chords: it would be told as zero."""


def _from(design: Design, name: str) -> str:
    file = design.profiles[name].file
    return f" ({file})" if file else ""


def _percent(share: float) -> str:
    return f"{100.0 * share:.2f} %"
