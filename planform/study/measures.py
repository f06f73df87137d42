"""What the inputs' tolerances do to measures: each input moved by its tolerance, rebuilt.

First order: every input is moved up and down alone, the whole geometry is built again, and the
larger of the two changes counts. Worst case adds the changes; root-sum-square takes the inputs
as independent.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planform.airframe.build import build
from planform.airframe.measure import design_measures, extents
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.core.spread import Spread, Values, spreads
from planform.design.models import Design
from planform.design.naming import field_name
from planform.design.vary import shifted, toleranced_shape
from planform.study.inputs import buildable


@dataclass(frozen=True)
class MeasureSpreads:
    """Spreads of the design's measures, and of each standing's sizes and heights."""

    design: dict[str, Spread]
    standings: tuple[dict[str, Spread], ...]


def measure_spreads(standings: Sequence[Standing]) -> MeasureSpreads:
    """Spreads of every measure but the outlines' areas; each input moved, built again once.

    standings : of one design, at least one
    """
    design = standings[0].airframe.design

    def values(d: Design, moved: str = "") -> list[Values]:
        with buildable(d.name, [moved]):
            return _values(d)

    def _values(d: Design) -> list[Values]:
        airframe = build(d, like=standings[0].airframe)
        stood = [stand_on(airframe, stage_named(d, s.stage.name), s.stance_name) for s in standings]
        found = [list(design_measures(airframe).items), *map(extents, stood)]
        return [{m.key: m.value for m in items} for items in found]

    base = values(design)
    moved = [
        (name, values(shifted(design, path, sign * reading.tolerance), name))
        for path, reading in toleranced_shape(design)
        for name in (field_name(design, path),)
        for sign in (1.0, -1.0)
    ]
    found = [
        spreads(one, [(name, groups[k]) for name, groups in moved]) for k, one in enumerate(base)
    ]
    return MeasureSpreads(found[0], tuple(found[1:]))
