"""Pages compared with pictures of them that were looked at.

`python -m tests.drawing.test_approved` draws them anew: look at every one before it is kept.
"""

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from planform.design.drawings import DrawingNotes
from planform.design.load import load, load_place
from planform.drawing.writers.paper_png import png_page
from tests.conftest import DESIGNS
from tests.drawing.test_sheets import drawn

APPROVED = Path(__file__).parent / "approved"
DPI = 90.0
BLOCK = 18
"""Side of the squares that are compared, in dots: letters may move by a dot, lines may not go."""
DIFFERENT = 24.0
"""A square whose grey differs by more than this has something else in it (of 255)."""
DEMOS = (("marram", "boatshed"), ("quillwort", "garden-shed"), ("samphire", "barn"))
CASES = [
    (name, place, key)
    for name, place in DEMOS
    for key in ("dimension-sheet", "sections", "room-plan")
]


def pages(name, place):
    design = load(DESIGNS / f"{name}.toml")
    design = design.model_copy(update={"drawings": DrawingNotes(date="2026-01-02")})
    return drawn(design, place=load_place(DESIGNS / f"{place}.toml"))


def picture(name, place, key):
    told = pages(name, place)
    make = {"dimension-sheet": told.dimension_sheet, "sections": told.sections,
            "room-plan": told.room_plan}[key]  # fmt: skip
    return png_page(make("1"), DPI)


def blocks(content):
    grey = np.asarray(Image.open(io.BytesIO(content)).convert("L"), float)
    high, wide = (side // BLOCK * BLOCK for side in grey.shape)
    cut = grey[:high, :wide].reshape(high // BLOCK, BLOCK, wide // BLOCK, BLOCK)
    return cut.mean(axis=(1, 3))


@pytest.mark.parametrize(("name", "place", "key"), CASES)
def test_a_page_looks_as_approved(name, place, key):
    now, then = (
        blocks(content)
        for content in (picture(name, place, key), (APPROVED / f"{name}-{key}.png").read_bytes())
    )
    assert now.shape == then.shape
    assert np.abs(now - then).max() < DIFFERENT


def test_a_page_without_one_dimension_is_not_as_approved():
    design = load(DESIGNS / "quillwort.toml")
    notes = DrawingNotes(date="2026-01-02", hide=("width",))
    page = drawn(
        design.model_copy(update={"drawings": notes}),
        place=load_place(DESIGNS / "garden-shed.toml"),
    ).dimension_sheet()
    then = blocks((APPROVED / "quillwort-dimension-sheet.png").read_bytes())
    assert np.abs(blocks(png_page(page, DPI)) - then).max() > DIFFERENT


if __name__ == "__main__":
    APPROVED.mkdir(exist_ok=True)
    for case in CASES:
        (APPROVED / f"{case[0]}-{case[2]}.png").write_bytes(picture(*case))
