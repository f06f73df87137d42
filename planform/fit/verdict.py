"""The four words of a verdict, from best to worst."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum


class Verdict(StrEnum):
    """The word on one question, ordered from best to worst: the greatest is the worst.

    A member is its own words, so tables, pages and JSON show it as it is.
    """

    FITS = "fits"
    CARE = "fits only with care"
    UNJUDGED = "not judged"
    NOT = "does not fit"

    @property
    def rank(self) -> int:
        """Its place from best to worst, from 0."""
        return list(Verdict).index(self)

    @property
    def colour(self) -> str:
        """The key of its colour, mark and style: fits, care, un, not."""
        return {"FITS": "fits", "CARE": "care", "UNJUDGED": "un", "NOT": "not"}[self.name]

    @property
    def good(self) -> bool:
        """Whether it fits, with care or without."""
        return self <= Verdict.CARE

    def __lt__(self, other: str) -> bool:
        return self.rank < Verdict(other).rank

    def __le__(self, other: str) -> bool:
        return self.rank <= Verdict(other).rank

    def __gt__(self, other: str) -> bool:
        return self.rank > Verdict(other).rank

    def __ge__(self, other: str) -> bool:
        return self.rank >= Verdict(other).rank


FITS, CARE, UNJUDGED, NOT = Verdict
"""The words by themselves."""


def worst_verdict(verdicts: Iterable[Verdict]) -> Verdict:
    """A whole is as good as its worst part; not judged where there is none."""
    return max(verdicts, default=UNJUDGED)
