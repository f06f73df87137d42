"""The page in 3D in a real browser, opened from disk with the network off."""

from __future__ import annotations

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
    share = opened.page.evaluate(
        """() => {
          const pixels = () => shop.hall.sheet(400, 300).getContext("2d")
            .getImageData(0, 0, 400, 300).data;
          const there = pixels();
          shop.hall.aircraft.visible = shop.hall.ground.shadow.visible = false;
          const gone = pixels();
          shop.hall.aircraft.visible = shop.hall.ground.shadow.visible = true;
          let other = 0;
          for (let k = 0; k < there.length; k += 4) {
            const far = Math.abs(there[k] - gone[k]) + Math.abs(there[k + 2] - gone[k + 2]);
            other += far > 12;
          }
          return other / (400 * 300);
        }"""
    )
    assert 0.05 < share < 0.6


def test_each_stage_shows_its_parts_and_no_others(opened, marram):
    page, stages = opened.page, marram[1].standings
    for number, standing in enumerate(stages):
        page.locator(".stepper select").select_option(str(number + 1))
        shown = page.evaluate(
            "[...shop.hall.aircraft.children].filter(p => p.visible).map(p => p.told.name)"
        )
        assert sorted(shown) == sorted(part.name for part in standing.parts)
