"""Values that are named once in a file and used in many fields, in sums and differences.

A text that begins with `=` is a sum: names of `[values]` and quantities with + and - between them,
such as `= spar_front + 4 in`. A shared value is one reading: what moves it moves every field that
it stands in.
"""

from __future__ import annotations

import difflib
import re
from typing import Any

from planform.design.notation import ALLOWED, NotationError, plain, read
from planform.design.reading import Reading, Share, Shared
from planform.design.sided import SIDES

NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]*")
NAMED = "allowed: a name of letters, digits and _ that begins with a letter, such as spar_front"
KINDS = tuple(ALLOWED)
ANY_KIND = (
    "allowed: a length, an angle, a mass, a volume or another quantity with its unit, such as "
    "FS 120 in ± 1/8 in"
)
LONGEST_SUM = 80
_TAIL = re.compile(r"(?:±.*|\((?! ?(?:us|imp) ?\))[^()]*\))$", re.IGNORECASE)
"""The tolerance and the source of a sum itself."""
_SIGN = re.compile(r" ([+-]) ")


class ValueProblem(Exception):
    """A sum that is not read: what is allowed, and the values whose own mistake it rests on."""

    def __init__(self, allowed: str, rests: tuple[str, ...] = ()) -> None:
        super().__init__(allowed)
        self.allowed, self.rests = allowed, rests


class Sum(str):
    """A text of a file that is a sum, with the values of its file, on one side where they differ.

    side : '' or 'left' or 'right'
    """

    values: Values
    side: str

    def __new__(cls, text: str, values: Values, side: str = "") -> Sum:
        """Make the text one that knows its file's values."""
        self = super().__new__(cls, text)
        self.values, self.side = values, side
        return self

    def reading(self, kinds: tuple[str, ...]) -> Reading:
        """The sum as a reading of one of these kinds. Raises `ValueProblem`."""
        return self.values.total(str(self), kinds, self.side)


def is_sum(given: object) -> bool:
    """Whether something written is a sum."""
    return isinstance(given, str) and given.lstrip().startswith("=")


def with_values(table: dict[str, Any]) -> dict[str, Any]:
    """A file's tables, each sum knowing the values of the file."""
    given = table.get("values")
    values = Values(given if isinstance(given, dict) else {})
    return {key: values.bound(one) for key, one in table.items()} if values.any_in(table) else table


class Values:
    """The shared values of one file, read when they are first asked for."""

    def __init__(self, given: dict[str, Any]) -> None:
        self.given = given
        self._read: dict[tuple[str, str], Reading] = {}
        self._open: list[str] = []

    def any_in(self, item: object) -> bool:
        """Whether there is a sum anywhere in tables."""
        if isinstance(item, dict | list):
            return any(map(self.any_in, item.values() if isinstance(item, dict) else item))
        return is_sum(item)

    def bound(self, item: object, side: str = "") -> object:
        """Tables in which each sum knows these values; one of sided values is one a side."""
        if isinstance(item, dict):
            each = set(item) == set(SIDES)
            return {k: self.bound(one, k if each else side) for k, one in item.items()}
        if isinstance(item, list):
            return [self.bound(one, side) for one in item]
        if not isinstance(item, str) or not is_sum(item):
            return item
        if not side and self._sided(item, set()):
            return {one: Sum(item, self, one) for one in SIDES}
        return Sum(item, self, side)

    def _sided(self, text: str, seen: set[str]) -> bool:
        """Whether a sum has a value in it that differs from side to side."""
        for name in set(re.findall(NAME, text)) & set(self.given) - seen:
            one = self.given[name]
            if isinstance(one, dict) or (is_sum(one) and self._sided(one, seen | {name})):
                return True
        return False

    def total(self, text: str, kinds: tuple[str, ...], side: str) -> Reading:
        """What a sum comes to."""
        if len(text) > LONGEST_SUM:
            raise ValueProblem(f"too long: at most {LONGEST_SUM} characters")
        body = plain(text).removeprefix("=").strip()
        tail = _TAIL.search(body)
        terms = self._terms(body[: tail.start()] if tail else body)
        known = [(sign, self._value(term, side)) for sign, term in terms if NAME.fullmatch(term)]
        found = {one.kind for _, (_, one) in known}
        if len(found) > 1:
            named = " and ".join(f"{name} is {_a(one.kind)}" for _, (name, one) in known)
            raise ValueProblem(f"{named}; allowed: quantities of one kind")
        if not found <= set(kinds):
            name, one = known[0][1]
            raise ValueProblem(f"{name} is {_a(one.kind)}; {ALLOWED[kinds[0]]}")
        plainly = [(sign, term) for sign, term in terms if not NAME.fullmatch(term)]
        rest, own = _quantities(plainly, tail[0] if tail else "", tuple(found) or kinds)
        shares: dict[tuple[str, ...], Share] = {}
        for sign, (name, one) in known:
            path = ("values", name, side) if self._is_sided(name) else ("values", name)
            for share in (Share(path, 1.0, one.tolerance), *getattr(one, "shares", ())):
                had = shares.get(share.path, Share(share.path, 0.0, share.tolerance))
                times = had.times + sign * share.times
                shares[share.path] = Share(share.path, times, share.tolerance)
        value = sum(sign * float(one) for sign, one in [(s, o) for s, (_, o) in known] + rest)
        given = Reading(value + 0.0, own.tolerance, own.source, text, own.kind)
        return Shared.of(given, tuple(one for one in shares.values() if one.times))

    def _terms(self, body: str) -> list[tuple[float, str]]:
        """The terms of a sum with their signs."""
        first, *others = _SIGN.split(f" {body}" if body[:2] in ("- ", "+ ") else body)
        pairs = list(zip(others[::2], others[1::2], strict=True))
        first = first.strip()
        if first[:1] in ("-", "+"):
            pairs.insert(0, (first[0], first[1:]))
        elif first:
            pairs.insert(0, ("+", first))
        terms = [(-1.0 if sign == "-" else 1.0, term.strip()) for sign, term in pairs]
        if not terms or not all(term for _, term in terms):
            raise ValueProblem("a name or a quantity is missing; write = spar_front + 4 in")
        for _, term in terms:
            if re.match(r"[A-Za-z]", term) and re.search(r"[*/^()]|[A-Za-z0-9_][+-]", term):
                unread = not re.match(r"(?:FS|[LR]?BL|WL) ?[0-9.]", term, re.IGNORECASE)
                if unread:
                    allowed = "allowed: names and quantities with + or - between spaces"
                    raise ValueProblem(f"{term}: {allowed}, as = spar_front + 4 in")
        return terms

    def _is_sided(self, name: str) -> bool:
        one = self.given.get(name)
        return isinstance(one, dict) or (is_sum(one) and self._sided(str(one), {name}))

    def _value(self, name: str, side: str) -> tuple[str, Reading]:
        """A value by its name, on a side where it has two. Raises `ValueProblem`."""
        if name not in self.given:
            near = difflib.get_close_matches(name, self.given, n=1, cutoff=0.5)
            hint = f"did you mean {near[0]}? " if near else ""
            names = ", ".join(self.given) or "none"
            raise ValueProblem(f"no value has the name {name}; {hint}names in [values]: {names}")
        if name in self._open:
            around = " → ".join([*self._open[self._open.index(name) :], name])
            rests = tuple(f"values.{one}" for one in self._open)
            raise ValueProblem(f"a value that stands on itself ({around})", rests)
        key = name, side if self._is_sided(name) else ""
        if key not in self._read:
            self._open.append(name)
            try:
                self._read[key] = self._of(name, key[1])
            finally:
                self._open.pop()
        return name, self._read[key]

    def _of(self, name: str, side: str) -> Reading:
        one = self.given[name]
        one = one.get(side) if isinstance(one, dict) else one
        if is_sum(one):
            try:
                return self.total(str(one), KINDS, side)
            except ValueProblem as error:
                raise ValueProblem(error.allowed, (f"values.{name}", *error.rests)) from None
        reading = of_any_kind(one)
        if reading is None:
            raise ValueProblem(f"{name} cannot be read", (f"values.{name}",))
        return reading


def _quantities(
    terms: list[tuple[float, str]], tail: str, kinds: tuple[str, ...]
) -> tuple[list[tuple[float, Reading]], Reading]:
    """The quantities of a sum, and its own tolerance and source, in the first kind they all are."""
    told: NotationError | None = None
    for kind in kinds:
        try:
            found = [(sign, read(term, kind)) for sign, term in terms]
            return found, read(f"0 {tail}", kind)
        except NotationError as error:
            told = told or error
    assert told is not None
    given = told.given.strip("'").removeprefix("0 ")
    raise ValueProblem(f"{given}: {told.allowed}")


def _a(kind: str) -> str:
    word = kind.replace("_", " ")
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"


def of_any_kind(given: object) -> Reading | None:
    """A quantity whose kind its unit tells; None for what is none, and for a bare zero."""
    if not isinstance(given, str):
        return None
    found = []
    for kind in KINDS:
        try:
            found.append(read(given, kind))
        except NotationError:
            continue
    return found[0] if len(found) == 1 else None
