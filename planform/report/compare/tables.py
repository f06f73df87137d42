"""Options side by side as tables of data."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from planform.design.notation import NotationError, read
from planform.design.told import stage_title
from planform.fit.answer import LEAST_PARKED
from planform.fit.verdict import UNJUDGED
from planform.report.compare.words import in_trim
from planform.report.table import Cell, Quantity, Table, Words, literal
from planform.study.compare import FIELDS, non_dominated
from planform.study.options import Option
from planform.study.terms import Figures, Terms


def _cell(record: Figures, key: str, error: str | None = None) -> Cell:
    if record[key] is None:
        return None
    worst = float(record[error] or 0.0) if error is not None else 0.0
    return Quantity(float(record[key]), FIELDS[key][1], worst)


def _moved(base: Figures, record: Figures, key: str, over: float = 0.0) -> Cell:
    """How much a figure moves from one record to another, beside the error of that difference.

    over : the degrees between them; 0 for the whole move
    Induced drag and bending as a share of the first record's. The error is the difference by the
    refined lattice less that by the coarser one, not a sum of two errors: most of what refinement
    changes is the same in both.
    """
    if record[key] is None or base[key] is None:
        return None
    if key == "out_gap" and record["comes_out"] != base["comes_out"]:
        return None  # gaps of two different ways tell nothing of the option
    per = over or 1.0
    share = key in ("drag_area", "bending")
    kind = FIELDS[key][1]
    if share:
        kind = "percent_fine" if over else "percent"
    elif over or kind in ("length", "station", "gap"):
        kind = "fine" if kind in ("length", "station", "gap") else kind

    def step(name: str) -> float:
        first, second = float(base[name]), float(record[name])
        return (second / first - 1.0 if share else second - first) / per

    moved = step(key)
    coarse = f"{key}_coarse"
    if coarse not in FIELDS:
        return Quantity(moved, kind)
    error = abs(moved - step(coarse))
    if 0.0 < abs(moved) < error:
        return Words(
            "{0}, below its own error of {1}", (Quantity(moved, kind), Quantity(error, kind))
        )
    return Quantity(moved, kind, error)


def _label(record: Figures) -> str:
    return f"{record['number']}  {record['name']}"


def tables(
    records: Sequence[Figures],
    options: Sequence[Option],
    terms: Terms,
    most: int | None = None,
) -> tuple[Table, ...]:
    """What fits, what flies, what each differs from the base by, and the price of a degree.

    most : rows of a table at the most; what is not beaten is so among all options
    """
    good = non_dominated(list(records))
    step = _per_degree(records, options)
    records = records[:most]
    out = [_standing(records, terms)]
    if any(r["verdict"] or r["problem"] for r in records):
        out.append(_fitting(records))
    flown = any(r["neutral_point"] is not None for r in records)
    if flown:
        out.append(_flying(records, terms))
    if any(r["nose_up_angle"] is not None for r in records):
        out += [_in_trim(records), _drag(records, good if len(records) > 1 else set())]
    if any(r["mass_change"] is not None for r in records):
        out.append(_skin(records))
    if len(records) > 1:
        out.append(_against_base(records))
    if step is not None:
        out.append(replace(step, rows=step.rows[:most]))
    kept = (_filled(sheet, flown) for sheet in out)
    return tuple(sheet for sheet in kept if sheet is not None)


def _filled(sheet: Table, flown: bool) -> Table | None:
    """A table without columns that tell nothing of any option; None where no other is there.

    flown : whether there are figures of the lattice, whose error is then told
    """
    told = [k for k in range(len(sheet.columns)) if any(row[k] for row in sheet.rows)]
    if len(told) < 2:
        return None
    rows = tuple(tuple(row[k] for k in told) for row in sheet.rows)
    remarks = tuple(text for text in sheet.remarks if flown or text != ERROR)
    return replace(sheet, columns=tuple(sheet.columns[k] for k in told), rows=rows, remarks=remarks)


def _standing(records: Sequence[Figures], terms: Terms) -> Table:
    keys = ("tip_height", "width", "footprint")
    rows = [(_label(r), *(_cell(r, key) for key in keys)) for r in records]
    heads = ("option", "tip height", "width", "footprint")
    title = f"Standing: {stage_title(terms.stage, terms.stance)}"
    return Table("standing", title, heads, tuple(rows))


def _fitting(records: Sequence[Figures]) -> Table:
    """The verdicts, the least gap where it stands, how it comes out and the least gap there."""
    rows = [
        (
            _label(r),
            r["problem"] or r["verdict"] or UNJUDGED,
            _cell(r, "parked_gap"),
            r["parked_at"] or "",
            r["comes_out"] or "",
            _cell(r, "out_gap"),
            r["out_at"] or "",
        )
        for r in records
    ]
    heads = ("option", "verdict", PARKED, "where", "comes out", OUT, "where on the way")
    return Table("fitting", "In the room, and out of it", heads, tuple(rows), (GAPS,))


PARKED, OUT = LEAST_PARKED, "least gap on the way out"
GAPS = (
    "The gap on the way out is the least on the way found from the spot, and over and under the "
    "push through its door; where there is no way, of the straight push through the best door. The "
    "inputs' tolerances count in the verdict, as in planform fit."
)


BENDING = (
    "Root bending: the moment of the lift and side force of one half of the wing, and of what "
    "stands on it, about the fore-and-aft line through the leading edge of the wing's root, over "
    "the whole lift."
)


def _flying(records: Sequence[Figures], terms: Terms) -> Table:
    """Neutral point and static margin, and lift and moment at no angle of attack."""
    keys = ("static_margin", "lift_at_zero", "moment_at_zero")
    rows = [
        (
            _label(r),
            _cell(r, "wing_area"),
            _cell(r, "neutral_point", "neutral_point_error"),
            _cell(r, "mac"),
            *(_cell(r, key) for key in keys),
        )
        for r in records
        if r["neutral_point"] is not None
    ]
    heads = (
        "option",
        "wing area",
        "neutral point",
        "wing's mean chord",
        "static margin",
        "lift coefficient at no angle",
        "moment coefficient",
    )
    remarks = (
        f"With the surfaces that are on at the stage {terms.stage}, the same for every option.",
        "Static margin: from the CG back to the neutral point, in % of the mean aerodynamic chord "
        "of the option's own wing, true planform.",
        "Lift coefficient at no angle of attack, surfaces as designed; moment coefficient about "
        "the neutral point, nose up, the same at every angle; both by the option's own wing.",
        *(f"{_label(r)}: {r['lattice']}." for r in records if r["lattice"] is not None),
    )
    return Table("flying", "In the air", heads, tuple(rows), remarks)


def _in_trim(records: Sequence[Figures]) -> Table:
    """Angles, what each surface carries, and the section that lifts most."""
    flown = [r for r in records if r["nose_up_angle"] is not None]
    trimmers = {r["trimmer"] for r in flown}
    several = len(trimmers) > 1
    one = "" if several else f"{trimmers.pop() or ''} "
    rows = tuple(
        (
            _label(r),
            _cell(r, "nose_up_angle"),
            *([r["trimmer"] or "none"] if several else ()),
            _cell(r, "turned_by"),
            _cell(r, "set_to"),
            _shares(r),
            _cell(r, "section_lift"),
            _where(r),
        )
        for r in flown
    )
    heads = (
        "option",
        "nose-up angle",
        *(["trimming surface"] if several else ()),
        f"{one}turned by".strip(),
        f"{one}set to".strip(),
        "shares of the lift",
        "largest section lift coefficient",
        "where",
    )
    told = (
        "Nose-up angle: the angle of attack, of the reference line to the stream. Turned by: from "
        "what the file gives; set to: the angle of its root to the reference line, nose up.",
    )
    title = f"Angles and loads at the same lift{in_trim(flown)}"
    return Table("trim", title, heads, rows, told)


def _drag(records: Sequence[Figures], good: set[int]) -> Table:
    """Induced drag and root bending."""
    keys = ("drag_least", "drag_coefficient")
    rows = [
        (
            _label(r) + (" *" if r["number"] in good else ""),
            _cell(r, "drag_area", "drag_area_error"),
            *(_cell(r, key) for key in keys),
            _cell(r, "bending", "bending_error"),
        )
        for r in records
        if r["drag_area"] is not None
    ]
    heads = (
        "option",
        "induced drag over dynamic pressure",
        "least with any twist",
        "induced-drag coefficient",
        "root bending over lift",
    )
    remarks = [
        "± is the change from a lattice of half as many strips and rows, also for the neutral "
        "point. Induced-drag coefficient: on the base design's wing area.",
        BENDING,
    ]
    if good:
        remarks.append(
            "* no other option is lower in one of induced drag, root bending and tip height "
            "without being higher in another."
        )
    flown = [r for r in records if r["drag_area"] is not None]
    title = f"Drag and bending at the same lift{in_trim(flown)}"
    return Table("drag", title, heads, tuple(rows), tuple(remarks))


def _shares(record: Figures) -> Cell:
    if record["shares"] is None:
        return None
    shares = json.loads(record["shares"])
    text = ", ".join(f"{literal(name)} {{{k}}}" for k, name in enumerate(shares))
    return Words(text, tuple(Quantity(share, "percent") for share in shares.values()))


def _where(record: Figures) -> Cell:
    if record["section_lift_bl"] is None:
        return None
    text = f"{literal(record['section_lift_on'])} at {{0}}"
    return Words(text, (Quantity(record["section_lift_bl"], "butt"),))


def _skin(records: Sequence[Figures]) -> Table:
    rows = [
        (_label(r), _cell(r, "winglet_area"), _cell(r, "wetted_area"), _cell(r, "mass_change"))
        for r in records
        if r["problem"] is None
    ]
    heads = ("option", "winglet area", "wetted area", "change of weight")
    return Table("skin", "Skin", heads, tuple(rows))


def _against_base(records: Sequence[Figures]) -> Table:
    keys = ("tip_height", "width", "parked_gap", "out_gap", "neutral_point", "drag_area", "bending")
    rows = [
        (_label(r), *(_moved(records[0], r, key) for key in keys))
        for r in records[1:]
        if r["problem"] is None
    ]
    heads = (
        "option",
        "tip height",
        "width",
        PARKED,
        OUT,
        "neutral point",
        "induced drag",
        "root bending",
    )
    return Table("against-base", "Against the base design", heads, tuple(rows), (ERROR,))


def _per_degree(records: Sequence[Figures], options: Sequence[Option]) -> Table | None:
    """What a degree costs from one option to the next, where one angle alone is varied."""
    found = []
    for option, record in zip(options, records, strict=True):
        changes = option.changes or option.repeats
        if not changes:
            continue
        if len(changes) != 1 or record["problem"] is not None:
            return None
        try:
            found.append((float(read(changes[0][1], "angle")), changes[0][1], record))
        except NotationError:
            return None
    found.sort(key=lambda one: one[0])
    keys = ("tip_height", "width", "parked_gap", "out_gap", "drag_area", "bending")
    rows: list[tuple[Cell, ...]] = []
    for (a, first, one), (b, second, two) in pairwise(found):
        degrees = math.degrees(b - a)
        if degrees > 0.0:
            cells = (_moved(one, two, key, degrees) for key in keys)
            rows.append((f"{first} to {second}", *cells))
    if not rows:
        return None
    heads = ("between", "tip height", "width", PARKED, OUT, "induced drag", "root bending")
    return Table("per-degree", "What each degree costs", heads, tuple(rows), (ERROR,))


ERROR = (
    "± is how much the difference itself changes from a lattice of half as many strips and rows; a "
    "difference below that is not told apart from none."
)
