"""A value as read: a float in SI that remembers how it was written."""

from __future__ import annotations

from typing import Any, NamedTuple, NoReturn


class Reading(float):
    """A float in SI units with its tolerance, its source and the text it came from.

    value : float           the quantity [SI unit of its kind]
    tolerance : float       half width of the band around it, 0.0 if none was given [SI]
    source : str or None    'drawing', 'measured' or 'assumed'
    text : str              as written in the file
    kind : str              'length', 'angle', 'mass', ...
    Sums and products of readings are plain floats.
    """

    tolerance: float
    source: str | None
    text: str
    kind: str

    def __new__(
        cls,
        value: float,
        tolerance: float = 0.0,
        source: str | None = None,
        text: str = "",
        kind: str = "",
    ) -> Reading:
        """Make a number that knows how it was given."""
        self = super().__new__(cls, value)
        self.__dict__.update(tolerance=tolerance, source=source, text=text, kind=kind)
        return self

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"a reading is fixed: {name} cannot be set; use with_value")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"a reading is fixed: {name} cannot be removed")

    def __getnewargs__(self) -> tuple[Any, ...]:
        return (float(self), self.tolerance, self.source, self.text, self.kind)

    def with_value(self, value: float) -> Reading:
        """Another value [SI] with the same tolerance, source, text and kind."""
        return Reading(value, self.tolerance, self.source, self.text, self.kind)

    @property
    def whole_tolerance(self) -> float:
        """Half width of the band with that of all it stands on, worst case [SI]."""
        return self.tolerance


class Share(NamedTuple):
    """A shared value in a sum: its path in the file, how often it counts, and its tolerance."""

    path: tuple[str, ...]
    times: float
    tolerance: float


class Shared(Reading):
    """A reading that stands on shared values; its own tolerance is what its sum adds.

    shares : the shared values it stands on, directly or by others
    """

    shares: tuple[Share, ...]

    @classmethod
    def of(cls, given: Reading, shares: tuple[Share, ...]) -> Reading:
        """The reading as one that stands on these values; itself where there are none."""
        if not shares:
            return given
        self = cls(float(given), given.tolerance, given.source, given.text, given.kind)
        self.__dict__["shares"] = shares
        return self

    def with_value(self, value: float) -> Reading:
        """Another value [SI] on the same shared values."""
        return Shared.of(super().with_value(value), self.shares)

    @property
    def whole_tolerance(self) -> float:
        """Half width of the band with that of all it stands on, worst case [SI]."""
        return self.tolerance + sum(abs(one.times) * one.tolerance for one in self.shares)
