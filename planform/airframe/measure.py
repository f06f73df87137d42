"""The measures: planform numbers in closed form, overall ones of the standing parts."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe
from planform.airframe.curves import profile_rows
from planform.airframe.footprint import least_rectangle, plan_hull
from planform.airframe.measure_controls import control_measures
from planform.airframe.measure_propeller import propeller_heights
from planform.airframe.measure_wheels import BASE, TRACK, wheel_lines
from planform.airframe.plan_chains import (
    CutChain,
    body_side,
    chain,
    clipped,
    counted,
    lying,
    outer_trapezoid,
    together,
)
from planform.airframe.presence import of_wing, surface_role
from planform.airframe.stance import Standing
from planform.airframe.surfaces import Half
from planform.core.quantity import OfKind
from planform.core.shape import planform as pf
from planform.core.shown import Brief, Shown
from planform.design.kinds import LYING
from planform.design.problems import InputError, Problem
from planform.design.sided import differs, on_side, side_of
from planform.design.told import said
from planform.design.units import show

Array = NDArray[np.float64]


BIG, HIGH, BALANCE = QUESTIONS = ("how big", "how high", "for balance")
"""What a builder asks of measures."""


@dataclass(frozen=True)
class Measure:
    """One number: its key, what it is, SI value, kind ('length', 'area', 'angle', 'ratio').

    asked : what a builder asks who wants it, of `QUESTIONS`
    """

    key: str
    label: str
    value: OfKind
    kind: str
    reference: str = ""
    asked: str = BIG


@dataclass(frozen=True, repr=False)
class Measures(Shown):
    """A list of measures that can be asked by key: `measures["wing.mac"]`, in SI.

    of : what was measured ; units : those that the reader of its table is shown
    """

    items: tuple[Measure, ...]
    of: str
    units: str

    def __getitem__(self, key: str) -> float:
        for item in self.items:
            if item.key == key:
                return item.value
        raise KeyError(f"{key}; measures here: {', '.join(item.key for item in self.items)}")

    def __contains__(self, key: str) -> bool:
        return any(item.key == key for item in self.items)

    def brief(self) -> Brief:
        """Every measure with what it refers to, in the reader's units."""

        def label(item: Measure) -> str:
            plain = not item.reference or self.of.endswith(item.reference)
            return item.label if plain else f"{item.label} ({item.reference})"

        rows = ((label(item), said(item.value, item.kind, self.units)) for item in self.items)
        return Brief(f"{self.of}, {len(self.items)} measures", tuple(rows))


def _true_words(airframe: Airframe, role: str, chains: list[CutChain]) -> str:
    """What the true planform of a role is counted from."""
    aside = max(float(c.y[0]) for c in chains)
    if aside > 0.0:
        where = show(aside, "length", "in" if "in" in airframe.design.units else "mm")
        return f"true planform, from BL {where} outward only"
    if any(half.begins_aside for half in airframe.halves_in(role)):
        return "true planform, root chord carried straight to the centre line"
    return "true planform, through the body"


def _of_both(halves: Sequence[Half], reach: Callable[[Half], float]) -> float:
    """The farthest reach on the left and on the right together; twice the one of a single side."""
    sides = [[reach(half) for half in halves if half.side == side] for side in (-1, 1)]
    found = [max(side) for side in sides if side]
    return sum(found) if len(found) == 2 else 2.0 * max(found)


def _surface(airframe: Airframe, role: str) -> list[Measure]:
    halves = [counted(airframe, half) for half in airframe.halves_in(role)]
    chains = [chain(half) for half in halves]
    side = body_side(airframe, chains)
    _wider_than(airframe, role, side, chains)
    span = _of_both(halves, lambda half: float(half.leading_edge[-1, 1]))
    developed = _of_both(halves, lambda half: float(half.developed[-1] + half.leading_edge[0, 1]))
    references = {
        "": (_true_words(airframe, role, chains), chains),
        "_trapezoid": (
            "outer panel carried to the centre line",
            [outer_trapezoid(lying(half)) for half in halves],
        ),
        "_exposed": ("outboard of the body side", [clipped(c, side) for c in chains]),
    }
    spread = ", nothing folded" * any(half.folds for half in halves)
    tips = f"projected, tip to tip{spread}"
    out = [
        Measure(f"{role}.span", f"{role} span", span, "length", tips),
        Measure(f"{role}.span_developed", f"{role} span", developed, "length", "developed"),
    ]
    for suffix, (words, chosen) in references.items():
        out += _by_reference(role, suffix, words, chosen)
        if suffix != "_exposed":
            ratio = span * span / together(chosen)[0]
            key = f"{role}.aspect_ratio{suffix}"
            out.append(Measure(key, f"{role} aspect ratio", ratio, "ratio", words))
    wetted = sum(part.skin() for part in airframe.parts if surface_role(airframe, part) == role)
    words = "whole skin without end caps, also what lies inside the body"
    out.append(Measure(f"{role}.wetted_area", f"{role} wetted area", wetted, "area", words))
    if not any(_apart(airframe, half.group) for half in halves):
        return [*out, *_outermost(role, halves[0])]
    each = {f"{side_of(half.side)} {role}": half for half in halves}
    return [*out, *(one for name, half in each.items() for one in _outermost(name, half))]


def _wider_than(airframe: Airframe, role: str, side: float, chains: list[CutChain]) -> None:
    """InputError where the body is wider than the surface."""
    tip = min(float(c.y[-1]) for c in chains)
    if side < tip:
        return
    units = airframe.design.units
    allowed = (
        f"allowed: narrower than the {role}, whose tip is at BL {show(tip, 'length', units)}; "
        "is the unit right?"
    )
    given = f"{show(side, 'length', units)} either side, beside the {role}"
    raise InputError(airframe.design.name, [Problem("bodies", given, allowed)])


def _by_reference(role: str, suffix: str, words: str, chosen: list[CutChain]) -> list[Measure]:
    """Area and mean chord of one reference, which their words name."""
    area, mac, lemac, bl = together(chosen)
    butt = f"{role} MAC butt line"
    return [
        Measure(f"{role}.area{suffix}", f"{role} area", area, "area", words),
        Measure(f"{role}.mac{suffix}", f"{role} MAC", mac, "length", words, BALANCE),
        Measure(f"{role}.lemac_fs{suffix}", f"{role} LEMAC", lemac, "station", words, BALANCE),
        Measure(f"{role}.mac_bl{suffix}", butt, bl, "length", words, BALANCE),
    ]


def _outermost(role: str, half: Half) -> list[Measure]:
    """Taper, and the sweep of the outermost panel; `role` with its side where sides differ."""
    first = lying(half)
    last = outer_trapezoid(first)
    ratio = float(half.chord[-1] / half.chord[0])
    out = [Measure(f"{role}.taper", f"{role} taper", ratio, "ratio", "tip chord / centre chord")]
    across = float(last.y[-1] - first.y[-2])
    inner = float(first.x[-2]), float(first.chord[-2])
    outer = float(first.x[-1]), float(first.chord[-1])
    for key, name, share in (("le", "leading edge", 0.0), ("quarter", "quarter chord", 0.25)):
        sweep = pf.sweep_at(across, *inner, *outer, share)
        words = "outermost panel, plan view"
        out.append(Measure(f"{role}.sweep_{key}", f"{role} sweep, {name}", sweep, "angle", words))
    return out


def design_measures(airframe: Airframe) -> Measures:
    """The measures that belong to the design, whatever it stands on."""
    out: list[Measure] = []
    for role in LYING:
        if airframe.halves_in(role):
            halves = airframe.halves_in(role)
            out += airframe.pieces.of(
                lambda name, *_: _surface(airframe, name), role, *halves, airframe.design.bodies
            )
    design = airframe.design
    held = Measures(tuple(out), design.name, design.units)
    if "foreplane.area" in held and "wing.area" in held:
        arm = (held["wing.lemac_fs"] + 0.25 * held["wing.mac"]) - (
            held["foreplane.lemac_fs"] + 0.25 * held["foreplane.mac"]
        )
        out += [
            Measure(
                "foreplane.arm",
                "foreplane arm",
                arm,
                "length",
                "quarter MAC to quarter MAC",
                BALANCE,
            ),
            Measure(
                "foreplane.volume_coefficient",
                "foreplane volume coefficient",
                pf.volume_coefficient(
                    held["foreplane.area"], arm, held["wing.area"], held["wing.mac"]
                ),
                "ratio",
                "true planform areas, wing MAC",
                BALANCE,
            ),
        ]
    out += _winglets(airframe)
    out += [Measure(*row) for row in profile_rows(airframe.design)]
    return replace(held, items=tuple(out))


def _winglets(airframe: Airframe) -> list[Measure]:
    halves = airframe.halves_in("winglet")
    if not halves:
        return []
    sides = {half.side for half in halves}
    bare = [half for half in airframe.halves if half.side not in sides and half.role in LYING]
    span = _of_both([*halves, *bare], lambda half: float(half.leading_edge[-1, 1]))
    words = "projected, between the leading edges of the winglets' tips"
    if bare:
        words = "projected, from the winglet's tip to the tip without one"
    out = [Measure("span_with_winglets", "span at the winglets' tips", span, "length", words)]
    shown = {h.name if _sides_differ(airframe, h.group) else h.group: h for h in halves[::-1]}
    for group in reversed(shown):
        half = shown[group]
        run = half.developed
        area = float(0.5 * ((half.chord[1:] + half.chord[:-1]) * np.diff(run)).sum())
        rise = float(half.leading_edge[-1, 2] - half.leading_edge[0, 2])
        out += [
            Measure(f"{group}.length", f"{group} length", float(run[-1]), "length", "developed"),
            Measure(f"{group}.rise", f"{group} rise", rise, "length", "tip over root, level", HIGH),
            Measure(f"{group}.area", f"{group} area, each", area, "area", "developed"),
        ]
    return out


def _sides_differ(airframe: Airframe, winglet: str) -> bool:
    """Whether the left one of a pair of winglets is otherwise than the right one."""
    return _apart(airframe, winglet) or _apart(airframe, airframe.design.winglets[winglet].on)


def _apart(airframe: Airframe, group: str) -> bool:
    """Whether the sides of a surface or winglet are written or built each otherwise."""
    design = airframe.design
    if differs({**design.lifting, **design.winglets}[group]):
        return True
    pair = [half for half in airframe.halves if half.group == group]
    return len(pair) == 2 and any(
        np.abs(getattr(pair[0], field) - getattr(pair[1], field)).max() > ROUNDING
        for field in ("leading_edge", "chord", "incidence")
    )


ROUNDING = 1e-9
"""By less the sides of a surface do not differ [m], [rad]."""


LEVEL = ("length", "width", TRACK, BASE)
"""Sizes of the aircraft as it stands that are no heights."""


def extents(standing: Standing) -> list[Measure]:
    """Sizes and heights of the aircraft as it stands, without its outlines; quick to repeat."""
    points = standing.all_points()
    low, high = points.min(axis=0), points.max(axis=0)
    where = standing.title
    found: list[tuple[str, str, float]] = [
        ("length", "overall length", high[0] - low[0]),
        ("width", "overall width", high[1] - low[1]),
        ("height", "overall height", high[2]),
    ]
    tips = [p.points[:, 2].max() for p in standing.parts if of_wing(standing.airframe, p)]
    if tips:
        found.append(("tip_height", "tip height", max(tips)))
    clear = [p for p in standing.parts if p.role != "wheel"]
    if clear:
        part = min(clear, key=lambda p: float(p.points[:, 2].min()))
        words = f"lowest point but the wheels ({part.name})"
        found.append(("lowest_point", words, part.points[:, 2].min()))
    found += [(line.key, line.label, line.length) for line in wheel_lines(standing)]
    found += propeller_heights(standing)
    found += _gives(standing)
    for part in standing.parts:
        if part.role == "panel" and standing.turns.get(part.name):
            edge = free_edge(standing, part.name)[:, 2]
            named = f"of the open {part.name}"
            found.append((f"{part.name}.free_edge", f"free edge {named}, top", edge.max()))
            found.append(
                (f"{part.name}.headroom", f"headroom to the free edge {named}", edge.min())
            )
    return [
        Measure(key, label, float(value), "length", where, BIG if key in LEVEL else HIGH)
        for key, label, value in found
    ]


def _gives(standing: Standing) -> Iterator[tuple[str, str, float]]:
    """How far tyres and struts give under the loads that the labels name."""
    for name, give in standing.settled.gives.items():
        load = said(standing.settled.loads[name], "mass", standing.airframe.design.units)
        if give.tyre:
            yield f"{name}.tyre_gives", f"tyre of {name} gives, under {load}", give.tyre
        if give.strut:
            yield f"{name}.strut_gives", f"strut of {name} gives, under {load}", give.strut


def free_edge(standing: Standing, panel: str) -> Array:
    """Points of a panel's edge away from its hinge, as it stands, shape (n, 3) [m]."""
    part = next(part for part in standing.parts if part.name == panel)
    assert part.hinge is not None
    return np.asarray(part.points[list(part.hinge.rim)])


def standing_measures(standing: Standing) -> Measures:
    """Overall measures of the aircraft as it stands; heights are over the floor."""
    attitude, where = standing.attitude, standing.title
    angles = (
        Measure("pitch", "pitch, nose up", attitude.pitch, "angle", where, HIGH),
        Measure("roll", "roll, right wing down", attitude.roll, "angle", where, HIGH),
        *(
            Measure(f"{name}.open_angle", f"{name} stands open at", angle, "angle", where, HIGH)
            for name, angle in standing.turns.items()
            if standing.airframe.by_name[name].role == "panel"
        ),
    )
    design = standing.airframe.design
    moved = [Measure(*one) for one in control_measures(standing)]
    items = (*extents(standing), *angles, *moved, *_footprint(standing))
    return Measures(items, f"{design.name}, {where}", design.units)


def standing_sizes(standing: Standing) -> Measures:
    """Sizes, heights and what it takes of the floor; the quicker part of `standing_measures`."""
    design = standing.airframe.design
    items = (*extents(standing), *_footprint(standing))
    return Measures(items, f"{design.name}, {standing.title}", design.units)


def _footprint(standing: Standing) -> list[Measure]:
    import shapely

    from planform.airframe.outlines import outline

    true = shapely.union_all([outline(part) for part in standing.parts])
    hull = plan_hull(standing.all_points())
    long, short, _ = least_rectangle(hull)
    where = standing.title
    out = [
        Measure("footprint.area", "footprint, true outline", float(true.area), "area", where),
        Measure(
            "footprint.hull_area",
            "footprint, taut string round it",
            float(shapely.polygons(hull).area),
            "area",
            where,
        ),
        Measure("footprint.rectangle_long", "least rectangle, long side", long, "length", where),
        Measure("footprint.rectangle_short", "least rectangle, short side", short, "length", where),
    ]
    design = standing.airframe.design
    on = {part.group for part in standing.parts}
    for name, wheel in design.wheels.items():
        if wheel.side != "both" or name not in on:
            continue
        left, right = on_side(wheel, "left"), on_side(wheel, "right")
        both = np.array(
            [[float(one.fs), sign * float(one.bl), float(one.wl)]
             for one, sign in ((left, -1.0), (right, 1.0))]
        )  # fmt: skip
        places = {"axle": both.mean(axis=0)[None], "wheel": both}
        told = {"axle": f"middle of the {name} axle", "wheel": f"a {name} wheel, the wider one"}
        for key, axle in places.items():
            centres = standing.to_floor(axle)[:, None, :2]
            reach = float(np.linalg.norm(hull - centres, axis=-1).max())
            words, key = f"turning circle about {told[key]}", f"turning_circle_{key}"
            out.append(Measure(key, words, 2.0 * reach, "length", where))
        break
    return out
