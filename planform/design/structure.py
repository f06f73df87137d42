"""What stands inside the skins, and before them: spars, ribs, foam cores, bulkheads, firewalls."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, WithJsonSchema, model_validator

from planform.design.bodies import Body
from planform.design.fields import (
    ZERO_LENGTH,
    Length,
    LengthOrZero,
    Model,
    Name,
    PositiveLength,
    Side,
    refuse,
)
from planform.design.pairs import Sideable
from planform.design.problems import Problem, unknown
from planform.design.surfaces import Surface, Winglet

SHARE = "allowed: a share of the chord from the leading edge, 0 to 1, such as 0.35 or 35 %"


def _share(given: object) -> object:
    """A share as a number; also where it is a text in percent."""
    if not isinstance(given, str):
        return given
    text = given.strip()
    try:
        return float(text.removesuffix("%")) / 100.0 if text.endswith("%") else float(text)
    except ValueError:
        raise refuse(repr(given), SHARE) from None


def _within(given: float) -> float:
    if not 0.0 <= given <= 1.0:
        raise refuse(f"{given:g}", SHARE)
    return given


Fraction = Annotated[
    float,
    BeforeValidator(_share),
    AfterValidator(_within),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "number", "minimum": 0, "maximum": 1},
                {"type": "string", "examples": ["35 %"]},
            ]
        }
    ),
]
"""A share of the chord, as a number or in percent."""


class SparEnd(Model):
    """One end of a spar: how far out on the surface, and how far aft.

    bl and along (along the surface from its first cut) left out: the surface's own root or tip
    """

    bl: Length | None = None
    along: LengthOrZero | None = None
    fs: Length | None = None
    chord_fraction: Fraction | None = None

    @model_validator(mode="after")
    def _one_way_each(self) -> SparEnd:
        if self.bl is not None and self.along is not None:
            raise refuse("bl and along", "allowed: only one of them")
        if (self.fs is None) == (self.chord_fraction is None):
            given = "neither fs nor chord_fraction" if self.fs is None else "fs and chord_fraction"
            raise refuse(given, "allowed: one of them, the middle of the spar there")
        return self


class Spar(Sideable):
    """A spar along a surface or winglet, with its own height or following the skin inside it.

    width : fore and aft, along the chord ; height : square to the chord, about its middle
    inside : in place of a height, how far it stays inside the built skin, square to the chord
    carried_by : what it goes on and off with, where that is not the surface
    """

    on: Name
    carried_by: Name | None = None
    side: Side = "both"
    root: SparEnd | None = None
    tip: SparEnd
    width: PositiveLength
    tip_width: PositiveLength | None = None
    height: PositiveLength | None = None
    tip_height: PositiveLength | None = None
    inside: LengthOrZero | None = None

    @model_validator(mode="after")
    def _ways(self) -> Spar:
        if (self.height is None) == (self.inside is None):
            given = "neither height nor inside" if self.height is None else "height and inside"
            raise refuse(given, "allowed: one of them")
        if self.tip_height is not None and self.height is None:
            raise refuse("tip_height and inside", "allowed: a tip_height beside a height")
        through: bool = self.side == "centre"
        for name in ("root", "tip_width", "tip_height"):
            if through and getattr(self, name) is not None:
                allowed = f"allowed: no {name} where side is 'centre'; it runs straight, tip to tip"
                raise refuse(name, allowed)
        if not through and self.root is None:
            raise refuse("no root", "this field is needed; only side = 'centre' goes without")
        return self


class Rib(Sideable):
    """A rib or foam core: the surface's own section from one place of its span to another.

    bl or along : where it begins ; thickness : outboard from there, along the surface
    inside : how far it stays inside the built skin, square to the chord
    """

    on: Name
    side: Side = "both"
    role: Literal["rib", "core"] = "rib"
    bl: Length | None = None
    along: LengthOrZero | None = None
    thickness: PositiveLength
    inside: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    from_chord: Fraction = 0.0
    to_chord: Fraction = 1.0

    @model_validator(mode="after")
    def _one_place(self) -> Rib:
        if (self.bl is None) == (self.along is None):
            given = "neither bl nor along" if self.bl is None else "bl and along"
            raise refuse(given, "allowed: one of them, where it begins")
        if not self.to_chord > self.from_chord:
            given = f"from_chord {self.from_chord:g}, to_chord {self.to_chord:g}"
            raise refuse(given, "allowed: a to_chord above the from_chord")
        return self


class Bulkhead(Sideable):
    """A plate across a body: its section at a station less so much, or a rectangle.

    thickness : aft from its fs ; inside : how far it stays inside the built skin
    """

    on: Name
    side: Side = "centre"
    role: Literal["bulkhead", "firewall"] = "bulkhead"
    fs: Length
    thickness: PositiveLength
    inside: LengthOrZero | None = None
    width: PositiveLength | None = None
    bottom: Length | None = None
    top: Length | None = None

    @model_validator(mode="after")
    def _one_outline(self) -> Bulkhead:
        own = [name for name in RECTANGLE if getattr(self, name) is not None]
        if own and self.inside is not None:
            raise refuse(f"inside and {own[0]}", "allowed: inside, or width, bottom and top")
        if own and len(own) < len(RECTANGLE):
            raise refuse(f"only {' and '.join(own)}", "allowed: all of width, bottom and top")
        if self.bottom is not None and self.top is not None and not self.top > self.bottom:
            given = f"bottom {self.bottom.text!r}, top {self.top.text!r}"
            raise refuse(given, "allowed: a top above the bottom")
        return self


RECTANGLE = ("width", "bottom", "top")

Host = Surface | Winglet | Body


def check_structure(
    inner: dict[str, dict[str, Any]], lifted: Mapping[str, Host], bodies: Mapping[str, Host]
) -> Iterator[Problem]:
    """Problems of spars, ribs and bulkheads: no host of that name, or a side that it has not.

    inner : by the field of the design that holds them, then by name
    lifted, bodies : what spars and ribs, and what bulkheads stand on
    """
    for field, items in inner.items():
        hosts = bodies if field == "bulkheads" else lifted
        for name, item in items.items():
            path = f"{field}.{name}"
            if item.on not in hosts:
                yield unknown(f"{path}.on", item.on, hosts)
                continue
            yield from _sides(path, item, hosts[item.on])
            if isinstance(item, Spar):
                yield from _carried(path, item, [*lifted, *bodies])


def _carried(path: str, spar: Spar, known: Iterable[str]) -> Iterator[Problem]:
    if spar.carried_by is not None and spar.carried_by not in known:
        yield unknown(f"{path}.carried_by", spar.carried_by, known)


def _sides(path: str, item: Any, host: Host) -> Iterator[Problem]:
    """A part on a side that its host has not, or through the centre of what is no pair."""
    allowed: tuple[str, ...] = ("both", "right", "left") if host.side == "both" else (host.side,)
    if isinstance(item, Spar) and isinstance(host, Surface) and host.side == "both":
        allowed = (*allowed, "centre")
    if item.side not in allowed:
        words = " or ".join(repr(one) for one in allowed)
        yield Problem(f"{path}.side", repr(item.side), f"allowed: {words}, as {item.on} stands")
