"""The design file: the aircraft as written down."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from planform.core.shown import Brief, Shown
from planform.design.balance import Balance
from planform.design.fields import (
    Angle,
    Length,
    LengthOrZero,
    Model,
    Name,
    Point,
    PositiveLength,
    PositiveMass,
    Prose,
    Side,
    Text,
    UnitSystem,
    refuse,
)
from planform.design.reading import Reading

ZERO_LENGTH = "0 in"
ZERO_ANGLE = "0 deg"


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
    cant: Angle | None = None
    sweep: Angle | None = None
    sweep_le_plan: Angle | None = None
    sweep_quarter_plan: Angle | None = None
    sweep_le_panel: Angle | None = None
    sweep_quarter_panel: Angle | None = None
    incidence: Angle = Field(default=ZERO_ANGLE, validate_default=True)
    profile: Name | None = None
    joint: Name | None = None

    @model_validator(mode="after")
    def _one_way_each(self) -> LiftingCut:
        for names in (AFT_WAYS, ("dihedral", "cant", "wl"), ("bl", "length")):
            given = [name for name in names if getattr(self, name) is not None]
            upright = set(given) == {"bl", "length"}
            if len(given) > 1 and not upright:
                raise refuse(" and ".join(given), f"allowed: only one of {', '.join(names)}")
        return self


AFT_WAYS = (
    "fs",
    "sweep",
    "sweep_le_plan",
    "sweep_quarter_plan",
    "sweep_le_panel",
    "sweep_quarter_panel",
)


class Surface(Model):
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


class Winglet(Model):
    """A winglet that starts at the tip of a surface.

    length runs along the panel (with a blend radius: along the surface, arc included);
    cant is from the vertical, outboard positive; toe is leading edge inboard positive.
    """

    on: Name
    side: Side = "both"
    direction: Literal["up", "down"] = "up"
    length: PositiveLength
    cant: Angle
    toe: Angle = Field(default=ZERO_ANGLE, validate_default=True)
    sweep_le_panel: Angle
    root_chord: PositiveLength | None = None
    tip_chord: PositiveLength
    root_setback: Length = Field(default=ZERO_LENGTH, validate_default=True)
    blend_radius: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    profile: Name = "NACA 0010"
    closed_trailing_edge: bool = True


class BodyCut(Model):
    """One cut through a body: a superellipse between two waterlines.

    boxiness : the exponent of the superellipse; 2 is an ellipse, more is nearer to a rectangle
    """

    fs: Length
    half_width: PositiveLength
    bottom: Length
    top: Length
    boxiness: Annotated[float, Field(ge=1.5, le=12.0)] = 2.5

    @model_validator(mode="after")
    def _upright(self) -> BodyCut:
        if not self.top > self.bottom:
            raise refuse(
                f"bottom {self.bottom.text!r}, top {self.top.text!r}",
                "allowed: a top above the bottom",
            )
        return self


class Body(Model):
    """A body lofted straight from cut to cut: pod, cowl, spinner, boom."""

    role: Literal["fuselage", "cowl", "spinner", "boom"] = "fuselage"
    side: Side = "centre"
    bl: Length = Field(default=ZERO_LENGTH, validate_default=True)
    cuts: Annotated[tuple[BodyCut, ...], Field(min_length=2)]


class Propeller(Model):
    """The disc that the propeller sweeps; depth is how far it reaches fore and aft."""

    disc_fs: Length
    bl: Length = Field(default=ZERO_LENGTH, validate_default=True)
    wl: Length
    diameter: PositiveLength
    depth: PositiveLength


class Leg(Model):
    """The straight leg between a wheel's axle and the airframe."""

    top: Point
    thickness: PositiveLength


class Wheel(Model):
    """A wheel with its tyre; flat_drop is how much lower the axle sits on a flat tyre.

    steers is how far it can be steered each way; without it, it casters or is braked.
    """

    side: Side = "centre"
    fs: Length
    bl: Length
    wl: Length
    diameter: PositiveLength
    width: PositiveLength
    flat_drop: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    steers: Angle | None = None
    leg: Leg | None = None

    @field_validator("steers")
    @classmethod
    def _forward(cls, given: Reading | None) -> Reading | None:
        if given is not None and not 0.0 < given < 0.5 * math.pi:
            allowed = "allowed: more than 0 and less than 90 deg; leave it out where it casters"
            raise refuse(repr(given.text), allowed)
        return given


class Pad(Model):
    """A point the aircraft may stand on that is no wheel: bumper, jack pad, cradle point."""

    side: Side = "centre"
    fs: Length
    bl: Length
    wl: Length


class Strut(Model):
    """A gas strut: its length with the panel open, and its two mounts with the panel shut."""

    length: PositiveLength
    frame_mount: Point
    panel_mount: Point


class Panel(Model):
    """A swing panel: a door or canopy on a straight hinge line."""

    hinge_from: Point
    hinge_to: Point
    width: PositiveLength
    toward: Literal["left", "right", "ahead", "aft", "up", "down"]
    opens: Literal["up", "down", "left", "right", "ahead", "aft"] = "up"
    rise: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    thickness: PositiveLength
    open_angle: Angle | None = None
    strut: Strut | None = None

    @model_validator(mode="after")
    def _one_angle(self) -> Panel:
        if (self.open_angle is None) == (self.strut is None):
            given = "both" if self.strut else "neither"
            raise refuse(given, "allowed: either open_angle or a strut that gives the angle")
        return self


class Mass(Model):
    """A mass item; part names what it goes on and off with."""

    name: Name
    mass: PositiveMass
    fs: Length
    bl: Length = Field(default=ZERO_LENGTH, validate_default=True)
    wl: Length
    part: Name | None = None


class Stance(Model):
    """What the aircraft stands on, and in which state."""

    on: tuple[Name, ...]
    heights: dict[Name, Length] = {}
    flat: tuple[Name, ...] = ()
    compressed: dict[Name, Length] = {}
    retracted: tuple[Name, ...] = ()
    text: Text = ""


class Stage(Model):
    """A build stage: which parts are on and which swing panels are open.

    permanent : what the step to this stage joins for good, so that there is no way back over it;
        of what came on with it the parts that are named, or all where none is
    """

    name: Name
    parts: tuple[Name, ...] | None = None
    without: tuple[Name, ...] = ()
    open: tuple[Name, ...] = ()
    stance: Name
    permanent: Name | None = None

    @field_validator("permanent", mode="before")
    @classmethod
    def _in_words(cls, given: object) -> object:
        if given is not None and not (isinstance(given, str) and given.strip()):
            example = 'permanent = "winglets bonded on"'
            raise refuse(repr(given), f"allowed: what is joined for good, in words: {example}")
        return given

    @model_validator(mode="after")
    def _one_list(self) -> Stage:
        if self.parts is not None and self.without:
            raise refuse("parts and without", "allowed: only one of the two lists")
        return self


class Design(Shown, Model):
    """The whole design file."""

    format: Literal["planform design 1"]
    name: Name
    units: UnitSystem
    datum: Annotated[Prose, Field(min_length=1, max_length=400)]
    story: Prose = ""
    spot_station: Length | None = None
    lifting: dict[Name, Surface] = {}
    winglets: dict[Name, Winglet] = {}
    bodies: dict[Name, Body] = {}
    propeller: Propeller | None = None
    wheels: dict[Name, Wheel] = {}
    pads: dict[Name, Pad] = {}
    panels: dict[Name, Panel] = {}
    masses: tuple[Mass, ...] = ()
    balance: Balance | None = None
    stances: dict[Name, Stance] = {}
    stages: tuple[Stage, ...] = ()

    def brief(self) -> Brief:
        """Its parts and stages by name."""
        rows = (
            ("lifting", ", ".join(self.lifting)),
            ("winglets", ", ".join(self.winglets)),
            ("bodies", ", ".join(self.bodies)),
            ("stages", ", ".join(stage.name for stage in self.stages)),
            ("units", self.units),
            ("datum", self.datum),
        )
        return Brief(self.name, tuple(row for row in rows if row[1]))
