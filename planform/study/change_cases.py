"""One change of an aircraft or its room: the case it makes, its sizes, its answers, its effects."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from functools import cached_property, partial
from typing import Any

from planform.airframe.build import Airframe, build
from planform.airframe.stages import stage_meant
from planform.airframe.stance import Standing, shaped, stand_on
from planform.core.quantity import OfKind
from planform.design.models import Design, Stage
from planform.design.place import Place, Spot
from planform.design.units import INCH
from planform.fit.answer import FitAnswer
from planform.fit.moves import Route
from planform.fit.room import Room, build_room, spot_point
from planform.fit.straight import judge_straight
from planform.fit.way_out import WayOut

FREES, FAILS, UNDECIDED, UNTRIED = "frees it", "does not free it", "not decided", "not tried"
"""Proved by a route; proved not to; the time of a try ran out; the whole time ran out before."""

EFFORT: dict[str, tuple[int, str]] = {
    "shut": (1, "shut what stands open"),
    "propeller": (1, "turn the propeller"),
    "locked": (1, "lock the controls"),
    "opened": (1, "open a door farther"),
    "turn": (2, "stand it another way round"),
    "spot": (2, "stand it elsewhere"),
    "stance": (3, "another stance"),
    "obstacle": (4, "move a thing in the room"),
    "blocks": (5, "lower the blocks"),
    "parts": (6, "parts off"),
    "stage": (7, "an earlier build stage"),
    "wider": (8, "a wider door"),
    "taller": (8, "a taller door"),
    "length": (9, "another length of the winglet"),
    "cant": (9, "another cant of the winglet"),
    "joined": (10, "before a joint made for good, or through it"),
}
"""Kind of change: its place in the order, least effort first, and its name.

The order is this program's own: common practice, no source.
"""


@dataclass(frozen=True, eq=False)
class Case:
    """An aircraft at a stage, in a stance, on a spot of a place: what one check is asked of.

    spot : as it is to stand, which need not be a spot of the file
    like : an airframe that shares pieces with this one ; stood : this aircraft, where it stands
        already in this stance
    """

    design: Design
    place: Place
    stage: Stage
    stance: str
    spot: Spot | None
    like: Airframe | None = None
    stood: Standing | None = None

    def __getstate__(self) -> dict[str, Any]:
        """What is handed to another process: what was written, not what was built."""
        return {f.name: getattr(self, f.name) for f in fields(self)} | {"like": None, "stood": None}

    @cached_property
    def standing(self) -> Standing:
        """The aircraft, built and standing. Raises CannotStand where it does not."""
        if self.stood is not None:
            return self.stood
        return stand_on(build(self.design, like=self.like), self.stage, self.stance)

    @cached_property
    def room(self) -> Room:
        """The place, built, its spots the one asked of."""
        spots = () if self.spot is None else (self.spot,)
        return build_room(self.place.model_copy(update={"spots": spots}))

    @cached_property
    def answer(self) -> FitAnswer:
        """Parked, and straight through every door."""
        return judge_straight(self.standing, self.room)


def first_case(
    design: Design, place: Place, stage: str | None, stance: str | None, spot: str | None
) -> Case:
    """The aircraft as it is asked about. Raises InputError for a name that is not there."""
    airframe = build(shaped(design))
    chosen, _ = stage_meant(airframe, stage)
    standing = stand_on(airframe, chosen, stance)
    return Case(design, place, chosen, standing.stance_name, spot_point(place, spot), airframe)


@dataclass(frozen=True, eq=False)
class Tried:
    """One size tried: whether it frees the aircraft, why, and the way where it does.

    answer : 'frees it', 'does not free it', 'not decided'
    way : the search, as long as it is needed: its boxes take room
    route : the way, where there is one
    drawn_out : how far outlines were drawn out, and a sloped ceiling lowered, at most [m], where
        it is proved that there is none
    stuck : it is stopped where it stands already, and not on its way
    judged : parked too, and over the ground at the doors
    """

    size: float
    answer: str
    reason: str
    case: Case
    way: WayOut | None = None
    route: Route | None = None
    drawn_out: tuple[float, float] = (0.0, 0.0)
    stuck: bool = False
    judged: bool = True


def lean(tried: Tried) -> Tried:
    """A try without what was built and searched for it, which takes room."""
    return replace(tried, way=None, case=replace(tried.case))


@dataclass(frozen=True)
class Effect:
    """One thing that the change does beside freeing the aircraft: before and after, SI.

    before : None where there was none
    """

    what: str
    before: OfKind | None
    after: OfKind
    kind: str


@dataclass(frozen=True, eq=False)
class Family:
    """All sizes of one change.

    kind : a key of `EFFORT` ; what : the change in words, without its size
    make : the case at a size
    sizes : sizes to look at, least first [SI] ; fine : closed in on to this; 0: one size, no more
    monotone : more of it never takes away a way out: proved, and so not scanned
    unit : kind of quantity of the size ; start : what the size is counted from; None: from nothing
    limit : what ends the range, in words
    """

    kind: str
    what: str
    make: Callable[[float], Case]
    sizes: tuple[float, ...] = (1.0,)
    fine: float = 0.0
    monotone: bool = False
    unit: str = ""
    start: float | None = None
    sign: float = 1.0
    limit: str = ""
    cautions: tuple[str, ...] = ()


STEP = {"ft-in": 3 * INCH / 8, "in": 3 * INCH / 8, "mm": 0.012, "m": 0.012}
"""What a length is closed in on to [m]: 3/8 in, or 12 mm."""

WHOLE = {"ft-in": 16, "in": 16, "mm": 12, "m": 12}
"""Steps between two lengths that are looked at where more need not be better: 6 in, or 144 mm."""

END = {"ft-in": INCH / 8, "in": INCH / 8, "mm": 0.003, "m": 0.003}
"""How fine the last length that is looked at is told [m]: 1/8 in, or 3 mm."""

Asked = Callable[[Case, str], str]


def fine_step(case: Case) -> float:
    """What a length is closed in on to, in the units of the place [m]."""
    return STEP[case.place.units]


def scan(case: Case, most: float, every: int | None = None) -> tuple[float, ...]:
    """Sizes in whole steps up to the most, least first; the last is the most, told finely."""
    fine, end, every = fine_step(case), END[case.place.units], every or WHOLE[case.place.units]
    last = int(most / end + 1e-9) * end
    steps = range(every, int(last / fine - 1e-9) + 1, every)
    return tuple(size for size in (*(k * fine for k in steps), last) if size > 0.0)


def with_changed(case: Case, **changes: Any) -> Case:
    """The case with some of it changed, sharing what was built."""
    same = not {"design", "stage", "stance"} & set(changes)
    stood = case.standing if same else None
    return replace(case, like=case.standing.airframe, stood=stood, **changes)


def one_size(case: Case, **changes: Any) -> Callable[[float], Case]:
    """A change that has one size."""
    return partial(_at_any_size, case, changes)


def _at_any_size(case: Case, changes: dict[str, Any], size: float) -> Case:
    return with_changed(case, **changes)


WAYS = ((0.0, 1.0), (0.0, -1.0), (-1.0, 0.0), (1.0, 0.0))
"""The ways that things are moved, in place axes."""


def on_plan(x: float, y: float) -> str:
    """A way in place axes in words, of the room, with the front wall behind."""
    if abs(x) >= abs(y):
        return "to the right" if x > 0.0 else "to the left"
    return "away from the front wall" if y > 0.0 else "toward the front wall"
