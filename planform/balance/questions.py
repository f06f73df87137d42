"""What a careful reader of the balance would ask back, and what had to be taken as something."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np

from planform.airframe.weight.items import Item
from planform.airframe.weight.record import ESTIMATE, EmptyRecord
from planform.airframe.weight.tilting import ScaleLine, TwoAttitudes
from planform.airframe.weight.weighing import Weighed, estimate
from planform.balance.answer import BalanceAnswer
from planform.balance.exits import not_looked_at
from planform.core.mass.support import reactions
from planform.design import balance as paper
from planform.design.gear import Wheel
from planform.design.models import Design
from planform.design.standing import support_of
from planform.design.units import show
from planform.design.weights import FLUIDS, Weight

MASS_APART = 0.02
"""Share of the weight by which scales and mass items may differ unasked. Assumption."""
CG_APART = 0.025
"""Metres by which their CGs may differ unasked. Assumption."""
PAIR_APART = 0.10
"""Share of their mean by which a left and a right scale may differ unasked. Assumption."""
SCALE_APART = 0.05
"""Share of the weight by which one scale may differ from the mass items unasked. Assumption."""
ARM_APART = 0.025
"""Metres by which a measured arm may differ from the design's wheel unasked. Assumption."""
ROCKS = 0.05
"""Share of the mean of more than three scales under which one asks whether it rocks. Assumption."""
WEIGHT_AGAIN = 0.005
"""Share of the weight by which two attitudes may differ unasked. Assumption."""
HEIGHT_APART = 0.15
"""Metres by which the CG height may differ from the mass items' unasked. Assumption."""
SAME_ITEM_APART = 0.25
"""Metres by which two lines of one name may differ unasked. Assumption."""


def _m(design: Design, metres: float) -> str:
    return show(metres, "length", "mm" if design.units in ("mm", "m") else "in")


def _kg(design: Design, mass: float) -> str:
    return show(mass, "mass", design.units)


def balance_questions(answer: BalanceAnswer) -> tuple[str, ...]:
    """Questions about the weighing, the items and the limits, each naming its field."""
    design = answer.design
    out: list[str] = []
    record = answer.record
    if record is not None and record.weighed is not None:
        out += _weighing_questions(design, record, record.weighed)
    if record is not None and record.source != ESTIMATE and record.estimated is not None:
        out += _apart(design, record, record.estimated)
    if record is not None and record.base.wl is None and design.stages:
        out.append(
            "height of the empty CG: neither recorded nor told by mass items, so nothing is told "
            "of how it stands and tips; give its waterline."
        )
    out += _two_datums(design)
    if design.balance is not None and design.balance.limits is not None and record is not None:
        out += _limit_questions(answer, record)
    return tuple(out)


def _weighing_questions(design: Design, record: EmptyRecord, weighed: Weighed) -> Iterator[str]:
    arms = [scale.arm for scale in design.balance.weighing.scales]  # type: ignore[union-attr]
    for line, arm in zip(weighed.scales, arms, strict=True):
        if not line.tare_given:
            yield (
                f"tare of the {line.at} scale: none given; was the reading taken with chocks, "
                "blocks or stands on the scale? It was taken as zero; write '0 lb' if it is."
            )
        if arm is not None:
            yield from _arm_question(design, line)
        yield from _pair_question(design, line, weighed)
    if record.estimated is not None:
        yield from _share_questions(design, weighed, record.estimated)
    if len(weighed.scales) > 3:
        yield from _rocking_question(design, weighed)
    if weighed.tilted is not None:
        yield from _tilt_questions(design, weighed, weighed.tilted)


def _arm_question(design: Design, line: ScaleLine) -> Iterator[str]:
    """A scale's arm that is not the station of its wheel."""
    _, wheel = support_of(design, line.at) or ("", None)
    if isinstance(wheel, Wheel):
        apart = abs(line.fs - float(wheel.fs))
        if apart > ARM_APART:
            yield (
                f"arm of the {line.at} scale: {_m(design, apart)} from the station of "
                f"wheel {line.at!r} ({wheel.fs.text}); is it measured from another datum?"
            )


def _pair_question(design: Design, line: ScaleLine, weighed: Weighed) -> Iterator[str]:
    """A left scale that carries much more or less than the right one."""
    side, _, rest = line.at.partition(" ")
    other = next((s for s in weighed.scales if s.at == f"right {rest}"), None)
    if side != "left" or other is None:
        return
    mean = 0.5 * (line.net + other.net)
    light, heavy = sorted((line, other), key=lambda s: s.net)
    if mean > 0.0 and heavy.net - light.net > PAIR_APART * mean:
        yield (
            f"readings of the {rest} scales: {heavy.at} carries {_kg(design, heavy.net)}, "
            f"{light.at} {_kg(design, light.net)}; is a scale off, or something aboard to a side?"
        )


def _rocking_question(design: Design, weighed: Weighed) -> Iterator[str]:
    """More than three scales of which one carries next to nothing."""
    mean = weighed.as_weighed.mass / len(weighed.scales)
    for line in weighed.scales:
        if line.net < ROCKS * mean:
            yield (
                f"reading of the {line.at} scale: it carries {_kg(design, line.net)} of "
                f"{_kg(design, weighed.as_weighed.mass)}; does the aircraft rock on the others? "
                "Shim it until all carry and read them again; sum and CG should stay as they are."
            )


def _tilt_questions(design: Design, weighed: Weighed, tilted: TwoAttitudes) -> Iterator[str]:
    """Two attitudes that weigh differently, or that tell a height far from the mass items'."""
    whole, again = weighed.as_weighed.mass, tilted.second.mass
    if abs(again - whole) > WEIGHT_AGAIN * whole:
        yield (
            f"weight at the second attitude: {_kg(design, again)}, at the first "
            f"{_kg(design, whole)}; it is the same aircraft. Is a scale off, do brakes or wheels "
            "push sideways, or was something moved or drained between?"
        )
    estimated = _height_by_items(design)
    if tilted.cg_wl is not None and estimated is not None:
        apart = abs(tilted.cg_wl - estimated)
        if apart > HEIGHT_APART:
            yield (
                f"height of the CG: from two attitudes WL {_m(design, tilted.cg_wl)}, by the mass "
                f"items WL {_m(design, estimated)}; are level, arms and waterlines right?"
            )


def _height_by_items(design: Design) -> float | None:
    """The height of the CG by the mass items [m]."""
    return estimate(design).wl if design.masses else None


def _share_questions(design: Design, weighed: Weighed, estimated: Item) -> Iterator[str]:
    """Scales that read otherwise than the mass items would have them."""
    plan = np.array([[s.fs, s.bl or 0.0] for s in weighed.scales])
    if len(plan) < 3 or np.linalg.matrix_rank(np.column_stack([np.ones(len(plan)), plan])) < 3:
        return
    whole = weighed.as_weighed.mass
    expected = reactions(plan, whole, np.array([estimated.fs, estimated.bl]))
    beside = weighed.crosswise  # of more than three, what a shim moves is nobody's error
    for line, load, part in zip(weighed.scales, expected, beside, strict=True):
        if abs(line.net - part - load) > SCALE_APART * whole:
            yield (
                f"reading of the {line.at} scale: {line.at} shows {_kg(design, line.net)} "
                f"net, the mass items would put {_kg(design, float(load))} there; "
                "read that scale again."
            )


def _apart(design: Design, record: EmptyRecord, estimated: Item) -> Iterator[str]:
    """A record and the mass items that differ by more than their uncertainty.

    A tolerance that is given counts; where none is, the share and the distance assumed above.
    """
    said = "the scales say" if record.weighed is not None else "the record says"
    base = record.base
    mass_apart, cg_apart = abs(base.mass - estimated.mass), abs(base.fs - estimated.fs)
    mass, moment = _uncertain(design, estimated)
    own_mass, own_fs = _record_uncertain(design, base)
    allowed_fs = moment / estimated.mass + own_fs
    if mass_apart > mass + own_mass or cg_apart > allowed_fs:
        yield (
            f"empty weight: {said} {_kg(design, base.mass)} at FS {_m(design, base.fs)}, the "
            f"mass items {_kg(design, estimated.mass)} at FS {_m(design, estimated.fs)}; that is "
            "more than their uncertainty; is an item missing, or a scale or an arm off? The "
            "record is used."
        )


def _uncertain(design: Design, estimated: Item) -> tuple[float, float]:
    """How far off the mass items' sum [kg] and its moment about their CG [kg m] may be at worst."""
    mass = moment = 0.0
    for item in design.masses:
        own = item.mass.whole_tolerance or MASS_APART * float(item.mass)
        arm = item.fs.whole_tolerance or CG_APART
        mass += own
        off = abs(float(item.fs) - estimated.fs)
        moment += item.mass.whole_tolerance * off + float(item.mass) * arm
    return mass, moment


def _record_uncertain(design: Design, base: Item) -> tuple[float, float]:
    """How far off a weighing's or record's weight [kg] and CG [m] may be by its tolerances."""
    balance = design.balance
    if balance is None:
        return 0.0, 0.0
    if balance.weighing is None:
        record = balance.empty
        if record is None:
            return 0.0, 0.0
        fs = record.fs.whole_tolerance if record.fs is not None else 0.0
        return record.mass.whole_tolerance, fs
    mass = moment = 0.0
    for scale in balance.weighing.scales:
        mass += scale.reading.whole_tolerance
        arm = scale.arm.whole_tolerance if scale.arm is not None else 0.0
        moment += arm * float(scale.reading)
        if scale.arm is not None:
            moment += scale.reading.whole_tolerance * abs(float(scale.arm) - base.fs)
    return mass, moment / base.mass


def _two_datums(design: Design) -> Iterator[str]:
    """One item at two stations: the sign of arms measured from two datums."""
    lines: list[tuple[str, str, float]] = [
        ("the mass items", m.name, float(m.fs)) for m in design.masses
    ]
    balance = design.balance
    groups: list[tuple[str, tuple[Weight, ...]]] = []
    if balance is not None and balance.weighing is not None:
        groups += [
            ("what was deducted at the weighing", balance.weighing.deduct),
            ("what was added at the weighing", balance.weighing.add),
        ]
    for change in balance.changes if balance is not None else ():
        groups.append((f"what came off in change “{change.name}”", change.off))
    for path, items in groups:
        lines += [(path, i.name, float(i.fs)) for i in items]
    for (one, name, fs), (two, other, there) in combinations(lines, 2):
        if name.lower() == other.lower() and abs(fs - there) > SAME_ITEM_APART:
            yield (
                f"station of “{other}” in {two}: {_m(design, abs(fs - there))} from where {one} "
                "put it; is one arm measured from another datum?"
            )


def _limit_questions(answer: BalanceAnswer, record: EmptyRecord) -> Iterator[str]:
    design, loader = answer.design, answer.loader
    assert loader is not None
    if loader.envelope.sideways and not record.has_bl:
        yield (
            "butt line of the empty CG: not recorded, but there are limits to the left and right; "
            "it was taken as on the centre line. Give bl of the record, or of every scale."
        )
    dry = loader.envelope.max_zero_fuel_mass
    if dry is not None and dry <= record.now.mass:
        yield (
            f"greatest zero-fuel mass: {_kg(design, dry)}, but empty it weighs "
            f"{_kg(design, record.now.mass)}; is one of the two wrong?"
        )
    most = loader.envelope.max_mass
    if most is not None and most <= record.now.mass:
        yield (
            f"greatest mass allowed: {_kg(design, most)}, but empty it weighs "
            f"{_kg(design, record.now.mass)}; is one of the two wrong?"
        )
    aft, point = loader.envelope.aft, answer.neutral_point
    if aft is not None and point is not None and float(aft.station.max()) >= point:
        yield (
            f"aft limit: FS {_m(design, float(aft.station.max()))} is behind the neutral "
            f"point given (FS {_m(design, point)}); there the aircraft would be unstable. "
            "Which of the two is wrong?"
        )


def balance_assumptions(answer: BalanceAnswer) -> tuple[str, ...]:
    """What was not given and had to be taken as something."""
    balance = answer.design.balance
    out = [*_of_the_record(answer)]
    if balance is not None:
        out += _of_the_cases(answer, balance)
    light = sorted({name for stage in answer.standings for name in stage.weightless})
    if light:
        out.append(
            f"no mass item names {', '.join(light)}: weightless, unless another item counts them in"
        )
    if any(stage.shared for stage in answer.standings):
        out.append(
            "more than three supports: their loads as on springs of one stiffness; real shares "
            "depend on what gives"
        )
    return tuple(out)


def _of_the_record(answer: BalanceAnswer) -> Iterator[str]:
    """What was taken of the empty aircraft."""
    record, balance = answer.record, answer.design.balance
    if record is None:
        return
    if record.source == ESTIMATE:
        yield "empty weight: the sum of the mass items; nobody has weighed this aircraft yet"
    weighing = balance.weighing if balance is not None else None
    tilted = record.weighed.tilted if record.weighed is not None else None
    no_height = weighing is not None and weighing.cg_wl is None
    no_height = no_height and not (tilted is not None and tilted.told)
    if no_height and record.weighed is not None and record.weighed.cg_wl:
        yield "height of the CG for the level correction: from the mass items"
    if not answer.standings or record.source == ESTIMATE:
        return
    if not record.has_bl:
        yield "butt line of the empty CG: not recorded, taken as on the centre line"
    paper_record = balance.empty if balance is not None else None
    if no_height or (paper_record is not None and paper_record.wl is None):
        yield "height of the empty CG, where it stands and tips: from the mass items"


def _of_the_cases(answer: BalanceAnswer, balance: paper.Balance) -> Iterator[str]:
    """What was taken of places, fluids and loading cases."""
    if answer.loader is not None and answer.standings:
        for case, why in not_looked_at(answer.loader, balance.cases).items():
            yield f"stepping out of case “{case}”: not looked at, as {why}"
    fluids: set[str] = {p.fluid for p in balance.places.values() if p.fluid}
    if balance.weighing is not None:
        items = (*balance.weighing.deduct, *balance.weighing.add)
        fluids |= {item.fluid for item in items if item.fluid}
    for fluid in sorted(fluids):
        yield (
            f"{fluid}: {FLUIDS[fluid]}, the standard weight (FAA-H-8083-30); real fluid differs by "
            "about 2 %, so measure its density for a weighing"
        )
    shared = {name for joint in balance.joint_limits.values() for name in joint.places}
    bare = [n for n, place in balance.places.items() if place.limit is None and n not in shared]
    if bare:
        yield f"adverse loading: {', '.join(bare)} kept at the least, as no limit is given"
