"""The balance part of a design file: weighing, equipment, places to load, cases, limits.

The user gives every limit; none is invented. Arms are stations aft of the datum.
"""

from __future__ import annotations

from typing import Literal

from pydantic import model_validator

from planform.design.fields import (
    Length,
    Model,
    Moment,
    Name,
    Point,
    PositiveLength,
    PositiveMass,
    Text,
    refuse,
)
from planform.design.limits import Limits
from planform.design.loading import BurnStep, JointLimit, LoadingCase, LoadPlace
from planform.design.weighing import Weighing
from planform.design.weights import Weight, one_of


class Empty(Model):
    """Empty weight and CG from an earlier record."""

    mass: PositiveMass
    fs: Length | None = None
    moment: Moment | None = None
    bl: Length | None = None
    wl: Length | None = None
    record: Text = ""

    @model_validator(mode="after")
    def _one_arm(self) -> Empty:
        one_of("fs, moment", self.fs, self.moment)
        return self


class EquipmentChange(Model):
    """A change of equipment since the empty record: what came off, what went on."""

    name: Name
    off: tuple[Weight, ...] = ()
    on: tuple[Weight, ...] = ()


class GivenMac(Model):
    """A mean aerodynamic chord from the designer's papers."""

    name: Name = "as given"
    lemac_fs: Length
    mac: PositiveLength


class NeutralPoint(Model):
    """The user's own neutral point, and where it comes from."""

    fs: Length
    record: Text


class Balance(Model):
    """Everything about weight and balance that is not a mass item of the airframe."""

    reference: Literal["planform", "trapezoid", "given"] | None = None
    mac: GivenMac | None = None
    neutral_point: NeutralPoint | None = None
    weighing: Weighing | None = None
    empty: Empty | None = None
    changes: tuple[EquipmentChange, ...] = ()
    places: dict[Name, LoadPlace] = {}
    joint_limits: dict[Name, JointLimit] = {}
    burn: tuple[BurnStep, ...] | None = None
    cases: tuple[LoadingCase, ...] = ()
    limits: Limits | None = None
    nose_load: PositiveMass | None = None
    ground_ballast: dict[Name, Point] = {}

    @model_validator(mode="after")
    def _reference_there(self) -> Balance:
        if self.reference == "given" and self.mac is None:
            raise refuse("reference 'given' and no mac", "allowed: give balance.mac with it")
        return self
