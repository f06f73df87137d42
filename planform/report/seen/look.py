"""What a page shows of a design, in a place or alone: one record that holds all of it."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence

from planform.design.models import Design
from planform.design.place import Place
from planform.design.questions import assumptions, design_questions, place_questions
from planform.drawing.scale_figures import ScaleFigure, car, person
from planform.fit.room import Room
from planform.report.record import Json, Record
from planform.report.seen.meshes import Meshes
from planform.report.seen.room import room_look
from planform.report.words import CAUTIONS

SCHEMA = "planform look 1"


def whole_look(
    design: Design, room: Room | None, stages: Sequence[Record], meshes: Meshes, system: str
) -> Record:
    """The look of a design with its stages, ready for a page.

    stages : of `stage_look`, in order ; room : None where no place is given
    system : one of 'ft-in', 'in', 'mm', 'm'
    """
    from planform import __version__

    shown: Record = {
        "schema": SCHEMA,
        "tool_version": __version__,
        "written": datetime.date.today().isoformat(),
        "units": system,
        "design": {"name": design.name, "story": design.story or "", "datum": design.datum or ""},
        "place": None if room is None else _place(room.place),
        "room": None if room is None else room_look(room, meshes, system),
        "figures": figures_look(meshes, system),
        "stages": [{**stage, "key": str(k + 1)} for k, stage in enumerate(stages)],
        "notes": _notes(design, room),
        "cautions": CAUTIONS,
    }
    return {**shown, "meshes": meshes.of([*mesh_names(shown)])}


def _notes(design: Design, room: Room | None) -> list[str]:
    """Questions back, and what was not given and is taken as something."""
    asked = [*design_questions(design), *([] if room is None else place_questions(room.place))]
    place = () if room is None else (room.place,)
    return [*asked, *(f"taken: {line}" for line in assumptions(design, *place))]


def _place(place: Place) -> Record:
    return {"name": place.name, "story": place.story or ""}


def figures_look(meshes: Meshes, system: str) -> list[Record]:
    """A person and a car-sized box to stand beside the aircraft; where is for the page to say."""
    return [_figure(one, meshes, system) for one in (person(), car())]


def _figure(one: ScaleFigure, meshes: Meshes, system: str) -> Record:
    return {
        "name": one.name,
        "told": one.told(system),
        "mesh": meshes.put(one.points, one.faces),
        "height": one.height,
    }


def mesh_names(node: Json) -> Iterator[str]:
    """The names of all meshes that a record speaks of."""
    if isinstance(node, dict):
        name = node.get("mesh")
        if isinstance(name, str):
            yield name
        for one in node.values():
            yield from mesh_names(one)
    elif isinstance(node, list | tuple):
        for one in node:
            yield from mesh_names(one)
