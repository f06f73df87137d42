"""The graded rooms against answers that the search has no part in.

Closed forms, derived here; the derivation stands at each test. The thin cross and the tee are
known by the second method of `benchmarks/headings.py` (exact regions, one heading at a time), and
lie under a closed form. W is a door's width, c a clearance, a the thickness of a thin arm.
"""

from __future__ import annotations

import re
import tomllib

import numpy as np
import pytest

from benchmarks.answers import ROOT, Answer, answers, loaded
from planform.fit.ground_plan import Keep
from planform.fit.question import box_limit, question_for
from planform.fit.way_out import NONE, WAY, way_out

TABLE = answers()
CHORD = 2.4
BESIDE = 0.02


def numbers(name: str) -> dict:
    """A room's file, all lengths as floats in metres."""

    def read(node):
        if isinstance(node, dict):
            return {key: read(value) for key, value in node.items()}
        if isinstance(node, list):
            return [read(value) for value in node]
        if isinstance(node, str) and re.fullmatch(r"[\d.]+ mm", node):
            return float(node.split()[0]) / 1e3
        return node

    return read(tomllib.loads(TABLE[name].place.read_text(encoding="utf-8")))


def span(thing: dict, axis: int) -> tuple[float, float]:
    """From where to where the outline of an obstacle goes [m]."""
    at = [corner[axis] for corner in thing["outline"]]
    return min(at), max(at)


def holds(answer: Answer, form: float) -> bool:
    """Whether the table's bracket holds a closed form."""
    return answer.low - 1e-9 <= form <= answer.high + 1e-9


@pytest.mark.parametrize("name", ["thin-cross", "tee"])
def test_an_arm_passes_while_its_neighbour_lies_in_the_door(name):
    """With arms of length r, r and one longer, one end passes the wall's line while the next arm
    lies in the door (case B6 of the doors). An arm of thickness a that ends square holds a line of
    length r - a/2 drawn out by a/2, and the jambs are points drawn out by c:
    W - 2 (c + a/2) >= r - a/2.
    """
    (door,) = numbers(name)["doors"]
    r, a = 3.0, 0.25
    most = (door["clear_width"] - r - 0.5 * a) / 2.0
    assert most == pytest.approx(0.2375)
    assert 0.0 < TABLE[name].low < TABLE[name].high < most
    assert TABLE[name].high - TABLE[name].low < 0.005


def test_beam_between_winglets():
    """Both winglets are beside the wide beam at some time, as it is longer than a turn can set
    them apart that still straddles the narrow one. Of a point on each, as far apart across the
    beam as they are along the wing at the most, the beam and twice c go between.
    """
    narrow, wide = numbers("beam")["obstacles"]
    apart = 2.0 * (3.0 - 0.5 * 0.10 * 0.6)
    broad, long = np.ptp(span(wide, 0)), np.ptp(span(wide, 1))
    assert apart * np.cos(np.arcsin(long / apart)) < np.ptp(span(narrow, 0))
    assert holds(TABLE["beam"], 0.5 * (apart - broad))


def test_low_wide_door_beside_a_high_narrow_one():
    """The tops of the winglets are over the low head. A rectangle's least width is its chord (case
    B4 of the doors), and that is what the high door must leave twice c beside.
    """
    low, high = numbers("two-doors")["doors"]
    assert low["clear_height"] < 0.5 + 1.2 < high["clear_height"]
    assert holds(TABLE["two-doors"], 0.5 * (high["clear_width"] - CHORD))


def test_columns_of_a_long_hall():
    """The rectangle, 6 m long, is beside two columns on the left and one between them on the right
    at once. Turned by t, a strip between these is at most A cos t - s sin t wide, A across the
    aisle and s along it from one to the next: widest at t = 0. Between two columns of a row, or
    beside the wall, there is less.
    """
    things = {t["name"]: t for t in numbers("columns")["obstacles"]}
    left, right = things["thick left column"], things["thick right column"]
    aisle = span(right, 0)[0] - span(left, 0)[1]
    along = np.mean(span(right, 1)) - np.mean(span(left, 1))
    turn = np.linspace(0.0, 0.5 * np.pi, 2001)
    assert float((aisle * np.cos(turn) - along * np.sin(turn)).max()) == pytest.approx(aisle)
    form = 0.5 * (aisle - CHORD)
    step = left["rows"][0]["step"][1] - np.ptp(span(left, 1))
    assert max(step, span(left, 0)[0]) < CHORD + 2.0 * form
    assert holds(TABLE["columns"], form)


def test_a_fin_under_the_ridge():
    """The roof is as high as the fin at (ridge - fin) / slope from the ridge. From there to the
    duct the fin, 25 % of 0.4 m thick, goes between, its chord along the ridge. The search draws the
    roof as level steps of 20 mm, the next one over 1.998 m at 2.000 m.
    """
    room = numbers("gable")
    roof, (duct,) = room["ceiling"]["gable"], room["obstacles"]
    ridge_at = 0.5 * room["floor"]["width"]
    slope = (roof["ridge"] - roof["eaves"]) / ridge_at
    forms = [
        0.5 * (span(duct, 0)[0] - (ridge_at - (roof["ridge"] - top) / slope) - 0.25 * 0.4)
        for top in (2.0, 1.998)
    ]
    assert forms[0] < forms[1] < forms[0] + 0.003
    assert all(holds(TABLE["gable"], form) for form in forms)
    assert span(duct, 0)[1] > ridge_at + (roof["ridge"] - 1.998) / slope  # none on its other side


def test_sixty_posts():
    """Rows like bricks: no straight line goes through. Each row is passed in a gap, by the
    rectangle's chord; between two rows it goes across along its span, with more to spare.
    """
    room = numbers("posts")
    post, shifted = room["obstacles"]
    assert sum(10 * t["rows"][1]["count"] for t in (post, shifted)) == 60
    gap = post["rows"][0]["step"][0] - np.ptp(span(post, 0))
    over = gap - (span(shifted, 0)[0] - span(post, 0)[0])
    assert 0.0 < over < CHORD
    ends = span(post, 0)[0], span(shifted, 0)[0]
    assert max(*ends, room["floor"]["width"] - 9 * 7.0 - span(post, 0)[1]) <= gap
    rows = span(shifted, 1)[0] - span(post, 1)[1]
    form = 0.5 * (gap - CHORD)
    assert 0.5 * (rows - 2.0 * 3.03) > form
    assert holds(TABLE["posts"], form)


@pytest.mark.parametrize(
    ("name", "inside"),
    [("thin-cross", True), ("columns", True), ("columns", False)],
)
def test_decided_two_centimetres_beside(name, inside):
    """The rooms that are decided quickly; the others are of `benchmarks/manoeuvre.py`."""
    answer = TABLE[name]
    standing, room = loaded(answer)
    question = question_for(standing, room, None, Keep.nothing())
    wanted = answer.low - BESIDE if inside else answer.high + BESIDE
    assert way_out(question, wanted, box_limit(1_000_000)).answer == (WAY if inside else NONE)


def test_every_graded_aircraft_is_there():
    assert all((ROOT / a.design).is_file() and a.place.is_file() for a in TABLE.values())
