"""What a page begins with: the look of the files as they are, their numbers and names."""

from __future__ import annotations

from planform import __version__
from planform.airframe.build import build
from planform.airframe.stages import stage_meant
from planform.airframe.stance import shaped, stand_on
from planform.explore.asked import Variant
from planform.explore.numbers import sliders
from planform.explore.read import Files
from planform.explore.simple_look import look_of


def front_look(files: Files, first: Variant) -> dict[str, object]:
    """The look of a stage as it stands. Raises InputError where it cannot be built."""
    airframe = build(shaped(files.design.design))
    stage, _ = stage_meant(airframe, first.stage)
    return look_of(stand_on(airframe, stage, first.stance), None, frozenset())


def numbers(files: Files, command: str) -> dict[str, object]:
    """The numbers of both files, and the names of stages, stances and spots."""
    design = files.design.design
    place = None if files.place is None else files.place.place
    return {
        "design": sliders(files.design),
        "place": [] if files.place is None else sliders(files.place),
        "command": command,
        "files": {
            "design": str(files.design.path),
            "place": None if files.place is None else str(files.place.path),
        },
        "units": files.system,
        "tool_version": __version__,
        "version": files.version,
        "stages": [{"name": one.name, "stance": one.stance} for one in design.stages],
        "stances": list(design.stances),
        "spots": [
            {"name": one.name, "at": [float(v) for v in one.at], "heading": float(one.heading)}
            for one in (() if place is None else place.spots)
        ],
    }
