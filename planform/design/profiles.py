"""Profiles by their own coordinates, as written down."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Annotated

from pydantic import AfterValidator, StringConstraints, model_validator

from planform.core.shape.coordinates import BadCoordinates, contour
from planform.core.shape.drawn import Drawn
from planform.core.shape.profiles import Profile as Section
from planform.core.shape.sections import parse
from planform.design.fields import Model, Text, refuse, seen_lines
from planform.design.problems import Problem, unknown

LONGEST = 100_000
"""Characters of the coordinates of one profile; a thousand points are a third of it."""

Columns = Annotated[str, StringConstraints(max_length=LONGEST), AfterValidator(seen_lines)]


class Profile(Model):
    """A section by its own coordinates: x and y a line, in chords or percent, from a file or here.

    From the trailing edge round the leading edge and back, or two runs from the leading edge.
    """

    file: Text | None = None
    coordinates: Columns | None = None

    @model_validator(mode="after")
    def _given(self) -> Profile:
        if self.file is None and self.coordinates is None:
            raise refuse("neither file nor coordinates", "allowed: one of the two")
        return self


@lru_cache(maxsize=256)
def _drawn(text: str) -> Drawn:
    return Drawn(contour(text))


def section_named(name: str, profiles: dict[str, Profile]) -> Section:
    """The section that a profile's name means: one of the design's own, or one by its digits.

    Raises ValueError, as `contour` and `parse` do.
    """
    own = profiles.get(name)
    if own is None:
        return parse(name)
    return _drawn(own.coordinates or "")


def check_profiles(profiles: dict[str, Profile]) -> Iterator[Problem]:
    """Problems of profiles: no coordinates, or none that are a section."""
    for name, profile in profiles.items():
        path = f"profiles.{name}"
        if name.strip().upper().startswith("NACA"):
            allowed = "allowed: a name of its own, which does not begin like those by digits"
            yield Problem(path, repr(name), allowed)
        if profile.coordinates is None:
            allowed = "a design given as tables has no folder; give its coordinates instead"
            yield Problem(f"{path}.file", repr(profile.file), allowed)
            continue
        try:
            _drawn(profile.coordinates)
        except BadCoordinates as bad:
            field = "coordinates" if profile.file is None else "file"
            where = [part for part in (profile.file, bad.line and f"line {bad.line}") if part]
            given = ": ".join([", ".join(map(str, where)), bad.given] if where else [bad.given])
            yield Problem(f"{path}.{field}", given, bad.allowed)


def check_profile_name(
    path: str, name: str, profiles: dict[str, Profile], *, closed: bool
) -> Iterator[Problem]:
    """Problems of a profile's name at a surface, and of a trailing edge unlike the surface's."""
    try:
        section = section_named(name, profiles)
    except BadCoordinates:
        return  # told of the profile itself
    except ValueError as error:
        if not profiles:
            yield Problem(path, repr(name), str(error))
            return
        told = unknown(path, name, profiles, ("profiles.*",))
        yield Problem(path, told.given, f"{told.allowed}; or {_bare(str(error))}", told.rests)
        return
    if not isinstance(section, Drawn) or section.closed == closed:
        return
    if closed:
        allowed = (
            f"its trailing edge is open by {100.0 * section.gap:.2g} % of the chord; allowed: "
            "closed_trailing_edge = false here, or one trailing edge point in its coordinates"
        )
    else:
        allowed = (
            "its trailing edge is closed; allowed: leave closed_trailing_edge out here, or give "
            "coordinates with an open one"
        )
    yield Problem(path, repr(name), allowed)


def _bare(allowed: str) -> str:
    return allowed.removeprefix("allowed: ")
