"""planform: measures, fit, pictures and sheets of an aircraft that is being built in a small shop.

The public names are listed in `__all__`; they load when first used, so a bare import is quick.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

__version__ = "0.1.0"

_HOMES = {
    "Design": "planform.design.models",
    "InputError": "planform.design.problems",
    "Keep": "planform.fit.ground_plan",
    "Place": "planform.design.place",
    "Reading": "planform.design.reading",
    "Wish": "planform.study.roll_out",
    "advice": "planform.study.next_reading",
    "aerodynamics": "planform.aero.answer",
    "balance_findings": "planform.study.spreads_of_balance",
    "box_limit": "planform.fit.question",
    "build": "planform.airframe.build",
    "build_room": "planform.fit.room",
    "carried": "planform.fit.carrying",
    "changed": "planform.design.load",
    "collect": "planform.report.whole.collect",
    "default_terms": "planform.study.compare",
    "design_measures": "planform.airframe.measure",
    "find_way_out": "planform.study.roll_out",
    "greatest_clearance": "planform.fit.way_out",
    "grid": "planform.study.options",
    "handover": "planform.report.way_out.page",
    "haul": "planform.study.hauling",
    "judge": "planform.study.judging",
    "least_changes": "planform.study.changes",
    "load": "planform.design.load",
    "load_carrier": "planform.design.load",
    "load_place": "planform.design.load",
    "measure_planforms": "planform.core.shape.batch",
    "pack": "planform.fit.packing",
    "push_through": "planform.fit.push",
    "question_for": "planform.fit.question",
    "read": "planform.design.notation",
    "run_study": "planform.study.run",
    "show": "planform.design.units",
    "stage_balance": "planform.balance.stages",
    "stage_named": "planform.airframe.stance",
    "stage_table": "planform.study.stages",
    "stand_all": "planform.airframe.stance",
    "stand_on": "planform.airframe.stance",
    "standing_measures": "planform.airframe.measure",
    "study_of": "planform.study.compare",
    "through_doors": "planform.fit.carrying",
    "time_limit": "planform.fit.question",
    "variation": "planform.study.options",
    "way_out": "planform.fit.way_out",
    "weigh": "planform.balance.weighing",
    "with_spreads": "planform.study.spreads_of_fit",
    "write_balance": "planform.report.balance.page",
    "write_carrying": "planform.report.carry.page",
    "write_comparison": "planform.report.compare.page",
    "write_haul": "planform.report.haul.page",
    "write_packing": "planform.report.packing.page",
    "write_report": "planform.report.whole.report",
    "write_route": "planform.report.way_out.page",
}

__all__ = ["__version__", *_HOMES]


def __getattr__(name: str) -> Any:
    if name in _HOMES:
        return getattr(import_module(_HOMES[name]), name)
    raise AttributeError(f"planform has no name {name!r}; names: {', '.join(__all__)}")


def __dir__() -> list[str]:
    return list(__all__)
