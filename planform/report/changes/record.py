"""What would make it fit as JSON."""

from __future__ import annotations

from collections.abc import Sequence

from planform.report.changes.words import notes, verdict
from planform.report.record import Json, Record, Recorder, known, number
from planform.report.way_out.record import SHAPES
from planform.study.change_cases import EFFORT, FAILS, FREES, UNDECIDED, UNTRIED, Effect
from planform.study.change_found import Change, Changes


def _change(change: Change, recorder: Recorder) -> Record:
    family = change.family

    def sized(value: float | None) -> Record | None:
        return known(value, family.unit) if family.unit else None

    out: Record = {
        "kind": change.kind,
        "effort": EFFORT[change.kind][0],
        "what": change.what,
        "answer": change.answer,
        "least_size": sized(change.size),
        "outlines_drawn_out_by": number(change.drawn_out[0], "length"),
        "ceiling_lower_by": number(change.drawn_out[1], "length"),
        "largest_proved_not_to": sized(None if change.size is None else change.fails),
        "looked_up_to": sized(change.upto),
        "counted_from": sized(family.start),
        "closed_in_to": sized(family.fine),
        "more_never_hurts": family.monotone,
        "reason": change.reason,
        "searches": change.tries,
    }
    if change.answer == FREES:
        tightest = recorder.of(change.tight[0]) if change.tight else None
        told = recorder.told(change, "beside=effects cautions")
        out |= {"parked": change.parked, "tightest": tightest, **told}
    return out


RECORDER = Recorder(SHAPES | {Change: _change, Effect: "what before after"})


def changes_record(found: Changes, system: str) -> Record:
    """Every change that was looked at, by its answer; sentences in the reader's units."""

    def told(changes: Sequence[Change]) -> list[Json]:
        return RECORDER.all(changes)

    return {
        "comes_out": {FREES: True, FAILS: False}.get(found.base.answer),
        "as_it_stands": found.base.reason,
        **RECORDER.told(found, "keep"),
        "summary": verdict(found, system),
        "frees_it": told(found.found),
        "does_not_free_it": told(found.with_answer(FAILS)),
        "not_decided": told(found.with_answer(UNDECIDED)),
        "not_tried": told(found.with_answer(UNTRIED)),
        "stopped": found.stopped,
        "notes": notes(found, system),
        **RECORDER.told(found, "second_check=gone_over"),
    }
