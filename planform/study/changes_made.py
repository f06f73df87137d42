"""What can be changed about an aircraft and its room, and what each change does beside."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from planform.airframe.build import Part
from planform.airframe.measure import design_measures, standing_measures
from planform.airframe.stages import joined_by
from planform.airframe.stance import on_stage
from planform.balance.stages import Balanced, stage_balance
from planform.design.kinds import KINDS, PartKind
from planform.design.models import Design, Stage
from planform.design.naming import Path
from planform.design.place import Door, Obstacle, Place
from planform.design.roof import height_at
from planform.design.texts import bracketed
from planform.design.units import DEGREE, INCH
from planform.design.vary import shifted
from planform.fit.clearance import Clearance
from planform.study.changes import FAILS, FREES, Case, Effect, Family, Tried

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

STEP = {"ft-in": INCH / 8, "in": INCH / 8, "mm": 0.003, "m": 0.003}
"""What a length is closed in on to [m]: 1/8 in, or 3 mm."""

WHOLE = 48
"""Steps between two lengths that are looked at where more need not be better: 6 in, or 144 mm."""

CANT_STEP, CANT_SCAN = 0.5 * DEGREE, 10.0 * DEGREE
CANT_FROM, CANT_TO = -60.0 * DEGREE, 85.0 * DEGREE
"""A cant is closed in on to half a degree, looked at every ten, from leaning in to nearly flat."""

TURN_STEP, TURN_SCAN = 5.0 * DEGREE, 45.0 * DEGREE
SHORTEST = 0.25
"""A winglet is not made shorter than this share of its length; assumption."""

ELSEWHERE = 2.0
"""How far another place on the floor is looked for [m]; assumption."""

NEAR = 0.5
"""What comes nearer than this [m] is told beside a change; assumption."""

SAME = 5e-4
"""A length that changes by less [m] is not told as changed; assumption."""

BUILDING = "Building work: local code, and whoever answers for the structure, come first."
DESIGN_CHANGED = (
    "The design changes: stability, balance, loads and strength must be worked out again, by its "
    "designer or a licensed person."
)
LIFTED = (
    "It cannot be moved over the floor from where it stands to there: from there is a way out, "
    "from here none. Stand or build it that way from the start, or lift it."
)
CARRIES = "Ask first whether it carries the roof, a hoist or a line; the file does not say."
COMES_OFF = (
    "Whether it comes off, one side alone too, is the plans' to say. Support what comes off and "
    "what stays."
)
LOWERED = "Chock and hold the aircraft while its supports are changed; one end at a time."

Asked = Callable[[Case, str], str]


def families(base: Tried, asked: Asked, kinds: Collection[str]) -> Iterator[Family]:
    """Every change of these kinds that this aircraft and room allow, least effort first."""
    case = base.case
    made = (
        (("shut",), _shut(case)),
        (("turn",), _turned(case, base)),
        (("spot",), _other_spots(case, base)),
        (("stance",), _stances(case)),
        (("obstacle",), _obstacles(case, asked)),
        (("blocks",), _blocks(case)),
        (("parts", "joined"), _parts_off(case, asked)),
        (("stage", "joined"), _stages(case)),
        (("wider", "taller"), _doors(case)),
        (("length", "cant"), _winglets(case)),
    )
    for some, found in made:
        if any(kind in kinds for kind in some):
            yield from (one for one in found if one.kind in kinds)


def _step(case: Case) -> float:
    return STEP[case.place.units]


def _scan(case: Case, most: float, every: int = WHOLE) -> tuple[float, ...]:
    """Sizes in whole steps up to the most, least first; the last is the most that is whole."""
    fine = _step(case)
    count = int(most / fine + 1e-9)
    return tuple(k * fine for k in [*range(every, count, every), count] if k > 0)


def _with(case: Case, **changes: Any) -> Case:
    return replace(case, like=case.standing.airframe, **changes)


def _made(case: Case, **changes: Any) -> Callable[[float], Case]:
    """A change that has one size."""
    return lambda size: _with(case, **changes)


def _added(case: Case, stage: Stage) -> dict[str, Any]:
    """A stage of its own, in the design too, so that it can be built again by its name."""
    stages = (*case.design.stages, stage)
    return {"stage": stage, "design": case.design.model_copy(update={"stages": stages})}


def _shut(case: Case) -> Iterator[Family]:
    for name in case.stage.open:
        still = tuple(n for n in case.stage.open if n != name)
        update = {"open": still, "name": f"{case.stage.name}, {name} shut"}
        stage = case.stage.model_copy(update=update)
        yield Family("shut", f"shut the {name}", _made(case, **_added(case, stage)))


def _spot_moved(case: Case, dx: float = 0.0, dy: float = 0.0, turn: float = 0.0) -> Case:
    assert case.spot is not None
    x, y = case.spot.at
    heading = float(case.spot.heading) + turn
    moved = {
        "at": (x.with_value(float(x) + dx), y.with_value(float(y) + dy)),
        "heading": case.spot.heading.with_value(math.remainder(heading, 2.0 * math.pi)),
    }
    return _with(case, spot=case.spot.model_copy(update=moved))


def _turned_by(case: Case, sign: float, size: float) -> Case:
    return _spot_moved(case, turn=sign * size)


def _stood_along(case: Case, x: float, y: float, size: float) -> Case:
    return _spot_moved(case, size * x, size * y)


def _turned(case: Case, base: Tried) -> Iterator[Family]:
    """The other end first, and turned by less to either side."""
    lifted = _lifted(base)
    yield Family(
        "turn",
        "turn it end for end on its spot",
        _made(case, spot=_spot_moved(case, turn=math.pi).spot),
        cautions=lifted,
    )
    sizes = tuple(k * TURN_SCAN for k in range(1, 4))
    for sign, way in ((1.0, "clockwise"), (-1.0, "anticlockwise")):
        yield Family(
            "turn",
            f"turn it {way} on its spot",
            partial(_turned_by, case, sign),
            sizes,
            TURN_STEP,
            unit="angle",
            cautions=lifted,
        )


def _lifted(base: Tried) -> tuple[str, ...]:
    return (LIFTED,) if base.answer == FAILS and not _stuck_parked(base) else ()


def _stuck_parked(base: Tried) -> bool:
    """Whether it is stopped where it stands already, and not on its way."""
    return base.way is not None and base.way.question.parked < 0.0


WAYS = ((0.0, 1.0), (0.0, -1.0), (-1.0, 0.0), (1.0, 0.0))
"""The ways that things are moved, in place axes."""


def on_plan(x: float, y: float) -> str:
    """A way in place axes in words, of the room, with the front wall behind."""
    if abs(x) >= abs(y):
        return "to the right" if x > 0.0 else "to the left"
    return "away from the front wall" if y > 0.0 else "toward the front wall"


def _other_spots(case: Case, base: Tried) -> Iterator[Family]:
    """Another spot of the file; another place on the floor where it does not stand clear."""
    lifted = _lifted(base)
    for spot in case.place.spots:
        if case.spot is not None and spot.name != case.spot.name:
            what = f"stand it on “{spot.name}”"
            yield Family("spot", what, _made(case, spot=spot), cautions=lifted)
    if not _stuck_parked(base):
        return
    for x, y in WAYS:
        yield Family(
            "spot",
            f"stand it farther {on_plan(x, y)}",
            partial(_stood_along, case, x, y),
            _scan(case, ELSEWHERE),
            _step(case),
            unit="length",
        )


def _stances(case: Case) -> Iterator[Family]:
    for name, stance in case.design.stances.items():
        if name != case.stance:
            words = bracketed(stance.text)
            yield Family(
                "stance",
                f"stance “{name}”{words}",
                _made(case, stance=name),
                cautions=(LOWERED,),
            )


def _obstacles(case: Case, asked: Asked) -> Iterator[Family]:
    """Each thing moved each way, where taking it away frees the aircraft at all."""
    for k, thing in enumerate(case.place.obstacles):
        rest = tuple(o for o in case.place.obstacles if o is not thing)
        without = case.place.model_copy(update={"obstacles": rest})
        cautions = (CARRIES,)

        def away(_: float, place: Place = without) -> Case:
            return _with(case, place=place)

        gone = Family("obstacle", f"take the {thing.name} away", away, cautions=cautions)
        if asked(away(1.0), gone.what) != FREES:
            yield gone
            continue
        for x, y in WAYS:
            most = _room_to_move(case.place, thing, rest, x, y, _step(case))
            if most > 0.0:
                yield Family(
                    "obstacle",
                    f"move the {thing.name} {on_plan(x, y)}",
                    partial(_obstacle_moved, case, k, x, y),
                    _scan(case, most),
                    _step(case),
                    unit="length",
                    cautions=cautions,
                )
        if thing.kind == "hanging":
            most = _room_above(case.place, thing)
            if _scan(case, most):
                yield Family(
                    "obstacle",
                    f"raise the {thing.name}",
                    partial(_obstacle_raised, case, k),
                    _scan(case, most),
                    _step(case),
                    monotone=True,
                    unit="length",
                    cautions=cautions,
                )
        yield gone


def _outline(thing: Obstacle) -> Array:
    return np.array([[float(x), float(y)] for x, y in thing.outline])


def _room_to_move(
    place: Place, thing: Obstacle, rest: tuple[Obstacle, ...], x: float, y: float, fine: float
) -> float:
    """How far a thing can be moved one way within the floor and clear of the others [m]."""
    import shapely

    floor = shapely.polygons([start for start, _ in place.floor.walls.values()])
    others = [shapely.polygons(_outline(o)) for o in rest if _share_heights(thing, o)]

    def can(size: float) -> bool:
        there = shapely.polygons(_outline(thing) + size * np.array([x, y]))
        inside = floor.buffer(1e-6).covers(there)
        return inside and not any(shapely.area(there & o) > 1e-6 for o in others)

    most, every = 0.0, 8 * fine
    while can(most + every):
        most += every
    return most


def _share_heights(a: Obstacle, b: Obstacle) -> bool:
    top_a, top_b = (math.inf if o.top is None else float(o.top) for o in (a, b))
    return float(a.bottom) < top_b and float(b.bottom) < top_a


def _room_above(place: Place, thing: Obstacle) -> float:
    if place.ceiling is None:
        return 0.0
    return min(height_at(place, *p) for p in _outline(thing)) - float(thing.bottom)


def _obstacle_moved(case: Case, k: int, x: float, y: float, size: float) -> Case:
    place = case.place
    for corner in range(len(place.obstacles[k].outline)):
        for axis, run in enumerate((x, y)):
            if run:
                place = shifted(place, ("obstacles", k, "outline", corner, axis), run * size)
    return _with(case, place=place)


def _obstacle_raised(case: Case, k: int, size: float) -> Case:
    place = shifted(case.place, ("obstacles", k, "bottom"), size)
    thing = place.obstacles[k]
    if thing.top is not None and float(thing.top) <= float(thing.bottom):
        place = shifted(place, ("obstacles", k, "top"), size)
    return _with(case, place=place)


def _blocks(case: Case) -> Iterator[Family]:
    """All supports of the stance lower by the same, its attitude kept."""
    stance = case.design.stances[case.stance]
    heights = [float(h) for h in stance.heights.values() if float(h) > 0.0]
    if not heights or not _scan(case, min(heights)):
        return
    names = ", ".join(n.replace("_", " ") for n in stance.heights)

    def lower(size: float) -> Case:
        design = case.design
        for name, height in stance.heights.items():
            if float(height) > 0.0:
                design = shifted(design, ("stances", case.stance, "heights", name), -size)
        return _with(case, design=design)

    yield Family(
        "blocks",
        f"lower what stands under {names}",
        lower,
        _scan(case, min(heights), 8),
        _step(case),
        unit="length",
        cautions=(LOWERED,),
    )


def _without(case: Case, off: Callable[[Part], bool], words: str) -> Stage:
    kept = tuple(
        p.name for p in case.standing.airframe.parts if on_stage(case.stage, p) and not off(p)
    )
    update = {"parts": kept, "without": (), "name": f"{case.stage.name}, {words}"}
    shut = tuple(n for n in case.stage.open if n in kept)
    return case.stage.model_copy(update=update | {"open": shut})


def _groups_off(case: Case) -> dict[str, tuple[str, ...]]:
    """What comes off together, in words: the groups of parts that go with it."""
    design, on = case.design, {p.group for p in case.standing.parts}
    out: dict[str, tuple[str, ...]] = {}
    for kind in sorted(KINDS, key=lambda kind: not kind.shaped_by):
        for name, item in kind.of(design).items():
            out |= _comes_off(design, kind, name, item)
    return {words: tuple(g for g in gs if g in on) for words, gs in out.items() if set(gs) & on}


def _comes_off(design: Design, kind: PartKind, name: str, item: Any) -> dict[str, tuple[str, ...]]:
    """What of one part comes off together: from each of its joints on, and the whole of it."""
    out: dict[str, tuple[str, ...]] = {}
    tips = _on_its_tip(design, name)
    joints = kind.joints(item)
    for k in range(len(joints)):
        outboard = [_many(one, item.side) for one in joints[k:]]
        out[_and([*outboard, *tips.values()])] = (*joints[k:], *tips)
    if kind.comes_off(item):
        whole = _many(name, item.side) if kind.shaped_by else name
        along = [
            one
            for other in KINDS
            for one, beside in other.of(design).items()
            if getattr(beside, "role", None) in kind.along
        ]
        words = _and([whole, *joints, *tips.values(), *along])
        out[words] = (name, *joints, *tips, *along)
    return out


def _on_its_tip(design: Design, name: str) -> dict[str, str]:
    """The parts whose shape begins at a part, with their words."""
    return {
        one: _many(one, item.side)
        for kind in KINDS
        if kind.shaped_by
        for one, item in kind.of(design).items()
        if name in kind.hosts(design, item)
    }


def _is_of(names: tuple[str, ...], side: str, part: Part) -> bool:
    return part.group in names and part.name.startswith(side)


def _parts_off(case: Case, asked: Asked) -> Iterator[Family]:
    """Parts off, one group at a time, of a pair also one side; all of them where none suffices."""
    groups = _groups_off(case)
    freed = False
    for words, names in groups.items():
        whole = _off(case, partial(_is_of, names, ""), words)
        yield whole
        if asked(whole.make(1.0), whole.what) != FREES:
            continue
        freed = True
        for side in ("left ", "right "):
            one = partial(_is_of, names, side)
            if any(map(one, case.standing.parts)):
                yield _off(case, one, f"{side}{_and(_gone(case, one, names))} alone")
    if not freed and len(groups) > 1:
        every = tuple(dict.fromkeys(n for names in groups.values() for n in names))
        yield _off(case, partial(_is_of, every, ""), _and(list(every)))


def _gone(case: Case, off: Callable[[Part], bool], names: tuple[str, ...]) -> list[str]:
    """Of these groups, those of which a part comes off, or goes along with what carries it."""
    lost = _lost(case, off)
    return [n for n in names if any(p.group == n and p.name in lost for p in case.standing.parts)]


def _lost(case: Case, off: Callable[[Part], bool]) -> set[str]:
    """The names of the parts that come off, with those that go along with what carries them."""
    parts = case.standing.parts
    lost = {part.name for part in parts if off(part)}
    return lost | {part.name for part in parts if lost & set(part.hosts)}


def _and(words: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _many(name: str, side: str) -> str:
    return f"{name}s" if side == "both" else name


def _off(case: Case, off: Callable[[Part], bool], words: str) -> Family:
    joined = _joined_for_good(case, off)
    cautions = [COMES_OFF]
    cautions += [f"The design says “{joined}”: that does not come off without cutting."] * bool(
        joined
    )
    stage = _without(case, off, f"{words} off")
    kind = "joined" if joined else "parts"
    return Family(
        kind, f"{words} off", _made(case, **_added(case, stage)), cautions=tuple(cautions)
    )


def _joined_for_good(case: Case, off: Callable[[Part], bool]) -> str:
    """What the design says is joined for good by this stage, where one of these parts is of it."""
    lost = _lost(case, off)
    for stage in _up_to(case):
        if any(part.name in lost for part in joined_by(case.standing.airframe, stage)):
            return stage.permanent or ""
    return ""


def _up_to(case: Case) -> tuple[Stage, ...]:
    stages = case.design.stages
    names = [s.name for s in stages]
    return stages[: names.index(case.stage.name) + 1] if case.stage.name in names else stages


def _stages(case: Case) -> Iterator[Family]:
    """Every earlier stage in its own stance."""
    before = _up_to(case)
    for k in range(len(before) - 2, -1, -1):
        stage = before[k]
        joined = [s.permanent for s in before[k + 1 :] if s.permanent]
        cautions = [f"Only before “{words}”: there is no way back over it." for words in joined]
        yield Family(
            "joined" if joined else "stage",
            f"take it out at the stage “{stage.name}”, {stage.stance}",
            _made(case, stage=stage, stance=stage.stance),
            cautions=tuple(cautions),
        )


def _doors(case: Case) -> Iterator[Family]:
    for k, door in enumerate(case.place.doors):
        before, beyond = _beside(case.place, door)
        to_first, to_last = _door_sides(case.place, door)
        ways = (
            (to_first, before, 1.0),
            (to_last, beyond, 0.0),
            ("on both sides, all in all", 2.0 * min(before, beyond), 0.5),
        )
        for words, most, share in ways:
            if _scan(case, most):
                yield Family(
                    "wider",
                    f"make the {door.name} wider {words}",
                    partial(_wider, case, k, share),
                    _scan(case, most),
                    _step(case),
                    monotone=True,
                    unit="length",
                    start=float(door.clear_width),
                    limit="the end of the wall or the next door",
                    cautions=(BUILDING,),
                )
        above = _above(case.place, door)
        if _scan(case, above):
            yield Family(
                "taller",
                f"make the {door.name} taller",
                partial(_taller, case, k),
                _scan(case, above),
                _step(case),
                monotone=True,
                unit="length",
                start=float(door.clear_height),
                limit="the ceiling at that wall",
                cautions=(BUILDING,),
            )


def _door_sides(place: Place, door: Door) -> tuple[str, str]:
    """The ways along its wall: toward the wall's first corner, and on; in words of the plan."""
    start, end = (np.array(p) for p in place.floor.walls[door.wall])
    x, y = (float(v) for v in end - start)
    return on_plan(-x, -y), on_plan(x, y)


def _beside(place: Place, door: Door) -> tuple[float, float]:
    """Wall left beside a door to its ends or the next door: toward its first corner, and on [m]."""
    start, end = (np.array(p) for p in place.floor.walls[door.wall])
    first = float(door.from_corner)
    last = first + float(door.clear_width)
    others = [
        (float(d.from_corner), float(d.from_corner) + float(d.clear_width))
        for d in place.doors
        if d.wall == door.wall and d is not door
    ]
    low = max([0.0, *(b for _, b in others if b <= first + 1e-9)])
    length = float(np.linalg.norm(end - start))
    high = min([length, *(a for a, _ in others if a >= last - 1e-9)])
    return first - low, high - last


def _wider(case: Case, k: int, share: float, size: float) -> Case:
    place = shifted(case.place, ("doors", k, "clear_width"), size)
    if share:
        place = shifted(place, ("doors", k, "from_corner"), -share * size)
    return _with(case, place=place)


def _taller(case: Case, k: int, size: float) -> Case:
    return _with(case, place=shifted(case.place, ("doors", k, "clear_height"), size))


def _above(place: Place, door: Door) -> float:
    """How much taller a door can be under the ceiling at its wall [m]; 1 m where none is given."""
    if place.ceiling is None:
        return 1.0
    start, end = (np.array(p) for p in place.floor.walls[door.wall])
    along = (end - start) / np.linalg.norm(end - start)
    ends = [float(door.from_corner), float(door.from_corner) + float(door.clear_width)]
    over = min(height_at(place, *(start + s * along)) for s in ends)
    return over - float(door.clear_height)


def _winglets(case: Case) -> Iterator[Family]:
    on = {p.group for p in case.standing.parts}
    for name, winglet in case.design.winglets.items():
        if name not in on:
            continue
        path: Path = ("winglets", name)
        length, cant = float(winglet.length), float(winglet.cant)
        yield Family(
            "length",
            f"make the {name} shorter",
            partial(_reshaped, case, (*path, "length"), -1.0),
            _scan(case, (1.0 - SHORTEST) * length),
            _step(case),
            unit="length",
            start=length,
            sign=-1.0,
            cautions=(DESIGN_CHANGED,),
        )
        for sign, end, words in ((1.0, CANT_TO, "outboard"), (-1.0, CANT_FROM, "inboard")):
            count = int(sign * (end - cant) / CANT_STEP + 1e-9)
            every = round(CANT_SCAN / CANT_STEP)
            sizes = tuple(n * CANT_STEP for n in [*range(every, count, every), count] if n > 0)
            if sizes:
                yield Family(
                    "cant",
                    f"lean the {name} farther {words}",
                    partial(_reshaped, case, (*path, "cant"), sign),
                    sizes,
                    CANT_STEP,
                    unit="angle",
                    start=cant,
                    sign=sign,
                    cautions=(DESIGN_CHANGED,),
                )


def _reshaped(case: Case, path: Path, sign: float, size: float) -> Case:
    return _with(case, design=shifted(case.design, path, sign * size))


TOLD = (
    "tip_height",
    "height",
    "width",
    "length",
    "lowest_point",
    "propeller_ground_clearance",
    "pitch",
)


def effects(family: Family, before: Case, after: Case) -> tuple[Effect, ...]:
    """What a change does beside freeing the aircraft, read off both as built."""
    out: list[Effect] = []
    out += _measured(before, after)
    if family.kind in ("cant", "length"):
        out += _winglet_measures(before, after)
    if family.kind in ("parts", "stage", "joined", "stance", "blocks", "shut"):
        out += _weight(stage_balance(before.standing), stage_balance(after.standing))
    if family.kind == "obstacle":
        out += _beside_moved(before.place, after.place)
    if family.kind in ("wider", "taller"):
        out += _door_left(before.place, after.place)
    return (*out, *_nearer(before, after))


ON_ITS_TAIL = "By its weights it would sit on its tail: hold the nose down before, not after."
SHORT_OF_NOSE = "By its weights it is nearer to sitting on its tail: hold the nose down."


def dangers(before: Case, after: Case) -> tuple[str, ...]:
    """What a change makes dangerous, by the balance of the parts that are then on."""
    old, new = stage_balance(before.standing), stage_balance(after.standing)
    if new is None or old is None or new.tip_back >= old.tip_back - 1e-3:
        return ()
    return (ON_ITS_TAIL,) if new.tip_back <= 0.0 else (SHORT_OF_NOSE,)


def _compared(before: Any, after: Any, keys: tuple[str, ...]) -> Iterator[Effect]:
    was = {m.key: m for m in before.items}
    for m in after.items:
        if m.key not in keys:
            continue
        old = was.get(m.key)
        if old is None or abs(old.value - m.value) > SAME:
            yield Effect(m.label, None if old is None else old.value, m.value, m.kind)


def _measured(before: Case, after: Case) -> Iterator[Effect]:
    yield from _compared(
        standing_measures(before.standing), standing_measures(after.standing), TOLD
    )


def _winglet_measures(before: Case, after: Case) -> Iterator[Effect]:
    names = after.design.winglets
    each = [f"{name}.{one}" for name in names for one in ("length", "rise", "area")]
    keys = ("span_with_winglets", *each)
    old = design_measures(before.standing.airframe)
    yield from _compared(old, design_measures(after.standing.airframe), keys)


def _weight(before: Balanced | None, after: Balanced | None) -> Iterator[Effect]:
    """Mass and CG, and how near to tipping back."""
    if before is None or after is None:
        return
    off = before.total.mass - after.total.mass
    if abs(off) > 1e-6:
        yield Effect(f"weight, from {after.source}", before.total.mass, after.total.mass, "mass")
        yield Effect("CG", before.total.fs, after.total.fs, "station")
    if abs(before.tip_back - after.tip_back) > 1e-3:
        yield Effect("tip-back angle (below zero: sits on its tail)", before.tip_back,
                     after.tip_back, "angle")  # fmt: skip


def _beside_moved(before: Place, after: Place) -> Iterator[Effect]:
    """Gaps that the moved thing has to walls and other things where it then stands."""
    import shapely

    old = {o.name: o for o in before.obstacles}
    for thing in after.obstacles:
        if thing == old[thing.name]:
            continue
        here, there = (shapely.polygons(_outline(o)) for o in (old[thing.name], thing))
        if not here.equals(there):
            walls = shapely.linearrings([start for start, _ in after.floor.walls.values()])
            yield Effect(f"{thing.name} to the nearest wall", float(shapely.distance(here, walls)),
                         float(shapely.distance(there, walls)), "length")  # fmt: skip
            for other in after.obstacles:
                if other.name != thing.name:
                    fixed = shapely.polygons(_outline(other))
                    gaps = [float(shapely.distance(p, fixed)) for p in (here, there)]
                    if gaps[1] < gaps[0] and gaps[1] < 2.0 * NEAR:
                        what = f"{thing.name} to the {other.name}"
                        yield Effect(what, gaps[0], gaps[1], "length")


def _door_left(before: Place, after: Place) -> Iterator[Effect]:
    for old, new in zip(before.doors, after.doors, strict=True):
        sides = zip(_door_sides(after, new), _beside(before, old), _beside(after, new), strict=True)
        for words, was, now in sides:
            if abs(was - now) > SAME:
                yield Effect(f"wall remaining beside the door {words}", was, now, "length")
        if abs(float(old.clear_height) - float(new.clear_height)) > SAME and after.ceiling:
            yield Effect("wall remaining over the door, to the ceiling", _above(before, old),
                         _above(after, new), "length")  # fmt: skip


def _nearer(before: Case, after: Case) -> Iterator[Effect]:
    """Things in the room that come nearer to the parked aircraft than before."""
    was = _by_thing(before.answer.near)
    for thing, now in _by_thing(after.answer.near).items():
        old = was.get(thing)
        if now.gap < NEAR and (old is None or now.gap < old.gap - SAME):
            gap = None if old is None else float(old.gap)
            yield Effect(f"parked: {now.part} to {thing}", gap, float(now.gap), "length")


def _by_thing(near: tuple[Clearance, ...]) -> dict[str, Clearance]:
    out: dict[str, Clearance] = {}
    for one in near:
        if one.kind != "threshold" and one.thing not in out:
            out[one.thing] = one
    return out
