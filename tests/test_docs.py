"""The pages in docs/ hang together: links, pictures, and a README that is short."""

from __future__ import annotations

import re

import pytest

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
