"""A survey in sentences: what was found first, then how sure it is and what to read next."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planform.design.told import counted, plus_minus, said
from planform.rigging.explain.rivals import MARGIN
from planform.rigging.explain.told import Deviation, NextReading, Rival, Suspect
from planform.study.surveyed import Surveyed

CAUTIONS = (
    "This approves no drilling, bonding or flight. The designer's limits and the person "
    "responsible for the build decide; whether a difference matters is theirs to say.",
    "Support the aircraft before you measure: chocks, a stand under the tail or nose, nobody "
    "under what hangs. Read again after anything was moved.",
    "Stand ladders on level ground and never lean from one to reach a mark. Do not look into a "
    "laser, and keep its line off faces and shiny skins.",
)

WAYS = {
    "sweep": ("tip aft", "tip forward"),
    "dihedral": ("tip up", "tip down"),
    "incidence": ("nose up", "nose down"),
    "twist": ("tip nose up", "tip nose down"),
    "cant": ("leaning outboard", "leaning inboard"),
    "toe": ("leading edge inboard", "leading edge outboard"),
    "skew": ("right tip aft", "right tip forward"),
    "tilt": ("right tip up", "right tip down"),
    "span": ("longer", "shorter"),
    "length": ("longer", "shorter"),
    "chord": ("longer", "shorter"),
    "fs": ("aft", "forward"),
    "bl": ("right", "left"),
    "wl": ("up", "down"),
    "bend sideways": ("nose to the right", "nose to the left"),
    "bend up": ("nose up", "nose down"),
    "hull twist": ("right side of the nose up", "right side of the nose down"),
}
"""Which way a deviation goes where its number is above zero, and where below."""
OUTWARD = ("outboard", "inboard")
SIDED = ("left ", "right ")


MOST = 6
"""Lines of a list that a terminal shows; the sheet has all."""


def spoken(name: str) -> str:
    """A deviation's name where several stand in a row: “left wing sweep”."""
    return name.replace(", ", " ").replace("hull hull ", "hull ")


def kind_of(is_angle: bool) -> str:
    """The kind that a deviation or residual is told as."""
    return "angle_fine" if is_angle else "fine"


def way(name: str, by: float) -> str:
    """Which way a deviation goes, in a builder's words; empty where it is none of the table."""
    what = name.rpartition(", ")[2].replace("_", " ")
    both = OUTWARD if what == "bl" and name.startswith(SIDED) else WAYS.get(what)
    return "" if both is None else both[by < 0.0]


def sized(name: str, by: float, is_angle: bool, system: str) -> str:
    """A deviation's name, size and way."""
    where, kind = way(name, by), kind_of(is_angle)
    size = f"{said(abs(by), kind, system)} {where}" if where else said(by, kind, system)
    return f"{spoken(name)} {size}"


def with_band(one: Deviation, system: str) -> str:
    """The same with half the width of its 95 % interval."""
    band = plus_minus(one.half_width, kind_of(one.is_angle), system)
    size = f"{said(abs(one.by), kind_of(one.is_angle), system)} {band}".strip()
    return f"{spoken(one.name)} {size} {way(one.name, one.by)}".strip()


def verdict(found: Surveyed, system: str) -> str:
    """What was found, in one sentence."""
    told = found.explanation
    if told.too_few:
        return f"No answer: {told.too_few}."
    wrong = [one for one in told.suspects if one.certain]
    clear = told.significant
    parts = []
    if clear:
        parts.append(_joined([with_band(one, system) for one in clear]))
    if wrong:
        named = _joined([f"{found.row(one.number)} ({one.words})" for one in wrong])
        parts.append(f"{named} read wrong")
    count = counted(len(found.readings), "reading")
    if parts:
        first = f"Found from {count}: {', and '.join(parts)}"
    elif told.found:
        first = f"{count.capitalize()} differ from the drawing, and no one deviation is sure"
    else:
        first = f"Nothing found: {count} agree with the drawing within what they can see"
        blind, tried = len(told.undetermined), told.tried
        if blind:
            first += f"; they leave {blind} of {max(tried, blind)} possible deviations open"
    if told.certain and told.remaining.explained:
        return f"{first}."
    if not told.remaining.explained:
        return f"{first}, but more is left over than the tolerances give."
    either = _either(found, system)
    if either:
        return f"{first}; not decided: {either}."
    return f"{first}; other explanations are about as good, see below."


def _either(found: Surveyed, system: str) -> str:
    """Deviations of which one is there and the readings do not say which."""
    told = found.explanation
    angles = {one.name: one.is_angle for one in told.intervals}
    sure = {one.name for one in told.significant}
    own = [(one.name, one.by) for one in told.found if one.name not in sure]
    others = [
        [(n, by) for n, by in zip(one.names, one.by, strict=True) if n not in sure]
        for one in told.rivals
        if not one.larger
    ]
    sets = [
        " with ".join(sized(n, by, angles.get(n, True), system) for n, by in some)
        for some in (own, *others)
        if some
    ]
    several = list(dict.fromkeys(sets))
    return ", or ".join(several) if len(several) > 1 else ""


def _joined(words: Sequence[str]) -> str:
    return ", ".join(words[:-1]) + (" and " if len(words) > 1 else "") + words[-1]


def rival_line(found: Surveyed, one: Rival, system: str) -> str:
    """One other explanation, how much worse it is, and what would part it."""
    angles = {each.name: each.is_angle for each in found.explanation.intervals}
    told = [
        sized(name, by, angles.get(name, True), system)
        for name, by in zip(one.names, one.by, strict=True)
    ]
    told += [f"{found.row(k)} wrong ({found.readings[k].words})" for k in one.wrong]
    what = _joined(told) if told else "no deviation at all"
    more = ", though more would have to come together" if one.larger else ""
    parted = f" To part them, read: {one.parted_by}." if one.parted_by else ""
    close = (
        "as well"
        if one.worse < 0.05
        else f"worse by {one.worse:.1f} (under {MARGIN:g} is about as good)"
    )
    return f"{what}: explains the readings {close}{more}.{parted}"


def suspect_line(found: Surveyed, one: Suspect, system: str) -> str:
    """One reading that looks wrong, and like what."""
    kind = kind_of(one.is_angle)
    read, expected = (said(v, kind, system) for v in (one.read, one.read - one.residual))
    like = f": it looks like {one.looks_like}" if one.looks_like else ""
    sure = "" if one.certain else "; it may be right, see the other explanations"
    off = said(abs(one.residual), kind, system)
    side = "more" if one.residual > 0.0 else "less"
    return (
        f"{found.row(one.number)}, {one.words}: read {read}, all others let expect {expected}, "
        f"{off} {side}{like}{sure}. Read it again."
    )


def next_line(one: NextReading, system: str) -> str:
    """One reading worth taking next, and how good it must be."""
    kind = kind_of(one.is_angle)
    between = " from ".join(spoken(part) for part in one.parts)
    if one.tolerance <= 0.0:
        return f"{one.words}: would tell {between}, but no instrument of a shop is good enough."
    return (
        f"{one.words}: tells {between}, as it then reads {said(one.differs, kind, system)} "
        f"different; it must be good to {plus_minus(one.tolerance, kind, system)} or better."
    )


def remaining_line(found: Surveyed) -> str:
    """What is left over when the explanation is taken off."""
    left = found.explanation.remaining
    if found.explanation.too_few or left.freedom <= 0:
        return "No reading is left over to check the others by."
    fits = "no more than" if left.explained else "more than"
    return (
        f"What remains is {left.rms:.2f} of a tolerance (root mean square of all readings; "
        f"{fits} the tolerances give: sum of squares {left.chi2:.1f}, limit {left.limit:.1f}, "
        f"{counted(left.freedom, 'reading')} beyond those needed)."
    )


def unseen_lines(found: Surveyed) -> Iterator[str]:
    """Readings whose mistake would not be known as theirs."""
    for one in found.explanation.unseen:
        alike = f": it would be taken for {one.alike}" if one.alike else ""
        if one.alike.startswith("no other"):
            alike = f": {one.alike}"
        yield f"{found.row(one.number)}, {one.words}{alike}."


def undetermined_lines(found: Surveyed) -> Iterator[str]:
    """Deviations that the readings do not tell, and what they cannot be told from."""
    if found.explanation.too_few:
        return
    blind = [spoken(one.name) for one in found.explanation.undetermined if not one.alike]
    if blind:
        yield f"No reading sees: {_joined(blind)}."
    for one in found.explanation.undetermined:
        if one.alike:
            yield f"{spoken(one.name)}: reads the same as {_joined([*map(spoken, one.alike)])}."


def met_lines(found: Surveyed, system: str) -> Iterator[str]:
    """What placement, floor and levels came to beside the deviations."""
    words = {
        "floor's slope fore and aft": ("the floor falls", "ahead", "aft"),
        "floor's slope across": ("the floor falls", "to the left", "to the right"),
        "attitude, nose up": ("the aircraft stands", "nose up", "nose down"),
        "attitude, right side up": ("the aircraft stands", "right side up", "left side up"),
    }
    for name, value in found.met:
        size = said(abs(value), "angle_fine", system)
        plain = name.partition(" (")[0]
        where = name.removeprefix(plain)
        if plain in words:
            what, plus, minus = words[plain]
            against = "" if plain.startswith("floor") else " of how it is drawn to stand"
            yield f"{what} {size} {plus if value > 0.0 else minus}{against}{where}."
        else:
            yield f"{name}: {said(value, 'angle_fine', system)}."


LATER = ("Could be wrong unseen", "Not determined by these readings")
"""Lists that a sheet has behind what the deviations do."""


def all_lines(found: Surveyed, system: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every list that has something to tell, with its heading, in the order it is read."""
    told = found.explanation
    lists = (
        ("Readings that look wrong", [suspect_line(found, s, system) for s in told.suspects]),
        ("Other explanations", _rivals(found, system)),
        ("Found on the way", list(met_lines(found, system))),
        ("Read next", [next_line(one, system) for one in told.next_readings]),
        (LATER[0], list(unseen_lines(found))),
        (LATER[1], list(undetermined_lines(found))),
    )
    for heading, lines in lists:
        if lines:
            yield heading, tuple(lines)


def _rivals(found: Surveyed, system: str) -> list[str]:
    told = found.explanation
    lines = [rival_line(found, one, system) for one in told.rivals]
    if told.more_rivals:
        lines.append(f"{counted(told.more_rivals, 'more explanation')} as near, not told here.")
    return lines


def method(found: Surveyed) -> tuple[str, ...]:
    """How the figures are meant, in short."""
    return (
        f"{counted(found.explanation.tried, 'possible deviation')} tried; the fewest that explain "
        "the readings are told. A deviation is called significant only if it is in every "
        "explanation about as good, with the threshold raised for all that were tried "
        "(Z. Sidak, 1967).",
        "± of a deviation: half the width of its 95 % interval with every other deviation left "
        "free. Errors of a reading lie anywhere within its tolerance, each as likely "
        "(JCGM 100:2008, 4.3.7).",
    )
