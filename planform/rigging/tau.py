"""The threshold for the greatest residual where the deviation is taken from the residuals."""

from __future__ import annotations

import math

from planform.core.adjust.snooping import ALARM


def tau(count: int, freedom: int, alarm: float = ALARM) -> float:
    """What the greatest of `count` residuals over their estimated deviation seldom passes.

    freedom : readings less unknowns, two at least
    Pope, 1976 (formula from memory): tau = t sqrt f / sqrt(f - 1 + t2), t of f - 1 at a / 2n.
    """
    from scipy.stats import t as student

    if freedom < 2:
        raise ValueError(f"freedom {freedom}; allowed: 2 or more")
    t = float(student.isf(alarm / (2.0 * count), freedom - 1))
    return t * math.sqrt(freedom) / math.sqrt(freedom - 1 + t * t)
