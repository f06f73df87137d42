"""What the title blocks of an aircraft's drawings tell."""

from __future__ import annotations

import datetime

from planform.design.drawings import DrawingNotes
from planform.design.models import Design
from planform.drawing.paper.frame import Title
from planform.report.words import CAUTIONS

UNITS = {"ft-in": "feet, inches", "in": "inches", "mm": "millimetres", "m": "metres"}
USUAL = f"{CAUTIONS[0]} {CAUTIONS[3]}"
"""The cautions that stand under a title block."""


def date_of(design: Design) -> str:
    """The date that its file gives its drawings, else today's."""
    told = design.drawings.date if design.drawings else ""
    return told or datetime.date.today().isoformat()


def title_of(
    design: Design, system: str, drawing: str, *, sheet: str = "1", cautions: str = USUAL
) -> Title:
    """The title block of a drawing; its scale is told once the drawing has one."""
    notes = design.drawings or DrawingNotes()
    return Title(
        name=design.name,
        drawing=drawing,
        scale="",
        units=UNITS[system],
        date=date_of(design),
        sheet=sheet,
        revision=notes.revision,
        measured_by=notes.measured_by,
        cautions=cautions,
    )
