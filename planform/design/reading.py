"""A value as read: a float in SI that remembers how it was written."""

from __future__ import annotations

from typing import Any, NoReturn


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
