"""A practitioner's published canard notes, Tables 4-3 and 4-4 and Equation 2-1, as quoted (CN-01).

Foreplane volume coefficient; model scale, inches. Tolerance: half of the last printed digit.
"""

import pytest

from planform.core.planform import volume_coefficient


@pytest.mark.parametrize(
    ("foreplane", "arm", "wing", "mac", "printed"),
    [(62.2, 15.71, 249.0, 7.10, 0.55), (82.0, 10.29, 164.0, 6.08, 0.85)],
)
def test_cn_01_foreplane_volume_coefficient(foreplane, arm, wing, mac, printed):
    assert volume_coefficient(foreplane, arm, wing, mac) == pytest.approx(printed, abs=0.005)
