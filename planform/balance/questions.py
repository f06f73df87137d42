"""What a careful reader of the balance would ask back, and what had to be taken as something."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np

from planform.balance.answer import BalanceAnswer
from planform.balance.record import ESTIMATE, EmptyRecord
from planform.balance.weighing import Weighed
from planform.core.support import reactions
from planform.design import balance as paper
from planform.design.balance import FLUIDS
from planform.design.models import Design
from planform.design.units import show

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
    out += _two_datums(design)
    if design.balance is not None and design.balance.limits is not None and record is not None:
        out += _limit_questions(answer, record)
    return tuple(out)


def _weighing_questions(design: Design, record: EmptyRecord, weighed: Weighed) -> Iterator[str]:
    where = "balance.weighing"
    paper_scales = design.balance.weighing.scales  # type: ignore[union-attr]
    for k, line in enumerate(weighed.scales):
        here = f"{where}.scales[{k + 1}]"
        if not line.tare_given:
            yield (
                f"{here}.tare: none given for {line.at!r}; was the reading taken with chocks, "
                "blocks or stands on the scale? It was taken as zero; write '0 lb' if it is."
            )
        side, _, rest = line.at.partition(" ")
        wheel = design.wheels.get(line.at) or design.wheels.get(rest)
        if wheel is not None and paper_scales[k].arm is not None:
            apart = line.fs - float(wheel.fs)
            if abs(apart) > ARM_APART:
                yield (
                    f"{here}.arm: {_m(design, abs(apart))} from the station of wheel {line.at!r} "
                    f"({wheel.fs.text}); is it measured from another datum?"
                )
        if side == "left":
            other = next((s for s in weighed.scales if s.at == f"right {rest}"), None)
            if other is not None:
                mean = 0.5 * (line.net + other.net)
                if mean > 0.0 and abs(line.net - other.net) > PAIR_APART * mean:
                    yield (
                        f"{here}.reading: {line.at} carries {_kg(design, line.net)}, {other.at} "
                        f"{_kg(design, other.net)}; is a scale off, or something aboard to a side?"
                    )
    estimated = record.estimated
    if estimated is None:
        return
    mass_apart = weighed.empty.mass - estimated.mass
    cg_apart = weighed.empty.fs - estimated.fs
    if abs(mass_apart) > MASS_APART * estimated.mass or abs(cg_apart) > CG_APART:
        yield (
            f"{where}: the scales say {_kg(design, weighed.empty.mass)} at FS "
            f"{_m(design, weighed.empty.fs)}, the mass items {_kg(design, estimated.mass)} at FS "
            f"{_m(design, estimated.fs)}; is an item missing, or a scale or an arm off?"
        )
    plan = np.array([[s.fs, s.bl or 0.0] for s in weighed.scales])
    if len(plan) >= 3 and np.linalg.matrix_rank(np.column_stack([np.ones(len(plan)), plan])) == 3:
        whole = weighed.as_weighed.mass
        expected = reactions(plan, whole, np.array([estimated.fs, estimated.bl]))
        for k, (line, load) in enumerate(zip(weighed.scales, expected, strict=True)):
            if abs(line.net - load) > SCALE_APART * whole:
                yield (
                    f"{where}.scales[{k + 1}].reading: {line.at} shows {_kg(design, line.net)} "
                    f"net, the mass items would put {_kg(design, float(load))} there; "
                    "read that scale again."
                )


def _two_datums(design: Design) -> Iterator[str]:
    """One item at two stations: the sign of arms measured from two datums."""
    lines: list[tuple[str, str, float]] = [
        (f"masses[{k + 1}]", m.name, float(m.fs)) for k, m in enumerate(design.masses)
    ]
    balance = design.balance
    groups: list[tuple[str, tuple[paper.Item, ...]]] = []
    if balance is not None and balance.weighing is not None:
        groups += [
            ("balance.weighing.deduct", balance.weighing.deduct),
            ("balance.weighing.add", balance.weighing.add),
        ]
    for k, change in enumerate(balance.changes if balance is not None else ()):
        groups.append((f"balance.changes[{k + 1}].off", change.off))
    for path, items in groups:
        lines += [(f"{path}[{k + 1}]", i.name, float(i.fs)) for k, i in enumerate(items)]
    for (one, name, fs), (two, other, there) in combinations(lines, 2):
        if name.lower() == other.lower() and abs(fs - there) > SAME_ITEM_APART:
            yield (
                f"{two}.fs: {name!r} stands {_m(design, abs(fs - there))} from where {one} has "
                "it; is one arm measured from another datum?"
            )


def _limit_questions(answer: BalanceAnswer, record: EmptyRecord) -> Iterator[str]:
    design, loader = answer.design, answer.loader
    assert loader is not None
    most = loader.envelope.max_mass
    if most is not None and most <= record.now.mass:
        yield (
            f"balance.limits.max_mass: {_kg(design, most)}, but empty it weighs "
            f"{_kg(design, record.now.mass)}; is one of the two wrong?"
        )
    aft, point = loader.envelope.aft, answer.neutral_point
    if aft is not None and point is not None and float(aft.station.max()) >= point:
        yield (
            f"balance.limits.aft: FS {_m(design, float(aft.station.max()))} is behind the neutral "
            f"point given (FS {_m(design, point)}); there the aircraft would be unstable. "
            "Which of the two is wrong?"
        )


def balance_assumptions(answer: BalanceAnswer) -> tuple[str, ...]:
    """What was not given and had to be taken as something."""
    record, balance = answer.record, answer.design.balance
    weighing = balance.weighing if balance is not None else None
    out = []
    if record is not None and record.source == ESTIMATE:
        out.append("empty weight: the sum of the mass items; nobody has weighed this aircraft yet")
    weighed = record.weighed if record is not None else None
    if weighed is not None and weighing is not None and weighing.cg_wl is None and weighed.cg_wl:
        out.append("height of the CG for the level correction: from the mass items")
    fluids: set[str] = {p.fluid for p in balance.places.values() if p.fluid} if balance else set()
    if weighing is not None:
        fluids |= {item.fluid for item in (*weighing.deduct, *weighing.add) if item.fluid}
    for fluid in sorted(fluids):
        out.append(
            f"{fluid}: {FLUIDS[fluid]}, the standard weight (FAA-H-8083-30); real fluid differs by "
            "about 2 %, so measure its density for a weighing"
        )
    bare = [n for n, p in balance.places.items() if p.limit is None] if balance else []
    if bare:
        out.append(f"adverse loading: {', '.join(bare)} left at the least, as no limit is given")
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
