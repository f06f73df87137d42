"""What the inputs' tolerances do to measures: each input moved by its tolerance, rebuilt.

Every input is moved up and down alone, the whole geometry is built again, and the larger of the
two changes counts. Worst case adds the changes, or is what the corner that each measure then wants
does once it is built; root-sum-square takes the inputs as independent.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from planform.airframe.build import build
from planform.airframe.measure import design_measures, extents
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.core.spread import LEAST, Spread, Values, spreads
from planform.design.naming import Path, field_name
from planform.design.problems import InputError
from planform.design.vary import shifted, toleranced_shape
from planform.study.inputs import buildable, fields_unseen


@dataclass(frozen=True)
class MeasureSpreads:
    """Spreads of the design's measures, and of each standing's sizes and heights."""

    design: dict[str, Spread]
    standings: tuple[dict[str, Spread], ...]


def measure_spreads(standings: Sequence[Standing], *, whole: bool = False) -> MeasureSpreads:
    """Spreads of every measure but the outlines' areas; each input moved, built again once.

    standings : of one design, at least one
    whole : build also what is proved to lie inside skins, which is taken to stay there and then
        changes no measure
    """
    design = standings[0].airframe.design
    unseen = {} if whole else fields_unseen(standings)

    def values(sides: Sides) -> list[Values]:
        moved = design
        for (_, path, step), side in sides.items():
            moved = shifted(moved, path, side * step)
        moved = moved.model_copy(update=unseen)
        with buildable(design.name, [name for name, _, _ in sides]):
            airframe = build(moved, like=standings[0].airframe)
            stood = [
                stand_on(airframe, stage_named(moved, s.stage.name), s.stance_name)
                for s in standings
            ]
            found = [list(design_measures(airframe).items), *map(extents, stood)]
        return [{m.key: m.value for m in items} for items in found]

    base = values({})
    inputs: list[Moving] = [
        (field_name(design, path), path, reading.tolerance)
        for path, reading in toleranced_shape(design)
        if path[0] not in unseen
    ]
    alone = {(one, side): values({one: side}) for one in inputs for side in (1.0, -1.0)}
    built = [dict.fromkeys(group, 0.0) for group in base]
    for sides in _corners(base, alone):
        try:
            corner = values(sides)
        except InputError:
            continue  # no such aircraft: nothing is farther out there
        for k, group in enumerate(base):
            for key, value in group.items():
                if key in corner[k]:
                    built[k][key] = max(built[k][key], abs(corner[k][key] - value))
    found = [
        {
            key: replace(spread, built=built[k][key])
            for key, spread in spreads(
                one, [(name, groups[k]) for ((name, _, _), _), groups in alone.items()]
            ).items()
        }
        for k, one in enumerate(base)
    ]
    return MeasureSpreads(found[0], tuple(found[1:]))


Moving = tuple[str, Path, float]
"""An input by its name, its place in the file, and its tolerance [SI]."""

Sides = dict[Moving, float]


def _corners(
    base: Sequence[Values], alone: Mapping[tuple[Moving, float], Sequence[Values]]
) -> list[Sides]:
    """For each measure the ends at which its inputs add most to it, and those that take most.

    Measures that want no input at two different ends share a corner.
    """
    out: list[Sides] = []
    for k, group in enumerate(base):
        for key, value in group.items():
            for way in (1.0, -1.0):
                wanted: Sides = {}
                most: dict[Moving, float] = {}
                for (one, side), values in alone.items():
                    change = way * (values[k].get(key, value) - value)
                    if change > max(LEAST, most.get(one, 0.0)):
                        wanted[one], most[one] = side, change
                if len(wanted) < 2:
                    continue  # one alone is built already
                for sides in out:
                    if all(sides.get(one, side) == side for one, side in wanted.items()):
                        sides.update(wanted)
                        break
                else:
                    out.append(wanted)
    return out
