"""What would be read between points that lie so: every reading as a smooth function.

Unknown beside the points: for each stage and stance the aircraft's attitude to the plumb line and,
where heights are read, the floor under it; the zero of each level; the axes of each list of points.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from planform.airframe.build import Airframe
from planform.airframe.stages import stand
from planform.core.adjust.rigid import lay
from planform.core.vectors import Array, cross
from planform.design.problems import InputError, Problem
from planform.rigging.points import NamedPoint, named_points
from planform.rigging.reading_units import BY_TAPE, check_units
from planform.rigging.readings import ReadingList, ShopReading


@dataclass(frozen=True, eq=False)
class _Row:
    """One number that was read: which reading, and of a point which of its axes."""

    reading: ShopReading
    axis: int = 0


@dataclass(frozen=True, eq=False)
class Equations:
    """Readings as functions of points and unknowns.

    points : (p) the named points that were read, as drawn
    unknown : names of the unknowns ; start : (u,) a first guess of them
    rows : (m) what was read ; read, tolerance : (m,) [m] or [rad]
    twin : (m) the number of the same reading on the other side, None where there is none
    """

    points: tuple[NamedPoint, ...]
    unknown: tuple[str, ...]
    start: Array
    rows: tuple[_Row, ...]
    read: Array
    tolerance: Array
    twin: tuple[int | None, ...]
    place: _Place

    @property
    def at(self) -> Array:
        """The points as drawn, shape (p, 3) [m]."""
        return np.array([point.at for point in self.points]).reshape(-1, 3)

    @property
    def words(self) -> tuple[str, ...]:
        """Each number that was read, in words."""
        names = "xyz"
        return tuple(
            f"{row.reading.words}, {names[row.axis]}" if row.reading.sort == "point" else
            row.reading.words
            for row in self.rows
        )  # fmt: skip

    def rows_and_drawn(self) -> list[tuple[ShopReading, float]]:
        """Each reading of a length, but heights and points, beside what the drawing gives [m]."""
        drawn = self.seen(self.at, self.start)
        return [
            (row.reading, float(value))
            for row, value in zip(self.rows, drawn, strict=True)
            if row.reading.sort in (*BY_TAPE, "offset")
        ]

    def seen(self, at: Array, x: Array) -> Array:
        """What would be read, shape (m,) [m] or [rad].

        at : (p, 3) where the points are, aircraft axes [m] ; x : (u,) the unknowns
        """
        return self.place.seen(at, x)


@dataclass(frozen=True, eq=False)
class _Group:
    """Rows of one sort, stage and stance: numbers of rows, points and unknowns."""

    sort: str
    rows: Array
    first: Array
    second: Array
    line: Array
    turn: Array
    attitude: int
    floor: int
    zero: Array
    sign: Array


@dataclass(frozen=True, eq=False)
class _Frame:
    """A list of points in axes of its own: three numbers a point.

    first : number of its unknowns, a turn about and a shift of `middle`, and a scale where it is
    free ; turn, shift, scale : as found from the drawing
    """

    rows: Array
    points: Array
    axes: Array
    first: int
    free: bool
    turn: Array
    shift: Array
    scale: float
    middle: Array


@dataclass(frozen=True, eq=False)
class _Place:
    """How the rows hang on points and unknowns."""

    count: int
    groups: list[_Group] = field(default_factory=list)
    frames: list[_Frame] = field(default_factory=list)

    def seen(self, at: Array, x: Array) -> Array:
        out = np.zeros(self.count)
        for group in self.groups:
            out[group.rows] = _of_group(group, at, x)
        for frame in self.frames:
            out[frame.rows] = _of_frame(frame, at, x)
        return out


def _tilted(group: _Group, points: Array, x: Array) -> Array:
    """Points in axes whose z is plumb: as drawn on this stance, and turned a little."""
    laid = points @ group.turn.T
    if group.attitude < 0:
        return laid
    nose_up, right_up = x[group.attitude], x[group.attitude + 1]
    s, c = np.sin(nose_up), np.cos(nose_up)
    laid = laid @ np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]]).T
    s, c = np.sin(right_up), np.cos(right_up)
    return np.asarray(laid @ np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]]).T)


def _of_group(group: _Group, at: Array, x: Array) -> Array:
    first = at[group.first]
    if group.sort == "distance":
        return np.asarray(np.linalg.norm(at[group.second] - first, axis=1))
    if group.sort == "height":
        here = first @ group.turn.T
        plane = x[group.floor : group.floor + 3]
        return np.asarray(here[:, 2] - plane[0] - here[:, :2] @ plane[1:])
    here = _tilted(group, first, x)
    if group.sort in ("station", "offset"):
        return _off_line(group, here, _tilted(group, at[group.line[:, 0]], x),
                         _tilted(group, at[group.line[:, 1]], x))  # fmt: skip
    step = _tilted(group, at[group.second], x) - here
    flat = np.hypot(step[:, 0], step[:, 1])
    if group.sort == "floor distance":
        return np.asarray(flat)
    if group.sort == "height difference":
        return np.asarray(-step[:, 2])
    lead = 0 if group.sort == "level along" else 1
    hand = np.where(step[:, lead] >= 0.0, 1.0, -1.0) * (-1.0 if lead == 0 else 1.0)
    slope = hand * np.arctan2(step[:, 2], flat)
    return np.asarray(slope + group.sign * x[group.zero])


def _off_line(group: _Group, here: Array, start: Array, end: Array) -> Array:
    along = (end - start)[:, :2]
    along = along / np.linalg.norm(along, axis=1)[:, None]
    off = (here - start)[:, :2]
    if group.sort == "station":
        return np.asarray((off * along).sum(axis=1))
    hand = np.where(along[:, 0] >= 0.0, 1.0, -1.0)
    return np.asarray(hand * (along[:, 0] * off[:, 1] - along[:, 1] * off[:, 0]))


def _of_frame(frame: _Frame, at: Array, x: Array) -> Array:
    own = x[frame.first : frame.first + 6 + frame.free]
    arm = at[frame.points] - frame.middle
    angle = float(np.linalg.norm(own[:3]))
    if angle > 0.0:
        axis = np.broadcast_to(own[:3] / angle, arm.shape)
        along = (arm * axis).sum(axis=1)[:, None] * axis
        arm = np.cos(angle) * arm + np.sin(angle) * cross(axis, arm) + (1 - np.cos(angle)) * along
    moved = frame.middle + arm + own[3:6]
    scale = frame.scale * (np.exp(own[6]) if frame.free else 1.0)
    laid = scale * moved @ frame.turn.T + frame.shift
    return np.asarray(laid[np.arange(len(laid)), frame.axes])


def equations(airframe: Airframe, given: ReadingList) -> Equations:
    """The readings of a file as functions of the points of a drawn airframe.

    Raises InputError where a list of points is a mirror image of the aircraft, or too short.
    """
    found = _Builder(airframe, given).built()
    check_units(found.rows_and_drawn(), given.source)
    return found


class _Builder:
    """Numbers points, rows and unknowns."""

    def __init__(self, airframe: Airframe, given: ReadingList) -> None:
        self.airframe, self.given = airframe, given
        self.by_name = {point.name: point for point in named_points(airframe)}
        self.points: dict[str, int] = {}
        self.unknown: list[str] = []
        self.start: list[float] = []
        self.numbers: dict[str, int] = {}
        self.rows: list[_Row] = []

    def point(self, name: str) -> int:
        return self.points.setdefault(name, len(self.points))

    def asked(self, key: str, names: Sequence[str], start: Sequence[float] = ()) -> int:
        """The number of the first of some unknowns, which are asked for once."""
        if key not in self.numbers:
            self.numbers[key] = len(self.unknown)
            self.unknown += names
            self.start += list(start) or [0.0] * len(names)
        return self.numbers[key]

    def built(self) -> Equations:
        by_key: dict[tuple[str, str, str], list[int]] = {}
        frames: dict[str, list[int]] = {}
        for reading in self.given.readings:
            for axis in range(len(reading.value)):
                number = len(self.rows)
                self.rows.append(_Row(reading, axis))
                if reading.sort == "point":
                    frames.setdefault(reading.instrument, []).append(number)
                else:
                    by_key.setdefault((reading.sort, reading.stage, reading.stance), []).append(
                        number
                    )
        place = _Place(len(self.rows))
        place.groups.extend(self.group(*key, numbers) for key, numbers in by_key.items())
        place.frames.extend(self.frame(name, numbers) for name, numbers in frames.items())
        read = np.array([row.reading.value[row.axis] for row in self.rows])
        scales = {number: f.scale for f in place.frames for number in f.rows.astype(int)}
        tolerance = np.array([
            row.reading.tolerance * (scales.get(k, 1.0) if self.given.scale_free else 1.0)
            for k, row in enumerate(self.rows)
        ])  # fmt: skip
        points = tuple(self.by_name[name] for name in self.points)
        twins = self.twins()
        start = np.array(self.start, dtype=float)
        return Equations(
            points, tuple(self.unknown), start, tuple(self.rows), read, tolerance, twins, place
        )

    def twins(self) -> tuple[int | None, ...]:
        """The number of each row's mirror image among the rows."""

        def key(row: _Row, other: bool) -> tuple[object, ...]:
            r = row.reading
            names = [r.point, r.to, *(r.line or ())]
            if other:
                names = [self.by_name[n].mirrored_name if n else n for n in names]
            return (r.sort, *names, r.stage, r.stance, r.reversed, row.axis)

        first: dict[tuple[object, ...], int] = {}
        for number, row in enumerate(self.rows):
            first.setdefault(key(row, other=False), number)
        out: list[int | None] = []
        for number, row in enumerate(self.rows):
            found = first.get(key(row, other=True))
            out.append(
                None if found is None or found == number or row.reading.sort == "point" else found
            )
        return tuple(out)

    def group(self, sort: str, stage: str, stance: str, numbers: list[int]) -> _Group:
        readings = [self.rows[k].reading for k in numbers]
        where = f"{stage}, {stance}"
        several = len({(r.stage, r.stance) for r in self.given.readings}) > 1
        more = f" ({where})" if several else ""
        standing = stand(self.airframe, stage, stance)
        attitude = floor = -1
        if sort == "height":
            names = ("height of the floor", "floor's slope fore and aft", "floor's slope across")
            start = (-float(standing.shift[2]), 0.0, 0.0)
            floor = self.asked(f"floor {where}", [n + more for n in names], start)
        elif sort != "distance":
            pair = ("attitude, nose up", "attitude, right side up")
            attitude = self.asked(f"attitude {where}", [n + more for n in pair])
        zero = np.zeros(len(numbers), dtype=int)
        sign = np.zeros(len(numbers))
        if sort.startswith("level"):
            for k, one in enumerate(readings):
                level = one.instrument or "level"
                zero[k] = self.asked(f"zero {level}", [f"zero of the {level}"])
                sign[k] = -1.0 if one.reversed else 1.0
        first = np.array([self.point(r.point) for r in readings])
        second = np.array([self.point(r.to) if r.to else 0 for r in readings])
        line = np.array([[self.point(n) for n in r.line] if r.line else [0, 0] for r in readings])
        turn, rows = standing.turn, np.array(numbers)
        return _Group(sort, rows, first, second, line, turn, attitude, floor, zero, sign)

    def frame(self, name: str, numbers: list[int]) -> _Frame:
        """A list of points laid on the drawing, for a first guess."""
        readings = [self.rows[k].reading for k in numbers[::3]]
        drawn = np.array([self.by_name[r.point].at for r in readings])
        own = np.array([r.value for r in readings])
        free = self.given.scale_free
        words = name or "points"
        try:
            laid = lay(drawn, own, scale=free)
            factor = lay(drawn, own, scale=True).scale
        except ValueError as error:
            raise InputError(self.given.source, [Problem(words, "", str(error))]) from None
        self.sensible(words, laid.mirrored, factor, free)
        names = ["turn about x", "turn about y", "turn about z", "shift x", "shift y", "shift z"]
        names += ["scale"] if free else []
        first = self.asked(f"frame {name}", [f"{words}, {one}" for one in names])
        points = np.array([self.point(self.rows[k].reading.point) for k in numbers])
        axes = np.array([self.rows[k].axis for k in numbers])
        return _Frame(
            np.array(numbers), points, axes, first, free, laid.turn, laid.shift, laid.scale,
            drawn.mean(axis=0),
        )  # fmt: skip

    def sensible(self, words: str, mirrored: bool, factor: float, free: bool) -> None:
        """Raise InputError for a mirror image, or for points in another unit than is told."""
        problems = []
        if mirrored:
            allowed = (
                "the points are a mirror image of the aircraft; allowed: right-handed axes "
                "(x, y and z as thumb, first and second finger of the right hand); were left and "
                "right changed, or one axis turned round?"
            )
            problems.append(Problem(words, "", allowed))
        if not free and not 0.8 < factor < 1.25:
            allowed = (
                f"the points are {factor:.4g} times as far apart as on the drawing; allowed: in "
                "the unit that is told; is the unit another one?"
            )
            problems.append(Problem(words, "", allowed))
        if problems:
            raise InputError(self.given.source, problems)
