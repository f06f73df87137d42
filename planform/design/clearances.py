"""What a shop wants to keep free, as written down."""

from __future__ import annotations

from typing import Annotated

from pydantic import WithJsonSchema, field_validator

from planform.design.fields import (
    LengthOrZero,
    Model,
    Text,
    refuse,
)
from planform.design.guidance import guide_names, guided

_NAME = {"type": "string", "enum": list(guide_names())}


GuideNames = Annotated[
    tuple[str, ...], WithJsonSchema({"anyOf": [_NAME, {"type": "array", "items": _NAME}]})
]


class Clearances(Model):
    """What the shop wants to keep free.

    guide : published sources, by name, that give what is not given here; source: where what is
    given here comes from
    """

    guide: GuideNames = ()
    walls: LengthOrZero | None = None
    ceiling: LengthOrZero | None = None
    obstacles: LengthOrZero | None = None
    door_sides: LengthOrZero | None = None
    door_head: LengthOrZero | None = None
    ground: LengthOrZero | None = None
    source: Text = ""

    @field_validator("guide", mode="before")
    @classmethod
    def _one_or_more(cls, given: object) -> object:
        names = [given] if isinstance(given, str) else given
        if not isinstance(names, list | tuple) or not all(isinstance(n, str) for n in names):
            sources = ", ".join(guide_names())
            raise refuse(
                repr(given), f"allowed: the name of a source, or a list of them: {sources}"
            )
        return names

    def wanted(self, field: str) -> tuple[float | None, str]:
        """What is to be kept free by a field's name [m], and in words where that comes from."""
        given = getattr(self, field)
        if given is not None:
            return float(given), self.source
        guide = guided(field, self.guide)
        return (None, "") if guide is None else (guide.metres, f"{guide.source} ({guide.status})")
