"""Lifting surfaces resolved from the file: where each cut stands, in aircraft axes."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.core.shape import loft
from planform.core.shape.profiles import Profile as Section
from planform.core.shape.profiles import bulge as profile_bulge
from planform.core.shape.profiles import ring
from planform.design.folds import Fold
from planform.design.kinds import LYING
from planform.design.profiles import Profile, section_named
from planform.design.surfaces import LiftingCut, Surface, Winglet

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Half:
    """One side of a surface, as it stands on the right (side +1) or left (side -1).

    leading_edge : (n, 3) on the right-hand side [m]; chord, incidence : (n,) [m], [rad]
    angle : (n - 1,) direction of each panel from the horizontal, in the Y-Z plane [rad]
    steps : at joints of a surface as built, the number of the cut and by how much the root of what
        is joined there is set nose up over what it is joined to [rad]
    """

    name: str
    group: str
    role: str
    side: int
    leading_edge: Array
    chord: Array
    incidence: Array
    angle: Array
    profiles: tuple[Section, ...]
    closed: bool
    joints: tuple[tuple[int, str], ...] = ()
    folds: tuple[tuple[int, Fold], ...] = ()
    steps: tuple[tuple[int, float], ...] = ()

    @property
    def begins_aside(self) -> bool:
        """Whether its first cut stands off the centre line."""
        return float(self.leading_edge[0, 1]) > 0.0

    def to_centre(self) -> Half:
        """The half with its root chord carried straight to the centre line, for measures only."""
        inner = self.leading_edge[0] * np.array([1.0, 0.0, 1.0])
        return replace(
            self,
            leading_edge=np.vstack([inner, self.leading_edge]),
            chord=np.concatenate([self.chord[:1], self.chord]),
            incidence=np.concatenate([self.incidence[:1], self.incidence]),
            angle=np.concatenate([[0.0], self.angle]),
            profiles=(self.profiles[0], *self.profiles),
            joints=tuple((k + 1, name) for k, name in self.joints),
            steps=tuple((k + 1, step) for k, step in self.steps),
        )

    @property
    def developed(self) -> Array:
        """Distance of each cut along the surface from the first, shape (n,) [m]."""
        steps = np.linalg.norm(np.diff(self.leading_edge[:, 1:], axis=0), axis=1)
        return np.concatenate([[0.0], np.cumsum(steps)])


def sides(side: str) -> tuple[int, ...]:
    """+1 right, -1 left; a centre surface is built once."""
    return {"both": (1, -1), "right": (1,), "left": (-1,), "centre": (1,)}[side]


def sided_name(group: str, side: str, sign: int) -> str:
    """The part's own name: with its side where there are two."""
    return f"{'right' if sign > 0 else 'left'} {group}" if side == "both" else group


def _next(before: Array, chord_before: float, cut: LiftingCut) -> tuple[Array, float]:
    """Leading edge of the next cut and the panel's angle from the horizontal."""
    if cut.cant is not None:
        angle = np.pi / 2.0 - cut.cant
    else:
        angle = float(cut.dihedral) if cut.dihedral is not None else 0.0
    if cut.length is not None:
        dy, dz = cut.length * np.cos(angle), cut.length * np.sin(angle)
    else:
        assert cut.bl is not None
        dy = cut.bl - before[1]
        dz = cut.wl - before[2] if cut.wl is not None else dy * np.tan(angle)
        angle = float(np.arctan2(dz, dy))
    panel = float(np.hypot(dy, dz))
    upright = abs(angle) > np.pi / 4.0
    quarter = -0.25 * (cut.chord - chord_before)
    if cut.fs is not None:
        dx = cut.fs - before[0]
    elif cut.sweep_le_panel is not None or (cut.sweep is not None and upright):
        sweep = cut.sweep_le_panel if cut.sweep is None else cut.sweep
        assert sweep is not None
        dx = panel * np.tan(sweep)
    elif cut.sweep_quarter_panel is not None:
        dx = panel * np.tan(cut.sweep_quarter_panel) + quarter
    elif cut.sweep_quarter_plan is not None:
        dx = dy * np.tan(cut.sweep_quarter_plan) + quarter
    else:
        sweep = cut.sweep if cut.sweep is not None else cut.sweep_le_plan
        dx = dy * np.tan(sweep) if sweep is not None else 0.0
    return before + np.array([float(dx), float(dy), float(dz)]), float(angle)


NO_PROFILES: dict[str, Profile] = {}


def halves_of_surface(
    name: str, surface: Surface, own: dict[str, Profile] = NO_PROFILES
) -> list[Half]:
    """The sides of a surface.

    own : the design's own profiles, by name
    """
    first = surface.cuts[0]
    assert first.fs is not None
    assert first.bl is not None
    assert first.wl is not None
    points = [np.array([float(first.fs), float(first.bl), float(first.wl)])]
    angles = []
    for before, cut in zip(surface.cuts, surface.cuts[1:], strict=False):
        point, angle = _next(points[-1], float(before.chord), cut)
        points.append(point)
        angles.append(angle)
    profiles = []
    profile = surface.profile
    for cut in surface.cuts:
        profile = cut.profile or profile
        profiles.append(section_named(profile, own))
    return [
        Half(
            name=sided_name(name, surface.side, sign),
            group=name,
            role=surface.role,
            side=sign,
            leading_edge=np.array(points),
            chord=np.array([float(s.chord) for s in surface.cuts]),
            incidence=np.array([float(s.incidence) for s in surface.cuts]),
            angle=np.array(angles),
            profiles=tuple(profiles),
            closed=surface.closed_trailing_edge,
            joints=tuple((k, s.joint) for k, s in enumerate(surface.cuts) if s.joint),
            folds=tuple((k, s.fold) for k, s in enumerate(surface.cuts) if s.fold),
        )
        for sign in sides(surface.side)
    ]


ARC_STEPS = 8


def halves_of_winglet(
    name: str, winglet: Winglet, host: list[Half], own: dict[str, Profile] = NO_PROFILES
) -> list[Half]:
    """The sides of a winglet; it starts at the tip cut of each side of its host.

    A blend arc starts tangent to the host's last panel; everything runs linearly along the
    surface from the tip: height R (cos d - cos a), reach R (sin a - sin d), arc length R (a - d).
    """
    out = []
    wanted = sides(winglet.side)
    for half in host:
        if half.side not in wanted:
            continue
        up = 1.0 if winglet.direction == "up" else -1.0
        end = up * (np.pi / 2.0 - float(winglet.cant))
        start = float(half.angle[-1])
        length, radius = float(winglet.length), float(winglet.blend_radius)
        arc = radius * abs(end - start)
        root = half.leading_edge[-1] + np.array([float(winglet.root_setback), 0.0, 0.0])
        angles = [end]
        distance = [0.0, length]
        yz = [root[1:], root[1:] + length * np.array([np.cos(end), np.sin(end)])]
        if arc > 0.0:
            turn = np.sign(end - start)
            bend = start + (end - start) * np.linspace(0.0, 1.0, ARC_STEPS + 1)
            reach = radius * turn * (np.sin(bend) - np.sin(start))
            rise = radius * turn * (np.cos(start) - np.cos(bend))
            yz = [root[1:] + np.array([y, z]) for y, z in zip(reach, rise, strict=True)]
            straight = (length - arc) * np.array([np.cos(end), np.sin(end)])
            distance = [*(arc * np.linspace(0.0, 1.0, ARC_STEPS + 1)), length]
            yz.append(yz[-1] + straight)
            angles = [float(np.arctan2(*(b - a)[::-1])) for a, b in itertools.pairwise(yz)]
        share = np.array(distance) / length
        fs = root[0] + np.array(distance) * np.tan(float(winglet.sweep_le_panel))
        root_chord = float(winglet.root_chord) if winglet.root_chord else float(half.chord[-1])
        out.append(
            Half(
                name=sided_name(name, "both" if len(host) > 1 else "right", half.side),
                group=name,
                role="winglet",
                side=half.side,
                leading_edge=np.column_stack([fs, np.array(yz)]),
                chord=root_chord + share * (float(winglet.tip_chord) - root_chord),
                incidence=np.full(len(share), up * float(winglet.toe)),
                angle=np.array(angles),
                profiles=(section_named(winglet.profile, own),) * len(share),
                closed=winglet.closed_trailing_edge,
            )
        )
    return out


def normals(angle: Array, *, upright_root: bool) -> Array:
    """Upward direction of each cut, shape (n, 3), lengthened at joints so panels meet.

    angle : array, shape (n - 1,)   the panels' directions from the horizontal [rad]
    upright_root : the first cut lies on the centre line and stands upright
    """
    n = len(angle) + 1
    out = np.zeros((n, 3))
    for k in range(n):
        inner = angle[k - 1] if k else (0.0 if upright_root else angle[0])
        outer = angle[k] if k < n - 1 else inner
        if k == 0 and upright_root:
            middle, stretch = 0.0, 1.0 / np.cos(outer)
        else:
            middle, stretch = 0.5 * (inner + outer), 1.0 / np.cos(0.5 * (outer - inner))
        out[k, 1:] = stretch * np.array([-np.sin(middle), np.cos(middle)])
    return out


def standing_rings(half: Half) -> Array:
    """The corners of each cut where they stand, on the right-hand side, shape (n, m, 3) [m].

    They run from the trailing edge over the top to the leading edge and back below.
    """
    rings = [ring(p, closed=half.closed) for p in half.profiles]
    on_centre = bool(half.leading_edge[0, 1] == 0.0 and half.role in LYING)
    normal = normals(half.angle, upright_root=on_centre)
    return loft.panel_rings(half.leading_edge, half.chord, half.incidence, normal, rings)


def spans(half: Half) -> list[tuple[str, int, int]]:
    """The half's parts: name, first and last cut. Outboard of a joint another part begins."""
    ends = [0, *(k for k, _ in half.joints), len(half.chord) - 1]
    prefix = half.name.removesuffix(half.group)
    names = [half.name, *(prefix + joint for _, joint in half.joints)]
    return list(zip(names, ends, ends[1:], strict=False))


def meshes(half: Half) -> list[tuple[str, Array, loft.Faces, float, int]]:
    """The half's parts: name, points, faces, how far the section bulges outside them, end caps."""
    bulge = [profile_bulge(p) * c for p, c in zip(half.profiles, half.chord, strict=True)]
    rings = standing_rings(half)
    out = []
    for name, first, last in spans(half):
        span = slice(first, last + 1)
        points, faces = loft.panel_chain(rings[span], closed=half.closed)
        if half.side < 0:
            points, faces = loft.mirrored(points, faces)
        out.append((name, points, faces, max(bulge[span]), 2 * (rings.shape[1] - 2)))
    return out
