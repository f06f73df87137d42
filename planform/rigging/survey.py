"""An aircraft as read against the aircraft as drawn.

Its named points move with its freedoms; readings between them are explained by the fewest of these.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe
from planform.airframe.freedoms import Freedom, displaced, freedoms
from planform.core.vectors import Array
from planform.rigging.equations import Equations, equations
from planform.rigging.explain.net import Observed
from planform.rigging.explain.told import Deviation, Explanation
from planform.rigging.moving import Equation, ReadOff, explained, tried
from planform.rigging.offers import offers
from planform.rigging.points import NamedPoint, named_points, point_named
from planform.rigging.readings import ReadingList


@dataclass(frozen=True, eq=False)
class Explained:
    """Readings of an aircraft with their explanation.

    observed, tolerance : (m,) the numbers that were read, those of a point one by one
    freedoms : what was tried ; unknown : names of the explanation's unknowns, in its order
    equations : the readings as functions of the points that were read
    """

    explanation: Explanation
    observed: tuple[Observed, ...]
    tolerance: Array
    freedoms: tuple[Freedom, ...]
    equations: Equations
    unknown: tuple[str, ...]

    @property
    def built(self) -> tuple[tuple[Freedom, Deviation], ...]:
        """The significant deviations, each with its freedom: what the as-built design gets."""
        by_name = {one.name: one for one in self.freedoms}
        return tuple((by_name[one.name], one) for one in self.explanation.significant)


def survey(airframe: Airframe, given: ReadingList, datum: Sequence[str] = ()) -> Explained:
    """The simplest explanation of readings of an aircraft.

    airframe : as drawn
    datum : names of points that are taken as drawn; no freedom that moves one of them is tried
    Raises InputError for a point that the aircraft does not have, and for readings that are those
    of a mirror image or in another unit.
    """
    every = named_points(airframe)
    fixed = [point_named(every, name, "--datum", "datum") for name in datum]
    own = equations(airframe, given)
    all_of = freedoms(airframe)
    ways = tuple(all_of[k] for k in tried(all_of, own.points, fixed))
    more = replace(given, readings=(*given.readings, *offers(airframe, given)), scale_free=False)
    whole = equations(airframe, more) if not given.scale_free else own
    m = len(own.rows)
    parts, at = [point.part for point in whole.points], whole.at
    points = _places(own.points, whole.points)
    unknown = np.array([whole.unknown.index(name) for name in own.unknown], dtype=int)

    def where(theta: Array) -> Array:
        return displaced(ways, theta.tolist(), parts, at)

    def seen(there: Array, x: Array) -> Array:
        return own.seen(there[points], x[unknown])

    def could(there: Array, x: Array) -> Array:
        return whole.seen(there, x)[m:]

    taken = _read_off(whole, 0, m, seen)
    pool = _read_off(whole, m, len(whole.rows), could) if len(whole.rows) > m else None
    told = explained(whole.points, ways, where, taken, pool)
    return Explained(told, taken.readings, taken.tolerance, ways, own, whole.unknown)


def _places(some: Sequence[NamedPoint], every: Sequence[NamedPoint]) -> NDArray[np.int64]:
    """The numbers of some points among all."""
    number = {point.name: k for k, point in enumerate(every)}
    return np.array([number[point.name] for point in some], dtype=np.int64)


def _read_off(whole: Equations, first: int, last: int, seen: Equation) -> ReadOff:
    """Some of the rows of the equations, as readings."""
    drawn = whole.seen(whole.at, whole.start)
    words = whole.words
    observed = tuple(
        Observed(
            words[k],
            whole.rows[k].reading.is_angle,
            float(whole.read[k]),
            float(drawn[k]),
            _within(whole.twin[k], first, last),
            whole.rows[k].reading.row,
        )
        for k in range(first, last)
    )
    read, tolerance = whole.read[first:last], whole.tolerance[first:last]
    return ReadOff(observed, seen, read, tolerance, whole.unknown, whole.start)


def _within(number: int | None, first: int, last: int) -> int | None:
    """A row's number among the chosen ones."""
    return None if number is None or not first <= number < last else number - first
