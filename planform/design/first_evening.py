"""A first design and place from what a builder can measure in ten minutes.

What is not answered is taken, and marked as taken in the files; see `first_questions`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planform.design.fields import UnitSystem
from planform.design.first_questions import BY_KEY, QUESTIONS, TAIL_WHEEL, FirstQuestion
from planform.design.notation import NotationError, read
from planform.design.problems import InputError, Problem, unknown
from planform.design.reading import Reading
from planform.design.texts import hidden
from planform.design.told import said
from planform.design.units import INCH

ORIGIN = "answers"

PROPELLER_DEPTH = 4.0 * INCH
"""How far a propeller reaches fore and aft, where nobody measured it [m]; assumption."""
SHAFT = 0.62
"""How high over the underside of the body its shaft is, as a share of the depth; assumption."""
CLEAR = 2.0 * INCH
"""What a propeller keeps to the floor at the least, to be taken for right [m]; assumption."""


@dataclass(frozen=True)
class First:
    """The answers as read, with what was taken for those that are missing.

    sizes : lengths and angles by key [SI] ; words : names and choices by key
    answered : the keys that were
    """

    system: UnitSystem
    sizes: Mapping[str, Reading]
    words: Mapping[str, str]
    answered: frozenset[str]

    @property
    def metric(self) -> bool:
        """Whether its files are in millimetres."""
        return self.system in ("mm", "m")

    def __getitem__(self, key: str) -> float:
        return float(self.sizes[key])

    @property
    def body_end(self) -> float:
        """The aft end of the body from the nose, the propeller left aside [m]."""
        return self["length"] - (PROPELLER_DEPTH if self["propeller"] else 0.0)


def usual(
    question: FirstQuestion, sizes: Mapping[str, Reading], words: Mapping[str, str], metric: bool
) -> str:
    """What is taken where a question is not answered: as usual, or as other answers suggest.

    sizes, words : what was answered or taken for the questions before it
    """
    if question.of is None:
        return question.usual[metric]
    key, share = question.of
    if question.key == "small_axle_at" and words["gear"] == TAIL_WHEEL:
        key, share = "length", 0.92
    low, high = (float(read(end, "length")) for end in (question.least, question.most))
    value = min(max(share * float(sizes[key]), low), high)
    step = 0.01 if metric else INCH
    whole = min(max(round(value / step), math.ceil(low / step)), math.floor(high / step))
    return f"{whole * 10} mm" if metric else f"{whole} in"


def read_answer(question: FirstQuestion, text: str) -> Reading | str:
    """One answer as read. Raises InputError with the reason, its path the question's key."""
    text = text.strip()
    if question.kind == "name":
        if not text or len(text) > 60 or hidden(text):
            raise _refused(question.key, text, "allowed: up to 60 letters, digits and signs")
        return text
    if question.kind == "choice":
        if text not in question.choices:
            raise InputError(ORIGIN, [unknown(question.key, text, question.choices)])
        return text
    try:
        found = read(text, question.kind, leans=question.key == "cant")
    except NotationError as error:
        raise InputError(ORIGIN, [Problem(question.key, error.given, error.allowed)]) from None
    low, high = (float(read(end, question.kind)) for end in (question.least, question.most))
    if not low <= float(found) <= high:
        system = "m" if found.text.rstrip(")").endswith("m") else "ft-in"
        ends = " to ".join(said(end, question.kind, system) for end in (low, high))
        raise _refused(question.key, text, f"allowed: {ends}; is the unit right?")
    return found


def _refused(key: str, given: str, allowed: str) -> InputError:
    return InputError(ORIGIN, [Problem(key, repr(given), allowed)])


def first_answers(answers: Mapping[str, str], system: UnitSystem) -> First:
    """All answers as read, the missing ones taken.

    answers : texts by key, as builders write them ; system : of the files and of what is shown
    Raises InputError with every answer that cannot be, and with those that do not go together.
    """
    problems = [unknown("answer", key, BY_KEY) for key in answers if key not in BY_KEY]
    sizes: dict[str, Reading] = {}
    words: dict[str, str] = {}
    metric = system in ("mm", "m")
    for question in QUESTIONS:
        text = answers.get(question.key)
        try:
            if text is None or not text.strip():
                found = read_answer(question, usual(question, sizes, words, metric))
            else:
                found = read_answer(question, text)
        except InputError as error:
            problems += error.problems
            found = read_answer(question, usual(question, sizes, words, metric))
        if isinstance(found, Reading):
            sizes[question.key] = found
        else:
            words[question.key] = found
    answered = frozenset(key for key, text in answers.items() if text.strip())
    first = First(system, sizes, words, answered)
    problems = problems or list(together(first))
    if problems:
        raise InputError(ORIGIN, problems)
    return first


def together(first: First) -> Iterator[Problem]:
    """Answers that cannot all be right; each is told at one question, an answered one if any is."""

    def length(key: str) -> str:
        taken = "" if key in first.answered else ", taken"
        return f"{first.sizes[key].text} ({BY_KEY[key].words}{taken})"

    def clash(keys: tuple[str, ...], allowed: str) -> Problem:
        answered = [key for key in keys if key in first.answered]
        key = answered[0] if answered else keys[0]
        others = "; ".join(length(one) for one in keys if one != key)
        return Problem(key, repr(first.sizes[key].text), f"{allowed}; beside it: {others}")

    for keys, wrong, allowed in _clashes(first):
        if wrong:
            yield clash(keys, allowed)


Clash = tuple[tuple[str, ...], bool, str]
"""Keys that do not go together, whether that is so, and what would."""


def _clashes(first: First) -> Iterator[Clash]:
    g = first
    yield ("tip_chord", "root_chord"), g["tip_chord"] > g["root_chord"], (
        "the tip chord is at most the root chord"
    )  # fmt: skip
    yield ("width", "span"), g["width"] > 0.5 * g["span"], (
        "the body is at most half as wide as the span"
    )  # fmt: skip
    yield ("wing_at", "length"), g["wing_at"] > g.body_end, (
        "the wing begins ahead of the aft end of the body"
    )  # fmt: skip
    if g["foreplane_span"]:
        yield ("foreplane_at", "wing_at"), g["foreplane_at"] > g["wing_at"], (
            "the foreplane is ahead of the wing"
        )  # fmt: skip
        yield ("foreplane_span", "width"), g["foreplane_span"] < 1.1 * g["width"], (
            "the foreplane is wider than the body, or 0 for none"
        )  # fmt: skip
    yield from _of_wheels(first)
    yield from _of_shop(first)


def _of_wheels(first: First) -> Iterator[Clash]:
    g = first
    ahead = g["main_axle_at"] - g["small_axle_at"]
    if g.words["gear"] == TAIL_WHEEL:
        yield ("small_axle_at", "main_axle_at"), -ahead < 0.3, (
            "a tail wheel is well aft of the main wheels"
        )  # fmt: skip
    else:
        yield ("small_axle_at", "main_axle_at"), ahead < 0.3, (
            "a nose wheel is well ahead of the main wheels"
        )  # fmt: skip
    ends = max(g["main_axle_at"], g["small_axle_at"])
    yield ("main_axle_at", "small_axle_at", "length"), ends > g["length"], (
        "the axles are under the body"
    )  # fmt: skip
    over = g["stands"] + SHAFT * g["depth"] - 0.5 * g["propeller"]
    yield ("propeller", "stands", "depth"), bool(g["propeller"]) and over < CLEAR, (
        "the propeller turns clear of the floor"
    )  # fmt: skip


def _of_shop(first: First) -> Iterator[Clash]:
    g = first
    yield ("door_width", "floor_width"), g["door_width"] > g["floor_width"], (
        "the door is at most as wide as its wall"
    )  # fmt: skip
    yield ("door_height", "ceiling"), g["door_height"] > g["ceiling"], (
        "the door is at most as high as the lowest thing overhead"
    )  # fmt: skip
