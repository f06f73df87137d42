"""A card as it is read: its readings, checks and tables in the reader's units."""

from __future__ import annotations

import re
from collections.abc import Iterator

from planform.design.told import said
from planform.report.rig.bench import BenchCheck, BenchRow, BenchSheet
from planform.report.rig.picture import Sort, Taken, readings_drawing
from planform.report.rig.words import (
    NO_LIMIT,
    beyond_words,
    go_words,
    value_words,
    within_words,
)
from planform.report.table import Cell, Quantity, Table
from planform.rigging.card import Card, CardCheck, CardTarget, RigStep
from planform.rigging.making import PULL

SORTS: dict[str, Sort] = {
    "height": "height", "height difference": "height", "station": "plumb", "offset": "plumb",
    "distance": "tape", "level along": "level", "level across": "level",
}  # fmt: skip
REFERENCE = "reference"
"""In place of limits: the reading tells how the aircraft stands."""
TOGETHER = "with others"
"""In place of limits: it counts only in a sum of readings."""
SIDES = "Left and right are the aircraft's own."


def bench_sheet(card: Card, system: str) -> BenchSheet:
    """All that the card tells; system : one of 'ft-in', 'in', 'mm', 'm'."""
    design = card.standing.airframe.design.name
    taken = [Taken(one.number, SORTS[one.sort], one.ends) for one in card.targets]
    shims = _shims(card)
    lost = card.lost if shims is None else ()
    return BenchSheet(
        title=f"{design}: {card.title}",
        lead=f"{sentence(card.standing.title)} {SIDES}",
        before=tuple(map(sentence, card.supports)),
        order=tuple(_step(one) for one in card.order),
        whys=tuple(sentence(one.why) for one in card.order),
        drawing=readings_drawing(card.standing, card.parts, taken, card.bolts),
        narrow=readings_drawing(card.standing, card.parts, taken, card.bolts, narrow=True),
        rows=tuple(_row(one, card, system) for one in card.targets),
        checks=tuple(_check(one, system) for one in card.checks),
        shims=shims,
        tables=tuple(_tables(card)),
        remarks=tuple(map(sentence, (*lost, *card.lines, *card.practice))),
        cautions=card.cautions,
        system=system,
    )


def _step(one: RigStep) -> str:
    """A step with the readings that are taken in it."""
    words = sentence(one.words)
    if not one.numbers:
        return words
    noun = "Reading" if len(one.numbers) == 1 else "Readings"
    return f"{words} {noun} {', '.join(map(str, one.numbers))}."


def _row(one: CardTarget, card: Card, system: str) -> BenchRow:
    go, short = _limits(one, card, system)
    over = one.sort == "height" and "floor" not in one.words
    words = f"{one.words}, over the floor" if over else one.words
    return BenchRow(
        one.number, words, value_words(one.target, one.kind, system), go, short,
        one.instrument.replace("5 lb", said(PULL, "force", system)),
        one.why.removeprefix("tells "), one.twice,
    )  # fmt: skip


def _limits(one: CardTarget, card: Card, system: str) -> tuple[str, str]:
    """From where to where a reading is GO, or what it counts in; in full, and for a column."""
    if one.low is not None and one.high is not None:
        words = go_words(one.low, one.high, one.kind, system)
        return words, words.removeprefix("from ")
    mine = [c for c in card.checks if c.limit is not None and one.number in dict(c.of)]
    of = [c.name for c in mine]
    counted = f"counts in {', '.join(of)}" if of else NO_LIMIT
    if one.reference:
        return f"tells how the aircraft stands; {counted}" if of else REFERENCE, REFERENCE
    return counted, TOGETHER if of else NO_LIMIT


def _check(one: CardCheck, system: str) -> BenchCheck:
    """A limit, and how large what sees it may be at most."""
    if one.limit is None:
        return BenchCheck(one.name, one.reading, f"{NO_LIMIT}; {one.practice}", one.seen, False)
    kind, per = one.size_kind, one.size / one.limit
    if kind == one.kind and abs(per - 1.0) < AS_WRITTEN:
        per = 1.0
    go = within_words(one.limit, one.kind, system)
    if kind != one.kind or per != 1.0:
        go = f"{go} ({within_words(one.size, kind, system)})"
    if one.tolerance < one.limit:
        inner = within_words((one.limit - one.tolerance) * per, kind, system)
        outer = beyond_words((one.limit + one.tolerance) * per, kind, system)
        go = f"{go}: GO within {inner}, measure again to {outer}, STOP beyond"
    else:
        go = f"{go}: never GO"
    return BenchCheck(one.name, one.reading, go, one.seen, True)


AS_WRITTEN = 0.02
"""A reading that moves by nearly all of its limit is told by the limit alone."""


def sentence(text: str) -> str:
    """Words with a capital and a full stop, where they have none."""
    words = text[:1].upper() + text[1:]
    return words if not words or words[-1] in ".!?" else f"{words}."


def _shims(card: Card) -> Table | None:
    """How much thicker at each bolt for a tenth of a degree, of each turn that shims take."""
    from math import radians

    tenth = radians(0.1)
    turns = [
        k
        for k, one in enumerate(card.freedoms)
        if one.kind == "angle" and not one.stands
        and any(abs(bolt.per[k]) * tenth > LEAST for bolt in card.bolts)
    ]  # fmt: skip
    if not turns:
        return None
    columns = ("at", *(card.freedoms[k].name for k in turns))
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (bolt.name, *(Quantity(bolt.per[k] * tenth, "thin") for k in turns)) for bolt in card.bolts
    )
    return Table(
        "shims",
        "Shims at the bolts (crosses in the drawing): thicker for 0.1 deg of",
        columns,
        rows,
        card.lost,
    )


LEAST = 2e-6
"""A shim below this for a tenth of a degree is none [m]."""


def _tables(card: Card) -> Iterator[Table]:
    if card.spots:
        first, second = card.base
        yield Table(
            "floor marks", f"Marks on the floor, by two tapes from {first} and {second}",
            ("under", "along", "right of it", "from the first", "from the second"),
            tuple(
                (s.name, *(Quantity(v, "length") for v in (s.station, s.offset, s.first, s.second)))
                for s in card.spots
            ),
        )  # fmt: skip
    if card.templates:
        cut: dict[tuple[float, float, float], list[str]] = {}
        for one in card.templates:
            cut.setdefault((one.angle, round(one.rise, 5), round(one.over, 4)), []).append(one.name)
        rows = tuple(
            (names_together(names), Quantity(angle, "angle"), Quantity(rise, "fine"),
             Quantity(over, "length"))
            for (angle, rise, over), names in cut.items()
        )  # fmt: skip
        yield Table("templates", "Angles to cut", ("", "angle", "rise", "over"), rows)
    if card.tapes:
        yield Table(
            "tapes", "Tapes and strings", ("", "span", "pull", "reads long", "hangs", "per 10 °C"),
            tuple(
                (t.what, Quantity(t.span, "length"), _pull(t.pull), Quantity(t.reads_long, "fine"),
                 Quantity(t.belly, "fine"), Quantity(t.warm, "fine"))
                for t in card.tapes
            ),
        )  # fmt: skip


def names_together(names: list[str]) -> str:
    """Names that are alike but for their side, as one."""
    if len(names) == 2 and swapped(names[0]) == names[1]:
        return both_sides(names[0])
    return "; ".join(names)


def swapped(words: str) -> str:
    """The same on the other side."""
    other = {"left": "right", "right": "left"}
    return re.sub(r"\b(left|right)\b", lambda found: other[found[1]], words)


def both_sides(words: str) -> str:
    """What is on the left, of both sides."""
    return re.sub(r"\b(left|right)\b", "left, right", words)


def _pull(newtons: float) -> Quantity:
    return Quantity(newtons, "force")
