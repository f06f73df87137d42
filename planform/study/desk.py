"""Questions asked one after the other while an aircraft and a room are changed.

What was worked out is kept by the content of what it was worked out from, so that a question with
one thing changed works out only what that changes; a newer question ends the one before.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterator
from threading import Lock
from typing import Any, TypeVar

from planform.airframe.build import Airframe, build
from planform.airframe.stages import stage_meant
from planform.airframe.stance import Standing, shaped, stand_on
from planform.core.halting import Halt, under
from planform.design.content import content
from planform.design.models import Design
from planform.design.place import Place
from planform.design.vary import DRAWINGS, weights_apart
from planform.fit.answer import FitAnswer
from planform.fit.clearance import Gaps
from planform.fit.roll_out import RollOut
from planform.fit.room import Room, build_room
from planform.fit.straight import Straight
from planform.study.judging import SPARING, Find, SoFar, in_parts, searching
from planform.study.roll_out import USUAL

T = TypeVar("T")

KEPT = 24
"""How many of each kind of thing are kept, the last used ones; assumption."""


class Desk:
    """Answers questions of aircraft in rooms, one at a time, and keeps what it worked out.

    boxes : how many the search for a way out may take
    """

    def __init__(self, boxes: int = SPARING) -> None:
        self._boxes = boxes
        self._kept: dict[str, OrderedDict[Hashable, Any]] = {}
        self._latest: Airframe | None = None
        self._gaps = Gaps()
        self._halt: Halt | None = None
        self._asking, self._working = Lock(), Lock()

    def ask(
        self,
        design: Design,
        place: Place,
        stage: str | None = None,
        stance: str | None = None,
        spot: str | None = None,
    ) -> Iterator[SoFar]:
        """The answer, each time with one part more, see `planform.study.judging`.

        stage : its name, the complete one where None ; stance : the stage's own where None
        An older question that is not answered yet ends at once: its iterator raises Halted, in
        whichever thread it is worked on.
        """
        halt = Halt()
        with self._asking:
            if self._halt is not None:
                self._halt.ask()
            self._halt = halt
        return self._answers(halt, design, place, (stage, stance, spot))

    def stood(self, design: Design, stage: str | None, stance: str | None) -> Standing:
        """The aircraft as it stands, before anything is asked about the room.

        Raises InputError where it cannot be built, or where no stage or stance has the name.
        """
        with self._working:
            return self._standing(shaped(design), stage, stance)

    def room(self, place: Place) -> Room:
        """The room of a place, built."""
        with self._working:
            return self._room(place)

    def parked(
        self,
        design: Design,
        place: Place,
        stage: str | None = None,
        stance: str | None = None,
        spot: str | None = None,
    ) -> FitAnswer:
        """How the aircraft stands on its spot; no question is ended by it."""
        with self._working:
            stood = self._standing(shaped(design), stage, stance)
            how = stood.stage.name, stood.stance_name, spot
            key = (content(_seen(design)), content(place), *how)
            straight = self._straight(key, stood, self._room(place), spot)
            return straight.without_way(doors=False)

    def _answers(
        self,
        halt: Halt,
        design: Design,
        place: Place,
        standing: tuple[str | None, str | None, str | None],
    ) -> Iterator[SoFar]:
        stage, stance, spot = standing
        asked = (content(shaped(design)), content(place), standing)
        with self._working, under(halt):
            known = self._shelf("answer").get(asked)
        if known is not None:
            yield from known
            return
        with self._working, under(halt):
            stood = self._standing(design, stage, stance)
            room = self._room(place)
            how = stood.stage.name, stood.stance_name, spot
            key = (content(_seen(design)), content(place), *how)
            straight = self._straight(key, stood, room, spot)
        parts = in_parts(straight, self._finding(key, straight, spot), halt=halt)
        so_far: list[SoFar] = []
        while True:
            with self._working:
                found = next(parts, None)
            if found is None:
                break
            so_far.append(found)
            yield found
        with self._working:
            self._keep("answer", asked, lambda: so_far)

    def _keep(self, kind: str, key: Hashable, make: Callable[[], T]) -> T:
        """What is kept under a key, or what is made and then kept."""
        shelf = self._shelf(kind)
        if key not in shelf:
            shelf[key] = make()
            while len(shelf) > KEPT:
                shelf.popitem(last=False)
        shelf.move_to_end(key)
        found: T = shelf[key]
        return found

    def _shelf(self, kind: str) -> OrderedDict[Hashable, Any]:
        """What is kept of one kind, the last used at the end."""
        return self._kept.setdefault(kind, OrderedDict())

    def _standing(self, design: Design, stage: str | None, stance: str | None) -> Standing:
        key = content(design)

        def built() -> Airframe:
            return build(design, like=self._latest)

        airframe = self._latest = self._keep("airframe", key, built)
        on, _ = stage_meant(airframe, stage)
        return self._keep(
            "standing", (key, on.name, stance), lambda: stand_on(airframe, on, stance)
        )

    def _room(self, place: Place) -> Room:
        return self._keep("room", content(place), lambda: build_room(place))

    def _straight(
        self, key: Hashable, standing: Standing, room: Room, spot: str | None
    ) -> Straight:
        found = self._keep("straight", key, lambda: Straight(standing, room, spot, gaps=self._gaps))
        return found if found.given is standing else found.of(standing)

    def _finding(self, key: Hashable, straight: Straight, spot: str | None) -> Find:
        """Searches for the way out that are made once."""
        search = searching(straight, spot, USUAL, self._boxes)

        def find(room: Room) -> RollOut | None:
            doors = tuple(door.name for door in room.place.doors)
            return self._keep("way", (key, doors), lambda: search(room))

        return find


def _seen(design: Design) -> Design:
    """The design without what changes neither how it is built nor how it stands."""
    apart = (*weights_apart(design), DRAWINGS)
    return design.model_copy(update=dict.fromkeys(apart))
