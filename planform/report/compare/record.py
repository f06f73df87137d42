"""Options side by side as JSON."""

from __future__ import annotations

import json

from planform.aero.answer import CLAIMS
from planform.report.compare.words import sentences
from planform.report.record import Json, Record, known, number
from planform.study.compare import FIELDS, loading_of, non_dominated
from planform.study.comparison import Comparison
from planform.study.terms import Figures

TEXTS = {
    "number": "number",
    "name": "name",
    "verdict": "verdict",
    "in_the_room": "room_verdict",
    "straight_through_a_door": "door_verdict",
    "out": "out_verdict",
    "comes_out": "comes_out",
    "parked_at": "parked_at",
    "out_at": "out_at",
    "problem": "problem",
    "lattice": "lattice",
    "surfaces": "surfaces",
    "trimming_surface": "trimmer",
    "section_lift_on": "section_lift_on",
}
"""What is told of an option in words, and its name in the study's record."""


def comparison_record(found: Comparison) -> Record:
    """The comparison: every figure in SI with its unit."""
    terms = found.study.terms
    good = non_dominated(list(found.records))
    return {
        "design": found.design.name,
        "stage": terms.stage,
        "stance": terms.stance,
        "lift_coefficient_on_base_area": terms.lift,
        "cg_fs": known(terms.cg, "length"),
        "options": [
            {
                **{key: record[name] for key, name in TEXTS.items()},
                "share_of_lift_in_trim": _shares(record["shares"]),
                "loading_in_trim": _loading(record),
                "not_beaten": record["number"] in good,
                **{key: known(record[key], kind) for key, (_, kind) in FIELDS.items()},
            }
            for record in found.records
        ],
        "answer": sentences(found.records, found.design),
        "taken": found.taken,
        "claims": CLAIMS,
    }


def _shares(text: str | None) -> Record | None:
    """Each surface's share of the lift in trim, by name."""
    if text is None:
        return None
    return {name: number(share, "ratio") for name, share in json.loads(text).items()}


def _loading(record: Figures) -> list[Json] | None:
    """The loading along the span, surface by surface, from the root outward."""
    loading = loading_of(record)
    if loading is None:
        return None
    return [
        {
            "surface": name,
            "unit": "m",
            "butt_line": y.tolist(),
            "along_the_surface": along.tolist(),
            "chord_times_section_lift": value.tolist(),
        }
        for name, y, along, value in loading
    ]
