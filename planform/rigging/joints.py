"""The joints of an aircraft: those of the design, and every part on its host by name."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from planform.airframe.build import Airframe
from planform.airframe.freedoms import Freedom, freedoms
from planform.airframe.presence import on_stage
from planform.airframe.stance import stage_named, stance_named
from planform.design.joint_checks import on_each_side, set_by
from planform.design.joints import Joint
from planform.design.kinds import LYING
from planform.design.models import Stage
from planform.design.problems import InputError, Problem, unknown

PLACED = ("fs", "bl", "wl")


@dataclass(frozen=True)
class RigJoint:
    """A joint that a card may be made of.

    part, host : names in the design, without side ; declared : what the design says of it, if it
    does ; pads : names of the pads of a cradle, where it is one
    """

    name: str
    part: str
    host: str
    declared: Joint | None = None
    pads: tuple[str, ...] = ()


def joints_of(airframe: Airframe) -> tuple[RigJoint, ...]:
    """All joints: those of the design first, then those that need not be written."""
    out = [
        RigJoint(name, joint.part, joint.to or _host(airframe, joint.part), joint)
        for name, joint in airframe.design.joints.items()
    ]
    said = {joint.part for joint in out}
    known = {joint.name for joint in out}
    for part in _settable(airframe):
        host = _host(airframe, part)
        name = f"{part} to {host}"
        if part not in said and host and name not in known:
            out.append(RigJoint(name, part, host))
    return (*out, *(one for one in _cradles(airframe) if one.name not in known))


def joint_named(airframe: Airframe, name: str) -> RigJoint:
    """The joint by its name, by its part's, or of pads by the stance's.

    Raises InputError with the nearest real name.
    """
    joints = joints_of(airframe)
    wanted = name.strip().lower()
    by_name = [one for one in joints if one.name.lower() == wanted]
    by_part = [one for one in joints if one.part.lower() == wanted]
    by_stance = [
        one for one in joints if one.pads and wanted in (one.host, one.host.replace("_", " "))
    ]
    for found in (by_name, by_part, by_stance):
        if len(found) == 1:
            return found[0]
    problem = unknown("--joint", name, [one.name for one in joints])
    raise InputError("option", [problem])


def _settable(airframe: Airframe) -> list[str]:
    """What may be set: surfaces, panels, winglets, and parts that a point of is named."""
    design = airframe.design
    lofted = [half.group for half in airframe.halves]
    panels = [c.joint for s in design.lifting.values() for c in s.cuts if c.joint is not None]
    wheels = list(design.wheels)
    names = dict.fromkeys([*lofted, *panels, *wheels])
    return [name for name in names if set_by(design, name)]


def _host(airframe: Airframe, part: str) -> str:
    """What a part stands on, by the name of the whole; '' where nothing is."""
    design = airframe.design
    for name, surface in design.lifting.items():
        if part in [cut.joint for cut in surface.cuts]:
            return name
    if part in design.winglets:
        return design.winglets[part].on
    hulls = [p for p in airframe.parts if p.role == "fuselage"]
    if hulls:
        return max(hulls, key=lambda p: float(np.ptp(p.points[:, 0]))).group
    wings = [half.group for half in airframe.halves if half.role in LYING and half.group != part]
    return wings[0] if wings else ""


def _cradles(airframe: Airframe) -> Iterator[RigJoint]:
    """Stances on pads alone: what stands under them is set to heights."""
    design = airframe.design
    for name, stance in design.stances.items():
        if stance.on and all(one in design.pads for one in stance.on):
            words = f"{name.replace('_', ' ')} under the aircraft"
            yield RigJoint(words, "", name, None, stance.on)


def parts_set(airframe: Airframe, joint: RigJoint) -> tuple[str, ...]:
    """Names of the built parts that are set."""
    return tuple(p.name for p in airframe.parts if joint.part in (p.name, p.group))


def freedoms_of(airframe: Airframe, joint: RigJoint) -> tuple[Freedom, ...]:
    """In what the part may be set otherwise than drawn, left before right.

    Of a winglet its station counts only where the design has a limit for it: its root is cut to
    the tip that it is bonded to.
    """
    kinds = set_by(airframe.design, joint.part)
    limits = {} if joint.declared is None else joint.declared.limits.given()
    if "cant" in kinds:
        kinds = tuple(k for k in kinds if k not in PLACED or k in limits)
    whole = not on_each_side(airframe.design, joint.part)
    found = [
        f
        for f in freedoms(airframe)
        if f.of == joint.part and f.kind in kinds and (f.side == "" or not whole)
    ]
    sides = ("left", "right", "")
    return tuple(sorted(found, key=lambda f: (kinds.index(f.kind), sides.index(f.side))))


def stage_of(airframe: Airframe, joint: RigJoint, name: str | None) -> Stage:
    """The stage that a joint is set on: the named one, that of the design, or the first with all.

    Raises InputError where the part is not on at it.
    """
    declared = None if joint.declared is None else joint.declared.stage
    chosen = name or declared
    wanted = [joint.part, joint.host] if joint.part else []
    if joint.declared is not None and joint.declared.reference is not None:
        wanted.append(joint.declared.reference)
    stages = airframe.design.stages
    if chosen is None and not joint.part:
        return next((s for s in stages if s.stance == joint.host), stages[-1])
    if chosen is None:
        for stage in stages:
            if all(_on(airframe, stage, part) for part in wanted):
                return stage
        chosen = stages[-1].name
    stage = stage_named(airframe.design, chosen)
    off = [part for part in wanted if not _on(airframe, stage, part)]
    if off:
        able = [s.name for s in stages if all(_on(airframe, s, part) for part in wanted)]
        allowed = f"the {off[0]} is not on at this stage; stages with it: {', '.join(able) or '-'}"
        where = "--stage" if name else f'joints."{joint.name}".stage'
        raise InputError("stage", [Problem(where, repr(stage.name), allowed)])
    return stage


def _on(airframe: Airframe, stage: Stage, part: str) -> bool:
    found = [p for p in airframe.parts if part in (p.name, p.group)]
    return bool(found) and all(on_stage(stage, p) for p in found)


def stance_of(airframe: Airframe, joint: RigJoint, stage: Stage, name: str | None) -> str:
    """The stance that a joint is set in: the named one, that of the design, or the stage's.

    Raises InputError where there is no such stance.
    """
    declared = None if joint.declared is None else joint.declared.stance
    chosen = name or declared or (stage.stance if joint.part else joint.host)
    stance_named(airframe.design, chosen)
    return chosen
