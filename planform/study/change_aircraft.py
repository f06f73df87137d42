"""Changes of the aircraft and of how it stands: shut, turned, lowered, parts off, winglets."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from planform.airframe.part import Part
from planform.airframe.presence import covers, on_stage
from planform.airframe.stages import joined_by
from planform.design.kinds import KINDS, PartKind
from planform.design.models import Design, Stage
from planform.design.naming import Path
from planform.design.texts import bracketed
from planform.design.told import with_stance
from planform.design.units import DEGREE
from planform.design.vary import readings, shifted
from planform.study.change_cases import (
    FAILS,
    FREES,
    WAYS,
    Asked,
    Case,
    Family,
    Tried,
    fine_step,
    on_plan,
    one_size,
    scan,
    with_changed,
)

CANT_STEP, CANT_SCAN = 0.5 * DEGREE, 10.0 * DEGREE

CANT_FROM, CANT_TO = -60.0 * DEGREE, 85.0 * DEGREE
"""A cant is closed in on to half a degree, looked at every ten, from leaning in to nearly flat."""

TURN_STEP, TURN_SCAN = 5.0 * DEGREE, 45.0 * DEGREE

SHORTEST = 0.25
"""A winglet is not made shorter than this share of its length; assumption."""

ELSEWHERE = 2.0
"""How far another place on the floor is looked for [m]; assumption."""

DESIGN_CHANGED = (
    "The design changes: stability, balance, loads and strength must be worked out again, by its "
    "designer or a licensed person."
)

LIFTED = (
    "It cannot be moved over the floor from where it stands to there: from there is a way out, "
    "from here none. Stand or build it that way from the start, or lift it."
)

COMES_OFF = (
    "Whether it comes off, one side alone too, is the plans' to say. Support what comes off and "
    "what stays."
)

LOWERED = "Chock and hold the aircraft while its supports are changed; one end at a time."


def _added(case: Case, stage: Stage) -> dict[str, Any]:
    """A stage of its own, in the design too, so that it can be built again by its name."""
    stages = (*case.design.stages, stage)
    return {"stage": stage, "design": case.design.model_copy(update={"stages": stages})}


def shut(case: Case) -> Iterator[Family]:
    """Each open panel shut."""
    for name in case.stage.open:
        still = tuple(n for n in case.stage.open if n != name)
        update = {"open": still, "name": f"{case.stage.name}, {name} shut"}
        stage = case.stage.model_copy(update=update)
        yield Family("shut", f"shut the {name}", one_size(case, **_added(case, stage)))


def _spot_moved(case: Case, dx: float = 0.0, dy: float = 0.0, turn: float = 0.0) -> Case:
    assert case.spot is not None
    x, y = case.spot.at
    heading = float(case.spot.heading) + turn
    moved = {
        "at": (x.with_value(float(x) + dx), y.with_value(float(y) + dy)),
        "heading": case.spot.heading.with_value(math.remainder(heading, 2.0 * math.pi)),
    }
    return with_changed(case, spot=case.spot.model_copy(update=moved))


def _turned_by(case: Case, sign: float, size: float) -> Case:
    return _spot_moved(case, turn=sign * size)


def _stood_along(case: Case, x: float, y: float, size: float) -> Case:
    return _spot_moved(case, size * x, size * y)


def turned(case: Case, base: Tried) -> Iterator[Family]:
    """The other end first, and turned by less to either side."""
    lifted = _lifted(base)
    yield Family(
        "turn",
        "turn it end for end on its spot",
        one_size(case, spot=_spot_moved(case, turn=math.pi).spot),
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
    return (LIFTED,) if base.answer == FAILS and not base.stuck else ()


def other_spots(case: Case, base: Tried) -> Iterator[Family]:
    """Another spot of the file; another place on the floor where it does not stand clear."""
    lifted = _lifted(base)
    for spot in case.place.spots:
        if case.spot is not None and spot.name != case.spot.name:
            what = f"stand it on “{spot.name}”"
            yield Family("spot", what, one_size(case, spot=spot), cautions=lifted)
    if not base.stuck:
        return
    for x, y in WAYS:
        yield Family(
            "spot",
            f"stand it farther {on_plan(x, y)}",
            partial(_stood_along, case, x, y),
            scan(case, ELSEWHERE),
            fine_step(case),
            unit="length",
        )


def other_stances(case: Case) -> Iterator[Family]:
    """Every other stance of the file."""
    for name, stance in case.design.stances.items():
        if name != case.stance:
            words = bracketed(stance.text)
            yield Family(
                "stance",
                f"stance “{name}”{words}",
                one_size(case, stance=name),
                cautions=(LOWERED,),
            )


def blocks(case: Case) -> Iterator[Family]:
    """All supports of the stance lower by the same, its attitude kept."""
    stance = case.design.stances[case.stance]
    heights = [float(h) for h in stance.heights.values() if float(h) > 0.0]
    if not heights or not scan(case, min(heights)):
        return
    names = ", ".join(n.replace("_", " ") for n in stance.heights)

    yield Family(
        "blocks",
        f"lower what stands under {names}",
        partial(_lowered, case),
        scan(case, min(heights), 2),
        fine_step(case),
        unit="length",
        cautions=(LOWERED,),
    )


def _lowered(case: Case, size: float) -> Case:
    design = case.design
    for name, height in design.stances[case.stance].heights.items():
        if float(height) > 0.0:
            design = shifted(design, ("stances", case.stance, "heights", name), -size)
    return with_changed(case, design=design)


def _without(case: Case, off: Callable[[Part], bool], words: str) -> Stage:
    kept = tuple(
        p.name for p in case.standing.airframe.parts if on_stage(case.stage, p) and not off(p)
    )
    update = {"parts": kept, "without": (), "name": f"{case.stage.name}, {words}"}
    left = [p for p in case.standing.airframe.parts if p.name in kept]
    shut = tuple(n for n in case.stage.open if any(covers(n, part) for part in left))
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


def parts_off(case: Case, asked: Asked) -> Iterator[Family]:
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
        kind, f"{words} off", one_size(case, **_added(case, stage)), cautions=tuple(cautions)
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


def earlier_stages(case: Case) -> Iterator[Family]:
    """Every earlier stage in its own stance."""
    before = _up_to(case)
    for k in range(len(before) - 2, -1, -1):
        stage = before[k]
        joined = [s.permanent for s in before[k + 1 :] if s.permanent]
        cautions = [f"Only before “{words}”: there is no way back over it." for words in joined]
        yield Family(
            "joined" if joined else "stage",
            f"take it out at the stage “{stage.name}”{with_stance(stage.name, stage.stance)}",
            one_size(case, stage=stage, stance=stage.stance),
            cautions=tuple(cautions),
        )


def winglets(case: Case) -> Iterator[Family]:
    """Each winglet shorter, or leaning farther either way; one side alone where they differ."""
    on = {p.group for p in case.standing.parts}
    for name in case.design.winglets:
        if name not in on:
            continue
        for path, words, length in _of_winglet(case, name, "length"):
            yield Family(
                "length",
                f"make the {words} shorter",
                partial(_reshaped, case, path, -1.0),
                scan(case, (1.0 - SHORTEST) * length),
                fine_step(case),
                unit="length",
                start=length,
                sign=-1.0,
                cautions=(DESIGN_CHANGED,),
            )
        for path, words, cant in _of_winglet(case, name, "cant"):
            yield from _leaning(case, path, words, cant)


def _of_winglet(case: Case, name: str, field: str) -> Iterator[tuple[Path, str, float]]:
    """Each number of a field of a winglet: its path, whose it is, and its value."""
    for path, reading in readings(getattr(case.design.winglets[name], field)):
        words = " ".join((*map(str, path), name))
        yield ("winglets", name, field, *path), words, float(reading)


def _leaning(case: Case, path: Path, name: str, cant: float) -> Iterator[Family]:
    for sign, end, words in ((1.0, CANT_TO, "outboard"), (-1.0, CANT_FROM, "inboard")):
        count = int(sign * (end - cant) / CANT_STEP + 1e-9)
        every = round(CANT_SCAN / CANT_STEP)
        sizes = tuple(n * CANT_STEP for n in [*range(every, count, every), count] if n > 0)
        if sizes:
            yield Family(
                "cant",
                f"lean the {name} farther {words}",
                partial(_reshaped, case, path, sign),
                sizes,
                CANT_STEP,
                unit="angle",
                start=cant,
                sign=sign,
                cautions=(DESIGN_CHANGED,),
            )


def _reshaped(case: Case, path: Path, sign: float, size: float) -> Case:
    return with_changed(case, design=shifted(case.design, path, sign * size))
