"""The helpers' card as data: who watches what, what is tight, what to do before a wheel turns."""

from __future__ import annotations

from collections.abc import Sequence

from planform.balance.ends import BACK, OVER, Ends
from planform.balance.stages import Balanced
from planform.design.floor import Floor
from planform.fit.moves import Tight
from planform.fit.steps import Step
from planform.fit.walkers import Near, Post, step_at
from planform.report.table import Quantity, Table, Words, literal

STOP = "STOP"

CALLS = (
    f"One word stops all: {STOP}. It is agreed aloud before anything moves; anybody may call it, "
    "and everybody halts at once.",
    "One person leads and calls the steps by their number. Nobody moves the aircraft before the "
    "call, and nobody pushes on while a walker cannot be seen or heard.",
    "In doubt about a gap: stop, look, measure. Never push to see whether it passes.",
    "Walking pace, no faster than the slowest of the team.",
)

BEFORE = (
    "Propeller: ignition off, keys out, magnetos grounded. Treat it as live all the same: no hand "
    "on it, nobody in its disc, and never push or pull by it.",
    "Doors fully open and secured against wind and rolling; the opening measured again today.",
    "Way cleared: floor swept, hoses, cords and ladders away, chalk line drawn, threshold plates "
    "laid, oil wiped up.",
    "Overhead: hoist run aside, lamps and cords tied up; look for power lines before anything "
    "tall goes outside, and keep away from them.",
    "Canopy, doors and hatches shut and latched unless the plan shows them open; control locks "
    "in, tow bar pinned.",
    "Chocks stay at the wheels until all stand in their places; carry them along, and chock again "
    "as soon as it stands.",
    "Push where the designer allows it, near spar and ribs: never at a tip, a trailing edge, a "
    "control surface, a winglet or the canopy.",
    "Dollies and stools: castors free, nothing on the floor that could trip one; go round a crack "
    "or lay a plate. Nobody lies, kneels or reaches under the aircraft while it moves.",
    "Nobody stands between a moving end and a wall or a thing that does not give way.",
)


def before(floor: Floor) -> tuple[str, ...]:
    """What to see to before the move; a floor that falls comes first."""
    if not floor.falls:
        return BEFORE
    ways = " and ".join(f"{fall.drop.text} toward the {fall.toward}" for fall in floor.falls)
    return (
        f"The floor falls {ways}: it rolls that way by itself. "
        "Someone at the brakes or a line to hold it, chocks carried along, nobody below it.",
        *BEFORE,
    )


SOURCES = (
    "TM 1-1500-204-23-1, General Aircraft Maintenance Manual (US Army): a crew member near the "
    "tip of each wing in ground movement; no faster than the slowest member walks, 5 mph at most.",
    "NAVEDTRA 14014 (US Navy training manual for airmen): walkers at wings and tail in every "
    "move; never move an aircraft when there is doubt about clearance.",
    "FAA AC 00-34A, Aircraft Ground Handling and Servicing: more guides near the wing tips where "
    "it is crowded.",
    "The rest is common practice, no source. No published least gap for pushing a small aircraft "
    "by hand through a shop door was found: how near is too near is for the owner to say.",
)

LIGHT_NOSE = 0.1
"""Share of the weight on the front supports under which a tail support goes along; assumption."""


def tail_line(found: Balanced | None, ends: Ends = BACK) -> Words:
    """What to do about tipping onto the tail, or over the nose.

    ends : which of the two it would be, where no weights are given
    """
    if found is None and ends is OVER:
        return Words(
            "Nose: no weights are given, so how near it is to going over on its nose is not known. "
            "Ballast the tail, and nobody lifts or pushes at the tail."
        )
    if found is None:
        return Words(
            "Tail: no weights are given, so how near it is to tipping back is not known. Take "
            "a tail support along, and a hand that holds the nose down."
        )
    if found.ends is OVER:
        return _nose_line(found)
    if found.tip_back <= 0.0:
        return Words(
            "Tail: by the weights given IT SITS ON ITS TAIL as it stands. Ballast or a tail "
            "support first; nothing moves without."
        )
    front = Quantity(found.front_load, "mass_down")
    angle = Quantity(found.tip_back, "angle")
    if _lightly(found):
        return Words(
            "Tail: near to tipping back. Only {0} rest on the front; tip-back angle {1}. A "
            "tail support goes along all the way; nobody leans on the tail or the propeller.",
            (front, angle),
        )
    return Words(
        "Tail: {0} rest on the front; tip-back angle {1}. Nobody leans on the tail; a tail "
        "support within reach.",
        (front, angle),
    )


def _nose_line(found: Balanced) -> Words:
    """What to do about going over on the nose, of what stands with a tail wheel."""
    if found.tip_back <= 0.0:
        return Words(
            "Nose: by the weights given IT GOES OVER ON ITS NOSE as it stands. Ballast the tail "
            "first; nothing moves without."
        )
    values = (Quantity(found.front_load, "mass_down"), Quantity(found.tip_back, "angle"))
    near = "near to going over on its nose. Only " if _lightly(found) else ""
    return Words(
        f"Nose: {near}{{0}} rest on the tail wheel; nose-over angle {{1}}. Nobody lifts or pushes "
        "at the tail over a lip or against a chock; nobody stands by the propeller.",
        values,
    )


def _lightly(found: Balanced) -> bool:
    """Whether what stands opposite the main wheels carries little."""
    return found.front_load < LIGHT_NOSE * found.total.mass


def walkers_table(nears: Sequence[Near], tights: Sequence[Tight], watchers: Sequence[str]) -> Table:
    """Who watches what: the walker of the tightest place first.

    watchers : of every tight instant, the name of the end whose walker is nearest to it
    """
    proved = {name: t for name, t in reversed(list(zip(watchers, tights, strict=True)))}

    def least(near: Near) -> float:
        own = proved.get(near.mark.name)
        return min(near.gap, own.gap) if own is not None else near.gap

    rows = []
    for k, near in enumerate(sorted(nears, key=least)):
        own = proved.get(near.mark.name)
        rows.append(
            (
                str(k + 1),
                near.mark.name,
                Quantity(float(near.mark.point[2]), "length"),
                Quantity(near.gap, "gap"),
                _passing(near),
                f"step {near.step}",
                ""
                if own is None
                else Words("{0}, " + literal(own.thing), (Quantity(own.gap, "gap"),)),
            )
        )
    return Table(
        "walkers",
        "Walkers, the tightest first",
        ("", "at the", "height", "comes within", "of", "in", "tight place to call"),
        tuple(rows),
        (
            "“Comes within” is from the very end to what is near its height, over and under it "
            "too: it ranks the walkers and proves nothing; other parts may come nearer.",
        ),
    )


def _passing(near: Near) -> Words:
    """The thing, and how far over or under it the end passes."""
    if near.above == 0.0:
        return Words(literal(near.thing))
    way = "over" if near.above > 0.0 else "under"
    passing = f"{literal(near.thing)}, passing {{0}} {way} it"
    return Words(passing, (Quantity(abs(near.above), "gap"),))


def tight_table(tights: Sequence[Tight], steps: Sequence[Step]) -> Table | None:
    """The tightest places of a route, the least gap first; None where none is told."""
    if not tights:
        return None
    rows = []
    for tight in sorted(tights, key=lambda t: t.gap):
        step = step_at(steps, tight)
        height = float(tight.at_part[2])
        rows.append(
            (
                Quantity(tight.gap, "gap"),
                tight.part,
                tight.thing,
                Quantity(height, "length"),
                f"step {step.number}" if step else "",
            )
        )
    return Table(
        "tight places",
        "The tightest places, in order",
        ("gap", "part", "thing", "height", "in"),
        tuple(rows),
    )


def crowded(step: Step, places: Sequence[Post]) -> str:
    """A sentence about ends that leave no room for a walker in a step; '' where all have room."""
    gone = [p.mark.name for p in places if not p.enough]
    if not gone:
        return ""
    return f"No room for a person beside the {' and the '.join(gone)}: keep off, watch from afar."


def going_along(places: Sequence[Post]) -> str:
    """Who walks along in a step; '' where all stand still."""
    names = [p.mark.name for p in places if p.along and p.enough]
    return f"Walking along: {', '.join(names)}." if names else ""
