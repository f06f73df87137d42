"""The card of one joint: what is read, where, what it is set to, and what decides.

All numbers are SI. Points are in floor axes of the aircraft as it stands: aft, right, up.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

from planform.airframe.stance import Standing
from planform.core.quantity import Metres, Newtons, OfKind, Radians, Unit, UnitOf
from planform.core.vectors import Array

Sort = Literal[
    "height",
    "height difference",
    "station",
    "offset",
    "distance",
    "level along",
    "level across",
]
"""What is read. height: a point over the floor. height difference: the first point over the second,
by a water level or a laser. station: aft of the base mark along the base line, of the mark under a
point. offset: of the mark from the base line, to the right positive. distance: of two points, by a
tape held straight. level along: nose up; level across: right side up."""


@dataclass(frozen=True, eq=False)
class CardTarget:
    """One reading of a card.

    number : on the card ; words : what is read, as a builder says it
    kind : 'length' or 'angle' ; names : of the points ; ends : (1 or 2, 3) floor axes [m]
    target : what it reads when all is as drawn [m] or [rad]
    low, high : where it is GO with all else at its target, the tolerance of the whole sum taken
        off; None where no limit hangs on it alone
    tolerance : how far a reading may be off [m] or [rad]; once : where a level was not reversed
    twice : a level is laid on, and again turned end for end
    reference : it tells how the aircraft stands, not how the part is set
    columns : its change for each of the card's freedoms, [m] or [rad] for one [m] or [rad]
    survey : cells of a survey's table by the names of their columns; empty where a survey cannot
        take it: a block under a level, or a pad whose part is not on at the stage
    """

    number: int
    words: str
    sort: Sort
    kind: str
    names: tuple[str, ...]
    ends: Array
    target: OfKind
    low: Annotated[float | None, UnitOf("kind")]
    high: Annotated[float | None, UnitOf("kind")]
    tolerance: OfKind
    once: OfKind
    instrument: str
    why: str
    twice: bool
    reference: bool
    columns: tuple[float, ...]
    survey: Mapping[str, str]


@dataclass(frozen=True)
class CardFreedom:
    """One way in which the part, or the aircraft under it, may stand otherwise than drawn.

    name : such as 'left sweep' ; kind : 'angle' or 'length' ; side : 'left', 'right' or ''
    usual : how much is taken as likely beforehand [rad] or [m]; an assumption, and a wide one
    stands : it is of the aircraft as it stands, and no fault of the joint
    """

    name: str
    kind: str
    side: str
    usual: OfKind
    stands: bool


@dataclass(frozen=True)
class CardCheck:
    """One limit of the designer, as a sum of readings that sees it alone.

    name : such as 'tilt' or 'incidence, left less right' ; kind : of the limit
    of : (number of a reading, factor): the sum of factor times (reading less target) is how far the
        part is off [rad] or [m]; factors turn a length into an angle where that is asked
    limit : to either side [rad] or [m]; None: the designer gives none
    tolerance : of the sum, each reading off by all of its own [rad] or [m]
    size, size_kind : what the limit makes of the reading, or of the difference, that sees it
    reading : all readings of the sum, in words, each with its sign and factor
    seen : which instrument can tell it, and which cannot, in words
    practice : what the trade holds itself to where no limit is given; no limit
    """

    name: str
    kind: str
    of: tuple[tuple[int, float], ...]
    limit: Annotated[float | None, UnitOf("kind")]
    tolerance: OfKind
    size: Annotated[float, UnitOf("size_kind")]
    size_kind: str
    reading: str
    seen: str
    practice: str


@dataclass(frozen=True, eq=False)
class CardBolt:
    """A bolt of the joint's face.

    name : with its side ; side : of the freedoms that it shims, '' for both
    at : (3,) floor axes [m] ; per : for each of the card's freedoms, how much thicker a shim under
        the part must be to give one [rad] or [m] of it [m]
    """

    name: str
    side: str
    at: Array
    per: tuple[float, ...]


@dataclass(frozen=True)
class FloorSpot:
    """The mark on the floor under a point, by two tapes from the two base marks.

    station, offset : along the base line from its first mark, and to its right [m]
    first, second : from each base mark [m]
    """

    name: str
    station: Metres
    offset: Metres
    first: Metres
    second: Metres


@dataclass(frozen=True)
class HangingTape:
    """A tape or a string at a length that occurs on the card.

    reads_long : how much too much a hanging tape reads at its pull [m]
    belly : how far the middle of it hangs [m] ; warm : its growth for each 10 degrees C [m]
    """

    what: str
    span: Metres
    pull: Newtons
    reads_long: Metres
    belly: Metres
    warm: Metres


@dataclass(frozen=True)
class Template:
    """An angle to cut or to set: of an incidence block, a dihedral board."""

    name: str
    angle: Radians
    rise: Metres
    over: Metres


@dataclass(frozen=True)
class RigStep:
    """One step of the work, which disturbs nothing that is set before it.

    numbers : of the readings that are taken in it
    """

    words: str
    why: str
    numbers: tuple[int, ...] = ()


@dataclass(frozen=True, eq=False)
class Card:
    """All that a rigging card tells; every number is read off the built aircraft.

    joint : its name ; title : in words ; parts : names of the built parts that are set
    host : what they are joined to ; standing : the aircraft at the card's stage and stance
    supports : what must hold it before anything is read
    base : names of the two base marks on the floor ; base_ends : (2, 3) [m]
    lines : strings and lasers, in words ; lost : turns that no shim can take, in words
    holes : by such a turn, how far the holes at the bolts move at most for one [rad] of it [m]
    practice : of the trade, where the design gives no limit
    """

    joint: str
    title: str
    parts: tuple[str, ...]
    host: str
    standing: Standing
    supports: tuple[str, ...]
    targets: tuple[CardTarget, ...]
    freedoms: tuple[CardFreedom, ...]
    checks: tuple[CardCheck, ...]
    bolts: tuple[CardBolt, ...]
    base: tuple[str, str]
    base_ends: Annotated[Array, Unit("m", "floor: aft, right, up")]
    spots: tuple[FloorSpot, ...]
    templates: tuple[Template, ...]
    tapes: tuple[HangingTape, ...]
    lines: tuple[str, ...]
    lost: tuple[str, ...]
    holes: Mapping[str, float]
    order: tuple[RigStep, ...]
    practice: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def limited(self) -> bool:
        """Whether the designer gives any limit for the joint."""
        return any(check.limit is not None for check in self.checks)
