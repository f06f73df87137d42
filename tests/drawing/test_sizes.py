"""Scales as draughtsmen write them, and the frames of papers."""

import pytest

from planform.drawing.paper.sizes import PAPERS, PaperSize, scale_named


@pytest.mark.parametrize(("text", "ratio"), [
    ("1:50", 50.0), ("1:33", 33.0), ("1/4 in", 48.0), ("1/8 in = 1 ft", 96.0), ("3 in", 4.0),
    ('1/2"', 24.0), ("half", None), ("1:0", None), ("2:1", None),
])  # fmt: skip
def test_scales_are_read_as_draughtsmen_write_them(text, ratio):
    found = scale_named(text)
    assert (found.ratio if found else None) == ratio


def test_frames_of_the_a_series():
    """ISO 5457:1999, Table 1 (from memory): drawing spaces of A3 to A0."""
    spaces = {"A3": (390, 277), "A2": (564, 400), "A1": (811, 574), "A0": (1159, 821)}
    for name, (wide, high) in spaces.items():
        left, bottom, right, top = PAPERS[name].frame()
        assert (right - left, top - bottom) == (wide, high)
    assert isinstance(PAPERS["A4"].upright, PaperSize)
    assert PAPERS["A4"].upright.width == 210.0
