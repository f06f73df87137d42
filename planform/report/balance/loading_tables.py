"""Loading cases, their margins and remedies, and the adverse loadings, as tables."""

from __future__ import annotations

from collections.abc import Iterator

from planform.balance.loading import Loaded
from planform.balance.reference import Reference
from planform.balance.remedies import Remedy
from planform.core.shape.canard import static_margin
from planform.report.balance.cells import item_line, share_heads, shares
from planform.report.table import Cell, Quantity, Table, Words, literal
from planform.study.spreads_of_balance import BalanceFindings


def cases_table(found: BalanceFindings) -> Table:
    """Every loading case and its verdict."""
    answer = found.answer
    chords = answer.references
    source = found.neutral_point
    point = None if source is None else source[0]
    rows = []
    for k, case in enumerate(answer.cases):
        worst = found.spread(f"cases.{k}.fs").worst
        margins = (
            ()
            if point is None
            else tuple(
                Quantity(static_margin(point, case.total.fs, r.mac), "percent") for r in chords
            )
        )
        rows.append(
            (
                case.name,
                Quantity(case.total.mass, "mass", found.spread(f"cases.{k}.mass").worst),
                Quantity(case.total.fs, "station", worst),
                *shares(chords, case.total.fs),
                *margins,
                *_across(found, k),
                case.verdict
                + (f" (over the limit of {', '.join(case.over)})" if case.over else "")
                + (f" (under the least of {', '.join(case.under)})" if case.under else ""),
            )
        )
    heads = (
        tuple(f"static margin, % of the MAC of {r.name}" for r in chords)
        if point is not None
        else ()
    )
    remarks = []
    if source is not None:
        remarks.append(f"Static margin from the neutral point {source[1]}: see the cautions.")
    return Table(
        "cases",
        "Loading cases",
        (
            "case",
            "weight",
            "CG station",
            *share_heads(chords),
            *heads,
            *_across_heads(found),
            "verdict",
        ),
        tuple(rows),
        tuple(remarks),
    )


def _sideways(found: BalanceFindings) -> bool:
    """Whether there are limits to the left and right."""
    loader = found.answer.loader
    return loader is not None and loader.envelope.sideways


def _dry_limit(found: BalanceFindings) -> bool:
    """Whether the weight without fuel has a limit."""
    loader = found.answer.loader
    return loader is not None and loader.envelope.max_zero_fuel_mass is not None


def _across(found: BalanceFindings, k: int) -> Iterator[Cell]:
    """A case's CG butt line and zero-fuel weight, where they have limits."""
    case = found.answer.cases[k]
    if _sideways(found):
        yield Quantity(case.total.bl, "butt", found.spread(f"cases.{k}.bl").worst)
    if _dry_limit(found):
        yield Quantity(case.zero_fuel, "mass", found.spread(f"cases.{k}.zero_fuel").worst)


def _across_heads(found: BalanceFindings) -> Iterator[str]:
    """The heads of these columns."""
    if _sideways(found):
        yield "CG butt line"
    if _dry_limit(found):
        yield "zero-fuel weight"


BOUND_WORDS = {
    "forward": "forward limit",
    "aft": "aft limit",
    "left": "limit to the left",
    "right": "limit to the right",
    "lateral_moment": "moment to a side",
    "max_mass": "greatest weight",
    "min_mass": "least weight",
    "max_zero_fuel_mass": "greatest zero-fuel weight",
}

SHOWN = {"length": "fine", "mass": "mass", "moment": "moment"}
"""How what is left to a bound stands in a table, by its kind."""


def margins_table(found: BalanceFindings) -> Table:
    """What is left to each limit."""
    rows: list[tuple[Cell, ...]] = []
    sideways = _sideways(found)
    for k, case in enumerate(found.answer.cases):
        for m in case.margins:
            worst = found.spread(f"cases.{k}.{m.bound}").worst
            rows.append(
                (
                    case.name,
                    BOUND_WORDS[m.bound],
                    Quantity(m.left, SHOWN[m.kind], worst),
                    Quantity(m.mass, "mass"),
                    Quantity(m.fs, "station"),
                    *([Quantity(m.bl, "butt")] if sideways else []),
                )
            )
    limits = found.answer.design.balance.limits  # type: ignore[union-attr]
    record = (limits.record if limits is not None else "") or "no source named"
    return Table(
        "margins",
        "What is to spare to the limits, at the worst point of the burn",
        (
            "case",
            "limit",
            "to spare",
            "at weight",
            "at CG",
            *(["at butt line"] if sideways else []),
        ),
        tuple(rows),
        (f"Limits as given by the user: {record}. Below zero is outside.",),
    )


def case_table(case: Loaded) -> Table:
    """One loading case, line by line."""
    useful = case.useful_left
    rows: list[tuple[Cell, ...]] = [item_line(item) for item in case.lines] + [
        item_line(case.total)
    ]
    if useful is not None:
        rows.append(("useful load to spare", Quantity(useful, "mass"), None, None, None))
    return Table(
        f"case-{case.name}",
        f"Loading: {case.name}",
        ("item", "weight", "arm", "moment", "butt line"),
        tuple(rows),
    )


def _keeps(case: Loaded) -> bool:
    """Whether fuel is left in a tank at the end of the burn."""
    return any(" down to " in point.what for point in case.burn)


def burn_table(cases: tuple[Loaded, ...], references: tuple[Reference, ...]) -> Table:
    """The CG as fuel is burnt."""
    rows = []
    for case in cases:
        for point in case.burn:
            rows.append(
                (
                    case.name,
                    point.what,
                    Quantity(point.mass, "mass"),
                    Quantity(point.fs, "station"),
                    *shares(references, point.fs),
                )
            )
    return Table(
        "burn",
        "Fuel burn",
        ("case", "point", "weight", "CG station", *share_heads(references)),
        tuple(rows),
        (
            "To the last usable fuel"
            + (", or to what is kept" if any(_keeps(case) for case in cases) else "")
            + "; between the points the CG moves one way only.",
        ),
    )


def adverse_table(found: BalanceFindings) -> Table:
    """The loadings nearest to the limits."""
    rows: list[tuple[Cell, ...]] = []
    sideways = _sideways(found)
    for one in found.answer.adverse:
        loads = one.lines[1:]
        text = "; ".join(f"{literal(line.name)} {{{k}}}" for k, line in enumerate(loads))
        rows.append(
            (
                one.side + (" (any ballast the places take)" if one.ballast else ""),
                Quantity(one.total.mass, "mass"),
                Quantity(one.total.fs, "station"),
                "no limit given" if one.margin is None else Quantity(one.margin, SHOWN[one.kind]),
                *([Quantity(one.total.bl, "butt")] if sideways else []),
                Words(text or "nothing", tuple(Quantity(i.mass, "mass") for i in loads)),
            )
        )
    return Table(
        "adverse",
        "Adverse loadings, found among all that the places allow",
        (
            "toward",
            "weight",
            "CG station",
            "to spare to the limit",
            *(["CG butt line"] if sideways else []),
            "aboard",
        ),
        tuple(rows),
        (
            "Every amount between a place's least and limit was searched"
            + (
                "; ballast at its least, and in the lines that say so any amount of it. "
                if any(one.ballast for one in found.answer.adverse)
                else ". "
            )
            + _kept_to(found)
            + "Places without a limit stay at their least. One below zero must be forbidden by a "
            "placard or a loading rule.",
        ),
    )


def _kept_to(found: BalanceFindings) -> str:
    """Which limits beside those of the places the search kept to; nothing where it had none."""
    loader = found.answer.loader
    assert loader is not None
    kept = ["joint limits"] if loader.joints else []
    kept += ["the greatest zero-fuel weight"] if _dry_limit(found) else []
    words = f"Within {' and '.join(kept)}. " if kept else ""
    if loader.envelope.sideways:
        words += (
            "Toward the forward and aft limits only loadings within those to the left and right "
            "count, where there are any. "
        )
    return words


def _amounts(remedy: Remedy) -> tuple[Quantity, Quantity | None]:
    """A remedy's mass and volume, rounded up as far as the case stays inside with it."""
    spare = remedy.most - remedy.mass
    ending = "_up" if spare > 0.5 else "_up_fine" if spare > 0.005 else ""
    volume = None if remedy.volume is None else Quantity(remedy.volume, f"volume{ending}")
    return Quantity(remedy.mass, f"mass{ending}"), volume


def remedies_table(cases: tuple[Loaded, ...]) -> Table:
    """The least changes that bring a case inside."""
    rows: list[tuple[Cell, ...]] = []
    for case in cases:
        for remedy in case.remedies:
            mass, volume = _amounts(remedy)
            rows.append(
                (
                    case.name,
                    remedy.what,
                    mass,
                    volume,
                    Quantity(remedy.after.mass, "mass"),
                    Quantity(remedy.after.fs, "station"),
                )
            )
        if case.verdict == "outside" and not case.remedies:
            rows.append((case.name, "no single change does it", None, None, None, None))
    return Table(
        "remedies",
        "Least changes that alone bring a case inside",
        ("case", "change", "at least", "as fluid", "weight then", "CG then"),
        tuple(rows),
        (
            "Each was worked out again and lies inside the limits. Amounts are rounded up, as far "
            "as more of it stays inside; whole occupants and whole loads stand as they are.",
        ),
    )


def room_table(cases: tuple[Loaded, ...]) -> Table:
    """What each place still takes."""
    rows = [
        (case.name, place, Quantity(mass, "mass_down"))
        for case in cases
        for place, mass in case.room
        if mass > 1e-6
    ]
    return Table(
        "room",
        "What each place still takes, alone",
        ("case", "place", "up to"),
        tuple(rows),
        ("Up to the place's own limit or the first limit of the envelope; rounded down.",),
    )
