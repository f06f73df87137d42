"""Quantities given as options, read like those of the files."""

from __future__ import annotations

from planform.design.notation import NotationError, read
from planform.design.problems import InputError, Problem


def quantity_given(option: str, text: str | None, kind: str) -> float | None:
    """A quantity given as an option, in SI; None where it is not given."""
    if text is None:
        return None
    try:
        return float(read(text, kind))
    except NotationError as error:
        raise InputError("option", [Problem(option, error.given, error.allowed)]) from None


def length_given(option: str, text: str | None) -> float | None:
    """A length of zero or more given as an option [m]."""
    value = quantity_given(option, text, "length")
    if value is not None and not value >= 0.0:
        allowed = "allowed: zero (just not touching) or more"
        raise InputError("option", [Problem(option, repr(text), allowed)])
    return value
