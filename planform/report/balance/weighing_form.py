"""The weighing record as data: what is printed, and the blanks that a hand fills in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from planform.airframe.weight.weighing import Weighed
from planform.design.standing import contacts_of
from planform.design.told import said
from planform.design.units import show_unit
from planform.report.balance.tables import tables
from planform.report.table import Quantity, Table
from planform.study.spreads_of_balance import BalanceFindings

BLANK_LINES = 5
"""Empty lines for what is aboard or missing."""
SHEETS = ("weighing", "weighing-tilted", "weighing-day", "empty")
"""The tables of a weighing that was made."""
BY = "weighed by", "checked by"
SIGNED = "signature of the person entitled to sign", "licence or authority, date"
ABOARD = "Aboard and not part of the empty weight (−); part of it and not aboard (+)"
NOT_YET = "Not a record until it is signed by the person entitled to sign it."

Field = tuple[str, str]
"""A printed label, and what stands behind it; nothing where it is to be filled in."""


@dataclass(frozen=True)
class WeighingForm:
    """A weighing record.

    title : of the form ; fields : two on a line
    sheets : what was weighed, worked out; none where it is to be filled in
    points : weighed at, with their stations as drawn
    weight, arm, moment : units to write in
    """

    title: str
    fields: tuple[tuple[Field, Field], ...]
    sheets: tuple[Table, ...] = ()
    points: tuple[tuple[str, Quantity], ...] = ()
    weight: str = "kg"
    arm: str = "mm"
    moment: str = "kg m"

    @property
    def scales(self) -> tuple[str, ...]:
        """The heads of the blanks for the scales."""
        return ("point", *(f"{what}, {self.weight}" for what in ("reading", "tare", "net")))

    @property
    def arms(self) -> tuple[str, ...]:
        """The heads of the blanks for arms and moments."""
        return "point", "arm as drawn", f"arm measured, {self.arm}", f"moment, {self.moment}"

    @property
    def items(self) -> tuple[str, ...]:
        """The heads of the blanks for what is aboard or missing."""
        return "item", f"weight, {self.weight}", f"arm, {self.arm}", f"moment, {self.moment}"


def forms(found: BalanceFindings, system: str) -> tuple[WeighingForm, ...]:
    """The record of the weighing that was made, if any, and a blank one for the next."""
    record = found.answer.record
    weighed = record.weighed if record is not None else None
    inches = system in ("ft-in", "in")
    blank = WeighingForm(
        "weighing record" if weighed is None else "next weighing",
        _fields({}),
        points=tuple(_points(found, weighed)),
        weight=_read_in(weighed, "lb" if inches else "kg"),
        arm="in" if inches else "mm",
        moment=show_unit("moment", system),
    )
    if weighed is None:
        return (blank,)
    sheets = tuple(table for table in tables(found) if table.key in SHEETS)
    return WeighingForm("weighing record", _fields(_filled(found, weighed, system)), sheets), blank


def _fields(told: dict[str, str]) -> tuple[tuple[Field, Field], ...]:
    labels = (
        ("registration or number", "date"),
        ("place, doors shut", "temperature"),
        ("scales: make, numbers", "scales checked on"),
        ("level set at", "level reading, nose up +"),
        ("height of the CG taken", "lean reading, right wing down +"),
        ("fuel aboard, density", "oil aboard"),
        ("equipment list of", "chocks, stands on the scales"),
    )
    return tuple(
        ((left, told.get(left, "")), (right, told.get(right, ""))) for left, right in labels
    )


def _filled(found: BalanceFindings, weighed: Weighed, system: str) -> dict[str, str]:
    """What the file tells of the weighing, by the labels."""
    balance = found.answer.design.balance
    paper = balance.weighing if balance is not None else None
    out = {
        "height of the CG taken": ""
        if weighed.cg_wl is None
        else said(weighed.cg_wl, "water", system),
        "fuel aboard, density": "; ".join(
            f"{line.name}: {line.note}" for line in weighed.corrections if line.note
        ),
    }
    if paper is None:
        return out
    return out | {
        "date": paper.date,
        "place, doors shut": paper.place,
        "scales: make, numbers": paper.instruments,
        "level reading, nose up +": paper.level.text,
        "lean reading, right wing down +": paper.lean.text,
    }


def _read_in(weighed: Weighed | None, usual: str) -> str:
    """The unit that the scales were read in, where they all were in one; else the usual one."""
    texts = [scale.reading_text for scale in weighed.scales] if weighed is not None else []
    units = {unit for text in texts for unit in re.findall(r"[\d\s](lb|kg)\b", text)}
    return units.pop() if len(units) == 1 else usual


def _points(found: BalanceFindings, weighed: Weighed | None) -> Iterator[tuple[str, Quantity]]:
    """The points weighed at last, or those of the first stance on wheels."""
    if weighed is not None:
        yield from ((scale.at, Quantity(scale.fs, "station")) for scale in weighed.scales)
        return
    design = found.answer.design
    for stance in design.stances.values():
        contacts = contacts_of(design, stance)
        if any(c.radius > 0.0 for c in contacts):
            yield from ((c.name, Quantity(c.point[0], "station")) for c in contacts)
            return
