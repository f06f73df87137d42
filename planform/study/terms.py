"""The terms that options are compared on, and the figures of one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from planform.design.problems import InputError

USUAL_LIFT = 0.5
"""Lift coefficient on the base design's wing where none is given; assumption, always told."""


@dataclass(frozen=True)
class Terms:
    """What is held fixed while options are compared; SI.

    lift : lift coefficient on the base wing's area, so that the lift itself is the same for all
    cg : station of the CG [m]; None: not trimmed, no static margin
    skin : mass per wetted area of wing and winglets [kg/m2]; None: no change of weight
    """

    stage: str
    stance: str
    lift: float = USUAL_LIFT
    cg: float | None = None
    skin: float | None = None


Figures = dict[str, Any]
"""What is known of an option: numbers by `FIELDS` and words by `TEXTS`; None where not known."""


def problem_words(error: InputError) -> str:
    """Why an option has no figures."""
    return "; ".join(str(p) for p in error.problems)
