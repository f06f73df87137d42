"""The pages in docs/ hang together: links, pictures, and a README that is short."""

from __future__ import annotations

import re
import sys

import pytest

from planform.drawing.writers import svg
from tests.conftest import ROOT

PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))]
LINK = re.compile(r"\]\(([^)#]+)(#[^)]*)?\)")


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_and_pictures_of_a_page_are_there(page):
    for found in LINK.finditer(page.read_text(encoding="utf-8")):
        if not found[1].startswith("http"):
            assert (page.parent / found[1]).is_file(), found[1]


def test_every_page_and_picture_is_reached():
    text = "".join(page.read_text(encoding="utf-8") for page in PAGES)
    named = {found[1].rsplit("/", 1)[-1] for found in LINK.finditer(text)}
    kept = {p.name for p in (ROOT / "docs" / "pictures").iterdir()}
    assert kept <= named
    assert {page.name for page in PAGES if page.parent.name == "docs"} <= named


def test_the_readme_is_short():
    assert len((ROOT / "README.md").read_text(encoding="utf-8").split()) <= 1500


def test_the_map_of_rooms_is_that_of_the_modules():
    sys.path.insert(0, str(ROOT / "docs"))
    try:
        import guides
    finally:
        sys.path.pop(0)
    names = guides.rooms()
    assert {f"planform.{p.parent.name}" for p in (ROOT / "planform").glob("*/__init__.py")} == {
        name for name in names if name != "planform_viewer"
    }
    assert all(guides.about(name) for name in names)
    drawn = svg.written(guides.map_of_rooms())
    assert drawn == (ROOT / "docs" / "pictures" / "rooms.svg").read_bytes(), (
        "run: python docs/make.py guides"
    )
