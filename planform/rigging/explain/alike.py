"""What the readings do not determine, and readings whose mistake could not be told as one."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planform.core.vectors import Array
from planform.rigging.explain.fitting import DETERMINED, full_model
from planform.rigging.explain.net import Net
from planform.rigging.explain.reduced import SEEN_AT, Reduced
from planform.rigging.explain.rivals import MARGIN
from planform.rigging.explain.told import Undetermined, Unseen

MISTAKE = 10.0 * 3.0**0.5
"""Ten tolerances in standard deviations: the mistake that should be named."""

TOGETHER = 3
"""Most candidates that are told to do together what another one does."""


def undetermined(net: Net, small: Reduced, wrong: Sequence[int]) -> tuple[Undetermined, ...]:
    """Candidates that the readings do not determine, with what is alike."""
    large = np.array([one.large for one in net.candidates])
    inside, _, covariance = full_model(small, wrong, large)
    sd = np.sqrt(np.diag(covariance))
    wide = {k for k, own in zip(inside, sd, strict=True) if own >= DETERMINED * large[k]}
    right = np.ones(len(net.readings), dtype=bool)
    right[list(wrong)] = False
    names = (*net.unknown, *(one.name for one in net.candidates))
    told = []
    for k, one in enumerate(net.candidates):
        if small.tried[k] and k not in wide:
            continue
        alike = _stand_in(net, right, len(net.unknown) + k, one.large)
        told.append(Undetermined(one.name, tuple(names[n] for n in alike)))
    return tuple(told)


def _stand_in(net: Net, right: Array, number: int, large: float) -> list[int]:
    """The fewest other columns that do what this one does; none where no reading sees it."""
    u = len(net.unknown)
    weighed = net.columns[right] / net.sd[right, None]
    aim = weighed[:, number] * large
    if float(aim @ aim) <= SEEN_AT**2:
        return []
    sizes = [1e3 / max(float(np.linalg.norm(weighed[:, k])), 1e-12) for k in range(u)]
    others = weighed * np.array([*sizes, *(one.large for one in net.candidates)])
    others[:, number] = 0.0
    strong = 1.0 + np.einsum("ij,ij->j", others, others)
    chosen: list[int] = []
    left, part = aim, np.zeros(0)
    while sum(n >= u for n in chosen) < TOGETHER and len(chosen) < u + TOGETHER:
        far = (others.T @ left) ** 2 / strong
        far[chosen] = -1.0
        if float(far.max(initial=0.0)) < 1.0:
            break
        chosen.append(int(np.argmax(far)))
        inner = others[:, chosen]
        part = np.linalg.solve(inner.T @ inner + np.eye(len(chosen)), inner.T @ aim)
        left = aim - inner @ part
        if float(left @ left + part @ part) <= SEEN_AT**2:
            break
    effect = np.linalg.norm(others[:, chosen], axis=0) * np.abs(part)
    return [n for n, e in zip(chosen, effect, strict=True) if e > 0.1 * float(effect.max())]


def unseen(net: Net, small: Reduced, members: Sequence[int], price: Array) -> tuple[Unseen, ...]:
    """Readings whose mistake of ten tolerances would not be known as theirs.

    Beside the members of the explanation, a mistake is told by the sum of squares that it leaves.
    What one other candidate or reading takes off as well could be taken for it.
    """
    c, m = small.candidates, len(net.readings)
    stiff = small.gram + np.diag(small.prior)
    at = np.array(members, dtype=int)
    if len(at):
        inner = np.linalg.solve(stiff[np.ix_(at, at)], stiff[at])
        stiff = stiff - stiff[:, at] @ inner
    own = np.maximum(np.diag(stiff), 1e-12)
    usable = np.isfinite(price) & (own > 1e-9)
    usable[at] = False
    mistakes = c + np.arange(m)
    whole = MISTAKE**2 * own[mistakes]
    taken = MISTAKE**2 * stiff[mistakes] ** 2 / own[None, :]
    left = whole[:, None] - taken + price[None, :]
    left[:, ~usable] = np.inf
    left[np.arange(m), mistakes] = np.inf
    nearest = np.argmin(left, axis=1) if left.size else np.zeros(m, dtype=int)
    told = []
    for i in range(m):
        if mistakes[i] in at:
            continue
        if whole[i] < price[mistakes[i]] + MARGIN:
            told.append(Unseen(i, net.readings[i].words, "no other reading checks it"))
        elif left[i, nearest[i]] < price[mistakes[i]] + MARGIN:
            told.append(Unseen(i, net.readings[i].words, _named(net, int(nearest[i]))))
    return tuple(told)


def _named(net: Net, number: int) -> str:
    """A column in words."""
    c = len(net.candidates)
    if number < c:
        return f"{net.candidates[number].name} off its drawing"
    return f"a mistake in {net.readings[number - c].words}"
