"""The carrier file: a trailer or a container that parts travel in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field, model_validator

from planform.core.shown import Brief, Shown
from planform.design.fields import (
    ZERO_LENGTH,
    Included,
    Length,
    LengthOrZero,
    MassOrZero,
    Model,
    Name,
    PositiveLength,
    PositiveMass,
    Prose,
    SharedValue,
    Text,
    UnitSystem,
    ValueName,
    refuse,
)
from planform.design.problems import Problem


class Bed(Model):
    """What parts stand on, or the inside of what they stand in.

    headroom : inside height where there is a roof
    overhang : how far a part may stand out at the rear
    gap : to keep between parts, and to what encloses them
    """

    length: PositiveLength
    width: PositiveLength
    over_road: LengthOrZero | None = None
    headroom: PositiveLength | None = None
    overhang: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    gap: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)


class EndDoor(Model):
    """The clear opening at the rear."""

    clear_width: PositiveLength
    clear_height: PositiveLength


class Running(Model):
    """Axles and hitch of a trailer, from the front of the bed.

    axles : behind the front of the bed ; hitch : ahead of it
    empty, empty_hitch : the empty trailer's own mass, and what it puts on the hitch
    payload : the most that may be loaded ; hitch_least, hitch_most : of the loaded trailer
    """

    axles: Annotated[tuple[Length, ...], Field(min_length=1)]
    hitch: PositiveLength
    empty: PositiveMass
    empty_hitch: MassOrZero
    payload: PositiveMass | None = None
    hitch_least: MassOrZero | None = None
    hitch_most: PositiveMass | None = None
    source: Text = ""

    @property
    def axle(self) -> float:
        """The middle of the axles, which are taken to carry alike [m]."""
        return sum(float(a) for a in self.axles) / len(self.axles)


class Road(Model):
    """What may not be passed on the road, load included; source: whose rule that is."""

    width: PositiveLength | None = None
    height: PositiveLength | None = None
    source: Text = ""


class Carrier(Shown, Model):
    """The whole carrier file."""

    format: Literal["planform carrier 1"]
    name: Name
    units: UnitSystem
    story: Prose = ""
    include: Included = ()
    values: dict[ValueName, SharedValue] = Field(default_factory=dict)
    bed: Bed
    end_door: EndDoor | None = None
    running: Running | None = None
    road: Road = Road()

    @model_validator(mode="after")
    def _enclosed(self) -> Carrier:
        if self.end_door is not None and self.bed.headroom is None:
            raise refuse(
                "an end_door without bed.headroom",
                "allowed: an end door belongs to a closed carrier; give bed.headroom, its inside "
                "height, or leave the door out",
            )
        return self

    def brief(self) -> Brief:
        """Its bed and what is given of its road."""
        bed, door = self.bed, self.end_door
        rows = [("bed", f"{bed.length.text} long, {bed.width.text} wide")]
        if bed.headroom is not None:
            rows.append(("headroom", bed.headroom.text))
        if door is not None:
            rows.append(
                ("end door", f"{door.clear_width.text} wide, {door.clear_height.text} high")
            )
        return Brief(self.name, (*rows, ("units", self.units)))


def check_carrier(carrier: Carrier) -> Iterator[Problem]:
    """What does not go together in a carrier."""
    bed, running, door = carrier.bed, carrier.running, carrier.end_door
    if bed is not None and running is not None:
        for k, axle in enumerate(running.axles):
            if not 0.0 < axle < bed.length:
                allowed = f"allowed: under the bed, more than zero and less than {bed.length.text}"
                yield Problem(f"running.axles[{k + 1}]", repr(axle.text), allowed, ("bed.length",))
        least, most = running.hitch_least, running.hitch_most
        if least is not None and most is not None and least > most:
            allowed = f"allowed: no more than hitch_most ({most.text})"
            yield Problem("running.hitch_least", repr(least.text), allowed, ("running.hitch_most",))
        if running.empty_hitch >= running.empty:
            allowed = f"allowed: less than the whole trailer ({running.empty.text})"
            yield Problem(
                "running.empty_hitch", repr(running.empty_hitch.text), allowed, ("running.empty",)
            )
    if bed is not None and door is not None and bed.headroom is not None:
        if door.clear_width > bed.width:
            allowed = f"allowed: no more than bed.width ({bed.width.text})"
            yield Problem(
                "end_door.clear_width", repr(door.clear_width.text), allowed, ("bed.width",)
            )
        if door.clear_height > bed.headroom:
            allowed = f"allowed: no more than bed.headroom ({bed.headroom.text})"
            yield Problem(
                "end_door.clear_height", repr(door.clear_height.text), allowed, ("bed.headroom",)
            )
