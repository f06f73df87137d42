"""The question: readings as straight-line functions of what is unknown.

Knows nothing of aircraft: a reading is a row of derivatives, its value beside what the drawing
gives, and its tolerance. All in SI: metres and radians.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from planform.core.vectors import Array


def sd_of(tolerance: Array) -> Array:
    """Standard deviation of errors that lie anywhere within a tolerance, each as likely.

    JCGM 100:2008, 4.3.7: half the width of the band over the root of three; from memory.
    """
    return np.asarray(tolerance, dtype=float) / math.sqrt(3.0)


@dataclass(frozen=True)
class Candidate:
    """One way in which a part may differ from its drawing.

    large : as far off as such a thing plausibly is; an assumption [rad] or [m]
    """

    name: str
    is_angle: bool
    large: float


@dataclass(frozen=True)
class Observed:
    """One reading, in words and numbers.

    read : what was read [m] or [rad]
    drawn : what it would be on the aircraft as drawn, placed as it was found [m] or [rad]
    twin : the number of the same reading on the other side, where it was taken
    row : its line in the file; 0 where there is none
    """

    words: str
    is_angle: bool
    read: float
    drawn: float
    twin: int | None = None
    row: int = 0


@dataclass(frozen=True, eq=False)
class Pool:
    """Readings that could be taken next.

    columns : (p, u + c) their derivatives, as those of the net
    sd : (p,) the standard deviation of each with the instrument named in its words
    """

    readings: tuple[Observed, ...]
    columns: Array
    sd: Array


@dataclass(frozen=True, eq=False)
class Net:
    """Readings, what they hang on, and what they came to.

    unknown : what is always unknown: the placement, the floor's slopes, a level's zero, ... (u)
    candidates : the deviations that are tried (c)
    readings : (m) the readings
    columns : (m, u + c) change of each reading with each unknown and candidate
    seen : (m,) what was read, less what the columns give at zero
    sd : (m,) standard deviations, above zero
    """

    unknown: tuple[str, ...]
    candidates: tuple[Candidate, ...]
    readings: tuple[Observed, ...]
    columns: Array
    seen: Array
    sd: Array
    pool: Pool | None = field(default=None)

    def __post_init__(self) -> None:
        """Raise ValueError where the sizes do not agree."""
        m, n = len(self.readings), len(self.unknown) + len(self.candidates)
        if self.columns.shape != (m, n) or self.seen.shape != (m,) or self.sd.shape != (m,):
            raise ValueError(f"expected columns ({m}, {n}), got {self.columns.shape}")
        if m and not (np.isfinite(self.columns).all() and np.isfinite(self.seen).all()):
            raise ValueError("expected finite columns and readings")
        if m and not (self.sd > 0.0).all():
            raise ValueError("expected standard deviations above zero")
