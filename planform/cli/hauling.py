"""The haul command: from its options to a load on its carrier."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from planform.airframe.build import build
from planform.cli.show import show
from planform.design.carrier import Carrier
from planform.design.models import Design
from planform.design.questions import assumptions


def show_haul(
    design: Design,
    carrier: Carrier,
    pieces: Sequence[str],
    folder: Path | None,
    system: str,
    *,
    as_json: bool,
) -> int:
    """Print the load and its limits; 0 where it is found and inside them, else 1."""
    from planform.report.haul.answer import HaulAnswer
    from planform.study.hauling import haul

    found = haul(build(design), carrier, pieces)
    answer = HaulAnswer(design=design, found=found, taken=tuple(assumptions(design)))
    return show(answer, folder, system, as_json=as_json)
