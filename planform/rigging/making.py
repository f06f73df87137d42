"""A rigging card made: a joint of a built aircraft on its stage and stance."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from planform.airframe.build import Airframe, build
from planform.airframe.stance import stand_on
from planform.core.adjust.hanging import belly, sag_shortens, warmth
from planform.core.vectors import Array
from planform.design.told import said
from planform.design.units import FOOT
from planform.rigging.card import (
    Card,
    CardBolt,
    CardFreedom,
    CardTarget,
    FloorSpot,
    HangingTape,
    RigStep,
    Template,
)
from planform.rigging.cautions import CAUTIONS, PRACTICE
from planform.rigging.checking import CheckWanted, alone, checks_of, order_of
from planform.rigging.instruments import FLOOR, GAUGES, LEVEL_ONCE
from planform.rigging.joints import joint_named, stage_of, stance_of
from planform.rigging.rows import rows_of
from planform.rigging.shims import can_take, holes_move, thicknesses, unshimmed
from planform.rigging.targets import STANDS, RigRow, Setting, setting_of

USUAL = {"angle": math.radians(2.0), "length": 0.05}
"""How much of a freedom is taken as likely before anything is read; assumption, a wide one."""
POUND_FORCE = 4.4482216152605
PULL = 5.0 * POUND_FORCE
"""For long distances by steel tape and spring scale: an airframe mechanics' handbook."""
TAPE_WEIGHT = 0.01275 * POUND_FORCE / FOOT
"""Of the steel tape that was calibrated flat and hanging; see the references."""
UNIT = math.radians(0.1)
"""The turn that readings and shims are told for beside the limits."""
WORDS = {"fs": "station", "bl": "butt line", "wl": "waterline"}
"""What freedoms are called on a card."""
IN_A_ROW = "one alone, or in a row, they give it no hold"
FACES = {
    "down": (0.0, 0.0, -1.0), "up": (0.0, 0.0, 1.0), "ahead": (-1.0, 0.0, 0.0),
    "aft": (1.0, 0.0, 0.0), "inboard": (0.0, -1.0, 0.0), "outboard": (0.0, 1.0, 0.0),
}  # fmt: skip
"""Where a face looks, on the right-hand side, aircraft axes."""


def rigging_card(
    airframe: Airframe,
    joint: str,
    stage: str | None = None,
    stance: str | None = None,
    system: str | None = None,
) -> Card:
    """The card of a joint, of the aircraft as it is drawn.

    joint : its name, or its part's ; stage, stance : those of the design where None
    system : of the lengths in its sentences; the design's own where None
    Raises InputError for a name that is not there, and for a stage without the part.
    """
    if airframe.moved is not None:
        airframe = build(airframe.design.model_copy(update={"as_built": ()}))
    found = joint_named(airframe, joint)
    at_stage = stage_of(airframe, found, stage)
    standing = stand_on(airframe, at_stage, stance_of(airframe, found, at_stage, stance))
    setting = setting_of(standing, found)
    return _Made(setting, system or airframe.design.units).card()


class _Made:
    """A card on its way: what its parts share."""

    def __init__(self, setting: Setting, system: str) -> None:
        self.setting = setting
        self.system = system
        self.rows = rows_of(setting)
        own = [
            CardFreedom(f"{one.side} {WORDS.get(one.kind, one.kind)}".strip(),
                        _kind(one.is_angle), one.side, USUAL[_kind(one.is_angle)], stands=False)
            for one in setting.freedoms
        ]  # fmt: skip
        stands = [
            CardFreedom(name, _kind(name != "height"), "", USUAL[_kind(name != "height")],
                        stands=True)
            for name in STANDS
        ]  # fmt: skip
        self.freedoms = (*own, *stands)

    def card(self) -> Card:
        """All of it."""
        setting, joint = self.setting, self.setting.joint
        bare = tuple(self._target(k + 1, row) for k, row in enumerate(self.rows))
        checks = checks_of(tuple(self._wanted()), bare, self.freedoms, self.system)
        spans: dict[int, float] = {}
        for check in checks:
            for number, half in alone(check, bare):
                spans[number] = min(half, spans.get(number, half))
        targets = tuple(
            replace(t, low=t.target - spans[t.number], high=t.target + spans[t.number])
            if t.number in spans
            else t
            for t in bare
        )
        limited = any(check.limit is not None for check in checks)
        return Card(
            joint=joint.name,
            title=f"{joint.name}: {joint.part} set" if joint.part else joint.name,
            parts=setting.parts,
            host=joint.host,
            standing=setting.standing,
            supports=self._supports(),
            targets=targets,
            freedoms=self.freedoms,
            checks=checks,
            bolts=tuple(self._bolts()),
            base=(setting.base[0].name, setting.base[1].name),
            base_ends=np.array([setting.at(one) for one in setting.base]),
            spots=tuple(self._spots()),
            templates=tuple(self._templates(targets)),
            tapes=tuple(self._tapes(targets)),
            lines=tuple(self._lines()),
            lost=tuple(self._lost()),
            holes=dict(self._holes()),
            order=tuple(self._order(targets)),
            practice=() if limited else (PRACTICE,),
            cautions=CAUTIONS,
        )

    def _target(self, number: int, row: RigRow) -> CardTarget:
        setting = self.setting
        target = setting.target(row)
        ends = np.array([setting.at(point) for point in row.points])
        gauge = GAUGES[row.sort]
        read_over = abs(target) if row.kind == "length" else 0.0
        tolerance = gauge.tolerance(read_over)
        columns = setting.columns(row)
        names = tuple(point.name for point in row.points)
        return CardTarget(
            number, row.words, row.sort, row.kind, names, ends, target, None, None, tolerance,
            LEVEL_ONCE if row.twice else tolerance, gauge.name, self._tells(row, columns),
            row.twice, row.reference, columns, setting.survey(row, gauge.name),
        )  # fmt: skip

    def _tells(self, row: RigRow, columns: Sequence[float]) -> str:
        """What a reading tells most of, and how much it moves for a little of that."""
        mine = [
            (abs(column) * one.usual, k)
            for k, (one, column) in enumerate(zip(self.freedoms, columns, strict=True))
            if one.stands == row.reference
        ]
        if not mine or max(mine)[0] < 1e-9:
            return ""
        one = self.freedoms[max(mine)[1]]
        by = UNIT if one.kind == "angle" else 0.001
        moved = abs(columns[max(mine)[1]]) * by
        told = said(by, "angle_fine" if one.kind == "angle" else "fine", self.system)
        name = f"how the aircraft stands, {one.name}" if one.stands else one.name
        as_read = said(moved, "angle_fine" if row.kind == "angle" else "fine", self.system)
        return f"tells {name}: {told} of it moves this by {as_read}"

    def _wanted(self) -> Iterator[CheckWanted]:
        """Every freedom of the part, and of a pair the left less the right."""
        declared = self.setting.joint.declared
        limits = {} if declared is None else declared.limits.given()
        between = {} if declared is None else declared.limits.between()
        own = self.setting.freedoms
        for k, one in enumerate(own):
            aim = tuple(float(j == k) for j in range(len(self.freedoms)))
            limit = None if one.kind not in limits else float(limits[one.kind])
            levels = self._levels()
            name, kind = self.freedoms[k].name, self.freedoms[k].kind
            if one.kind != "incidence" or one.side or len(levels) < 2:
                yield CheckWanted(name, kind, aim, limit)
                continue
            for side in levels:
                others = tuple(n for other, some in levels.items() if other != side for n in some)
                yield CheckWanted(f"{name}, {side}", kind, aim, limit, others)
        for k, one in enumerate(own):
            twin = [j for j, o in enumerate(own) if (o.kind, o.side) == (one.kind, "right")]
            if one.side == "left" and twin and (one.is_angle or one.kind in between):
                aim = tuple(float(j == k) - float(j == twin[0]) for j in range(len(self.freedoms)))
                limit = between.get(one.kind)
                yield CheckWanted(f"{one.kind}, left less right", self.freedoms[k].kind, aim,
                             None if limit is None else float(limit))  # fmt: skip

    def _levels(self) -> dict[str, list[int]]:
        """The numbers of the levels along a chord, by their side."""
        out: dict[str, list[int]] = {}
        for k, row in enumerate(self.rows):
            if row.sort == "level along" and not row.reference:
                out.setdefault(row.side, []).append(k + 1)
        return out

    def _supports(self) -> tuple[str, ...]:
        standing = self.setting.standing
        stance = standing.airframe.design.stances[standing.stance_name]
        on = ", ".join(name.replace("_", " ") for name in stance.on)
        out = [f"stands on {on}, chocked; the tail held"]
        if stance.text:
            out.append(stance.text)
        if self.setting.joint.part and self.setting.joint.part in stance.on:
            out.append(
                "the aircraft stands on what is set: hold it up elsewhere before a bolt is let go"
            )
        elif self.setting.joint.part:
            out.append(f"the {self.setting.joint.part} held up by itself until it is bolted")
        return tuple(out)

    def _normal(self, side: str) -> Array:
        """From the host to the part, aircraft axes: against where the part's face looks."""
        declared = self.setting.joint.declared
        face = np.array(FACES["down" if declared is None else declared.face])
        return np.asarray(-face * np.array([1.0, -1.0 if side == "left" else 1.0, 1.0]))

    def _turn(self, k: int) -> Array:
        """The turn of a freedom for one radian of it, a right-hand vector, aircraft axes."""
        one = self.setting.freedoms[k]
        if not one.is_angle:
            return np.zeros(3)
        points = np.vstack([np.zeros(3), np.eye(3)])
        step = 1e-5
        moved = (one.displaced(points, step) - one.displaced(points, -step)) / (2.0 * step)
        arms = moved[1:] - moved[0]
        return np.asarray(0.5 * np.cross(np.eye(3), arms).sum(axis=0))

    def _faces(self) -> Iterator[tuple[str, list[str], Array]]:
        """The faces that are bolted: their side, the bolts' names, where they are, (n, 3)."""
        declared = self.setting.joint.declared
        if declared is None or not declared.bolts:
            return
        whole = any(one.side == "" for one in self.setting.freedoms)
        sides = {one.side for one in self.setting.freedoms}
        for side in ("",) if whole else tuple(s for s in ("left", "right") if s in sides):
            names, places = [], []
            for k, bolt in enumerate(declared.bolts):
                at = np.array([float(bolt.fs), float(bolt.bl), float(bolt.wl)])
                own = bolt.name or f"bolt {k + 1}"
                for hand in ("left", "right"):
                    if (side and hand != side) or (at[1] == 0.0 and hand == "left" and not side):
                        continue
                    mirror = np.array([1.0, -1.0 if hand == "left" else 1.0, 1.0])
                    names.append(own if at[1] == 0.0 and not side else f"{hand} {own}")
                    places.append(at * mirror)
            yield side, names, np.array(places)

    def _bolts(self) -> Iterator[CardBolt]:
        for side, names, places in self._faces():
            normal = self._normal(side)
            per = np.zeros((len(names), len(self.freedoms)))
            for k, one in enumerate(self.setting.freedoms):
                if one.is_angle and one.side == side and can_take(places, normal, self._turn(k)):
                    per[:, k] = thicknesses(places, normal, self._turn(k))
            per[np.abs(per) < 1e-9] = 0.0
            at = self.setting.standing.to_floor(places)
            for k, name in enumerate(names):
                yield CardBolt(name, side, at[k], tuple(float(v) for v in per[k]))

    def _lost(self) -> Iterator[str]:
        """Turns about the face's own normal: no shim takes them."""
        declared = self.setting.joint.declared
        limits = {} if declared is None else declared.limits.given()
        for side, _, places in self._faces():
            normal = self._normal(side)
            for k, one in enumerate(self.setting.freedoms):
                turn = self._turn(k)
                share = abs(unshimmed(turn, normal))
                if not one.is_angle or one.side != side:
                    continue
                if not can_take(places, normal, turn):
                    yield f"these bolts cannot take {self.freedoms[k].name}: {IN_A_ROW}"
                if share < 0.01:
                    continue
                by = float(limits[one.kind]) if one.kind in limits else UNIT
                holes = said(holes_move(places, normal, turn * by), "fine", self.system)
                told = said(by, "angle_fine", self.system)
                what = "all of it is" if share > 0.995 else f"{share:.0%} of it is"
                yield (
                    f"{self.freedoms[k].name}: {what} about the face's own normal, and no shim "
                    f"takes that; for {told} the holes would move by up to {holes}"
                )

    def _holes(self) -> Iterator[tuple[str, float]]:
        """How far holes move at most for each radian of a turn that no shim takes."""
        for side, _, places in self._faces():
            for k, one in enumerate(self.setting.freedoms):
                move = holes_move(places, self._normal(side), self._turn(k))
                if one.is_angle and one.side == side and move > 1e-3:
                    yield self.freedoms[k].name, move

    def _spots(self) -> Iterator[FloorSpot]:
        """Every point that is plumbed down, by two tapes from the base marks."""
        setting = self.setting
        seen = dict.fromkeys(p for row in self.rows if row.sort in ("station", "offset")
                             for p in row.points)  # fmt: skip
        first, second = (setting.at(one)[:2] for one in setting.base)
        line = (second - first) / np.linalg.norm(second - first)
        for point in (setting.base[1], *seen):
            at = setting.at(point)[:2]
            away = at - first
            yield FloorSpot(
                point.name, float(away @ line), float(line[0] * away[1] - line[1] * away[0]),
                float(np.linalg.norm(away)), float(np.linalg.norm(at - second)),
            )  # fmt: skip

    def _templates(self, targets: Sequence[CardTarget]) -> Iterator[Template]:
        """What a level along a chord reads, as a rise over that chord: chord times tangent."""
        for target in targets:
            if target.sort == "level along" and len(target.ends) == 2:
                flat = float(np.linalg.norm((target.ends[1] - target.ends[0])[:2]))
                rise = flat * math.tan(target.target)
                yield Template(target.words, target.target, rise, flat)

    def _tapes(self, targets: Sequence[CardTarget]) -> Iterator[HangingTape]:
        """The longest tape of the card, hanging, and the base line."""
        long = [t for t in targets if t.sort == "distance"]
        lengths = [(t.words, t.target) for t in long]
        seen: set[float] = set()
        for words, span in lengths:
            if round(span, 3) not in seen:
                seen.add(round(span, 3))
                yield HangingTape(
                    words, span, PULL, sag_shortens(span, TAPE_WEIGHT, PULL),
                    belly(span, TAPE_WEIGHT, PULL), warmth(span, 30.0),
                )  # fmt: skip

    def _lines(self) -> Iterator[str]:
        """Strings and lasers: the base line, and one from tip to tip."""
        setting = self.setting
        ahead, aft = setting.base
        yield (
            f"Base line: a string or a laser on the floor from the mark under the {ahead.name} to "
            f"the mark under the {aft.name}"
        )
        uneven = said(FLOOR, "fine", self.system)
        yield (
            f"Heights over the floor take the floor as uneven by {uneven} (assumption): a water "
            "level or a laser across is surer"
        )
        pairs = [row for row in self.rows if row.sort == "station" and row.side == "left"]
        for row in pairs[:1]:
            left = row.points[0]
            twin = [p for p in setting.points if p.name == left.mirrored_name]
            if twin:
                station = said(setting.target(row), "length", self.system)
                height = said(float(setting.at(left)[2]), "length", self.system)
                yield (
                    f"A string from the {left.name} to the right one crosses the base line square, "
                    f"{station} aft of the base mark, {height} over the floor"
                )

    def _order(self, targets: Sequence[CardTarget]) -> Iterator[RigStep]:
        references = tuple(t.number for t in targets if t.reference)
        yield RigStep(
            "Support and chock; plumb the base marks and draw the base line",
            "every mark hangs on them",
        )
        yield RigStep(
            "Level the aircraft until the reference reads its targets",
            "all else is read against it",
            references,
        )
        kinds = [WORDS.get(one.kind, one.kind) for one in self.setting.freedoms]
        if kinds:
            yield from order_of(targets, self.freedoms, kinds)
        rest = tuple(t.number for t in targets if t.sort == "distance")
        yield RigStep(
            "Read everything once more, diagonals last, then decide",
            "a setting may have moved with a bolt that was tightened",
            rest,
        )


def _kind(angle: bool) -> str:
    return "angle" if angle else "length"
