"""A survey with all that is told of it: readings, their explanation, drawn against as built."""

from __future__ import annotations

from dataclasses import dataclass

from planform.airframe.stance import Standing
from planform.core.vectors import Array
from planform.rigging.explain.net import Observed
from planform.rigging.explain.told import Explanation
from planform.study.as_built import BeforeAndAfter


@dataclass(frozen=True, eq=False)
class ReadAt:
    """Where a reading is taken, on the aircraft as drawn, in aircraft axes.

    at : (3,) the point [m] ; to : (3,) its second end, where there is one [m]
    along : (3,) the direction in which the point would have to move for a larger reading
    lever : what an angle is turned into a length by [m]; 1 for a length
    """

    at: Array
    to: Array | None
    along: Array
    lever: float = 1.0


@dataclass(frozen=True, eq=False)
class Surveyed:
    """What was read of an aircraft, and what came of it.

    drawn : as it stood while it was read ; source : the readings' file by name
    tolerances : (m,) of the readings [m] or [rad]
    spots : (m,) where each was taken; None for those that are no point of the aircraft
    sheet : drawn against as built; None where nothing was found that may be built in
    as_built : the design file as built, as text; empty likewise
    taken : what was not given, and taken as something
    """

    drawn: Standing
    source: str
    readings: tuple[Observed, ...]
    tolerances: Array
    spots: tuple[ReadAt | None, ...]
    explanation: Explanation
    sheet: BeforeAndAfter | None
    as_built: str
    taken: tuple[str, ...] = ()

    def row(self, number: int) -> str:
        """A reading by the row of its file, or by its number where it has none."""
        row = self.readings[number].row
        return f"row {row}" if row else f"reading {number + 1}"
