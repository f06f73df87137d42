"""The empty weight that loadings start from, and the changes of equipment since."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planform.airframe.weight.items import Item, of_file, summed
from planform.airframe.weight.weighing import Weighed, estimate, weigh
from planform.design.models import Design
from planform.design.units import POUND

WEIGHED, RECORD, ESTIMATE = "weighed", "from a record", "estimated from mass items"


@dataclass(frozen=True)
class ChangeSheet:
    """One change of equipment: before, what came off and went on, after."""

    name: str
    before: Item
    lines: tuple[Item, ...]
    after: Item
    negligible: bool | None


@dataclass(frozen=True)
class EmptyRecord:
    """Where the empty weight comes from, how it changed, and what it is now.

    has_bl : whether its butt line is known
    """

    source: str
    base: Item
    changes: tuple[ChangeSheet, ...]
    now: Item
    weighed: Weighed | None
    estimated: Item | None
    has_bl: bool


def empty_record(design: Design, mac: float | None) -> EmptyRecord | None:
    """The empty weight: weighed where there is a weighing, else a record, else the mass items.

    mac : the chord that a change of the CG is told as a share of [m]; None where there is none
    """
    balance = design.balance
    weighed = weigh(design)
    estimated = estimate(design) if design.masses else None
    record = balance.empty if balance is not None else None
    if weighed is not None:
        source, base, has_bl = WEIGHED, weighed.empty, weighed.has_bl
    elif record is not None:
        mass = float(record.mass)
        fs = float(record.moment) / mass if record.fs is None else float(record.fs)  # type: ignore[arg-type]
        wl = None if record.wl is None else float(record.wl)
        base = Item("empty, from a record", mass, fs, float(record.bl or 0.0), wl)
        source, has_bl = RECORD, record.bl is not None
    elif estimated is not None:
        source, base, has_bl = ESTIMATE, estimated, True
    else:
        return None
    if base.wl is None and estimated is not None:
        base = replace(base, wl=estimated.wl)
    sheets = []
    now = base
    for change in balance.changes if balance is not None else ():
        lines = (
            *(of_file(item).less() for item in change.off),
            *(of_file(item) for item in change.on),
        )
        after = summed(f"empty, after {change.name}", [now, *lines])
        if after.wl is None:
            after = replace(after, wl=now.wl)
        moved = None
        if mac is not None:
            percent = (after.fs - now.fs) / mac
            moved = negligible(now.mass, after.mass - now.mass, percent)
        sheets.append(ChangeSheet(change.name, now, lines, after, moved))
        now = after
    return EmptyRecord(source, base, tuple(sheets), now, weighed, estimated, has_bl)


def negligible(empty: float, change: float, percent_change: float) -> bool:
    """Whether a change of equipment may be left out of the record.

    empty, change : [kg]
    percent_change : change of the centre as a share of MAC
    FAA AC 43.13-1B, paragraph 10-2c: at most 1 lb below 5,000 lb empty, 2 lb to 50,000 lb,
    5 lb above; and a CG change below 0.05 % MAC (fixed wing).
    """
    pounds = empty / POUND
    allowed = 1.0 if pounds < 5000.0 else 2.0 if pounds <= 50000.0 else 5.0
    return abs(change) <= allowed * POUND * (1.0 + 1e-12) and abs(percent_change) < 0.0005
