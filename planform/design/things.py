"""What stands and hangs in a place, as written down."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from planform.design.fields import (
    ZERO_LENGTH,
    LengthOrZero,
    Model,
    Name,
    PositiveLength,
)
from planform.design.floor import Corner


class Obstacle(Model):
    """A thing that hangs or stands: a plan outline and the heights it fills."""

    name: Name
    kind: Literal["hanging", "standing"]
    outline: Annotated[tuple[Corner, ...], Field(min_length=3)]
    bottom: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    top: PositiveLength | None = None
