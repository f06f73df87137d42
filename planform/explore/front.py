"""What a page begins with: the look of the files as they are, their numbers and names."""

from __future__ import annotations

from planform import __version__
from planform.airframe.build import build
from planform.airframe.stages import stage_meant
from planform.airframe.stance import shaped, stand_on
from planform.design.problems import InputError
from planform.explore.asked import Variant
from planform.explore.numbers import sliders
from planform.explore.read import Files, Refused, read
from planform.explore.shown import first_look
from planform.fit.room import build_room
from planform.report.record import Record


def front_look(files: Files, first: Variant) -> Record:
    """What the page begins with: a stage as it stands.

    Raises InputError where it cannot be built, or a name is none of the files'.
    """
    try:
        found = read(files, first)
    except Refused as refused:
        raise InputError("option", [problem for _, problem in refused.problems]) from None
    airframe = build(shaped(found.design))
    stage, _ = stage_meant(airframe, first.stage)
    room = None if found.place is None else build_room(found.place)
    stood = stand_on(airframe, stage, first.stance)
    return first_look(stood, room, files.place, found.spot, files.system)


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
