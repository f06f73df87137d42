"""What of an airframe is turned about its hinges, by its stage and stance, and what turns along."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe
from planform.airframe.part import Part
from planform.airframe.presence import covers
from planform.design.models import Stage, Stance

Array = NDArray[np.float64]

Turns = Mapping[str, float]
"""By how much parts are turned [rad], by the part's name."""


def turn_of(part: Part, by_name: Mapping[str, Part], turns: Turns) -> tuple[Array, Array]:
    """Rotation (3, 3) and shift (3,) [m] of a part: its own turn, then those of what carries it.

    by_name : the airframe's parts as built ; turns : what is turned, and by how much
    """
    turn, shift = np.eye(3), np.zeros(3)
    for name in dict.fromkeys((part.name, *reversed(part.hosts))):
        host = by_name.get(name)
        if host is not None and host.hinge is not None and turns.get(name):
            by, on = host.hinge.at(turns[name])
            turn, shift = by @ turn, by @ shift + on
    return turn, shift


def is_turned(part: Part, turns: Turns) -> bool:
    """Whether a part, or something that carries it, is turned."""
    return any(turns.get(name) for name in (part.name, *part.hosts))


def turned(parts: Sequence[Part], turns: Turns, by_name: Mapping[str, Part]) -> list[Part]:
    """Parts with those of `turns` turned, and what stands on them turned along.

    by_name : all parts of the airframe as built, those that are off at a stage too
    """
    if not any(turns.values()):
        return list(parts)
    out = []
    for part in parts:
        if is_turned(part, turns):
            turn, shift = turn_of(part, by_name, turns)
            part = replace(part, points=part.points @ turn.T + shift)
        out.append(part)
    return out


def turned_by(stance: Stance) -> dict[str, float]:
    """By how much a stance says that parts are turned [rad], by the names it gives them."""
    return {name: float(a) for name, a in (*stance.turned.items(), *stance.deflected.items())}


def turns_of(airframe: Airframe, stage: Stage, stance: Stance | None) -> dict[str, float]:
    """By how much each hinged part is turned [rad], by its name; what is not turned is left out.

    A panel that the stage has open, and what the stance has folded or retracted, stand at their
    stops; an angle of the stance goes before that.
    stance : None where it stands on nothing, as a piece that is carried
    """
    out = {}
    angles = {} if stance is None else turned_by(stance)
    stopped = () if stance is None else (*stance.folded, *stance.retracted)
    for part in airframe.parts:
        if part.hinge is None:
            continue
        if any(covers(given, part) for given in (*stage.open, *stopped)):
            out[part.name] = part.hinge.stop
        for given, angle in angles.items():
            if covers(given, part):
                out[part.name] = angle
    return out
