"""Lifting surfaces and winglets as solids."""

from __future__ import annotations

from planform.airframe.builders.made import Made
from planform.airframe.fold_hinge import fold_hinge
from planform.airframe.part import Part
from planform.airframe.surfaces import (
    Half,
    halves_of_surface,
    halves_of_winglet,
    meshes,
)
from planform.design.profiles import Profile
from planform.design.surfaces import Surface, Winglet


def build_surface(name: str, surface: Surface, profiles: dict[str, Profile]) -> Made:
    """A lifting surface, parted at its joints."""
    return _lofted(halves_of_surface(name, surface, profiles))


def build_winglet(name: str, winglet: Winglet, profiles: dict[str, Profile], host: Surface) -> Made:
    """A winglet, from the tip of the surface it stands on."""
    on = halves_of_surface(winglet.on, host, profiles)
    return _lofted(halves_of_winglet(name, winglet, on, profiles))


def _lofted(halves: list[Half]) -> Made:
    parts = []
    for half in halves:
        hosts: tuple[str, ...] = ()
        hinges = {dict(half.joints)[k]: fold_hinge(half, k, fold) for k, fold in half.folds}
        for name, points, faces, bulge, caps in meshes(half):
            group = half.group
            if name != half.name:
                group = name.removeprefix("right ").removeprefix("left ")
            hinge = hinges.get(group)
            parts.append(Part(name, group, half.role, points, faces, bulge, caps, hosts, hinge))
            hosts = (*hosts, name, group)
    return Made(tuple(parts), tuple(halves))
