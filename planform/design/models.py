"""The design file: the aircraft as written down."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from planform.core.shown import Brief, Shown
from planform.design.as_built import AsBuilt
from planform.design.balance import Balance
from planform.design.bodies import Body
from planform.design.controls import Control
from planform.design.drawings import DrawingNotes
from planform.design.fields import (
    ZERO_LENGTH,
    Angle,
    Included,
    Length,
    Model,
    Name,
    PositiveMass,
    Prose,
    SharedValue,
    Text,
    UnitSystem,
    ValueName,
    refuse,
)
from planform.design.fittings import Fitting
from planform.design.gear import Pad, Wheel
from planform.design.joints import Joint
from planform.design.panels import Panel
from planform.design.points import OwnPoint
from planform.design.profiles import Profile
from planform.design.propellers import Propeller
from planform.design.structure import Bulkhead, Rib, Spar
from planform.design.struts import LiftStrut
from planform.design.surfaces import Surface, Winglet


class Mass(Model):
    """A mass item; part names what it goes on and off with."""

    name: Name
    mass: PositiveMass
    fs: Length
    bl: Length = Field(default=ZERO_LENGTH, validate_default=True)
    wl: Length
    part: Name | None = None


class Stance(Model):
    """What the aircraft stands on, and in which state.

    deflected : by how much control surfaces are: trailing edge down, outboard or left positive
    folded : the panels that are folded, each at the angle of its joint
    turned : by how much what has a hinge is turned from how it is built, an open panel's angle too
    """

    on: tuple[Name, ...]
    heights: dict[Name, Length] = {}
    flat: tuple[Name, ...] = ()
    compressed: dict[Name, Length] = {}
    retracted: tuple[Name, ...] = ()
    turned: dict[Name, Angle] = {}
    folded: tuple[Name, ...] = ()
    deflected: dict[Name, Angle] = {}
    text: Text = ""


class Stage(Model):
    """A build stage: which parts are on and which swing panels are open.

    bare : whose skins are not on, while what stands inside them and on them stays
    permanent : what the step to this stage joins for good, so that there is no way back over it;
        of what came on with it the parts that are named, or all where none is
    """

    name: Name
    parts: tuple[Name, ...] | None = None
    without: tuple[Name, ...] = ()
    bare: tuple[Name, ...] = ()
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
    include: Included = ()
    values: dict[ValueName, SharedValue] = Field(default_factory=dict)
    spot_station: Length | None = None
    profiles: dict[Name, Profile] = {}
    lifting: dict[Name, Surface] = {}
    winglets: dict[Name, Winglet] = {}
    controls: dict[Name, Control] = {}
    bodies: dict[Name, Body] = {}
    spars: dict[Name, Spar] = {}
    ribs: dict[Name, Rib] = {}
    bulkheads: dict[Name, Bulkhead] = {}
    propeller: Propeller | None = None
    wheels: dict[Name, Wheel] = {}
    pads: dict[Name, Pad] = {}
    panels: dict[Name, Panel] = {}
    struts: dict[Name, LiftStrut] = {}
    fittings: dict[Name, Fitting] = {}
    masses: tuple[Mass, ...] = ()
    balance: Balance | None = None
    stances: dict[Name, Stance] = {}
    stages: tuple[Stage, ...] = ()
    points: dict[Name, OwnPoint] = {}
    joints: dict[Name, Joint] = {}
    as_built: tuple[AsBuilt, ...] = ()
    drawings: DrawingNotes | None = None

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
