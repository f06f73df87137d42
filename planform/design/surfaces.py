"""Lifting surfaces and winglets, as written down."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_ANGLE,
    ZERO_LENGTH,
    Angle,
    Cant,
    Length,
    LengthOrZero,
    Model,
    Name,
    PositiveLength,
    Side,
    refuse,
)
from planform.design.folds import Fold
from planform.design.pairs import Sideable


class LiftingCut(Model):
    """One cut through a lifting surface: where its leading edge is, its chord and its setting.

    The first cut names fs, bl and wl. A later one names how far out it stands (bl, or
    length along the surface, or wl where the surface goes straight up), how high (wl, dihedral or
    cant) and how far aft (fs, or the sweep of one named line).
    """

    chord: PositiveLength
    fs: Length | None = None
    bl: Length | None = None
    wl: Length | None = None
    length: PositiveLength | None = None
    dihedral: Angle | None = None
    cant: Cant | None = None
    sweep: Angle | None = None
    sweep_le_plan: Angle | None = None
    sweep_quarter_plan: Angle | None = None
    sweep_le_panel: Angle | None = None
    sweep_quarter_panel: Angle | None = None
    incidence: Angle = Field(default=ZERO_ANGLE, validate_default=True)
    profile: Name | None = None
    joint: Name | None = None
    fold: Fold | None = None

    @model_validator(mode="after")
    def _one_way_each(self) -> LiftingCut:
        for names in (AFT_WAYS, ("dihedral", "cant", "wl"), ("bl", "length")):
            given = [name for name in names if getattr(self, name) is not None]
            upright = set(given) == {"bl", "length"}
            if len(given) > 1 and not upright:
                raise refuse(" and ".join(given), f"allowed: only one of {', '.join(names)}")
        if self.fold is not None and self.joint is None:
            allowed = 'allowed: at a joint, with the name of what folds: joint = "outer panel"'
            raise refuse("fold without a joint", allowed)
        return self


AFT_WAYS = (
    "fs",
    "sweep",
    "sweep_le_plan",
    "sweep_quarter_plan",
    "sweep_le_panel",
    "sweep_quarter_panel",
)


class Surface(Sideable):
    """A lifting surface: a chain of straight panels from cut to cut.

    carried_through : of a surface that begins off the centre line, whether it goes on through the
        body; its root chord is then carried straight to the centre line in areas, MAC and lattice
    """

    role: Literal["wing", "foreplane", "tailplane", "fin"]
    side: Side = "both"
    carried_through: bool | None = None
    profile: Name = "NACA 0012"
    closed_trailing_edge: bool = True
    cuts: Annotated[tuple[LiftingCut, ...], Field(min_length=2)]


class Winglet(Sideable):
    """A winglet that starts at the tip of a surface.

    length runs along the panel (with a blend radius: along the surface, arc included);
    cant is from the vertical, outboard positive; toe is leading edge inboard positive.
    """

    on: Name
    side: Side = "both"
    direction: Literal["up", "down"] = "up"
    length: PositiveLength
    cant: Cant
    toe: Angle = Field(default=ZERO_ANGLE, validate_default=True)
    sweep_le_panel: Angle
    root_chord: PositiveLength | None = None
    tip_chord: PositiveLength
    root_setback: Length = Field(default=ZERO_LENGTH, validate_default=True)
    blend_radius: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    profile: Name = "NACA 0010"
    closed_trailing_edge: bool = True
