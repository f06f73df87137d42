"""The net without its always unknowns: what is left is one square matrix for all explanations."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.core.vectors import Array
from planform.rigging.explain.net import Net

SEEN_AT = 3.0
"""A candidate is tried if its largest plausible size moves the readings by this many standard
deviations, all together."""

DULL = 1e-10
"""Below this share of a column's length, what is left of it is rounding."""


@dataclass(frozen=True, eq=False)
class Reduced:
    """Readings made alike in weight, with placement, slopes and zeros taken out.

    whiten : (m, m) makes readings of deviation one that hang on nothing in common
    basis : (m, r) orthonormal; what the always unknown can do to the readings
    seen : (m,) what is left of what was read
    gram : (c + m, c + m) products of all columns: the candidates', then one for each reading (a
        reading that is wrong by any amount, in its standard deviations)
    towards : (c + m,) products of all columns with what was read
    prior : (c + m,) what the largest plausible sizes say of the candidates; 0 for readings
    tried : (c,) bool: seen by the readings
    """

    whiten: Array
    basis: Array
    seen: Array
    gram: Array
    towards: Array
    prior: Array
    tried: NDArray[np.bool_]

    @property
    def candidates(self) -> int:
        """How many candidates there are."""
        return len(self.tried)

    @property
    def rank(self) -> int:
        """How many of the always unknown are determined together."""
        return int(self.basis.shape[1])


def reduced(net: Net, unnoticed: float = 0.0) -> Reduced:
    """The net without its always unknowns.

    unnoticed : standard deviation by which each candidate may be off without being counted as a
        deviation, in shares of its largest plausible size
    """
    u, m = len(net.unknown), len(net.sd)
    large = np.array([one.large for one in net.candidates])
    scaled = net.columns / net.sd[:, None]
    common = scaled[:, u:] * (unnoticed * large)
    alike = np.linalg.inv(np.linalg.cholesky(np.eye(m) + common @ common.T))
    basis = basis_of(alike @ scaled[:, :u])
    full = alike @ np.hstack([scaled[:, u:], np.eye(m)])
    full = full - basis @ (basis.T @ full)
    seen = alike @ (net.seen / net.sd)
    seen = seen - basis @ (basis.T @ seen)
    plain = scaled[:, u:]
    if unnoticed and u:
        own = basis_of(scaled[:, :u])
        plain = plain - own @ (own.T @ plain)
    elif u:
        plain = full[:, : len(large)]
    left = np.einsum("ij,ij->j", plain, plain)
    whole = np.einsum("ij,ij->j", scaled[:, u:], scaled[:, u:])
    tried = (left * large**2 > SEEN_AT**2) & (left > 1e-12 * np.maximum(whole, 1e-300))
    prior = np.concatenate([1.0 / large**2, np.zeros(m)])
    whiten = alike / net.sd[None, :]
    return Reduced(whiten, basis, seen, full.T @ full, full.T @ seen, prior, tried)


def basis_of(columns: Array) -> Array:
    """An orthonormal basis (m, r) of what the columns reach."""
    if not columns.size:
        return np.zeros((len(columns), 0))
    length = np.linalg.norm(columns, axis=0)
    left, values, _ = np.linalg.svd(
        columns / np.where(length > 0.0, length, 1.0), full_matrices=False
    )
    return np.asarray(left[:, values > 1e-9 * max(float(values[0]), 1e-300)])
