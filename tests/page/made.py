"""Small pages in 3D for the tests: made once each."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

from planform.airframe.build import build
from planform.airframe.stance import stand_all
from planform.design.load import design_from, place_from
from planform.fit.room import build_room
from planform.report.seen.answer import SeenStages, seen, write_page
from tests.conftest import PLAIN, ROOM


def two_stages() -> dict[str, Any]:
    """The plain design with a stage more, without its winglets, which passes the door."""
    design = copy.deepcopy(PLAIN)
    bare = {"name": "bare", "stance": "gear", "without": ["winglet"]}
    design["stages"] = [bare, *design["stages"]]
    return design


def written_page(
    path: Path, design: dict[str, Any], room: dict[str, Any] | None = ROOM, system: str = "ft-in"
) -> SeenStages:
    """Write the page of tables; what it shows."""
    place = None if room is None else build_room(place_from(room))
    found = seen(stand_all(build(design_from(design))), place, workers=1)
    write_page(found, path, system)
    return found


def opened_page(page_at: Any, path: Path, **more: Any) -> Any:
    """The page, open and drawn, without gliding views."""
    one = page_at(path, reduced_motion="reduce", **more)
    one.page.wait_for_function("document.documentElement.dataset.ready")
    return one
