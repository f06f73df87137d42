"""The balance as tables of data: every writer prints the same cells."""

from __future__ import annotations

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
    weighing_day,
    weighing_table,
)
from planform.report.table import Table
from planform.study.spreads_of_balance import BalanceFindings


def tables(found: BalanceFindings) -> tuple[Table, ...]:
    """Every table of a balance, in the order it is read."""
    answer = found.answer
    out: list[Table] = []
    record = answer.record
    if record is not None and record.weighed is not None:
        day = weighing_day(found)
        out += [weighing_table(record.weighed), *([day] if day else [])]
    if record is not None:
        out.append(empty_table(found, record))
        out += [change_table(k, record) for k in range(len(record.changes))]
    if answer.references:
        out.append(chords_table(answer.references))
    if any(lift for _, lift, _ in found.lift.stages):
        out += [lattice_table(found), lift_shares_table(found)]
    if answer.standings:
        out += [stage_weights_table(found), ground_table(answer.standings)]
    if answer.cases:
        out.append(cases_table(found))
        if any(case.margins for case in answer.cases):
            out.append(margins_table(found))
        out += [case_table(case) for case in answer.cases]
    if any(len(case.burn) > 1 for case in answer.cases):
        out.append(burn_table(answer.cases, answer.references))
    if answer.adverse:
        out.append(adverse_table(found))
    if any(case.remedies for case in answer.cases):
        out.append(remedies_table(answer.cases))
    if any(case.room for case in answer.cases):
        out.append(room_table(answer.cases))
    if any(answer.loaded):
        out.append(loaded_table(found))
    if answer.leavings:
        out += [orders_table(found), leaving_table(found)]
    return tuple(out)
