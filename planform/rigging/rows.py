"""Which readings are taken at a joint, in the order they stand on its card."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planform.airframe.sections import along_at, section_at
from planform.airframe.surfaces import spans
from planform.design.problems import InputError, Problem
from planform.design.sided import SIDES
from planform.rigging.card import Sort
from planform.rigging.points import NamedPoint
from planform.rigging.targets import RigRow, Setting


def rows_of(setting: Setting) -> tuple[RigRow, ...]:
    """The readings of a joint in the order they stand on the card: the reference first."""
    rows = list(_references(setting))
    if setting.joint.pads:
        rows += _of_pads(setting)
    kinds = {one.kind for one in setting.freedoms}
    sides = [side for side in ("left", "right", "") if _own(setting, side)]
    if "tilt" in kinds:
        rows += _of_whole(setting)
    elif "cant" in kinds:
        rows += _of_upright(setting, sides)
    elif "dihedral" in kinds:
        rows += _of_panels(setting, sides)
    else:
        rows += _of_placed(setting, sides)
    rows += _blocks(setting)
    return tuple(rows)


def _own(setting: Setting, side: str) -> list[NamedPoint]:
    """The named points of the part on one side, from its root outward."""
    name = f"{side} {setting.joint.part}".strip()
    return [p for p in setting.points if p.part == name and p.part in setting.parts]


def _edge(setting: Setting, side: str, edge: str, *, root: bool = False) -> NamedPoint | None:
    """The end of an edge of the part, outermost where `root` is not wanted."""
    found = [p for p in _own(setting, side) if p.name.endswith(edge) and p.side == side]
    return (found[0] if root else found[-1]) if found else None


def _references(setting: Setting) -> Iterator[RigRow]:
    """What tells how the aircraft stands: across, along, and over the floor."""
    pair = reference_pair(setting)
    ahead, aft = setting.base
    if pair is not None:
        left, right = pair
        words = f"reference: {right.name}, over {left.name}"
        yield RigRow("height difference", words, (right, left), reference=True)
    words = f"reference: {ahead.name} over {aft.name}"
    yield RigRow("height difference", words, (ahead, aft), reference=True)
    low = aft if pair is None else pair[0]
    yield RigRow("height", f"reference: {low.name}", (low,), reference=True)


def reference_pair(setting: Setting) -> tuple[NamedPoint, NamedPoint] | None:
    """The outermost pair of points of the reference that the joint does not move, left first.

    Where none is named: of a spar, else of the surface that it is set on, else of another surface,
    else of the hull.
    """
    declared = setting.joint.declared
    named = None if declared is None else declared.reference
    by_name = {p.name: p for p in setting.points}
    pairs = [
        (p, by_name[p.mirrored_name])
        for p in setting.points
        if p.side == "left"
        and p.part not in setting.carried
        and p.mirrored_name in by_name
        and abs(float(p.at[1] + by_name[p.mirrored_name].at[1])) < 1e-6
    ]
    if named is not None:
        mine = (named, f"left {named}")
        pairs = [pair for pair in pairs if pair[0].part in mine]
    for sorts in (("spar end",), ("tip", "outer", "bend", "root"), ("corner", "axle")):
        of_sort = [pair for pair in pairs if pair[0].sort in sorts]
        host = (setting.joint.host, f"left {setting.joint.host}")
        if "tip" in sorts:
            of_sort = [pair for pair in of_sort if pair[0].part in host] or of_sort
        if of_sort:
            return max(of_sort, key=lambda pair: (abs(round(float(pair[0].at[1]), 2)),
                       round(float(pair[0].at[2]), 3), -float(pair[0].at[0])))  # fmt: skip
    return pairs[0] if pairs else None


def _of_whole(setting: Setting) -> Iterator[RigRow]:
    """A surface in one piece over both sides."""
    left, right = (_edge(setting, side, "leading edge") for side in ("left", "right"))
    if left is None or right is None:
        return
    yield RigRow("height difference", f"{right.name}, over the left one", (right, left))
    for point in (left, right):
        yield RigRow("height", point.name, (point,), side=point.side)
    yield from _levels(setting, ("left", "right"))
    for point in (left, right):
        yield RigRow("station", f"station: {point.name}", (point,), side=point.side)
    for point in (left, right):
        yield RigRow("offset", f"from the base line: {point.name}", (point,), side=point.side)
    yield from _diagonals(setting, ("left", "right"))


def _of_panels(setting: Setting, sides: Sequence[str]) -> Iterator[RigRow]:
    """Panels or wing halves that are set each by itself, or a fin."""
    tips = [_edge(setting, side, "leading edge") for side in sides]
    pair = reference_pair(setting)
    for tip in tips:
        if tip is not None and pair is not None and tip.side in SIDES:
            low = pair[SIDES.index(tip.side)]
            words = f"{tip.name}, over {low.name}"
            yield RigRow("height difference", words, (tip, low), side=tip.side)
    for tip in tips:
        if tip is not None:
            yield RigRow("height", tip.name, (tip,), side=tip.side)
    yield from _levels(setting, sides)
    for tip in tips:
        if tip is not None:
            yield RigRow("station", f"station: {tip.name}", (tip,), side=tip.side)
    yield from _diagonals(setting, sides)


def _of_upright(setting: Setting, sides: Sequence[str]) -> Iterator[RigRow]:
    """Winglets: by the marks under their tips."""
    for edge, sorts in (("leading edge", ("offset", "station")), ("trailing edge", ("offset",))):
        for sort in sorts:
            for side in sides:
                tip = _edge(setting, side, edge)
                if tip is not None:
                    words = "station" if sort == "station" else "from the base line"
                    chosen: Sort = "station" if sort == "station" else "offset"
                    yield RigRow(chosen, f"{words}: {tip.name}", (tip,), side=side)
    kinds = {one.kind for one in setting.freedoms}
    for side in sides:
        root = _edge(setting, side, "leading edge", root=True)
        if root is not None and "fs" in kinds:
            yield RigRow("station", f"station: {root.name}", (root,), side=side)
    for side in sides:
        tip = _edge(setting, side, "leading edge")
        if tip is not None:
            yield RigRow("height", tip.name, (tip,), side=side)
    yield from _diagonals(setting, sides)


def _of_placed(setting: Setting, sides: Sequence[str]) -> Iterator[RigRow]:
    """Any other part: where its first named point stands."""
    firsts = [_own(setting, side)[0] for side in sides]
    for sort, words in (
        ("height", ""),
        ("station", "station: "),
        ("offset", "from the base line: "),
    ):
        for point in firsts:
            chosen: Sort = READ_AS[sort]
            yield RigRow(chosen, f"{words}{point.name}", (point,), side=point.side)


def _of_pads(setting: Setting) -> Iterator[RigRow]:
    """The pads of a cradle: how high, and where."""
    groups = {pad.replace("_", " ") for pad in setting.joint.pads}
    pads = [
        p
        for p in setting.points
        if p.sort == "pad" and p.name.removeprefix(f"{p.side} ").removesuffix(" pad") in groups
    ]
    for sort, words in (
        ("height", ""),
        ("station", "station: "),
        ("offset", "from the base line: "),
    ):
        for point in pads:
            yield RigRow(READ_AS[sort], f"{words}{point.name}", (point,), side=point.side)


READ_AS: dict[str, Sort] = {"height": "height", "station": "station", "offset": "offset"}


def _levels(setting: Setting, sides: Sequence[str]) -> Iterator[RigRow]:
    """A level along the outermost chord of each side, on a straight edge from edge to edge."""
    for side in sides:
        ends = _edge(setting, side, "leading edge"), _edge(setting, side, "trailing edge")
        if ends[0] is not None and ends[1] is not None:
            where = ends[0].name.removesuffix(", leading edge")
            yield RigRow(
                "level along", f"level along the chord, {where}", (ends[0], ends[1]), side=side
            )


def _diagonals(setting: Setting, sides: Sequence[str]) -> Iterator[RigRow]:
    """Tapes to each tip: from the nose, or where that sees little, from a tip further aft.

    Where there is no such tip, from the aft base mark's point.
    """
    pair = reference_pair(setting)
    lying = pair is not None and pair[0].sort in ("tip", "outer")
    ahead, aft = setting.base
    for side in sides:
        tip = _edge(setting, side, "leading edge")
        if tip is None:
            continue
        start = ahead
        if abs(float(tip.at[0] - ahead.at[0])) < 0.3 * float(aft.at[0] - ahead.at[0]):
            start = aft
            if pair is not None and lying and side in SIDES:
                start = pair[SIDES.index(side)]
        yield RigRow("distance", f"{start.name} to {tip.name}", (start, tip), side=side)


def _blocks(setting: Setting) -> Iterator[RigRow]:
    """Levels on the incidence blocks of the design."""
    declared = setting.joint.declared
    for block in () if declared is None else declared.blocks:
        for half in setting.standing.airframe.halves:
            for name, first, _ in spans(half):
                side = name.partition(" ")[0] if name != half.group else ""
                if name.removeprefix(f"{side} ") != block.on:
                    continue
                try:
                    along = (
                        along_at(half, float(block.bl))
                        if block.bl is not None
                        else float(half.developed[first]) + float(block.along or 0.0)
                    )
                    section = section_at(half, along)
                except ValueError as error:
                    where = f'joints."{setting.joint.name}".blocks'
                    raise InputError("joint", [Problem(where, block.on, str(error))]) from None
                ends = (section.leading_edge, section.trailing_edge)
                points = tuple(
                    NamedPoint(f"block on {name}", name, at, "block", side) for at in ends
                )
                yield RigRow("level along", f"level on the block on the {name}", points,
                             added=float(block.angle), side=side)  # fmt: skip
