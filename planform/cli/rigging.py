"""The rig command: from its options to the card that a joint is set by."""

from __future__ import annotations

import math
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from planform.airframe.build import Airframe, build
from planform.airframe.stance import shaped
from planform.cli.options import quantity_given
from planform.cli.show import show
from planform.design.models import Design
from planform.design.problems import InputError, Problem, unknown
from planform.report.rig.answer import ENDINGS, write_card
from planform.report.rig.listed import JointsAnswer, ShimmedAnswer
from planform.rigging.card import Card
from planform.rigging.joints import RigJoint, joint_named, joints_of, stage_of, stance_of
from planform.rigging.making import rigging_card

LARGEST = math.radians(5.0)
"""The largest turn that shims are told for; assumption: what is more is a slip."""


@dataclass(frozen=True)
class RigAsked:
    """What was asked; found : turns as they were written ; output : a file, or a folder."""

    joint: str | None
    stage: str | None
    stance: str | None
    found: Sequence[str]
    output: Path | None
    paper: str | None


def show_rig(design: Design, asked: RigAsked, system: str, *, as_json: bool) -> int:
    """The card of a joint, or where none is named the joints by name."""
    airframe = build(shaped(design))
    if asked.joint is None:
        return _listed(airframe, asked, system, as_json=as_json)
    target = asked.output
    single = target is not None and target.suffix != "" and not target.is_dir()
    if single and target is not None and target.suffix.lower() not in ENDINGS:
        allowed = f"allowed: a name that ends in {', '.join(ENDINGS)}, or a folder"
        raise InputError("option", [Problem("-o", str(target), allowed)])
    card = rigging_card(airframe, asked.joint, asked.stage, asked.stance, system)
    answer = ShimmedAnswer(
        card=card, found=_found(card, asked.found), paper=asked.paper,
        taken=_taken(airframe, asked), brief=target is not None,
    )  # fmt: skip
    if not single or target is None:
        return show(answer, target, system, as_json=as_json)
    write_card(answer, target, system)
    code = show(answer, None, system, as_json=as_json)
    print(f"wrote {target}", file=sys.stderr if as_json else sys.stdout)
    return code


def _listed(airframe: Airframe, asked: RigAsked, system: str, *, as_json: bool) -> int:
    """The joints by name; what goes with one joint alone is refused."""
    given = {
        "--stage": asked.stage, "--stance": asked.stance, "-o": asked.output,
        "--found": asked.found or None,
    }  # fmt: skip
    joints = joints_of(airframe)
    names = ", ".join(repr(one.name) for one in joints)
    problems = [
        Problem(name, str(value), f"allowed with --joint; joints: {names}")
        for name, value in given.items()
        if value is not None
    ]
    if problems:
        raise InputError("option", problems)
    places = [_place(airframe, one) for one in joints]
    answer = JointsAnswer(name=airframe.design.name, joints=joints, places=places)
    return show(answer, None, system, as_json=as_json)


def _place(airframe: Airframe, joint: RigJoint) -> tuple[str, str]:
    """Stage and stance of a joint; a stage that has not all of it is told by its own command."""
    try:
        stage = stage_of(airframe, joint, None)
    except InputError:
        return "no stage has all of it", ""
    return stage.name, stance_of(airframe, joint, stage, None)


def _taken(airframe: Airframe, asked: RigAsked) -> tuple[str, ...]:
    """What was not given: the stage."""
    joint = joint_named(airframe, asked.joint or "")
    if asked.stage is not None or (joint.declared is not None and joint.declared.stage is not None):
        return ()
    stage = stage_of(airframe, joint, None)
    return (f"stage: “{stage.name}”, the first with all that is read (no stage was named)",)


def _found(card: Card, given: Sequence[str]) -> dict[str, float]:
    """Turns by the names of the card's freedoms, as they were written."""
    turns = [one.name for one in card.freedoms if one.kind == "angle" and not one.stands]
    out: dict[str, float] = {}
    for text in given:
        name, sign, value = text.partition("=")
        if not sign:
            allowed = (
                f"allowed: a turn and how much, as 'tilt = 0.2 deg'; turns: {', '.join(turns)}"
            )
            raise InputError("option", [Problem("--found", repr(text), allowed)])
        plain = " ".join(name.lower().split())
        if plain not in turns:
            raise InputError("option", [unknown("--found", name.strip(), turns)])
        by = quantity_given("--found", value.strip(), "angle")
        if by is not None and abs(by) > LARGEST:
            allowed = "allowed: up to 5 deg to either side; more is no matter of shims"
            raise InputError("option", [Problem("--found", repr(text), allowed)])
        if any(line.startswith(f"these bolts cannot take {plain}:") for line in card.lost):
            told = f"these bolts cannot take {plain}; give the joint more bolts, off their row"
            raise InputError("option", [Problem("--found", repr(text), told)])
        out[plain] = float(by or 0.0)
    if given and not card.bolts:
        allowed = f'this joint has no bolts; give them: joints."{card.joint}".bolts'
        raise InputError("option", [Problem("--found", repr(given[0]), allowed)])
    return out
