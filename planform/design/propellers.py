"""The propeller, as written down."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_ANGLE,
    ZERO_LENGTH,
    Angle,
    Length,
    Model,
    PositiveLength,
    refuse,
)


class Propeller(Model):
    """The propeller's disc, or its blades as they are parked; depth is its reach fore and aft.

    blades : how many; without them the whole disc counts, as swept
    parked_angle : of one blade from straight up, clockwise as seen from behind
    chord, tip_chord : how wide a blade is at the shaft and at the tip, half on either side of its
        own line; laid flat, which holds the blade at any pitch
    hub_diameter : of a hub that turns with the blades
    """

    disc_fs: Length
    bl: Length = Field(default=ZERO_LENGTH, validate_default=True)
    wl: Length
    diameter: PositiveLength
    depth: PositiveLength
    blades: Annotated[int, Field(ge=2, le=8, strict=True)] | None = None
    parked_angle: Angle = Field(default=ZERO_ANGLE, validate_default=True)
    chord: PositiveLength | None = None
    tip_chord: PositiveLength | None = None
    hub_diameter: PositiveLength | None = None

    @model_validator(mode="after")
    def _whole(self) -> Propeller:
        if self.blades is None:
            given = [name for name in OF_BLADES if name in self.model_fields_set]
            if given:
                allowed = "allowed: together with blades, how many there are"
                raise refuse(" and ".join(given), allowed)
        elif self.chord is None:
            raise refuse("blades and no chord", 'allowed: with their chord, such as chord = "5 in"')
        return self


OF_BLADES = ("parked_angle", "chord", "tip_chord", "hub_diameter")
"""What says more of blades."""
