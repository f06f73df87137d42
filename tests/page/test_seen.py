"""The page in 3D in a real browser, opened from disk with the network off."""

from __future__ import annotations

import json

import pytest

from planform.airframe.build import build
from planform.airframe.stance import stand_all
from planform.design.load import load
from planform.report.seen.answer import seen, write_page
from tests.conftest import DESIGNS
from tests.page.browser import needs_browser

pytestmark = [pytest.mark.page, needs_browser]


@pytest.fixture(scope="module")
def marram(tmp_path_factory):
    """The demo alone, as a file, and its look."""
    airframe = build(load(DESIGNS / "marram.toml"))
    found = seen(stand_all(airframe), None)
    path = tmp_path_factory.mktemp("seen") / "marram.html"
    write_page(found, path, "ft-in")
    return path, found


@pytest.fixture(scope="module")
def opened(marram, page_at):
    """The page, open and drawn."""
    one = page_at(marram[0], reduced_motion="reduce")
    one.page.wait_for_function("document.documentElement.dataset.ready === 'yes'")
    return one


def test_opens_from_disk_offline_and_asks_for_nothing(opened):
    assert opened.requests == []
    assert opened.errors == []
    assert opened.page.title() == "Marram"


def test_pixels_of_the_aircraft_are_there(opened):
    shares = opened.page.evaluate(
        """() => {
          const sheet = shop.hall.sheet(400, 300);
          const seen = sheet.getContext("2d").getImageData(0, 0, 400, 300).data;
          let paper = 0;
          for (let k = 0; k < seen.length; k += 4) paper += seen[k] > 225 && seen[k + 2] > 190;
          const part = shop.hall.solids.get("part hull");
          const [x, y] = shop.hall.project(part.shape.points.length ? shop.hall.extent().low : [0, 0, 0]);
          return { share: paper / (400 * 300), drawn: shop.hall.drawn };
        }"""
    )
    assert 0.2 < shares["share"] < 0.97
    assert shares["drawn"] >= 1


def test_each_stage_shows_its_parts_and_no_others(opened, marram):
    page, stages = opened.page, marram[1].standings
    for number, standing in enumerate(stages):
        page.locator(".stepper select").select_option(str(number + 1))
        shown = page.evaluate(
            "[...shop.hall.aircraft.children].filter(p => p.visible).map(p => p.told.name)"
        )
        assert sorted(shown) == sorted(part.name for part in standing.parts)
        assert json.loads(page.evaluate("JSON.stringify(shop.store.get().stage)")) == str(number + 1)
