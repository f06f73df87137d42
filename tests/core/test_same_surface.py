"""Surfaces that the lattice cannot tell apart are refused in one sentence."""

from __future__ import annotations

import numpy as np
import pytest

from planform.aero.flow import solve
from planform.aero.lifting import Lifting
from planform.core.flow.strips import StripLine
from planform.design.problems import InputError


def surface(name, edge, chord):
    count = len(chord)
    line = StripLine(name, np.array(edge, float), np.array(chord, float))
    return Lifting(line, "wing", np.zeros(count), ((0.0, 0.0),) * count)


def test_the_very_same_surface_twice_is_refused():
    one = surface("wing", [[0, 0, 0], [0.4, 4, 0.2]], [1.2, 0.8])
    two = surface("other", [[0, 0, 0], [0.4, 4, 0.2]], [1.2, 0.8])
    with pytest.raises(InputError, match="move one in"):
        solve([one, two], 8.0, 1.0, 8, 2)
