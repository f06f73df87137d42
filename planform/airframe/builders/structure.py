"""Spars, ribs, foam cores and bulkheads as solids, shaped by the skins round them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.builders.made import Made
from planform.airframe.inner import (
    blocks_of,
    body_outline,
    box_ring,
    holding,
    open_range,
    shrunk,
    skin_ring,
    stations,
)
from planform.airframe.part import Part
from planform.airframe.sections import Section, along_at, section_at
from planform.airframe.surfaces import Half, sided_name, sides
from planform.core.shape import loft
from planform.design.problems import InputError, Problem
from planform.design.reading import Reading
from planform.design.structure import Bulkhead, Rib, Spar, SparEnd

Array = NDArray[np.float64]

AROUND = 15
"""Points along each skin of a rib or core."""
PIECES = (1, 4)
"""Pieces between two cuts: more, where it is not proved to lie inside with one."""


class Under:
    """What a part stands in: the built sides and skins of its host, and every body."""

    def __init__(self, on: str, pieces: tuple[Half | Part, ...]) -> None:
        self.halves = [piece for piece in pieces if isinstance(piece, Half)]
        skins = [piece for piece in pieces if isinstance(piece, Part)]
        self.own = [part for part in skins if on in (part.name, part.group, *part.hosts)]
        self.skins = [*self.own, *(part for part in skins if part not in self.own)]

    def half(self, sign: int) -> Half | None:
        """The side of the surface, where it has that."""
        return next((half for half in self.halves if half.side == sign), None)

    def on(self, half: Half, along: float) -> Part:
        """The part of a side of a surface that is there."""
        names = [half.name]
        prefix = half.name.removesuffix(half.group)
        names += [prefix + name for k, name in half.joints if along >= half.developed[k] - 1e-9]
        return next(part for part in self.own if part.name == names[-1])


def _refused(path: str, given: object, allowed: str) -> InputError:
    told = repr(given.text) if isinstance(given, Reading) else f"{given}"
    return InputError("design", [Problem(path, told, allowed)])


def _place(path: str, half: Half, bl: Reading | None, along: Reading | None, end: float) -> float:
    """How far out on a surface a place is [m]; `end` where none is given."""
    if bl is not None:
        try:
            return along_at(half, float(bl))
        except ValueError:
            allowed = f"allowed: a butt line between the root and the tip of the {half.group}"
            raise _refused(f"{path}.bl", bl, allowed) from None
    if along is None:
        return end
    if along > half.developed[-1] + 1e-9:
        allowed = f"allowed: no more than the {half.group} is long along its surface"
        raise _refused(f"{path}.along", along, allowed)
    return float(along)


def _on_chord(section: Section, fs: float) -> float:
    """The share of the chord at a station."""
    ahead, aft = section.leading_edge[0], section.trailing_edge[0]
    return float((fs - ahead) / (aft - ahead))


def _middles(half: Half, spar: Spar, places: Array) -> Array:
    """The spar's middle at places along the surface, as shares of the chord."""
    root, tip = spar.root or spar.tip, spar.tip
    run = (places - places[0]) / (places[-1] - places[0])
    if root.chord_fraction is not None and tip.chord_fraction is not None:
        return np.asarray(root.chord_fraction + run * (tip.chord_fraction - root.chord_fraction))
    start, end = (
        _station(section_at(half, float(place)), one)
        for place, one in ((places[0], root), (places[-1], tip))
    )
    fs = start + run * (end - start)
    found = zip(places, fs, strict=True)
    return np.array([_on_chord(section_at(half, float(a)), float(x)) for a, x in found])


def _station(section: Section, end: SparEnd) -> float:
    if end.fs is not None:
        return float(end.fs)
    share = end.chord_fraction or 0.0
    return float((1.0 - share) * section.leading_edge[0] + share * section.trailing_edge[0])


def _ring(path: str, spar: Spar, section: Section, middle: float, run: float) -> Array:
    """The spar's section; run : 0 at its root and 1 at its tip."""

    def size(at_root: Reading, at_tip: Reading | None) -> float:
        return float(at_root) + run * (float(at_tip or at_root) - float(at_root))

    width = size(spar.width, spar.tip_width)
    shares = middle + 0.5 * width / section.chord * np.array([-1.0, 1.0])
    if shares[0] < 0.0 or shares[1] > 1.0:
        end = "tip" if run > 0.5 else "root"
        allowed = f"allowed: a place where it lies within the chord of the {spar.on} all along"
        raise _refused(
            f"{path}.{end}", f"{middle:.3g} of the chord, {spar.width.text} wide", allowed
        )
    if spar.height is not None:
        return box_ring(section, middle, width, size(spar.height, spar.tip_height))
    assert spar.inside is not None
    try:
        return skin_ring(section, shares, float(spar.inside))
    except ValueError as error:
        allowed = f"{error}; allowed: less, or a spar that ends before"
        raise _refused(f"{path}.inside", spar.inside, allowed) from None


def build_spar(name: str, spar: Spar, *pieces: Half | Part) -> Made:
    """A spar along a surface or winglet, one on each side, or one straight through the centre.

    pieces : the built sides and skins of what it runs along and is carried by, and every body
    Raises InputError where it does not lie on the surface, or nothing is left inside the skin.
    """
    under = Under(spar.on, pieces)
    path = f"spars.{name}"
    if spar.side == "centre":
        return Made((_through(path, name, spar, under),))
    out = []
    for sign in sides(spar.side):
        half = under.half(sign)
        if half is None:
            continue
        ends = (spar.root or SparEnd(chord_fraction=0.5), spar.tip)
        start, end = (
            _place(f"{path}.{key}", half, one.bl, one.along, last)
            for key, one, last in zip(
                ("root", "tip"), ends, (0.0, float(half.developed[-1])), strict=True
            )
        )
        if not end > start + 1e-6:
            allowed = "allowed: a tip further out than the root"
            raise _refused(f"{path}.tip", "no further out than its root", allowed)

        def rings(pieces: int, half: Half = half, start: float = start, end: float = end) -> Array:
            places = stations(half, start, end, pieces)
            run = (places - start) / (end - start)
            three = zip(places, _middles(half, spar, places), run, strict=True)
            found = [_ring(path, spar, section_at(half, float(a)), float(m), float(r))
                     for a, m, r in three]  # fmt: skip
            return np.array(found)

        host = _carrier(spar, pieces, sign) or under.on(half, start)
        names = (sided_name(name, spar.side, sign), name)
        out.append(_part(names, "spar", rings, host, under.skins))
    return Made(tuple(out))


def _carrier(spar: Spar, pieces: tuple[Half | Part, ...], sign: int) -> Part | None:
    """What carries a spar that is not carried by the surface that it runs along."""
    if spar.carried_by is None:
        return None
    parts = [p for p in pieces if isinstance(p, Part) and spar.carried_by in (p.name, p.group)]
    return next((p for p in parts if np.sign(p.points[:, 1].mean()) == sign), parts[0])


def _through(path: str, name: str, spar: Spar, under: Under) -> Part:
    """A spar in one piece, straight from its tip on the left to its tip on the right."""
    ends = []
    for sign in (-1, 1):
        half = under.half(sign)
        assert half is not None
        place = _place(f"{path}.tip", half, spar.tip.bl, spar.tip.along, float(half.developed[-1]))
        section = section_at(half, place)
        share = _on_chord(section, _station(section, spar.tip))
        ends.append(_ring(path, spar, section, share, 1.0))
    left, right = ends

    def rings(pieces: int) -> Array:
        share = np.linspace(0.0, 1.0, 2 * pieces + 1)[:, None, None]
        return np.asarray((1.0 - share) * left + share * right)

    carried = spar.carried_by or spar.on
    host = next(p for p in under.skins if carried in (p.name, p.group))
    part = _part((name, name), "spar", rings, host, under.skins)
    both = tuple(one for one in part.hosts if one != host.name or one == host.group)
    return replace(part, hosts=both)


def _part(
    names: tuple[str, str],
    role: str,
    rings: Callable[[int], Array],
    host: Part,
    skins: Sequence[Part],
) -> Part:
    """A part from its sections along the surface, in as many pieces as its proof takes.

    names : its own and its group's ; skins : what may hold it
    """
    within: tuple[str, ...] = ()
    for pieces in PIECES:
        found = rings(pieces)
        within = holding(*blocks_of(found), skins)
        if within:
            break
    else:
        found = rings(PIECES[0])
    n = found.shape[1] // 2
    top, bottom = np.arange(n), 2 * n - 1 - np.arange(n)
    cap = np.concatenate(
        [
            np.stack([top[:-1], bottom[1:], bottom[:-1]], axis=1),
            np.stack([top[:-1], top[1:], bottom[1:]], axis=1),
        ]
    )
    points, faces = loft.loft(found, cap)
    return Part(*names, role, points, faces, hosts=_hosts(host), within=within)


def _hosts(host: Part) -> tuple[str, ...]:
    return (*host.hosts, host.name, host.group)


def build_rib(name: str, rib: Rib, *pieces: Half | Part) -> Made:
    """A rib or a foam core of a surface or winglet, or one on each side.

    pieces : the built sides and skins of what it stands in, and every body
    Raises InputError where it does not lie on the surface, or nothing is left inside the skin.
    """
    under = Under(rib.on, pieces)
    path = f"ribs.{name}"
    out = []
    for sign in sides(rib.side):
        half = under.half(sign)
        if half is None:
            continue
        start = _place(path, half, rib.bl, rib.along, 0.0)
        end = start + float(rib.thickness)
        if end > half.developed[-1] + 1e-9:
            allowed = f"allowed: less; it passes the tip of the {rib.on}"
            raise _refused(f"{path}.thickness", rib.thickness, allowed)
        end = min(end, float(half.developed[-1]))

        def rings(pieces: int, half: Half = half, start: float = start, end: float = end) -> Array:
            places = stations(half, start, end, pieces)
            return np.array([_rib_ring(path, rib, section_at(half, float(a))) for a in places])

        names = (sided_name(name, rib.side, sign), name)
        out.append(_part(names, rib.role, rings, under.on(half, start), under.skins))
    return Made(tuple(out))


def _rib_ring(path: str, rib: Rib, section: Section) -> Array:
    inside = float(rib.inside)
    try:
        first, last = open_range(section, inside)
        first, last = max(first, rib.from_chord), min(last, rib.to_chord)
        if not last > first:
            raise ValueError(
                "the section is thinner there than what it is to stay inside of, twice"
            )
        spread = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, AROUND)))
        return skin_ring(section, first + (last - first) * spread, inside)
    except ValueError as error:
        allowed = f"{error}; allowed: less, or another place"
        raise _refused(f"{path}.inside", rib.inside, allowed) from None


def build_bulkhead(name: str, bulkhead: Bulkhead, *pieces: Half | Part) -> Made:
    """A bulkhead or firewall of a body, or one on each side.

    pieces : the built skins of its body, and every other body
    Raises InputError where the body is not there, or nothing is left inside its skin.
    """
    under = Under(bulkhead.on, pieces)
    out = []
    for sign in sides(bulkhead.side):
        own = [
            p for p in under.own if bulkhead.side == "centre" or p.points[:, 1].mean() * sign > 0
        ]
        ring = _plate(f"bulkheads.{name}", bulkhead, own[0], sign)
        fs = float(bulkhead.fs)
        ends = (fs, fs + float(bulkhead.thickness))
        rings = np.array([np.column_stack([np.full(len(ring), at), ring]) for at in ends])
        points, faces = loft.loft(rings, loft.fan_cap(len(ring)))
        run = np.roll(ring, -1, axis=0) - ring
        across = np.column_stack([np.zeros(len(ring)), run[:, 1], -run[:, 0]])
        ways = np.vstack([[1.0, 0.0, 0.0], across])
        within = holding(points[None], ways[None], [own[0], *under.skins])
        own_name = sided_name(name, bulkhead.side, sign)
        part = Part(own_name, name, bulkhead.role, points, faces, hosts=_hosts(own[0]))
        out.append(replace(part, within=within))
    return Made(tuple(out))


def _plate(path: str, bulkhead: Bulkhead, host: Part, sign: int) -> Array:
    """The outline of a plate, shape (n, 2) [m]."""
    if bulkhead.width is not None:
        assert bulkhead.bottom is not None
        assert bulkhead.top is not None
        half = 0.5 * float(bulkhead.width)
        middle = 0.5 * float(host.points[:, 1].min() + host.points[:, 1].max())
        low, high = float(bulkhead.bottom), float(bulkhead.top)
        right, left = middle + half, middle - half
        return np.array([[left, low], [right, low], [right, high], [left, high]])
    fs, thickness = float(bulkhead.fs), float(bulkhead.thickness)
    ahead, aft = host.points[:, 0].min(), host.points[:, 0].max()
    if not ahead - 1e-9 <= fs <= fs + thickness <= aft + 1e-9:
        allowed = f"allowed: where the {bulkhead.on} is, all its thickness; or width, bottom, top"
        raise _refused(f"{path}.fs", bulkhead.fs, allowed)
    short = 1e-9 * (aft - ahead)
    ends = (min(max(fs, ahead), aft - short), min(fs + thickness, aft - short))
    try:
        return shrunk([body_outline(host, at) for at in ends], float(bulkhead.inside or 0.0))
    except ValueError as error:
        raise _refused(f"{path}.inside", bulkhead.inside, f"{error}; allowed: less") from None
