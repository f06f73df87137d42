"""The net without its always unknowns: what is left is one square matrix for all explanations."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planform.core.vectors import Array
from planform.rigging.explain.net import Net

SEEN_AT = 3.0
"""A candidate is tried if its largest plausible size moves the readings by this many standard
deviations, all together."""

DULL = 1e-10
"""Below this share of a column's length, what is left of it is rounding."""


@dataclass(frozen=True, eq=False)
class Reduced:
    """Readings in standard deviations, with placement, slopes and zeros taken out.

    basis : (m, r) orthonormal; what the always unknown can do to the readings
    columns : (m, c) what is left of the candidates' columns, in standard deviations
    seen : (m,) what is left of what was read
    gram : (c + m, c + m) products of all columns: the candidates', then one for each reading (a
        reading that is wrong by any amount)
    towards : (c + m,) products of all columns with what was read
    prior : (c + m,) what the largest plausible sizes say of the candidates; 0 for readings
    tried : (c,) bool: seen by the readings
    """

    basis: Array
    columns: Array
    seen: Array
    gram: Array
    towards: Array
    prior: Array
    tried: Array

    @property
    def candidates(self) -> int:
        """How many candidates there are."""
        return int(self.columns.shape[1])

    @property
    def rank(self) -> int:
        """How many of the always unknown are determined together."""
        return int(self.basis.shape[1])


def reduced(net: Net) -> Reduced:
    """The net without its always unknowns."""
    u = len(net.unknown)
    weighed = net.columns / net.sd[:, None]
    basis = basis_of(weighed[:, :u])
    columns = weighed[:, u:] - basis @ (basis.T @ weighed[:, u:])
    scaled = net.seen / net.sd
    seen = scaled - basis @ (basis.T @ scaled)
    full = np.hstack([columns, np.eye(len(net.sd)) - basis @ basis.T])
    large = np.array([one.large for one in net.candidates])
    own = np.einsum("ij,ij->j", columns, columns)
    told = own * large**2 > SEEN_AT**2
    whole = np.einsum("ij,ij->j", weighed[:, u:], weighed[:, u:])
    tried = told & (own > 1e-12 * np.maximum(whole, 1e-300))
    prior = np.concatenate([1.0 / large**2, np.zeros(len(net.sd))])
    return Reduced(basis, columns, seen, full.T @ full, full.T @ seen, prior, tried)


def basis_of(columns: Array) -> Array:
    """An orthonormal basis (m, r) of what the columns reach."""
    if not columns.size:
        return np.zeros((len(columns), 0))
    length = np.linalg.norm(columns, axis=0)
    left, values, _ = np.linalg.svd(
        columns / np.where(length > 0.0, length, 1.0), full_matrices=False
    )
    return np.asarray(left[:, values > 1e-9 * max(float(values[0]), 1e-300)])
