"""Readings of an aircraft: what was measured between its named points."""

from __future__ import annotations

from dataclasses import dataclass

LENGTHS = (
    "point",
    "distance",
    "floor distance",
    "height",
    "height difference",
    "station",
    "offset",
)
ANGLES = ("level along", "level across")
SORTS = (*LENGTHS, *ANGLES)
"""What may be read: where a point is, a straight tape, a tape between plumb marks, the height over
the floor, a water level's difference, a plumb mark along and off a line of two others, and a level
fore and aft (nose up positive) or across (right side up positive)."""

FROM_TO = ("distance", "floor distance", "height difference", *ANGLES)
ON_A_LINE = ("station", "offset")

UNIT_FREE = "no unit"
"""What a list of points is in whose scale is to be found from named points."""


@dataclass(frozen=True)
class ShopReading:
    """One reading.

    sort : of `SORTS` ; point, to : names of named points; of a level the ends of its line
    line : the two points whose plumb marks carry a string
    value : what was read [m] or [rad]; of a point its x, y, z in the instrument's own axes [m]
    tolerance : it lies anywhere within so much of the truth [m] or [rad]
    assumed : where the tolerance was not given, what it was taken from
    instrument : by name; readings of one level share its zero, points of one program its axes
    reversed : a level turned end for end, its reading still told nose up (or right side up)
    row : its line in the file
    """

    sort: str
    point: str
    to: str
    line: tuple[str, str] | None
    value: tuple[float, ...]
    tolerance: float
    assumed: str
    instrument: str
    reversed: bool
    stage: str
    stance: str
    date: str
    row: int
    note: str = ""

    @property
    def is_angle(self) -> bool:
        """Whether it is an angle."""
        return self.sort in ANGLES

    @property
    def words(self) -> str:
        """What was read, in words."""
        if self.line is not None:
            along = "along" if self.sort == "station" else "off"
            return f"{self.point}, plumbed, {along} the line {self.line[0]} to {self.line[1]}"
        turned = ", reversed" if self.reversed else ""
        if self.to:
            return f"{self.sort}, {self.point} to {self.to}{turned}"
        return f"{self.sort}, {self.point}{turned}"


@dataclass(frozen=True)
class ReadingList:
    """The readings of a file.

    scale_free : points in it have no unit; their scale is to be found
    taken : what was taken as something, in sentences
    """

    source: str
    readings: tuple[ShopReading, ...]
    scale_free: bool = False
    taken: tuple[str, ...] = ()
