"""What a stage weighs: the record or the weighing less what is off, or what is on."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe
from planform.airframe.part import Part
from planform.airframe.presence import covers, missing_at, on_stage
from planform.airframe.turns import Turns, is_turned, turn_of, turns_of
from planform.airframe.weight.items import Item
from planform.airframe.weight.record import ESTIMATE, EmptyRecord, empty_record
from planform.design.kinds import INNER, OF_HOST
from planform.design.models import Mass, Stage

Array = NDArray[np.float64]


def items_on(airframe: Airframe, stage: Stage, stance: str | None = None) -> tuple[Item, ...]:
    """The mass items aboard at a stage; those of what is open, folded or turned go along with it.

    Of an item for a pair of which one side is on, half counts, at that side's middle.
    stance : the stage's own where None
    """
    out = []
    turns = turns_of(airframe, stage, airframe.design.stances.get(stance or stage.stance))
    for mass in airframe.design.masses:
        wl, point = float(mass.wl), np.array([float(mass.fs), float(mass.bl), float(mass.wl)])
        share = 1.0
        note = ""
        if mass.part is not None:
            everywhere = _parts_of(airframe, mass)
            on = [part for part in everywhere if on_stage(stage, part)]
            share = len(on) / len(everywhere) if everywhere else 1.0
            if not on and everywhere:
                continue
            if 0.0 < share < 1.0:
                point[1] = float(np.mean([_middle(part) for part in on]))
                note = f"{len(on)} of {len(everywhere)}"
            point = _as_built(airframe, point, on)
            if any(is_turned(part, turns) for part in on):
                note = "open" if on[0].role == "panel" else "turned"
                point = _turned_along(airframe, turns, point, on)
        fs, bl, wl = (float(v) for v in point)
        out.append(Item(mass.name, float(mass.mass) * share, fs, bl, wl, note, mass.part, mass))
    return tuple(out)


def _as_built(airframe: Airframe, point: Array, on: list[Part]) -> Array:
    """Where a mass is with the parts that it is of as they are built, shape (3,) [m]."""
    if airframe.moved is None or not on:
        return point
    off = [airframe.carried(part.name, there) - there for part, there in _places(point, on)]
    return np.asarray(point + np.mean(off, axis=0))


def _turned_along(airframe: Airframe, turns: Turns, point: Array, on: list[Part]) -> Array:
    """Where a mass is with the parts that it is of as they are turned, shape (3,) [m]."""
    moved = []
    for part, there in _places(point, on):
        turn, shift = turn_of(part, airframe.by_name, turns)
        moved.append(turn @ there + shift)
    return np.asarray(np.mean(moved, axis=0))


def _places(point: Array, on: list[Part]) -> list[tuple[Part, Array]]:
    """A mass's place with each of its parts: of a pair half on each side, at that side's middle."""
    if len(on) == 1:
        return [(on[0], point)]
    return [(part, np.array([point[0], _middle(part), point[2]])) for part in on]


def _parts_of(airframe: Airframe, mass: Mass) -> list[Part]:
    name = mass.part or ""
    return [p for p in airframe.parts if covers(name, p) and p.role not in OF_HOST]


def _middle(part: Part) -> float:
    across = part.points[:, 1]
    return float(0.5 * (across.min() + across.max()))


def weightless(airframe: Airframe, stage: Stage) -> tuple[str, ...]:
    """Parts on the aircraft at a stage that no mass item names.

    What stands inside a skin that is on is weighed with it where no item of its own is given.
    """
    groups = dict.fromkeys(
        part.group for part in airframe.parts if part.role not in OF_HOST and on_stage(stage, part)
    )
    named = {mass.part for mass in airframe.design.masses}
    sided = {part.group for part in airframe.parts if part.name in named}
    weighed = named | sided
    weighed |= {
        part.group
        for part in airframe.parts
        if part.role in INNER and weighed & set(groups) & set(part.hosts[-2:])
    }
    return tuple(group for group in groups if group not in weighed)


ITEMS = "mass items"


def stage_weight(
    airframe: Airframe, stage: Stage, stance: str | None = None
) -> tuple[tuple[Item, ...], str] | None:
    """What an aircraft weighs at a stage, line by line, and where that is from; None if unknown.

    The weighing or the recorded empty weight is that of the aircraft with every part on; the mass
    items of parts that are off are taken from it. Where more is off than on by the mass items, the
    few items that are on are the nearer estimate, and are used alone.
    """
    design = airframe.design
    record = empty_record(design, None)
    on = items_on(airframe, stage, stance)
    if record is None or record.source == ESTIMATE:
        changes = _changes(record) if record is not None else ()
        return ((*on, *changes), ITEMS) if on else None
    aboard = sum(item.mass for item in on)
    off = sum(float(mass.mass) for mass in design.masses) - aboard
    known = record.base.mass + sum(line.mass for line in _changes(record))
    if off > aboard or not known > off:
        return (on, ITEMS) if on else None
    if record.base.wl is None:
        return None
    lines: list[Item] = [record.base, *_changes(record)]
    names: list[str] = []
    stays = {id(item.of): item for item in on}
    for mass in design.masses:
        here, whole = stays.get(id(mass)), _whole(mass)
        if here is None:
            lines.append(replace(whole.less(), note="off"))
            names.append(mass.name)
        elif here.note:  # one of a pair is off, or its panel stands open
            lines += [replace(whole.less(), note="as recorded"), here]
            names += [mass.name] if here.mass < whole.mass else []
    source = record.source + (", with changes since" if record.changes else "")
    if names:
        source += f", less {', '.join(dict.fromkeys(names))}"
    unnamed = [
        name for name in missing_at(airframe, stage) if not _is_named(airframe, name)
    ]  # fmt: skip
    if unnamed:
        source += f"; off too, and in no mass item: {', '.join(unnamed)}"
    return tuple(lines), source


def _changes(record: EmptyRecord) -> tuple[Item, ...]:
    """The lines of every change since the record; at the CG's height where none is given."""
    lines = [line for sheet in record.changes for line in sheet.lines]
    return tuple(
        line if line.wl is not None else replace(line, wl=record.base.wl) for line in lines
    )


def _whole(mass: Mass) -> Item:
    fs, bl, wl = float(mass.fs), float(mass.bl), float(mass.wl)
    return Item(mass.name, float(mass.mass), fs, bl, wl, "", mass.part, mass)


def _is_named(airframe: Airframe, part: str) -> bool:
    """Whether a mass item names a part, or the pair that it is one of."""
    named = {mass.part for mass in airframe.design.masses}
    return any(part in (p.name, p.group) and named & {p.name, p.group} for p in airframe.parts)
