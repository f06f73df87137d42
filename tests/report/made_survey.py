"""A small survey made by hand: heights of tips over a floor that slopes, one read an inch off."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from planform.airframe.build import build
from planform.airframe.stages import stand
from planform.design.load import load
from planform.design.units import INCH
from planform.rigging.explain.explaining import explain
from planform.rigging.explain.net import Candidate, Net, Observed, sd_of
from planform.study.as_built import before_and_after, tip_of
from planform.study.surveyed import ReadAt, Surveyed
from tests.conftest import DESIGNS

DEG = math.radians(1.0)
UP = np.array([0.0, 0.0, 1.0])
CANDIDATES = ("left wing, dihedral", "right wing, dihedral", "foreplane, tilt")


def made_survey(dihedral: float = 0.4 * DEG, wrong: float = INCH, few: bool = False) -> Surveyed:
    """Heights read at tips and axles; few : so few that there is no answer."""
    drawn = load(DESIGNS / "marram.toml")
    standing = stand(build(drawn))
    points = {
        f"{half.name} tip, leading edge": tip_of(half)
        for half in standing.airframe.halves
        if half.group in ("wing", "foreplane")
    }
    points |= {
        name: standing.airframe.by_name[name].points.mean(axis=0)
        for name in standing.airframe.names
        if standing.airframe.by_name[name].role == "wheel"
    }
    points |= {"nose tip": np.array([0.3, 0.0, 0.8]), "tail post": np.array([5.6, 0.0, 1.0])}
    points |= {
        "left wing root": np.array([4.3, -0.6, 0.7]),
        "right wing root": np.array([4.3, 0.6, 0.7]),
    }
    rows = [(name, at) for name, at in points.items() for _ in range(2)]
    if few:
        rows = rows[:2]
    at = np.array([one for _, one in rows])
    levers = np.array([_levers(name, one) for name, one in rows])
    columns = np.hstack([np.ones((len(at), 1)), at[:, :2], levers])
    truth = np.array([0.02, 0.003, -0.002, dihedral, 0.0, 0.0])
    tolerance = np.full(len(at), INCH / 16)
    noise = np.random.default_rng(4).uniform(-1.0, 1.0, len(at)) * tolerance
    seen = columns @ truth + noise
    seen[4 % len(at)] += wrong
    heights = [float(standing.to_floor(one[None])[0, 2]) for one in at]
    readings = tuple(
        Observed(f"height of {name}", False, float(h + s), h, row=k + 2)
        for k, ((name, _), h, s) in enumerate(zip(rows, heights, seen, strict=True))
    )
    candidates = tuple(Candidate(name, True, 2.0 * DEG) for name in CANDIDATES)
    unknown = ("height of the floor", "slope of the floor, aft", "slope of the floor, right")
    net = Net(unknown, candidates, readings, columns, seen, sd_of(tolerance))
    return Surveyed(
        drawn=standing,
        source="heights.csv",
        readings=readings,
        tolerances=tolerance,
        spots=tuple(ReadAt(one, None, UP) for one in at),
        explanation=explain(net),
        sheet=None if few else before_and_after(drawn, drawn),
        as_built="" if few else 'name = "as built"\n',
        taken=("tolerance of 16 readings: 1/16 in each, what a tape gives",),
    )


def _levers(name: str, at: np.ndarray) -> tuple[float, float, float]:
    """How much each candidate lifts a point [m per rad]."""
    side = float(np.sign(at[1]))
    wing = (abs(float(at[1])) - 0.6) * ("wing tip" in name)
    return wing * (side < 0.0), wing * (side > 0.0), float(at[1]) * ("foreplane" in name)


def with_rivals(found: Surveyed) -> Surveyed:
    """The same with a rival, a next reading and so on, so that all lists are told."""
    from planform.rigging.explain.told import NextReading, Rival, Undetermined, Unseen

    told = found.explanation
    rival = Rival(("foreplane, tilt",), (0.3 * DEG,), (4,), 0.7, False, "height of the left tip")
    reading = NextReading(
        "level along the left wing tip", True, ("twist", "dihedral"), DEG, 0.1 * DEG
    )
    return replace(
        found,
        explanation=replace(
            told,
            rivals=(rival,),
            more_rivals=2,
            next_readings=(reading, replace(reading, tolerance=0.0)),
            unseen=(Unseen(0, found.readings[0].words, "left wing, dihedral"),),
            undetermined=(Undetermined("left wing, sweep", ()), Undetermined("a", ("b", "c"))),
        ),
    )
