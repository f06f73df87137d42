"""A route in a folder: pages, pictures, marks and data tell the same."""

from __future__ import annotations

import csv
import io
import json
import math
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from PIL import Image

import planform as pf
from planform.balance.stages import stage_balance
from planform.design.load import design_from, place_from
from planform.design.problems import InputError
from planform.drawing.drawing import Arc, Dimension, Text
from planform.drawing.sheet import Sheet
from planform.drawing.style import LOOKS
from planform.drawing.writers import svg
from planform.drawing.writers.gif import filmed
from planform.drawing.writers.pixels import painted
from planform.fit.moves import Pose, Tight
from planform.report.record import document
from planform.report.way_out.answer import write_route
from planform.report.way_out.card import tail_line
from planform.report.way_out.handover import handover
from planform.report.way_out.marks import comes_in
from planform.report.way_out.moving import film, pose_along
from planform.report.way_out.pictures import StepShown, step_drawing
from planform.report.way_out.record import handover_record
from planform.report.writers import csv as table_csv
from tests.formulas import where_tapes_cross
from tests.routes import chained, pushed, slid, way_out

START = Pose(6.0, 5.0, math.pi)


@pytest.fixture
def standing(plain):
    return pf.stand_all(pf.build(design_from(plain)))[0]


@pytest.fixture
def built(room):
    room["obstacles"] = [
        {
            "name": "lamp",
            "kind": "hanging",
            "outline": [["9 m", "8 m"], ["10 m", "8 m"], ["10 m", "9 m"], ["9 m", "9 m"]],
            "bottom": "2.4 m",
        }
    ]
    return pf.build_room(place_from(room))


@pytest.fixture
def found(standing, built):
    route = way_out(START)
    pose = route.moves[1].at(0.5)
    at = np.array([9.6, 5.2, 0.6])
    tight = Tight(pose, "left winglet", "right wall", 0.21, at, at + 0.21, 1, 0.5)
    return handover(standing, built, route, [tight])


def test_folder_holds_every_file_and_nothing_is_left_beside(found, tmp_path):
    names = write_route(found, tmp_path / "out", "ft-in")
    assert {"route.html", "helpers-card.html", "roll-out.gif", "route.json"} <= set(names)
    assert {"floor-marks.csv", "marks.svg", "marks.png", "chalk.svg"} <= set(names)
    count = len(found.steps)
    assert [f"step-{k}.png" in names for k in range(1, count + 2)] == [True] * count + [False]
    assert [p.name for p in tmp_path.iterdir()] == ["out"]
    for name in names:
        if name.endswith(".svg"):
            assert ET.parse(tmp_path / "out" / name).getroot().tag.endswith("svg")
    whole = (tmp_path / "out" / "route.html").read_text(encoding="utf-8")
    card = (tmp_path / "out" / "helpers-card.html").read_text(encoding="utf-8")
    for text in (whole, card):
        assert "about the left main wheel" in text
        assert "STOP" in text
        assert "http" not in text.replace("http://www.w3.org", "")
        assert not re.search(r"\bnan\b|\binf\b", re.sub(r'src="[^"]*"', "", text))
    for source in ("TM 1-1500-204-23-1", "NAVEDTRA 14014", "FAA AC 00-34A"):
        assert source in card
    assert "left winglet, right wall" in card
    assert "lamp" in whole


def test_spot_alone_gets_its_marks_and_no_steps(standing, built, tmp_path):
    found = handover(standing, built)
    names = write_route(found, tmp_path / "out", "mm")
    assert "route.html" in names
    assert not [n for n in names if n.startswith(("step", "roll", "helpers"))]
    answer = json.loads((tmp_path / "out" / "route.json").read_text(encoding="utf-8"))
    assert answer["route"] is None
    assert [g["key"] for g in answer["floor_marks"]["groups"]] == [
        "parked",
        "stop behind",
        "chalk",
    ]


def test_no_spot_and_unknown_spot_are_one_sentence(standing, room):
    with pytest.raises(InputError, match="did you mean 'middle'"):
        handover(standing, pf.build_room(place_from(room)), spot="midle")
    room["spots"] = []
    with pytest.raises(InputError, match="this place has no spot; give one"):
        handover(standing, pf.build_room(place_from(room)))


def test_a_route_that_goes_nowhere_is_a_spot(standing, built):
    still = chained(START, lambda p: slid(p, 0.0, 0.0))
    assert handover(standing, built, still).route is None


def test_json_gives_si_with_units_and_the_marks_lead_back(found):
    answer = json.loads(document("route", handover_record(found, "mm")))
    route = answer["route"]
    assert route["clearance_proved"] == {"value": 0.1, "unit": "m"}
    assert len(route["poses"]) == len(route["moves"]) + 1
    assert route["poses"][0]["heading"] == {"value": math.pi, "unit": "rad"}
    assert route["moves"][0]["centre"] is None
    assert route["steps"][1]["instruction"].startswith("Turn 8.5 deg nose to the right")
    assert route["steps"][1]["least_clearance_told"] == {"value": 0.21, "unit": "m"}
    corners = {
        "front left corner": (0, 0),
        "front right corner": (12, 0),
        "back right corner": (12, 10),
        "back left corner": (0, 10),
    }
    for group in answer["floor_marks"]["groups"]:
        for mark in group["marks"]:
            a, b = (np.array(corners[t["from"]], float) for t in mark["tapes"])
            readings = [t["value"] for t in mark["tapes"]]
            assert where_tapes_cross(a, b, *readings) == pytest.approx(
                np.array(mark["at"]["value"]), abs=1e-6
            )


@pytest.mark.parametrize(("system", "other"), [("mm", " in"), ("in", " mm"), ("ft-in", " mm")])
def test_csv_says_each_value_in_the_readers_units_beside_si(found, system, other):
    rows = list(csv.DictReader(io.StringIO(table_csv.written(found.sheets, system))))
    told = [row["as read"] for row in rows if row["value"]]
    assert told
    assert all(told)
    assert not any(other in text or text.endswith(" m") for text in told)


def test_csv_readings_are_those_of_the_json(found):
    rows = list(csv.DictReader(io.StringIO(table_csv.written(found.sheets, "mm"))))
    answer = json.loads(document("route", handover_record(found, "mm")))
    mark = answer["floor_marks"]["groups"][0]["marks"][1]
    assert mark["name"] == "left main wheel"
    own = [r for r in rows if r["table"] == "marks parked" and r["row"] == "2"]
    readings = [r["value"] for r in own if r["column"] in ("reads", "it reads")]
    assert readings == [f"{t['value']:.6f}" for t in mark["tapes"]]


def test_animation_is_small_runs_ten_seconds_and_is_the_same_every_time(found, built):
    told = [(step, "x") for step in found.steps]
    made = film(found.standing, built, told, 0.1, "ft-in", found.tights)
    first = filmed(made)
    assert first == filmed(film(found.standing, built, told, 0.1, "ft-in", found.tights))
    assert len(first) < 3_000_000
    shown = Image.open(io.BytesIO(first))
    assert shown.n_frames == len(made.frames) > 60
    whole = 0
    for k in range(shown.n_frames):
        shown.seek(k)
        whole += shown.info["duration"]
    assert 7_000 <= whole <= 14_000


def test_moving_picture_follows_the_moves(found):
    for step in found.steps:
        assert pose_along(step, 0.0) == step.start
        end = pose_along(step, 1.0)
        assert (end.x, end.y) == pytest.approx((step.moves[-1].end.x, step.moves[-1].end.y))


def test_painted_and_written_pictures_come_from_the_same_shapes(found, built):
    step = found.steps[1]
    shown = StepShown(found.standing, built, step, "Turn", found.places[1], found.tights)
    drawing = step_drawing(shown, "mm")
    text = svg.text(drawing)
    count = {k: sum(isinstance(m, k) for m in drawing.marks) for k in (Text, Arc, Dimension)}
    assert count[Text] == text.count("<text")
    assert count[Arc] + 2 * count[Dimension] == text.count("<circle")
    assert count[Dimension] == len(found.tights) == 1
    image = painted(drawing)
    assert image.size == drawing.size
    x, y = drawing.px(step.plain.centre)
    ring = image.getpixel((round(x) + 5, round(y)))
    assert np.abs(np.array(ring) - np.array([0x1F, 0x5F, 0x4D])).max() < 90
    small = step_drawing(shown, "mm", small=True)
    assert {m.words for m in small.marks if isinstance(m, Text)} == {"L", "R", "N", "T"}


def test_notes_stay_apart_and_on_the_sheet():
    sheet = Sheet(np.zeros(2), np.array([10.0, 10.0]), width=400)
    for _ in range(5):
        sheet.note((9.9, 5.0), "a rather long note", "small")
    sheet.drawing("notes")
    boxes = sheet.boxes
    assert len(boxes) == 5
    for k, (a, b, c, d) in enumerate(boxes):
        assert a >= 0.0
        assert c <= sheet.width
        for p, q, r, s in boxes[:k]:
            assert a >= r - 0.2 or c <= p + 0.2 or b >= s - 0.2 or d <= q + 0.2


def test_every_class_of_the_drawings_has_a_look(found, built):
    step = found.steps[0]
    drawing = step_drawing(StepShown(found.standing, built, step, "Push", found.places[0]), "mm")
    assert {mark.kind for mark in drawing.marks} <= set(LOOKS)


def test_stop_board_stands_on_the_side_it_comes_in_to(found, built):
    """Out ahead to the front door first means: back in comes last, nose to the door."""
    start = found.steps[0].start
    assert comes_in((), START, built) == "back"
    assert comes_in((), Pose(6.0, 5.0, 0.0), built) == "ahead"
    assert comes_in(found.steps, start, built) == "ahead"  # the first step out is a push back


def test_tail_is_told_from_the_weights(plain):
    plain["masses"] = [
        {"name": "hull", "mass": "300 kg", "fs": "0.9 m", "wl": "0 m", "part": "pod"}
    ]
    standing = pf.stand_all(pf.build(design_from(plain)))[0]
    near = tail_line(stage_balance(standing))
    assert near.text.startswith("Tail: near to tipping back")
    assert near.values[0].value == pytest.approx(15.0)
    plain["masses"][0]["fs"] = "1.2 m"
    tipped = tail_line(stage_balance(pf.stand_all(pf.build(design_from(plain)))[0]))
    assert "SITS ON ITS TAIL" in tipped.text
    assert "no weights are given" in tail_line(None).text


def test_way_in_parks_at_its_end(standing, built):
    route = chained(START, lambda p: pushed(p, 9.0)).reversed
    found = handover(standing, built, route)
    assert found.marks.spot == route.poses[-1]
    assert [s.side for s in found.marks.stops] == ["behind"]


def test_a_folder_that_cannot_be_written_leaves_nothing(found, tmp_path):
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    with pytest.raises(InputError, match="this is a file; name a folder"):
        write_route(found, tmp_path / "file", "mm")
    assert [p.name for p in tmp_path.iterdir()] == ["file"]
