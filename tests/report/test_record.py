"""Results as JSON: every word of the tables names a field, and every number tells its unit."""

from __future__ import annotations

import dataclasses
import json
import pkgutil
import re
from importlib import import_module

import numpy as np
import pytest

import planform.report
from planform.core.quantity import Metres, OfKind, PlacePoint, Radians
from planform.report.record import Recorder, document, unit_of


@dataclasses.dataclass(frozen=True)
class Leg:
    name: str
    run: Metres
    turn: Radians
    share: OfKind
    kind: str
    at: PlacePoint
    left: Metres | None = None
    bare: float = 0.5

    @property
    def back(self) -> tuple[Metres, Metres]:
        return self.run, -self.run


LEG = Leg("first", 2.0, 0.5, 3.0, "mass", np.array([1.0, 2.0, 3.0]))


def recorders():
    for module in pkgutil.walk_packages(planform.report.__path__, "planform.report."):
        if module.name.startswith("planform.report.curved."):
            continue  # solids alone, by an extra that need not be there
        for found in vars(import_module(module.name)).values():
            if isinstance(found, Recorder):
                yield from found.shapes.items()


TOLD = {(kind, told) for kind, told in recorders() if isinstance(told, str)}


def test_units_stand_in_the_annotations():
    told = Recorder({Leg: "name run turn heavy=share at left there_and_back=back"}).of(LEG)
    assert told == {
        "name": "first",
        "run": {"value": 2.0, "unit": "m"},
        "turn": {"value": 0.5, "unit": "rad"},
        "heavy": {"value": 3.0, "unit": "kg"},
        "at": {"value": [1.0, 2.0, 3.0], "unit": "m", "axes": "place"},
        "left": None,
        "there_and_back": [{"value": 2.0, "unit": "m"}, {"value": -2.0, "unit": "m"}],
    }


def test_a_number_without_a_unit_is_never_told():
    with pytest.raises(TypeError, match="no unit"):
        Recorder({Leg: "bare"}).of(LEG)
    assert Recorder({Leg: "bare!"}).of(LEG) == {"bare": 0.5}


def test_what_no_table_has_is_never_told():
    with pytest.raises(TypeError, match="nothing says"):
        Recorder({}).of(LEG)


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_a_number_that_is_none_is_never_printed(value):
    with pytest.raises(ValueError, match="JSON"):
        document("leg", Recorder({Leg: "run"}).of(dataclasses.replace(LEG, run=value)))


def test_every_number_a_table_tells_has_a_unit():
    """Words of one step, which can be followed without a result: they name what is there."""
    assert len(TOLD) > 25
    for kind, told in TOLD:
        for word in told.split():
            name = re.split(r"[{?!]", word.rpartition("=")[2].lstrip("*"))[0].split(".")[0]
            known = {f.name: f.type for f in dataclasses.fields(kind)}
            assert name in known or hasattr(kind, name), (kind, word)
            hint = str(known.get(name, ""))
            if "." not in word and re.fullmatch(r"float( \| None)?", hint):
                assert word.endswith("!"), f"{kind.__name__}.{name} has no unit"
            unit_of(kind, name)  # its annotation can be read


def test_keys_of_a_record_are_told_once():
    for kind, told in TOLD:
        keys = [word.partition("=")[0] for word in told.split()]
        assert len(set(keys)) == len(keys), kind


def test_a_document_says_what_it_is():
    told = json.loads(document("leg", Recorder({Leg: "name"}).of(LEG)))
    assert told["answer"] == "leg"
    assert told["schema"] == "planform answer 1"
