"""Least squares with all that an adjustment tells: what is left, and what checks what.

Every reading is weighed by its standard deviation. What the readings do not determine stays at
nought and is told as such, never filled in silently. The sums are made by a singular value
decomposition of the weighed columns, scaled: the normal matrix loses half of the digits.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from planform.core.vectors import Array

LOST = 1e-10
"""Share of the greatest singular value below which a direction is not determined."""


@dataclass(frozen=True, eq=False)
class Adjusted:
    """A set of readings adjusted; readings m, unknowns n.

    x : (n,) the unknowns ; covariance : (n, n), of readings that vary as their `sd` says
    residual, fitted : (m,) read less fitted, and fitted, in the readings' unit
    redundancy : (m,) share of a mistake in a reading that its own residual shows, 0 to 1
    w : (m,) residual over its own standard deviation; 0 where nothing checks the reading
    rank, freedom : of the columns; readings less rank
    chi2 : sum of the squared residuals over their `sd`
    null : (n, k) unit directions of the unknowns that the readings do not determine
    together : (m, m) how far two residuals go along with each other, -1 to 1
    """

    x: Array
    covariance: Array
    residual: Array
    fitted: Array
    redundancy: Array
    w: Array
    rank: int
    freedom: int
    chi2: float
    null: Array
    together: Array

    @property
    def sd(self) -> Array:
        """Standard deviation of each unknown, shape (n,); infinite where it is not determined."""
        open_ones = (self.null**2).sum(axis=1) > LOST
        return np.where(open_ones, np.inf, np.sqrt(np.diag(self.covariance)))

    @property
    def spread(self) -> float:
        """What the residuals say the readings' deviations are, over their `sd`; 0 if unchecked."""
        return float(np.sqrt(self.chi2 / self.freedom)) if self.freedom > 0 else 0.0


CHECKED = 1e-9
"""Redundancy below which nothing checks a reading."""


def adjust(columns: Array, seen: Array, sd: Array) -> Adjusted:
    """The unknowns x for which columns @ x comes nearest to what was read.

    columns : (m, n) ; seen, sd : (m,) readings and their standard deviations, all above nought
    """
    weighed = columns / sd[:, None]
    length = np.linalg.norm(weighed, axis=0)
    scale = np.where(length > 0.0, length, 1.0)
    left, singular, right = np.linalg.svd(weighed / scale, full_matrices=False)
    full = (
        np.linalg.svd(weighed / scale, full_matrices=True)[2] if len(seen) < len(scale) else right
    )
    rank = int((singular > LOST * max(float(singular.max(initial=0.0)), 1e-300)).sum())
    left, kept = left[:, :rank], right[:rank]
    back = kept.T / singular[:rank] / scale[:, None]
    x = back @ (left.T @ (seen / sd))
    residual = seen - columns @ x
    open_ones = (full[rank:] / scale).T
    open_ones = open_ones / np.maximum(np.linalg.norm(open_ones, axis=0), 1e-300)
    hat = left @ left.T
    free = np.eye(len(seen)) - hat
    redundancy = np.clip(1.0 - (left**2).sum(axis=1), 0.0, 1.0)
    own = np.sqrt(redundancy)
    checked = redundancy > CHECKED
    w = np.where(checked, residual / sd / np.where(checked, own, 1.0), 0.0)
    pairs = np.where(np.outer(checked, checked), np.outer(own, own), 1.0)
    together = np.where(np.outer(checked, checked), free / pairs, 0.0)
    return Adjusted(
        x=x,
        covariance=back @ back.T,
        residual=residual,
        fitted=columns @ x,
        redundancy=redundancy,
        w=w,
        rank=rank,
        freedom=len(seen) - rank,
        chi2=float(((residual / sd) ** 2).sum()),
        null=open_ones,
        together=together,
    )


STEPS = 60
"""Most steps of a curved adjustment."""
STILL = 1e-11
"""A step below this share of the unknowns' size ends it."""


def adjust_curved(
    predict: Callable[[Array], Array], start: Array, seen: Array, sd: Array
) -> tuple[Array, Adjusted]:
    """The unknowns for which `predict` comes nearest to what was read, and its last linear step.

    predict : (n,) to (m,), smooth
    Damped steps (Marquardt, 1963). Raises ValueError where it does not come to rest.
    """
    x = np.array(start, dtype=float)
    damping = 1e-3
    off = (seen - predict(x)) / sd
    for _ in range(STEPS):
        columns = slopes(predict, x)
        weighed = columns / sd[:, None]
        length = np.maximum(np.linalg.norm(weighed, axis=0), 1e-300)
        moved = False
        while damping < 1e12:
            above = np.vstack([weighed / length, np.sqrt(damping) * np.eye(len(x))])
            step = np.linalg.lstsq(above, np.append(off, np.zeros(len(x))), rcond=None)[0] / length
            there = (seen - predict(x + step)) / sd
            if np.isfinite(there).all() and there @ there <= (off @ off) * (1.0 + 1e-15):
                moved = True
                break
            damping *= 10.0
        if not moved:
            break
        size = float(np.abs(step * length).max())
        x, off, damping = x + step, there, max(damping / 30.0, 1e-14)
        if size <= STILL * (1.0 + float(np.linalg.norm(off))):
            break
    else:
        raise ValueError("the adjustment did not come to rest; allowed: a start nearer to it")
    last = adjust(slopes(predict, x), seen - predict(x), sd)
    return x + last.x, last


def slopes(predict: Callable[[Array], Array], x: Array) -> Array:
    """What each unknown does to each reading, shape (m, n), by central differences."""
    out = []
    for k in range(len(x)):
        step = np.cbrt(np.finfo(float).eps) * max(abs(float(x[k])), 1e-4)
        aside = np.zeros(len(x))
        aside[k] = step
        out.append((predict(x + aside) - predict(x - aside)) / (2.0 * step))
    return np.column_stack(out) if out else np.zeros((len(predict(x)), 0))
