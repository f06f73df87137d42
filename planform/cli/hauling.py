"""Parts on a trailer or in a container: printed and written down."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from planform.airframe.build import build
from planform.cli.answers import headline, show_tables
from planform.design.carrier import Carrier
from planform.design.models import Design
from planform.design.questions import assumptions
from planform.report import to_json


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
    from planform.report.haul import page as report
    from planform.study.hauling import haul

    found = haul(build(design), carrier, pieces)
    written = [] if folder is None else report.write_haul(design, found, folder, system)
    if as_json:
        content = {
            "design": design.name,
            "carrier": carrier.name,
            **report.as_json(found),
            "assumed": list(assumptions(design)),
        }
        print(to_json.document("haul", content))
    else:
        headline(f"{design.name} on {carrier.name}: {report.headline(found)}")
        show_tables(report.tables(found), system)
        for note in (*report.NOTES, *report.MIND):
            print(note)
        if written:
            print(f"wrote {', '.join(written)} to {folder}")
    return 0 if found.found and found.verdict.good else 1
