"""The first screen of the demo against pictures that were looked at and approved.

A change that is meant: look at it, then PLANFORM_APPROVE=1 pytest tests/page/test_approved.py
"""

from __future__ import annotations

import io
import os
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from planform.airframe.build import build
from planform.airframe.stance import stand_all
from planform.design.load import load, load_place
from planform.fit.room import build_room, spot_point
from planform.report.seen.look import whole_look
from planform.report.seen.meshes import Meshes
from planform.report.seen.page import seen_page
from planform.report.seen.stage import stage_look
from tests.conftest import DESIGNS
from tests.page.browser import DESK, PHONE, TABLET, needs_browser
from tests.page.made import opened_page

pytestmark = [pytest.mark.page, needs_browser]
APPROVED = Path(__file__).parent / "approved"
WIDE = 320
"""Approved pictures are this wide [px]: what one sees at arm's length, and not the letters."""


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """The demo's last stage in its room before anything is judged, and the page of it."""
    design, place = load(DESIGNS / "marram.toml"), load_place(DESIGNS / "boatshed.toml")
    room, meshes = build_room(place), Meshes()
    standing = stand_all(build(design))[-1]
    stage = stage_look(standing, meshes, "ft-in", spot_point(place, None))
    look = whole_look(design, room, [stage], meshes, "ft-in")
    path = tmp_path_factory.mktemp("approved") / "demo.html"
    path.write_text(seen_page(look, "Marram in Boat shed", "<p>plain</p>"), encoding="utf-8")
    return path


CASES = {
    "desk": (DESK, "corner"),
    "desk-above": (DESK, "above"),
    "desk-ahead": (DESK, "ahead"),
    "desk-left": (DESK, "left"),
    "desk-door": (DESK, "through 0"),
    "desk-inside": (DESK, "inside"),
    "tablet": (TABLET, "corner"),
    "phone": (PHONE, "corner"),
}


@pytest.mark.parametrize("name", CASES)
def test_the_first_screen_looks_as_approved(name, demo, page_at):
    size, view = CASES[name]
    page = opened_page(page_at, demo, size=size, touch=size != DESK).page
    page.evaluate("(view) => { shop.go(view); shop.hall.draw(); }", view)
    seen = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    small = seen.resize((WIDE, round(WIDE * size[1] / size[0])), Image.Resampling.BOX)
    path = APPROVED / f"{name}.png"
    if os.environ.get("PLANFORM_APPROVE"):
        small.save(path, optimize=True)
    approved = np.asarray(Image.open(path).convert("RGB"), dtype=float)
    apart = np.abs(np.asarray(small, dtype=float) - approved).max(axis=2)
    assert apart.mean() < 3.0
    assert (apart > 60.0).mean() < 0.015
