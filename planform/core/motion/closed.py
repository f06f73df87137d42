"""The proof that there is no way out, as the boxes that shut the aircraft in."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, eq=False)
class Closed:
    """A proof that there is no way out: boxes around the start, shut in by blocked ones.

    frame : (x0, y0, half width, half turn) of the root boxes ; grid : how many of them
    reached : (n, 4)   level and place of the boxes that may be reached
    shell : (m, 4)   of the blocked boxes beside them ; by : (m,) the pair that blocks each
    """

    start: tuple[float, float, float]
    clearance: float
    frame: tuple[float, ...]
    grid: tuple[int, ...]
    reached: NDArray[np.int64]
    shell: NDArray[np.int64]
    by: NDArray[np.int32]
