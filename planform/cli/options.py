"""Quantities given as options, read like those of the files."""

from __future__ import annotations

import math

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


def number_given(option: str, text: str | None, least: float = -math.inf) -> float | None:
    """A plain number given as an option; None where it is not given."""
    if text is None:
        return None
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not (math.isfinite(value) and value >= least):
        more = f" of {least:g} or more" if math.isfinite(least) else ""
        raise InputError("option", [Problem(option, repr(text), f"allowed: a number{more}")])
    return value


def count_given(option: str, text: str | None) -> int | None:
    """A count of one or more given as an option; None where it is not given."""
    value = number_given(option, text, 1.0)
    if value is not None and value != int(value):
        raise InputError("option", [Problem(option, repr(text), "allowed: a whole number")])
    return None if value is None else int(value)


def seconds_given(text: str) -> float:
    """How long a search may take, one second or more."""
    value = number_given("--time", text, 1.0)
    assert value is not None
    return value
