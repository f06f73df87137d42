"""Which way an aircraft tips over its main wheels, back or over its nose, and the words for it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Ends:
    """The words for tipping lengthwise over the main wheels.

    down : the end that comes down ; up : the one that rises, which the odd wheel is under
    """

    down: str
    up: str
    falls: str
    without: str
    lies: str
    back_on: str
    angle: str


BACK = Ends(
    down="tail",
    up="nose",
    falls="SITS ON ITS TAIL",
    without="WOULD SIT ON ITS TAIL WITHOUT",
    lies="sat back on",
    back_on="its nose",
    angle="tip back",
)
OVER = Ends(
    down="nose",
    up="tail",
    falls="GOES OVER ON ITS NOSE",
    without="WOULD GO OVER ON ITS NOSE WITHOUT",
    lies="gone over on",
    back_on="its tail wheel",
    angle="nose over",
)
