"""Which parts are on the aircraft at a stage, and which parts a name in a file means."""

from __future__ import annotations

from planform.airframe.build import Airframe
from planform.airframe.part import Part
from planform.design.kinds import INNER, LAID_ON, OF_HOST
from planform.design.models import Stage


def covers(given: str, part: Part) -> bool:
    """Whether a name in a file means this part: its own, its group's, or of a leg its wheel's."""
    return given in (part.name, part.group) or (part.role in OF_HOST and given in part.hosts)


def on_stage(stage: Stage, part: Part) -> bool:
    """Whether a part is on the aircraft at a stage; what is left out takes along what it carries.

    A stage that lists its parts has just those. A skin that is bare at the stage is off, with what
    is laid on it, and what it carries stays.
    """
    if _bare(stage, part):
        return False
    if stage.parts is not None:
        return any(covers(given, part) for given in stage.parts)
    return not any(covers(given, part) or given in part.hosts for given in stage.without)


def _bare(stage: Stage, part: Part) -> bool:
    """Whether a part is a skin that is not on at a stage, or is laid on one."""
    skin = part.hosts[-2:] if part.role in LAID_ON else (part.name, part.group)
    return any(given in skin for given in stage.bare)


def missing_at(airframe: Airframe, stage: Stage) -> tuple[str, ...]:
    """The parts that are not on at a stage, by name; a pair that is off on both sides by group."""
    off = [part for part in airframe.parts if not on_stage(stage, part)]
    return in_words(airframe, off)


def in_words(airframe: Airframe, parts: list[Part]) -> tuple[str, ...]:
    """Names of parts; by their group where all of the group are among them."""
    names = {part.name for part in parts}
    whole = {
        part.group
        for part in parts
        if all(other.name in names for other in airframe.parts if other.group == part.group)
    }
    return tuple(dict.fromkeys(p.group if p.group in whole else p.name for p in parts))


def surface_role(airframe: Airframe, part: Part) -> str:
    """A part's role; of a control surface that of what it is cut out of."""
    return airframe.by_name[part.hosts[-2]].role if part.role == "control" else part.role


def of_wing(airframe: Airframe, part: Part) -> bool:
    """Whether a part is of a wing or winglet, or inside one: the highest is the tip height."""
    roles = {surface_role(airframe, part)}
    if part.role in INNER:
        spar = airframe.design.spars.get(part.group)
        under = (spar.on,) if spar is not None else part.hosts[-2:]
        roles = {half.role for half in airframe.halves if half.group in under}
        roles |= {p.role for p in airframe.parts if p.name in under or p.group in under}
    return bool(roles & {"wing", "winglet"})
