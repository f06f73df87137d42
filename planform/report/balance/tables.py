"""The balance as tables of data: every writer prints the same cells."""

from __future__ import annotations

from collections.abc import Iterator

from planform.balance.loading import Loaded
from planform.report.balance.ground_tables import (
    ground_table,
    leaving_table,
    loaded_table,
    orders_table,
    stage_weights_table,
)
from planform.report.balance.lattice_tables import lattice_table, lift_shares_table
from planform.report.balance.loading_tables import (
    adverse_table,
    burn_table,
    case_table,
    cases_table,
    margins_table,
    remedies_table,
    room_table,
)
from planform.report.balance.weighing_tables import (
    change_table,
    chords_table,
    empty_table,
    tilted_table,
    weighing_day,
    weighing_table,
)
from planform.report.table import Table
from planform.study.spreads_of_balance import BalanceFindings


def tables(found: BalanceFindings) -> tuple[Table, ...]:
    """Every table of a balance, in the order it is read."""
    answer = found.answer
    out = [*_of_the_empty(found)]
    if answer.references:
        out.append(chords_table(answer.references))
    if any(lift for _, lift, _ in found.lift.stages):
        out += [lattice_table(found), lift_shares_table(found)]
    if answer.standings:
        out += [stage_weights_table(found), ground_table(answer.standings)]
    if answer.cases:
        out += _of_the_cases(found)
    if answer.adverse:
        out.append(adverse_table(found))
    out += _what_would_help(answer.cases)
    if any(answer.loaded):
        out.append(loaded_table(found))
    if answer.leavings:
        out += [orders_table(found), leaving_table(found)]
    return tuple(out)


def _of_the_empty(found: BalanceFindings) -> Iterator[Table]:
    """The weighing and the record."""
    record = found.answer.record
    if record is None:
        return
    if record.weighed is not None:
        yield weighing_table(record.weighed)
        if record.weighed.tilted is not None:
            yield tilted_table(found, record.weighed.tilted)
        day = weighing_day(found)
        if day:
            yield day
    yield empty_table(found, record)
    yield from (change_table(k, record) for k in range(len(record.changes)))


def _of_the_cases(found: BalanceFindings) -> Iterator[Table]:
    """The loading cases, their margins, each by itself, and as fuel burns."""
    answer = found.answer
    yield cases_table(found)
    if any(case.margins for case in answer.cases):
        yield margins_table(found)
    yield from (case_table(case) for case in answer.cases)
    if any(len(case.burn) > 1 for case in answer.cases):
        yield burn_table(answer.cases, answer.references)


def _what_would_help(cases: tuple[Loaded, ...]) -> Iterator[Table]:
    """What brings a case inside, and what the places still take."""
    if any(case.remedies for case in cases):
        yield remedies_table(cases)
    if any(case.room for case in cases):
        yield room_table(cases)
