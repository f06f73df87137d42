"""The propeller, as written down."""

from __future__ import annotations

from pydantic import Field

from planform.design.fields import (
    ZERO_LENGTH,
    Length,
    Model,
    PositiveLength,
)


class Propeller(Model):
    """The disc that the propeller sweeps; depth is how far it reaches fore and aft."""

    disc_fs: Length
    bl: Length = Field(default=ZERO_LENGTH, validate_default=True)
    wl: Length
    diameter: PositiveLength
    depth: PositiveLength
