"""The way out of a room in sentences."""

from __future__ import annotations

import math

from planform.core.spread import Spread
from planform.design.naming import chief
from planform.design.told import counted, said
from planform.fit.answer import FitAnswer
from planform.fit.check import deciding_of
from planform.fit.ground_plan import Keep
from planform.fit.moves import Tight
from planform.fit.roll_out import RollOut
from planform.fit.stops import Stop
from planform.fit.way_out import NONE, NOT_FOUND, WAY, WIDTH
from planform.report.words import gone_over

WAYS = (
    "The way out goes from the spot to outside, turning as needed, carried or on castering dollies "
    "over an even floor; each move is proved between its poses, and no is a proof for any turns. "
    "planform rollout shows the way, and searches longer where it was not decided."
)
"""What a reader must know about the way out."""


def summary(found: RollOut, system: str) -> tuple[str, ...]:
    """What was found, how sure it is, and where it is tight; one sentence each."""
    if found.meets is not None:
        told = touching(found.meets, system)
        return (f"{told[0].upper()}{told[1:]}.",)
    return tuple(
        line
        for line in (
            _asked(found, system),
            _greatest(found, system),
            _tightest(found, system),
            _stopped(found, system),
            _on_gear(found, system),
            _proof(found, system),
            *gone_over(found.gone_over),
        )
        if line
    )


def touching(meets: Tight, system: str) -> str:
    """That it already touches where it is parked, and what to try."""
    return (
        f"where it is parked its {meets.part} already meets {meets.thing}, over by "
        f"{said(-meets.gap, 'over', system)}; a way out starts where it stands free: move the "
        "spot, turn it there, or move what stands in the way"
    )


ON_THE_WAY = "on the way (to a wall with a door, what it asks beside the door)"
"""What a way keeps; where it stands, a wall with a door counts as a wall: see `fit`."""


def _asked(found: RollOut, system: str) -> str:
    way = found.wished
    kept = _kept(found, system)
    if way.answer == WAY:
        return f"There is a way out that keeps {kept}: {way.reason}."
    if way.answer == NONE:
        return f"No way out keeps {kept}: {way.reason}."
    return f"Whether a way out keeps {kept} is not decided: {way.reason}."


def _kept(found: RollOut, system: str) -> str:
    level, over = found.level, found.over
    if level is None and over is None:
        if Keep.wished(found.wished.question.plan.room).any:
            return f"the clearances that the place asks for {ON_THE_WAY}"
        just = f"{said(found.wished.wanted, 'length', system)} across"
        return f"{just if found.wished.wanted else 'clear'} (the place asks for nothing)"
    own = [] if level is None else [f"{said(level, 'length', system)} across"]
    if level == 0.0:
        own = ["nothing across (none was asked for: a push that strays may touch)"]
    own += [] if over is None else [f"{said(over, 'length', system)} upright"]
    return " and ".join(own)


def _greatest(found: RollOut, system: str) -> str:
    low, high, limited = found.bare.low, found.bare.high, found.bare.limited
    if high <= 0.0 and math.isinf(low):
        return f"It does not come out at all: {limited}."
    if low < 0.0 < high and math.isfinite(low):
        text = f"forced through, it would overlap by under {said(-low, 'length', system)}"
        if math.isfinite(high):
            text += f"; no way has {said(high, 'length', system)} or more"
        return f"Whether it comes out at all is not decided: {text}."
    if low < 0.0 and math.isfinite(low):
        return (
            f"It does not come out at all: wherever it jams least, it lacks "
            f"{said(-high, 'length', system)} to {said(-low, 'length', system)} on a side."
        )
    if math.isinf(low):
        return "Whether it comes out at all is not decided."
    text = f"The greatest clearance any way has is at least {said(low, 'gap', system)}"
    if math.isfinite(high):
        text += f" and under {said(high + 1e-9, 'length', system)}"
    return f"{text}{f' ({limited})' if limited else ''}."


def _tightest(found: RollOut, system: str) -> str:
    if not found.tight:
        return ""
    t = found.tight[0]
    if t.gap < 0.0 and found.undecided:
        return f"It is decided at its {t.part} and {t.thing}."
    if t.gap < 0.0:
        return f"It jams with its {t.part} at {t.thing}, over by {said(-t.gap, 'over', system)}."
    this = "on this way" if found.on_gear is None else "moved freely"
    text = f"Tightest {this}: {t.part} at {t.thing}, {said(t.gap, 'gap', system)}"
    text += _taken(found.spreads.get(t.thing), system)
    wider = math.isfinite(found.bare.low) and found.bare.low - t.gap > WIDTH
    return f"{text}.{' Ask for more to get a wider way, often of more moves.' if wider else ''}"


def _stopped(found: RollOut, system: str) -> str:
    """What stops it, each thing with its part and how much."""
    if not found.stops:
        return ""
    head = "No door lets it straight through" if found.stops[0].at_door else "What stops it"
    return f"{head}: {'; '.join(stop_words(one, system) for one in found.stops)}."


def stop_words(one: Stop, system: str) -> str:
    """One thing that stops it, in words."""
    if one.amount is None:
        return f"{one.part} is {one.how} {one.thing}; without it there is a way"
    return f"{one.part} is {said(one.amount, 'over', system)} {one.how} {one.thing}"


def _taken(spread: Spread | None, system: str) -> str:
    """What the tolerances may take of a gap."""
    if spread is None or not spread.worst > 0.0:
        return ""
    return (
        f", of which the inputs' tolerances may take {said(spread.worst, 'fine', system)} "
        f"(99 %: {said(spread.within_99, 'fine', system)}), "
        f"most of it from the {chief(spread.by_input)}"
    )


def _on_gear(found: RollOut, system: str) -> str:
    way = found.on_gear
    if way is None:
        return ""
    if way.answer == WAY and way.route is not None:
        text = (
            f"On its own wheels: a way out with {counted(way.shunts or 0, 'change')} of direction"
        )
        if way.tight:
            t = way.tight[0]
            text += f", tightest {said(t.gap, 'gap', system)}, {t.part} at {t.thing}"
            text += _taken(found.gear_spreads.get(t.thing), system)
        return f"{text}."
    if way.answer == NOT_FOUND:
        return f"On its own wheels: not found ({way.reason}); that proves nothing."
    return f"On its own wheels: {way.answer}, as free moves have none either."


def _proof(found: RollOut, system: str) -> str:
    drawn = said(found.wished.question.plan.drawn_out, "fine_up", system)
    if found.best is not None:
        return f"Every move is proved between its poses too, with outlines drawn out by {drawn}."
    if found.undecided:
        return "Not decided is not no: more time may decide it."
    return f"No is proved for outlines drawn out by {drawn}, on an even floor, whatever the turns."


def over_ground(answer: FitAnswer, system: str) -> tuple[str, ...]:
    """How the way goes over the ground of its door, where that is uneven; and what is noted."""
    deciding = deciding_of(answer.ground_checks)
    if deciding is None:
        return ()
    gap = "" if deciding.gap is None else f" {said(deciding.gap, 'gap', system)}"
    where = f"{deciding.what}{gap}, {deciding.detail or deciding.why}"
    told = f"Over the ground of {answer.way_door}, as one straight push: {deciding.verdict}"
    return (f"{told} ({where}).",)
