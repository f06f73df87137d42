"""What the page is shown of one variant, as far as it is worked out; what is not is empty."""

from __future__ import annotations

from typing import cast

from planform.airframe.measure import design_measures
from planform.airframe.stance import Standing
from planform.design.changing import Source
from planform.explore.numbers import movable
from planform.fit.room import Room, spot_point
from planform.report.record import Record
from planform.report.seen.look import mesh_names, whole_look
from planform.report.seen.marks import marks_look
from planform.report.seen.meshes import Meshes
from planform.report.seen.room import room_look
from planform.report.seen.stage import balance_look, judged_look, measures_look, stage_look
from planform.study.judging import SoFar

KEY = "1"
"""The key of the one stage that is shown: a newer answer takes the place of the one before."""

MESHES = 300
"""Meshes that are kept for a page; an aircraft and its room have some fifty. Assumption."""

UNKNOWN: Record = {
    "key": KEY,
    "leaders": [],
    "verdict": None,
    "checks": None,
    "lines": [],
    "way": None,
    "measures": [],
    "balance": None,
    "marks": [],
}
"""What a stage is before anything of it is worked out."""


class ShownStage:
    """The stage of one answer, which grows.

    room, spot : where it stands; None where there is no place
    """

    def __init__(
        self, standing: Standing, room: Room | None, spot: str | None, meshes: Meshes, system: str
    ) -> None:
        self._standing, self._room = standing, room
        self._meshes, self._system = meshes, system
        self._sent: set[str] = set()
        self._at = None if room is None else spot_point(room.place, spot)
        stage = stage_look(standing, meshes, system, self._at)
        self.record: Record = {**UNKNOWN, **stage}
        self._parts = cast("list[Record]", stage["parts"])

    def judge(self, so_far: SoFar) -> None:
        """Take what is known in the room."""
        assert self._room is not None
        same = so_far.answer.standing is self._standing
        parts = self._parts if same else None
        self.record |= judged_look(so_far, self._room, self._meshes, self._system, parts)

    def measure(self) -> None:
        """Take the measures, and the marks on the floor."""
        whole = design_measures(self._standing.airframe)
        self.record["measures"] = measures_look(self._standing, whole, self._system)
        if self._at is not None:
            self.record["marks"] = marks_look(self._standing, self._at, self._system)

    def weigh(self) -> None:
        """Take how the aircraft carries its weight."""
        self.record["balance"] = balance_look(self._standing, self._system)

    def look(self, room: Record | None, has: frozenset[str]) -> Record:
        """What the page is sent, with the meshes that it has not."""
        shown: Record = {"stages": [self.record]}
        held = has | self._sent
        names = [name for name in mesh_names(self.record["parts"]) if name not in held]
        if room is not None:
            shown["room"] = room
            names += [name for name in mesh_names(room["things"]) if name not in held]
        self._sent.update(names)
        return {**shown, "meshes": self._meshes.of(names)}


def shown_room(room: Room, source: Source, meshes: Meshes, system: str) -> Record:
    """The room with what of it can be moved.

    source : the file of the place
    """
    return room_look(room, meshes, system, movable(source))


def first_look(standing: Standing, room: Room | None, source: Source | None, spot: str | None,
               system: str) -> Record:  # fmt: skip
    """What the page begins with: the aircraft as it stands, and the room."""
    meshes = Meshes(MESHES)
    stage = ShownStage(standing, room, spot, meshes, system).record
    shown = whole_look(standing.airframe.design, room, [stage], meshes, system)
    if room is not None and source is not None:
        shown["room"] = shown_room(room, source, meshes, system)
    return shown
