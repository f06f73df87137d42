"""What a page asks: read from its JSON, or refused in one sentence."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from planform.design.changing import DESIGN, PLACE, Changes

MOST_CHANGES = 200
"""Values that one question may change; assumption."""
LONGEST_TEXT = 200
MOST_MESHES = 2000


class BadQuestion(ValueError):
    """A question that no page of ours asks; its words say why."""


@dataclass(frozen=True)
class At:
    """Where an aircraft is dragged to: along and away from the front wall [m], heading [rad]."""

    x: float
    y: float
    heading: float


@dataclass(frozen=True)
class Variant:
    """Files with values changed, and how the aircraft stands in them.

    changes : by the sort of the file
    spot : by name, or where it is dragged to; the place's first where None
    """

    changes: Mapping[str, Changes] = field(default_factory=dict)
    stage: str | None = None
    stance: str | None = None
    spot: str | At | None = None


@dataclass(frozen=True)
class PageQuestion:
    """One question of a page.

    has : the meshes that the page holds
    base : what the strip compares with, beside the stage and stance asked about
    """

    page: str
    ticket: int
    now: Variant
    base: Variant
    has: frozenset[str]


KEEP, DROP = "keep", "drop"
"""What becomes of a tolerance and source whose value was changed."""


@dataclass(frozen=True)
class Kept:
    """What is to be kept of one file.

    name : of the new file ; changes : texts by their fields
    carry : KEEP or DROP by field, where its value had a tolerance or a source
    """

    name: str
    changes: Mapping[str, str]
    carry: Mapping[str, str]


def question_of(given: object) -> PageQuestion:
    """The question in a page's JSON. Raises BadQuestion."""
    table = _table(given, "the question")
    stage, stance = _name(table, "stage"), _name(table, "stance")
    changes = changes_of(table.get("changes"))
    now = Variant(changes, stage, stance, _spot(table.get("spot")))
    base = Variant({}, stage, stance, None)
    if table.get("base") is not None:
        own = _table(table["base"], "base")
        base = Variant(changes_of(own.get("changes")), stage, stance, _spot(own.get("spot")))
    has = table.get("has", [])
    if table.get("whole") or not isinstance(has, list) or len(has) > MOST_MESHES:
        has = []
    held = frozenset(one for one in has if isinstance(one, str))
    return PageQuestion(page_of(table.get("page")), _ticket(table.get("ticket")), now, base, held)


def json_of(body: bytes) -> object:
    """What a body of JSON holds. Raises BadQuestion; numbers that are none are refused."""
    try:
        return json.loads(body, parse_constant=_no_number)
    except (ValueError, RecursionError):
        raise BadQuestion("Refused: the question is not JSON.") from None


def _no_number(word: str) -> float:
    raise ValueError(word)


def page_of(given: object) -> str:
    """A page's own name."""
    if not isinstance(given, str) or not 0 < len(given) <= 80:
        raise BadQuestion("Refused: the question does not say which page asks.")
    return given


def _ticket(given: object) -> int:
    if isinstance(given, bool) or not isinstance(given, int) or not 0 <= given < 2**53:
        raise BadQuestion("Refused: the question has no ticket, a whole number.")
    return given


def _table(given: object, what: str) -> dict[str, object]:
    if not isinstance(given, dict):
        raise BadQuestion(f"Refused: {what} is no table.")
    return given


def _name(table: dict[str, object], key: str) -> str | None:
    given = table.get(key)
    if given is not None and not (isinstance(given, str) and len(given) <= LONGEST_TEXT):
        raise BadQuestion(f"Refused: {key} is no name.")
    return given


def changes_of(given: object) -> dict[str, dict[str, str]]:
    """Texts by the path of their field, for each file. Raises BadQuestion."""
    table = {} if given is None else _table(given, "changes")
    out: dict[str, dict[str, str]] = {}
    for sort, texts in table.items():
        if sort not in (DESIGN, PLACE):
            raise BadQuestion("Refused: changes are of the design or the place.")
        for path, text in _table(texts, "changes").items():
            if not isinstance(text, str) or len(text) > LONGEST_TEXT or len(path) > LONGEST_TEXT:
                raise BadQuestion("Refused: a changed value is a short text.")
            out.setdefault(sort, {})[path] = text
    if sum(map(len, out.values())) > MOST_CHANGES:
        raise BadQuestion(f"Refused: more than {MOST_CHANGES} values are changed at once.")
    return out


def texts_of(given: object, what: str) -> dict[str, str]:
    """Short texts by their path. Raises BadQuestion."""
    table = {} if given is None else _table(given, what)
    return changes_of({DESIGN: table}).get(DESIGN, {})


def kept_of(given: object) -> tuple[str, Kept, bool]:
    """What is to be kept: the sort of the file, what of it, and whether to write it."""
    table = _table(given, "what is kept")
    sort = table.get("file")
    if sort not in (DESIGN, PLACE):
        raise BadQuestion("Refused: what is kept is the design or the place.")
    name = _name(table, "name") or ""
    changes = changes_of(table.get("changes")).get(str(sort), {})
    carry = texts_of(table.get("carry"), "carry")
    return str(sort), Kept(name, changes, carry), table.get("write") is True


def _spot(given: object) -> str | At | None:
    if given is None:
        return None
    table = _table(given, "spot")
    if "name" in table:
        name = _name(table, "name")
        if name is not None:
            return name
    at, heading = table.get("at"), table.get("heading", 0.0)
    numbers = [*at, heading] if isinstance(at, list) else []
    found = [float(n) for n in numbers if isinstance(n, int | float) and abs(n) < 1e4]
    if len(numbers) != 3 or len(found) != 3 or not all(map(math.isfinite, found)):
        raise BadQuestion("Refused: a spot is a name, or a place in metres and a heading.")
    return At(*found)
