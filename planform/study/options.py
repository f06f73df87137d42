"""Options side by side: which fields take which values, and the grid of all of them."""

from __future__ import annotations

import difflib
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from planform.design.load import design_from, put
from planform.design.models import Design
from planform.design.naming import path_text
from planform.design.notation import NotationError, read
from planform.design.problems import InputError, Problem
from planform.design.vary import readings

MOST = 10_000
"""Options beyond which a grid has to be confirmed."""

MOST_EVER = 200_000
"""Options of the largest grid, which are all kept in memory (about 0.3 GB); assumption."""

SHORT = {
    "cant": "winglets.*.cant",
    "length": "winglets.*.length",
    "toe": "winglets.*.toe",
    "sweep": "winglets.*.sweep_le_panel",
}
"""Fields of every winglet by a word of their own."""


@dataclass(frozen=True)
class Variation:
    """One field (or the same field of every winglet) and the texts it takes."""

    path: str
    values: tuple[str, ...]

    @property
    def word(self) -> str:
        """The field's last word, for headings."""
        return self.path.rpartition(".")[2]


@dataclass(frozen=True)
class Option:
    """One option: its number in the grid (0 is the base) and what it changes."""

    number: int
    changes: tuple[tuple[str, str], ...]

    @property
    def name(self) -> str:
        """In words."""
        if not self.number:
            return "as designed"
        return ", ".join(f"{path.rpartition('.')[2]} {value}" for path, value in self.changes)


def variation(path: str, text: str) -> Variation:
    """A variation from an option's text: values between commas."""
    values = tuple(part.strip() for part in text.split(",") if part.strip())
    if not values:
        problem = Problem(path, repr(text), "allowed: values between commas, as '0 deg, 15 deg'")
        raise InputError("options", [problem])
    return Variation(SHORT.get(path, path), values)


def count_options(variations: Sequence[Variation]) -> int:
    """How many options a grid has, the base included."""
    return 1 + math.prod(len(v.values) for v in variations)


def grid(
    design: Design, variations: Sequence[Variation], *, confirmed: bool = False
) -> tuple[Option, ...]:
    """The base and every combination, in order; each field is checked to exist.

    Raises InputError for a field that is not there, a value that is not read, or more than
    `MOST` options that nobody confirmed.
    """
    if not variations:
        problem = Problem(
            "", "nothing to vary", "allowed: one field or more, as --cant '0 deg, 15 deg'"
        )
        raise InputError("options", [problem])
    count = count_options(variations)
    if count > MOST_EVER:
        allowed = f"allowed: at most {MOST_EVER:,}; fewer values, or one field at a time"
        raise InputError("options", [Problem("", f"{count:,} options", allowed)])
    if count > MOST and not confirmed:
        problem = Problem("", f"{count:,} options", f"more than {MOST:,} need --yes; is it meant?")
        raise InputError("options", [problem])
    problems = []
    for one in variations:
        for value in one.values:
            try:
                changed_design(design, ((one.path, value),))
            except InputError as error:
                problems += [p for p in error.problems if _speaks_of(p, one.path)] or list(
                    error.problems
                )
    if problems:
        raise InputError("options", list(dict.fromkeys(problems)))
    combinations = itertools.product(*(v.values for v in variations))
    paths = [v.path for v in variations]
    return (
        Option(0, ()),
        *(
            Option(k + 1, tuple(zip(paths, values, strict=True)))
            for k, values in enumerate(combinations)
        ),
    )


def _speaks_of(problem: Problem, path: str) -> bool:
    return problem.path.rpartition(".")[2] == path.rpartition(".")[2]


def changed_design(design: Design, changes: Sequence[tuple[str, str]]) -> Design:
    """A new design with the fields changed, all at once, checked again as a whole."""
    table = design.model_dump(mode="json", exclude_unset=True)
    for path, value in changes:
        _set(design, table, path, value)
    return design_from(table, "options")


def _set(design: Design, table: dict[str, Any], path: str, value: str) -> None:
    if path == "span":
        _set_span(design, table, value)
        return
    head, star, tail = path.partition(".*.")
    if star:
        if not table.get(head):
            raise InputError("options", [Problem(path, "", f"this design has no {head}")])
        for name in table[head]:
            _set(design, table, f"{head}.{path_text((name,))}.{tail}", value)
        return
    try:
        put(table, path, value)
    except LookupError:
        names = [path_text(p) for p, _ in readings(design)]
        near = difflib.get_close_matches(path, names, n=1, cutoff=0.4)
        hint = f"; did you mean {near[0]!r}?" if near else ""
        raise InputError("options", [Problem(path, "", f"no such field{hint}")]) from None


def _set_span(design: Design, table: dict[str, Any], value: str) -> None:
    """Put the wing's tip section at half a span."""
    try:
        span = read(value, "length")
    except NotationError as error:
        raise InputError("options", [Problem("span", error.given, error.allowed)]) from None
    wings = [name for name, s in design.surfaces.items() if s.role == "wing"]
    if not wings or design.surfaces[wings[0]].sections[-1].bl is None:
        allowed = "the wing's tip section has no bl to change; vary its own field"
        raise InputError("options", [Problem("span", repr(value), allowed)])
    table["surfaces"][wings[0]]["sections"][-1]["bl"] = f"{float(span) / 2.0!r} m"
