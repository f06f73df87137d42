"""Checks of joints: names that must exist, limits that the part can be set by."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planform.design.as_built import ANGLES
from planform.design.as_built_checks import may_differ
from planform.design.joints import LIMITED, Joint
from planform.design.kinds import KINDS, LYING, part_names
from planform.design.models import Design
from planform.design.problems import Problem, unknown

RESTS = ("lifting.*.joint", *(f"{k.field}.*.side" for k in KINDS if "side" in k.model.model_fields))
"""What the names of parts, and what they may be set by, come from besides the names of tables."""
LARGE_LIMIT = {True: 0.0872665, False: 0.1}
"""The largest limit: of an angle [rad], of a length [m]; assumption: what is more is a slip."""


def set_by(design: Design, part: str) -> tuple[str, ...]:
    """In what a part may be set otherwise than drawn without changing its shape."""
    kinds = may_differ(design).get(part, {})
    found = kinds[""] if "" in kinds else kinds.get("right", kinds.get("left", ()))
    return tuple(kind for kind in LIMITED if kind in found)


def on_each_side(design: Design, part: str) -> bool:
    """Whether left and right are set each by itself."""
    return "" not in may_differ(design).get(part, {"": ()})


def check_joints(joints: Mapping[str, Joint], design: Design) -> Iterator[Problem]:
    """Problems of joints between the fields of a design.

    joints : those that could be read ; design : with all names that are written
    """
    if not joints:
        return
    parts = part_names(design)
    settable = [name for name in may_differ(design) if set_by(design, name)]
    for name, joint in joints.items():
        path = f'joints."{name}"' if " " in name else f"joints.{name}"
        if joint.part not in settable:
            yield unknown(f"{path}.part", joint.part, settable, RESTS)
            continue
        for field in ("to", "reference"):
            given = getattr(joint, field)
            if given is not None and given not in parts:
                yield unknown(f"{path}.{field}", given, parts, RESTS)
        if joint.to == joint.part:
            yield Problem(f"{path}.to", repr(joint.to), "allowed: another part than is set")
        if joint.reference == joint.part:
            allowed = "allowed: another part than is set, across which the aircraft is levelled"
            yield Problem(f"{path}.reference", repr(joint.reference), allowed)
        stages = [stage.name for stage in design.stages]
        if joint.stage is not None and joint.stage not in stages:
            yield unknown(f"{path}.stage", joint.stage, stages, ("stages*.name",))
        if joint.stance is not None and joint.stance not in design.stances:
            yield unknown(f"{path}.stance", joint.stance, design.stances)
        yield from _check_limits(path, joint, design)
        yield from _check_bolts(path, joint)
        yield from _check_blocks(path, joint, design)


def _check_limits(path: str, joint: Joint, design: Design) -> Iterator[Problem]:
    known = set_by(design, joint.part)
    allowed = f"the {joint.part} may be set by {', '.join(known)}"
    for kind, limit in joint.limits.given().items():
        where = f"{path}.limits.{kind}"
        if kind not in known:
            yield Problem(
                where, repr(limit.text), f"not one of this part; allowed: {allowed}", RESTS
            )
        elif limit > LARGE_LIMIT[kind in ANGLES]:
            most = "5 deg" if kind in ANGLES else "100 mm (about 4 in)"
            yield Problem(where, repr(limit.text), f"allowed: up to {most} to either side")
    for kind, limit in joint.limits.between().items():
        where = f"{path}.limits.left_right.{kind}"
        if not on_each_side(design, joint.part):
            yield Problem(
                where, repr(limit.text), f"set in one piece over both sides: {allowed}", RESTS
            )
        elif kind not in known:
            yield Problem(
                where, repr(limit.text), f"not one of this part; allowed: {allowed}", RESTS
            )


def _check_bolts(path: str, joint: Joint) -> Iterator[Problem]:
    seen: set[tuple[float, float, float]] = set()
    for k, bolt in enumerate(joint.bolts):
        at = float(bolt.fs), float(bolt.bl), float(bolt.wl)
        if at in seen:
            yield Problem(f"{path}.bolts[{k + 1}]", "a second time at one place", "allowed: once")
        seen.add(at)


def _check_blocks(path: str, joint: Joint, design: Design) -> Iterator[Problem]:
    lying = {n: s for n, s in design.lifting.items() if s.role in LYING}
    names = [*lying, *(c.joint for s in lying.values() for c in s.cuts if c.joint is not None)]
    for k, block in enumerate(joint.blocks):
        if block.on not in names:
            yield unknown(f"{path}.blocks[{k + 1}].on", block.on, names, RESTS)
