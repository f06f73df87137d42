"""Which aircraft a stage is: what it lacks, whether it is complete, whether it can be reached."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import numpy as np

from planform.airframe.build import Airframe
from planform.airframe.part import Part
from planform.airframe.presence import in_words, missing_at, on_stage
from planform.airframe.stance import Standing, shaped, stage_named, stand_on
from planform.airframe.sweeping import turning_questions
from planform.core.shape.distance import mesh_distance
from planform.design.kinds import OF_HOST
from planform.design.models import Design, Stage
from planform.design.problems import InputError, Problem
from planform.design.units import show


def complete_stage(airframe: Airframe) -> Stage | None:
    """The stage with every part on, of several the last listed; None where there is none."""
    return next((s for s in airframe.design.stages[::-1] if not missing_at(airframe, s)), None)


def usual_stage(airframe: Airframe) -> tuple[Stage, str]:
    """The stage that is meant where none is named, and that in words.

    It is the complete one; where no stage has every part on, the last of those with most parts.
    """
    whole = complete_stage(airframe)
    if whole is not None:
        return whole, f"stage: “{whole.name}”, with every part on (no stage was named)"
    stages = shaped(airframe.design).stages
    off = [missing_at(airframe, stage) for stage in stages]
    k = min(range(len(stages)), key=lambda j: (len(off[j]), -j))
    return stages[k], (
        f"stage: “{stages[k].name}”, without {', '.join(off[k])} (no stage was named, and none "
        "has every part on)"
    )


def stage_meant(airframe: Airframe, name: str | None) -> tuple[Stage, tuple[str, ...]]:
    """The stage by this name, else the usual one, and what had to be taken as something.

    Raises InputError with the nearest real name where there is no such stage.
    """
    if name is not None:
        return one_stage(airframe.design, name), ()
    stage, words = usual_stage(airframe)
    return stage, (words,)


def stand(
    airframe: Airframe, stage: Stage | str | None = None, stance: str | None = None
) -> Standing:
    """The aircraft as it stands at a stage, the usual one where none is given, in a stance.

    stance : the stage's own where None
    Raises InputError with the nearest real name where there is no such stage or stance.
    """
    if isinstance(stage, str):
        stage = stage_named(airframe.design, stage)
    return stand_on(airframe, usual_stage(airframe)[0] if stage is None else stage, stance)


ALL = "all"
"""What names every stage, where a design has no stage of that name."""


def stages_meant(
    airframe: Airframe, names: Sequence[str]
) -> tuple[tuple[Stage, ...], tuple[str, ...]]:
    """The stages by these names in build order, else the usual one; and what was taken.

    names : `ALL` for every one
    Raises InputError with the nearest real name where there is no such stage.
    """
    stages = shaped(airframe.design).stages
    if not names:
        stage, words = usual_stage(airframe)
        more = f"; --stage {ALL} shows all {len(stages)}" if len(stages) > 1 else ""
        return (stage,), (f"{words}{more}",)
    every = ALL in names and ALL not in {stage.name for stage in stages}
    found = [stage_named(airframe.design, name) for name in names if not (every and name == ALL)]
    if every:
        return stages, ()
    return tuple(stage for stage in stages if stage in found), ()


def one_stage(design: Design, name: str) -> Stage:
    """The one stage of this name; `ALL` is told not to be one."""
    names = [stage.name for stage in design.stages]
    if name == ALL and ALL not in names:
        allowed = f"allowed: one stage here, of {', '.join(f'“{one}”' for one in names)}"
        raise InputError("option", [Problem("--stage", repr(name), allowed)])
    return stage_named(design, name)


def named_in(airframe: Airframe, words: str) -> frozenset[str]:
    """The names of parts and groups that words use, whole words, also in the plural.

    The longest name counts, so that an “outer wing” does not name the wing; “left and right” and
    “both” before a group's name mean the group. A wheel is named with its wheel, leg or gear: a
    “main spar” is not the main wheel.
    """
    plain = {name: _plain(name) for p in airframe.parts for name in (p.name, p.group)}
    wheels = {p.group for p in airframe.parts if p.role == "wheel" or p.role in OF_HOST}
    wheels |= {p.name for p in airframe.parts if p.role == "wheel"}
    known = {
        re.escape(short) + (WITH_WHEEL if name in wheels and not _OF_WHEEL.search(short) else "")
        for name, short in plain.items()
        if short
    }
    several = r"(?:(?:left (?:and )?right|right (?:and )?left|both) )?"
    longest = "|".join(sorted(known, key=len, reverse=True))
    used = set(re.findall(rf"\b{several}({longest})(?:e?s)?\b", _plain(words)))
    return frozenset(name for name, short in plain.items() if short in used)


_OF_WHEEL = re.compile(r"\b(?:wheel|leg|gear)s?\b")
WITH_WHEEL = rf"(?= {_OF_WHEEL.pattern[2:]})"


def _plain(text: str) -> str:
    """A text as names in it are looked for: small letters, single blanks, “canopies” as one."""
    words = re.sub(r"[\W_]+", " ", text.lower()).strip()
    return re.sub(r"ies\b", "y", words)


def joined_by(airframe: Airframe, stage: Stage) -> tuple[Part, ...]:
    """The parts that the step to a stage of the design joins for good; none where it does not.

    Of what came on with it, what its words name; where they name none of that, all of it. With the
    first stage all came on that it has.
    """
    if not stage.permanent:
        return ()
    stages = airframe.design.stages
    k = stages.index(stage)
    new = [p for p in airframe.parts if on_stage(stage, p)]
    new = [p for p in new if not k or not on_stage(stages[k - 1], p)]
    named = named_in(airframe, stage.permanent)
    return tuple(p for p in new if {p.name, p.group} & named) or tuple(new)


def joined_for_good(airframe: Airframe) -> tuple[tuple[Part, ...], ...]:
    """For each stage in build order, the parts that cannot come off any more before it."""
    out: list[tuple[Part, ...]] = []
    joined: dict[str, Part] = {}
    for stage in airframe.design.stages:
        out.append(tuple(joined.values()))
        joined |= {part.name: part for part in joined_by(airframe, stage)}
    return tuple(out)


def cannot_be_reached(airframe: Airframe) -> dict[str, tuple[str, ...]]:
    """The stages, by name, that lack what was joined for good before them; and what they lack."""
    out = {}
    for stage, joined in zip(airframe.design.stages, joined_for_good(airframe), strict=True):
        off = [part for part in joined if not on_stage(stage, part)]
        if off:
            out[stage.name] = in_words(airframe, off)
    return out


SUNK = 1e-3
"""From this depth under the floor on a part is told [m]; assumption: the accuracy of a tape."""


def floor_questions(standings: Sequence[Standing]) -> Iterator[str]:
    """Parts that reach under the floor as an aircraft stands: asked back, each stage once."""
    for standing in standings:
        parts = [p for p in standing.parts if p.role != "wheel" and p.points[:, 2].min() < -SUNK]
        if parts:
            deepest = -min(float(part.points[:, 2].min()) for part in parts)
            names = " and the ".join(in_words(standing.airframe, parts))
            units = standing.airframe.design.units
            yield (
                f"{standing.title}: the {names} would reach {show(deepest, 'length', units)} under "
                "the floor; is the stance as it is written?"
            )


def stage_questions(airframe: Airframe, standings: Sequence[Standing] = ()) -> tuple[str, ...]:
    """What a careful reader of the stages, and of the aircraft as it stands, would ask back."""
    stages = airframe.design.stages
    out = []
    for name, off in cannot_be_reached(airframe).items():
        out.append(
            f"stage “{name}” is listed after a step that joined for good what it goes without: "
            f"{' and '.join(off)}. Should it come before that step? It is not counted as a way "
            f"back. {_steps_before(airframe, name)}"
        )
    for stage in stages:
        for part in _hanging(airframe, stage):
            host = part.hosts[-1]
            out.append(
                f"stage “{stage.name}” has the {part.name} and not the {host} that it stands on; "
                f"is it meant to be there? List the {host} too, or leave the {part.name} out."
            )
        for part in _unheld(airframe, stage):
            out.append(
                f"stage “{stage.name}” has the {part.name} on the {part.hosts[-1]}, whose skin is "
                f"not on, and nothing else comes within {show(REACH, 'length', 'mm')} of it; what "
                "holds it?"
            )
    if stages and complete_stage(airframe) is None:
        stage, _ = usual_stage(airframe)
        off = missing_at(airframe, stage)
        out.append(
            f"no stage has every part on; “{stage.name}” comes nearest, without {', '.join(off)}. "
            "Is a stage missing? Figures of the complete aircraft are then of every part, at no "
            "stage."
        )
    return (*out, *floor_questions(standings), *turning_questions(airframe))


def _steps_before(airframe: Airframe, name: str) -> str:
    """What each step before a stage is taken to have joined for good, in sentences."""
    out = []
    for stage in airframe.design.stages:
        if stage.name == name:
            break
        joined = list(joined_by(airframe, stage))
        if joined:
            named = named_in(airframe, stage.permanent or "")
            told = any({p.name, p.group} & named for p in joined)
            why = "" if told else ", all that came on with it, as its words name none of that"
            what = " and ".join(in_words(airframe, joined))
            out.append(
                f"“{stage.permanent}” (stage “{stage.name}”) is taken as joining for good: "
                f"{what}{why}."
            )
    return " ".join(out)


def _hanging(airframe: Airframe, stage: Stage) -> list[Part]:
    """The parts that are on at a stage without what they stand on."""
    on = {name for p in airframe.parts if on_stage(stage, p) for name in (p.name, p.group)}
    on |= set(stage.bare) | {p.group for p in airframe.parts if p.name in stage.bare}
    return [p for p in airframe.parts if p.hosts and p.name in on and p.hosts[-1] not in on]


REACH = 0.05
"""What holds a part whose host's skin is not on comes as near to it as this [m]; assumption."""


def _unheld(airframe: Airframe, stage: Stage) -> list[Part]:
    """The parts on at a stage whose host has no skin there, with nothing that is on near them."""
    if not stage.bare:
        return []
    on = [p for p in airframe.parts if on_stage(stage, p)]
    there = {p.name for p in on}

    def near(a: Part, b: Part) -> bool:
        apart = np.maximum(a.points.min(axis=0) - b.points.max(axis=0),
                           b.points.min(axis=0) - a.points.max(axis=0))  # fmt: skip
        if (apart > REACH).any():
            return False
        return mesh_distance(a.points, a.faces, b.points, b.faces, REACH).distance <= REACH

    return [
        p
        for p in on
        if p.hosts
        and not {q.name for q in airframe.parts if p.hosts[-1] in (q.name, q.group)} & there
        and p.hosts[-1]
        in {
            name
            for q in airframe.parts
            for name in (q.name, q.group)
            if q.name in stage.bare or q.group in stage.bare
        }
        and not any(near(p, q) for q in on if q is not p)
    ]
