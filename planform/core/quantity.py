"""Numbers with their SI units in their annotations, so that writers of results can tell both."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class Unit:
    """The SI unit of a number, or of every number in a tuple, a mapping or an array.

    axes : of a point, what its values run along; '' where each value is a number by itself
    """

    name: str
    axes: str = ""


@dataclass(frozen=True)
class UnitOf:
    """The unit of a number by its kind of quantity, which stands in another field of the result.

    field : its name, or several with points between them
    """

    field: str


@dataclass(frozen=True)
class OuterUnit:
    """The unit that the annotation of the field gives in which the result itself stands."""


Metres = Annotated[float, Unit("m")]
CubicMetres = Annotated[float, Unit("m3")]
Kilograms = Annotated[float, Unit("kg")]
KilogramMetres = Annotated[float, Unit("kg m")]
Newtons = Annotated[float, Unit("N")]
Radians = Annotated[float, Unit("rad")]
Ratio = Annotated[float, Unit("1")]
OfKind = Annotated[float, UnitOf("kind")]
OfReading = Annotated[float, UnitOf("reading.kind")]
OfHolder = Annotated[float, OuterUnit()]

Lengths = Annotated[NDArray[np.float64], Unit("m")]
PlacePoint = Annotated[NDArray[np.float64], Unit("m", "place")]
"""A point in place axes."""
PlanPoint = Annotated[tuple[float, float], Unit("m", "place")]
"""A point of the floor in place axes."""
FloorPoint = Annotated[tuple[float, float], Unit("m", "floor: aft, right")]
"""A point of the aircraft in floor axes."""
DoorPoint = Annotated[
    NDArray[np.float64],
    Unit("m", "outward from the inner wall line, right of the door's middle looking out, up"),
]
"""A point on the way out of a door."""
