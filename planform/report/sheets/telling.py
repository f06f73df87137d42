"""How a dimension tells its value, its tolerance and where that comes from."""

from __future__ import annotations

from dataclasses import dataclass

from planform.core.spread import Spread
from planform.design.models import Design
from planform.design.naming import field_name
from planform.design.told import plus_minus, said
from planform.design.vary import readings

LETTERS = {"measured": "M", "drawing": "D", "assumed": "A"}
"""The letter that stands for each source of a reading."""
LEGEND = "± worst case of the inputs' tolerances; M measured, D drawing, A assumed, of what counts"
MEASURES = {"foreplane_span": "foreplane.span"}
"""The measures of dimensions that have another key."""
COUNTS = 0.1
"""An input that brings less than this share of a tolerance is not named."""


@dataclass(frozen=True, eq=False)
class Teller:
    """Words for the dimensions of one aircraft as it stands.

    spread : of each measure, by its key
    """

    design: Design
    spread: dict[str, Spread]
    system: str

    def words(self, value: float, kind: str = "length") -> str:
        """The value in the reader's units."""
        return said(value, kind, self.system)

    def tail(self, key: str) -> str:
        """Its tolerance and the letters of where that comes from; '' where none is given."""
        spread = self.spread.get(MEASURES.get(key, key))
        band = plus_minus(spread.worst, "length", self.system) if spread else ""
        if spread is None or not band:
            return ""
        return " ".join((band, *self._letters(spread)))

    def _letters(self, spread: Spread) -> list[str]:
        sources = self._sources
        most = sum(change for _, change in spread.by_input)
        found = (
            LETTERS.get(sources.get(name) or "", "")
            for name, change in spread.by_input
            if change >= COUNTS * most
        )
        return [one for one in dict.fromkeys(found) if one]

    @property
    def _sources(self) -> dict[str, str | None]:
        return {field_name(self.design, path): r.source for path, r in readings(self.design)}
