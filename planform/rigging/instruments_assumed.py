"""What a tape, a level or a plumb bob is taken to be good for where nobody says."""

from __future__ import annotations

import math

from planform.design.units import FOOT, INCH
from planform.rigging.instruments import TAPE

READ_TO = INCH / 16.0
"""How well a tape is read and held; common practice, no source."""
LEVEL = math.radians(0.1)
"""Of a digital level; makers tell 0.05 to 0.2 deg; common practice, no source."""
PLUMB = INCH / 8.0
"""Of a plumb mark and a tape to it; common practice, no source."""
HEIGHT = INCH / 16.0
POINT = 0.001
"""Of a point from a photogrammetry or total-station program; assumption."""


def assumed_tolerance(sort: str, instrument: str, value: tuple[float, ...]) -> tuple[float, str]:
    """How far a reading may be off where nothing is said, and the sentence that says so.

    sort : of `readings.SORTS` ; value : what was read [m] or [rad]
    """
    with_what = instrument or {"level along": "level", "level across": "level"}.get(sort, "tape")
    if sort.startswith("level"):
        return LEVEL, f"{with_what}: taken as good to 0.1 deg (assumption)"
    if sort == "point":
        return POINT, f"{instrument or 'points'}: taken as good to 1 mm (assumption)"
    if sort in ("floor distance", "station", "offset"):
        return PLUMB, "plumb marks: taken as good to 1/8 in (assumption)"
    if sort in ("height", "height difference"):
        return HEIGHT, "heights: taken as good to 1/16 in (assumption)"
    feet = abs(value[0]) / FOOT
    own = next((inches for most, inches in TAPE if feet <= most), 1 / 4)
    words = "tapes: as a maker may be off (NIST Handbook 44), and 1/16 in to read (assumption)"
    return own * INCH + READ_TO, words
