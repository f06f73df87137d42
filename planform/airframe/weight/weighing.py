"""From scale readings to an empty weight and CG, every correction a line."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planform.airframe.weight.items import Item, of_file, summed
from planform.airframe.weight.tilting import (
    ScaleLine,
    ScalesAt,
    TwoAttitudes,
    crosswise,
    two_attitudes,
)
from planform.core.quantity import Kilograms, Metres
from planform.design.models import Design
from planform.design.standing import support_of
from planform.design.weighing import Scale, Weighing


@dataclass(frozen=True)
class Weighed:
    """A weighing worked out.

    as_weighed : the sum of the scales as if level; levelled : with the level's correction
    corrections : what was aboard and does not belong (below zero), what belongs and was not
    cg_wl : height of the CG taken, as given, from two attitudes or from the mass items
    has_bl : whether every scale's butt line is known, so that the lateral CG means something
    tilted : a second weighing at another attitude
    """

    scales: tuple[ScaleLine, ...]
    as_weighed: Item
    levelled: Item
    level_change: Metres
    lean_change: Metres
    cg_wl: Metres | None
    corrections: tuple[Item, ...]
    empty: Item
    has_bl: bool
    tilted: TwoAttitudes | None = None

    @property
    def crosswise(self) -> tuple[float, ...]:
        """Of each scale, the part that changes neither sum nor CG [kg]."""
        return crosswise(self.scales)

    @property
    def twist(self) -> Kilograms | None:
        """The largest of these parts where more than three scales stand."""
        return max(map(abs, self.crosswise)) if len(self.scales) > 3 else None


def weigh(design: Design) -> Weighed | None:
    """Work out the design's weighing, or None where there is none.

    A scale pushes straight up through its wheel's axle or pad. Out of level, the CG stands over
    the scales' centre of pressure, so its station depends on its height over them:
    fs = centre + tan(level) * (height of the axles - height of the CG), nose up positive
    (statics; solved here for level and lean together).
    """
    if design.balance is None or design.balance.weighing is None:
        return None
    weighing = design.balance.weighing
    scales = tuple(_line(design, scale) for scale in weighing.scales)
    first = ScalesAt(scales, float(weighing.level), float(weighing.lean))
    has_bl = all(line.bl is not None for line in scales)
    as_weighed = summed("as weighed", [Item(s.at, s.net, s.fs, s.bl or 0.0, s.wl) for s in scales])
    tilted = _tilted(design, weighing, first, has_bl=has_bl)
    cg_wl = None if weighing.cg_wl is None else float(weighing.cg_wl)
    if cg_wl is None and tilted is not None:
        cg_wl = tilted.cg_wl
    if cg_wl is None and design.masses:
        cg_wl = estimate(design).wl
    fs, bl = as_weighed.fs, as_weighed.bl
    if first.level != 0.0 or first.lean != 0.0:
        assert cg_wl is not None
        fs, bl = first.over(cg_wl)
    levelled = Item("levelled", as_weighed.mass, fs, bl, cg_wl)
    corrections = (
        *(of_file(item).less() for item in weighing.deduct),
        *(of_file(item) for item in weighing.add),
    )
    return Weighed(
        scales,
        as_weighed,
        levelled,
        levelled.fs - as_weighed.fs,
        levelled.bl - as_weighed.bl,
        cg_wl,
        corrections,
        summed("empty, as weighed", [levelled, *corrections]),
        has_bl,
        tilted,
    )


def _tilted(
    design: Design, weighing: Weighing, first: ScalesAt, *, has_bl: bool
) -> TwoAttitudes | None:
    """The second attitude; a scale there stands where the first says, unless it says otherwise."""
    given = weighing.tilted
    if given is None:
        return None
    before = {line.at: line for line in first.scales}
    lines = []
    for scale in given.scales:
        line, known = _line(design, scale), before[scale.at]
        lines.append(
            replace(
                line,
                fs=known.fs if scale.arm is None else line.fs,
                bl=known.bl if scale.bl is None else line.bl,
                wl=known.wl if scale.wl is None else line.wl,
            )
        )
    second = ScalesAt(tuple(lines), float(given.level), float(given.lean))
    return two_attitudes(first, second, has_bl=has_bl)


def _line(design: Design, scale: Scale) -> ScaleLine:
    name, item = support_of(design, scale.at) or ("", None)
    mirror = -1.0 if item and (scale.at == f"left {name}" or item.side == "left") else 1.0
    fs = scale.arm if scale.arm is not None else item.fs if item else 0.0
    bl = scale.bl if scale.bl is not None else mirror * item.bl if item else None
    wl = scale.wl if scale.wl is not None else item.wl if item else None
    return ScaleLine(
        scale.at,
        float(scale.reading),
        float(scale.tare or 0.0),
        scale.tare is not None,
        scale.reading.text,
        scale.tare.text if scale.tare is not None else "",
        float(fs),
        None if bl is None else float(bl),
        None if wl is None else float(wl),
    )


def estimate(design: Design) -> Item:
    """All mass items of the design together."""
    items = [
        Item(m.name, float(m.mass), float(m.fs), float(m.bl), float(m.wl)) for m in design.masses
    ]
    return summed("estimate from mass items", items)
