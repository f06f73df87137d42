"""Before and after: the aircraft as drawn beside the aircraft as built, on the same terms."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from planform.aero.answer import Figure, pair, reference_wing
from planform.aero.lifting import lifting_surfaces
from planform.aero.skewed import skewed
from planform.airframe.build import Airframe, build
from planform.airframe.measure import extents
from planform.airframe.presence import of_wing
from planform.airframe.stages import stage_meant
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.airframe.surfaces import Half
from planform.balance.answer import balance
from planform.core.quantity import OfKind
from planform.core.shape.canard import static_margin
from planform.core.spread import Values, spreads
from planform.core.vectors import Array
from planform.design.models import Design, Stage
from planform.design.naming import field_name
from planform.design.problems import InputError
from planform.design.vary import shifted, toleranced_shape
from planform.fit.answer import LEAST_PARKED, FitAnswer
from planform.fit.check import ROOM
from planform.fit.room import Room
from planform.study.inputs import buildable, fields_unseen
from planform.study.judging import judge
from planform.study.terms import USUAL_LIFT, problem_words

SIZES, SIDES, BALANCE, AIR, FIT = ABOUT = (
    "Heights and sizes, standing",
    "Left and right apart",
    "Balance",
    "In the air",
    "In the place",
)
"""What the rows of a sheet are about, in their order."""

LEFT, RIGHT = -1, 1

LEANS = "in trim the lift acts right of the centre line by"
TURNS = "in trim the side forces turn the nose right, as the lift would at an arm of"
SET_APART = "right outer panel (or half) nose up over the left one by, to take the roll out"
LEANING = ((LEANS, "fine"), (TURNS, "fine"), (SET_APART, "angle_fine"))


@dataclass(frozen=True)
class BeforeAfter:
    """One figure as drawn and as built, in SI, or what stands in its place in words.

    about : one of `ABOUT`; kind : of the quantity, '' where the row is words
    drawn_by, built_by : what the inputs' tolerances do to it, or a lattice's refinement
    """

    about: str
    label: str
    kind: str = ""
    drawn: OfKind | None = None
    built: OfKind | None = None
    drawn_by: OfKind = 0.0
    built_by: OfKind = 0.0
    drawn_words: str = ""
    built_words: str = ""

    @property
    def change(self) -> OfKind | None:
        """As built less as drawn; None where one of them is not known."""
        if self.drawn is None or self.built is None:
            return None
        return self.built - self.drawn


@dataclass(frozen=True)
class BeforeAndAfter:
    """Every figure of the two aircraft side by side.

    taken : what was taken of stage, lift and CG, where it was not given
    """

    stage: str
    stance: str
    rows: tuple[BeforeAfter, ...]
    taken: tuple[str, ...]

    def rows_about(self, about: str) -> tuple[BeforeAfter, ...]:
        """The rows of one table."""
        return tuple(row for row in self.rows if row.about == about)


@dataclass(frozen=True, eq=False)
class _Read:
    """A figure of one aircraft: its value and what is uncertain of it, or words."""

    kind: str
    value: float | None = None
    by: float = 0.0
    words: str = ""


Reads = dict[tuple[str, str], _Read]
"""Figures of one aircraft by what they are about and their label."""


def before_and_after(
    drawn: Design,
    built: Design,
    room: Room | None = None,
    stage: str | None = None,
    stance: str | None = None,
    spot: str | None = None,
) -> BeforeAndAfter:
    """The two aircraft on the same terms: stage, stance, lift, and the drawn one's CG.

    drawn, built : two designs of the same parts; spot : in the room, its first where None
    Raises InputError for a stage, stance or spot that is not there.
    """
    airframe = build(drawn)
    chosen, taken = stage_meant(airframe, stage)
    before = stand_on(airframe, chosen, stance)
    after = stand_on(
        build(built, like=airframe), stage_named(built, chosen.name), before.stance_name
    )
    cg, told = _station(before)
    terms = _Terms(cg, _wing_area(before), room, spot)
    reads = [_reads(one, terms) for one in (before, after)]
    keys = dict.fromkeys(key for read in reads for key in read)
    rows = tuple(_row(*key, *(read.get(key) for read in reads)) for key in _ordered(list(keys)))
    return BeforeAndAfter(chosen.name, before.stance_name, rows, (*taken, *told))


def _ordered(keys: list[tuple[str, str]]) -> list[tuple[str, str]]:
    return sorted(keys, key=lambda key: ABOUT.index(key[0]))


def _row(about: str, label: str, before: _Read | None, after: _Read | None) -> BeforeAfter:
    one, other = before or _Read(""), after or _Read("")
    return BeforeAfter(
        about, label, one.kind or other.kind, one.value, other.value, one.by, other.by,
        one.words, other.words,
    )  # fmt: skip


@dataclass(frozen=True, eq=False)
class _Terms:
    """What both aircraft share: the CG [m], the drawn wing's area [m2], the place."""

    cg: float | None
    area: float | None
    room: Room | None
    spot: str | None


def _wing_area(standing: Standing) -> float | None:
    has_wing = bool(standing.airframe.halves_in("wing"))
    return reference_wing(standing.airframe)[0] if has_wing else None


def _reads(standing: Standing, terms: _Terms) -> Reads:
    """Every figure of one aircraft."""
    out = _toleranced(standing)
    out |= _balanced(standing)
    if terms.area is not None:
        out |= _flown(standing, terms.cg, terms.area)
    if terms.room is not None:
        out |= _fitted(judge(standing, terms.room, terms.spot, whole=False))
    return out


def _toleranced(standing: Standing) -> Reads:
    """Sizes, heights and sides, each with the worst that the tolerances of the shape do."""
    design = standing.airframe.design
    unseen = fields_unseen([standing])
    base = _shape(standing)
    inputs = [pair for pair in toleranced_shape(design) if pair[0][0] not in unseen]

    def moved() -> Iterator[tuple[str, Values]]:
        for path, reading in inputs:
            name = field_name(design, path)
            for side in (1.0, -1.0):
                other = shifted(design, path, side * reading.tolerance).model_copy(update=unseen)
                with buildable(design.name, [name]):
                    airframe = build(other, like=standing.airframe)
                    stage = stage_named(other, standing.stage.name)
                    stood = stand_on(airframe, stage, standing.stance_name)
                yield name, {"\n".join(key): read for key, read in _shape(stood).items()}

    found = spreads({"\n".join(key): value for key, value in base.items()}, moved())
    return {key: _Read("length", value, found["\n".join(key)].worst) for key, value in base.items()}


def _shape(standing: Standing) -> dict[tuple[str, str], float]:
    """Lengths read off the standing parts, by what they are about and their label [m]."""
    out: dict[tuple[str, str], float] = {}
    for side, word in ((LEFT, "left"), (RIGHT, "right")):
        height = _tip_height(standing, side)
        if height is not None:
            out[SIZES, f"{word} wing tip, highest point"] = height
    for half in sorted(_sided(standing), key=lambda half: half.group):
        out[SIZES, f"{half.name} tip, leading edge, over the floor"] = float(
            standing.to_floor(tip_of(half)[None])[0, 2]
        )
    for measure in extents(standing):
        if measure.key in ("length", "width", "height"):
            out[SIZES, measure.label] = measure.value
    halves = {(half.group, half.side): tip_of(half) for half in _sided(standing)}
    for group in dict.fromkeys(group for group, _ in halves):
        left, right = halves.get((group, LEFT)), halves.get((group, RIGHT))
        if left is None or right is None:
            continue
        out[SIDES, f"{group} tips, right one aft of the left"] = float(right[0] - left[0])
        out[SIDES, f"{group} tips, right one farther out"] = float(right[1] + left[1])
        out[SIDES, f"{group} tips, right one higher, in the aircraft"] = float(right[2] - left[2])
    return out


def _tip_height(standing: Standing, side: int) -> float | None:
    """The highest point of wing and winglets on one side, over the floor [m]."""
    tops = [
        float(points[:, 2].max())
        for part in standing.parts
        if of_wing(standing.airframe, part)
        and len(points := part.points[side * part.points[:, 1] > 0.0])
    ]
    return max(tops, default=None)


def _sided(standing: Standing) -> list[Half]:
    """The sides of the surfaces that are on at the stage, the left one first."""
    on = {part.group for part in standing.parts} | {part.name for part in standing.parts}
    pairs = [half for half in standing.airframe.halves if {half.group, half.name} & on]
    both = {half.group for half in pairs if half.side == LEFT}
    return sorted((h for h in pairs if h.group in both), key=lambda h: h.side)


def tip_of(half: Half) -> Array:
    """Leading edge of the outermost cut, on its own side, shape (3,), aircraft axes [m]."""
    return np.asarray(half.leading_edge[-1] * np.array([1.0, float(half.side), 1.0]))


def _balanced(standing: Standing) -> Reads:
    """The CG empty and in each loading case, or as it stands, as a station and in % MAC."""
    found = balance(standing.airframe, (standing,), searched=False)
    rows = [] if found.record is None else [("empty", found.record.now)]
    rows += [(case.name, case.total) for case in found.cases]
    if not rows:
        rows = [(f"as it stands, {one.standing.title}", one.total) for one in found.standings]
    out: Reads = {}
    for name, total in rows:
        out[BALANCE, f"{name}: CG"] = _Read("station", total.fs)
        if found.reference is not None:
            label = f"{name}: CG, % MAC ({found.reference.name})"
            out[BALANCE, label] = _Read("percent", found.reference.share(total.fs))
    if found.record is not None and found.record.has_bl:
        out[BALANCE, "empty: CG right of the centre line"] = _Read("fine", found.record.now.bl)
    return out


def _station(standing: Standing) -> tuple[float | None, tuple[str, ...]]:
    """The CG that both are trimmed about, and what was taken for it [m]."""
    found = balance(standing.airframe, (), searched=False)
    if found.cases:
        case = found.cases[0]
        lift = f"lift: a coefficient of {USUAL_LIFT} on the drawn wing's area, the same for both"
        return case.total.fs, (f"CG in the air: the drawn one's, loading case {case.name!r}", lift)
    return None, ("CG in the air: no loading case is given; no trim, no static margin",)


def _flown(standing: Standing, cg: float | None, drawn_area: float) -> Reads:
    """Wing, neutral point and trim by the lattice; words where it cannot be solved."""
    airframe = standing.airframe
    area, mac, lemac = reference_wing(airframe)
    out: Reads = {
        (AIR, "wing area"): _Read("area", area),
        (AIR, "wing MAC"): _Read("fine", mac),
        (AIR, "wing LEMAC"): _Read("station", lemac),
    }
    try:
        lattice = pair(lifting_surfaces(airframe, standing.stage), area, mac)
        point = lattice.figure(lambda flow: flow.neutral_point)
        out[AIR, "neutral point"] = _Read("station", point.value, point.change)
        slope = lattice.figure(lambda flow: flow.lift_slope)
        out[AIR, "lift slope, per rad"] = _Read("ratio", slope.value, slope.change)
        if cg is None:
            return out
        out[AIR, "static margin"] = _Read("percent", static_margin(point.value, cg, mac))
        trimmed = lattice.fine.trim(USUAL_LIFT * drawn_area / area, cg)
        out[AIR, "nose-up angle in trim"] = _Read("angle_fine", trimmed.nose_up_angle)
        if trimmed.set_to is not None:
            out[AIR, f"{lattice.fine.trimmer} set to, in trim"] = _Read(
                "angle_fine", trimmed.set_to
            )
        lift = USUAL_LIFT * drawn_area / area
        for label, kind, one in _leaning(airframe, lift, cg, standing.stage):
            out[AIR, label] = _Read(kind, one.value, one.change)
    except InputError as error:
        out[AIR, "the lattice says"] = _Read("", words=problem_words(error))
    return out


def _leaning(
    airframe: Airframe, lift: float, cg: float, stage: Stage
) -> Iterator[tuple[str, str, Figure]]:
    """What sides that differ do in trim; nothing, by symmetry, where they are alike."""
    if _alike(airframe):
        yield from ((label, kind, Figure(0.0, 0.0)) for label, kind in LEANING)
        return
    found = skewed(airframe, lift, cg, stage)
    figures = (found.lift_aside, found.yaw_arm, found.set_apart)
    yield from ((*told, one) for told, one in zip(LEANING, figures, strict=True))


def _alike(airframe: Airframe) -> bool:
    """Whether every surface has two sides that are each other's mirror image."""
    right = {half.group: half for half in airframe.halves if half.side == RIGHT}
    return all(
        half.group in right
        and np.array_equal(getattr(half, field), getattr(right[half.group], field))
        for half in airframe.halves
        if half.side == LEFT
        for field in ("leading_edge", "chord", "incidence")
    )


def _fitted(answer: FitAnswer) -> Reads:
    """The verdicts and the least gaps, parked and on the way out."""
    out: Reads = {
        (FIT, "altogether"): _Read("", words=str(answer.verdict)),
        (FIT, "in the room"): _Read("", words=str(answer.verdict_of(ROOM))),
        (FIT, "out of it"): _Read("", words=str(answer.out_verdict)),
    }
    for label, checks in (
        (LEAST_PARKED, answer.in_group(ROOM)),
        ("least gap on the way out", answer.out_checks),
    ):
        known = [(one.gap, one.title) for one in checks if one.gap is not None]
        if known:
            gap, where = min(known)
            out[FIT, label] = _Read("gap", float(gap), words=where)
    return out
