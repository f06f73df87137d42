"""The file of readings and its equations: right values against plain geometry, every wrong file."""

from pathlib import Path

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from planform.airframe.build import build
from planform.airframe.stages import stand
from planform.design.load import load
from planform.design.problems import InputError
from planform.rigging.equations import equations
from planform.rigging.points import buried, named_points
from planform.rigging.reading_file import readings_in

IN = 0.0254


@pytest.fixture(scope="module")
def marram():
    return build(load(Path("designs/marram.toml")))


TABLE = """\
# instrument: steel tape
what,point,to,line,read,tolerance,instrument,reversed,side,note
distance,nose tip,"foreplane tip, leading edge",,81.2 in,1/16 in,,,left,
Diagonal,nose tip,right foreplane tip LE,,81.2 in,,,,,
height,left winglet tip leading edge,,,2 m,2 mm,staff,,,
level along,L foreplane tip LE,L foreplane tip TE,,0.3 deg,,digital level,,,
level along,L foreplane tip LE,L foreplane tip TE,,0.1 deg,,digital level,yes,,
level across,L foreplane tip LE,R foreplane tip LE,,0.2 deg,0.1 deg,digital level,,,
offset,left main axle,,nose tip > spinner tip,-36 in,,,,,
station,left main axle,,nose tip > spinner tip,143 in,,,,,
floor distance,left main axle,right main axle,,6 ft,1/8 in,,,,
height difference,left main axle,right main axle,,0 in,1/8 in,water level,,,
"""


def test_a_table_is_read(marram):
    found = readings_in(TABLE, "readings.csv", marram)
    assert len(found.readings) == 10
    first, second = found.readings[:2]
    assert first.point == "nose tip"
    assert first.to == "left foreplane tip, leading edge"
    assert first.tolerance == pytest.approx(IN / 16.0)
    assert not first.assumed
    assert second.sort == "distance"
    assert "Handbook 44" in second.assumed
    assert any("taken as good to 0.1 deg" in words for words in found.taken)
    assert found.readings[4].reversed


def test_equations_are_plain_geometry(marram):
    found = equations(marram, readings_in(TABLE, "readings.csv", marram))
    where = {point.name: point.at for point in named_points(marram)}
    standing = stand(marram)
    nose, tail = where["nose tip"], where["spinner tip"]
    tip = {s: where[f"{s} foreplane tip, leading edge"] for s in ("left", "right")}
    aft = where["left foreplane tip, trailing edge"]
    axle = {s: where[f"{s} main axle"] for s in ("left", "right")}
    seen = found.seen(found.at, found.start)
    assert seen[0] == pytest.approx(np.linalg.norm(tip["left"] - nose), abs=1e-12)
    top = where["left winglet tip, leading edge"]
    assert seen[2] == pytest.approx(standing.to_floor(top[None])[0, 2], abs=1e-9)
    chord = standing.to_floor(np.array([tip["left"], aft]))
    rise = np.arctan2(chord[0, 2] - chord[1, 2], np.linalg.norm((chord[0] - chord[1])[:2]))
    assert seen[3] == pytest.approx(rise, abs=1e-12)
    assert seen[5] == pytest.approx(0.0, abs=1e-9)
    flat = standing.to_floor(np.array([nose, tail, axle["left"]]))
    along = (flat[1] - flat[0])[:2] / np.linalg.norm((flat[1] - flat[0])[:2])
    off = (flat[2] - flat[0])[:2]
    assert seen[6] == pytest.approx(along[0] * off[1] - along[1] * off[0], abs=1e-9)
    assert seen[7] == pytest.approx(off @ along, abs=1e-9)
    assert seen[8] == pytest.approx(72.0 * IN, abs=1e-9)
    assert found.twin[0] == 1
    assert found.twin[2] is None
    assert "zero of the digital level" in found.unknown
    zero = found.unknown.index("zero of the digital level")
    x = found.start.copy()
    x[zero] = 0.01
    moved = found.seen(found.at, x) - seen
    np.testing.assert_allclose(moved[3:6], [0.01, -0.01, 0.01], atol=1e-12)
    x = found.start.copy()
    x[found.unknown.index("attitude, nose up")] = 0.01
    assert (found.seen(found.at, x) - seen)[3] == pytest.approx(0.01, abs=1e-9)
    x = found.start.copy()
    x[found.unknown.index("attitude, right side up")] = 0.01
    assert (found.seen(found.at, x) - seen)[5] == pytest.approx(0.01, abs=1e-9)
    assert (found.seen(found.at, x) - seen)[9] < 0.0  # the left axle is then lower


@pytest.mark.parametrize("units", ["", "# units: mm\n"])
def test_a_list_of_points_of_another_program(marram, units):
    dice = np.random.default_rng(4)
    turn = Rotation.random(random_state=8).as_matrix()
    scale = 1000.0 if units else 7.3
    chosen = named_points(marram)[::5]
    rows = ["name;x;y;z"]
    for point in chosen:
        xyz = scale * (turn @ point.at + [3.0, -1.0, 2.0]) + dice.normal(0.0, scale * 1e-4, 3)
        rows.append(";".join([point.name, *(f"{v:.5f}" for v in xyz)]))
    found = equations(marram, readings_in(units + "\n".join(rows), "targets.csv", marram))
    assert len(found.read) == 3 * len(chosen)
    assert len(found.unknown) == (6 if units else 7)
    off = found.read - found.seen(found.at, found.start)
    spread = 1.0 / 1000.0 * scale if units else scale
    assert np.abs(off).max() < 5e-4 * spread
    x = found.start.copy()
    x[:3] = 0.001
    assert np.abs(found.seen(found.at, x) - found.seen(found.at, found.start)).max() > 1e-3


def test_a_mirrored_list_and_another_unit_are_told(marram):
    chosen = named_points(marram)[::5]
    for factor, hand, words in ((1.0, -1.0, "mirror image"), (25.4, 1.0, "times as far apart")):
        rows = ["# units: m", "name,x,y,z"]
        for point in chosen:
            x, y, z = (float(v) for v in factor * point.at * [1.0, hand, 1.0])
            rows.append(f'"{point.name}",{x:.5f},{y:.5f},{z:.5f}')
        with pytest.raises(InputError, match=words):
            equations(marram, readings_in("\n".join(rows), "targets.csv", marram))


HEAD = "what,point,to,read,tolerance,stage,note\n"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no readings"),
        ("\n" * 1_000, "no readings"),
        (" " * 500_000, "no readings"),
        ("a,b,c\n1,2,3\n", "allowed: names of columns"),
        ("what,pint\n", "did you mean 'point'"),
        ("what,point,point\n", "each column once"),
        (HEAD, "no readings"),
        (HEAD + "distance,nose tipp,spinner tip,5 m,,,\n", "nearest names: “nose tip”"),
        (HEAD + "lenght,nose tip,spinner tip,5 m,,,\n", "no such name"),
        (HEAD + "distance,nose tip,spinner tip,5,,,\n", "# units: mm above the table"),
        (HEAD + "distance,nose tip,spinner tip,,,,\n", "nothing was read here"),
        (HEAD + "distance,nose tip,spinner tip,#REF!,,,\n", "a spreadsheet's error"),
        (HEAD + "distance,nose tip,nose tip,5 m,,,\n", "another point than the first"),
        (HEAD + "distance,nose tip,spinner tip,5 m,0 mm,,\n", "more than zero"),
        (HEAD + "distance,nose tip,spinner tip,5 m,1 mm,hull on wheels,\n", "line 2, stage"),
        (
            HEAD + 'distance,nose tip,"left centre spar tip, upper aft",5 m,1 mm,"spars and '
            'winglets, no skins",\n',
            "its part is not on at the stage",
        ),
        (HEAD + "distance,nose tip,spinner tip,12,5,1 mm,complete,again\n", "a decimal comma"),
        (HEAD + "distance,nose tip,spinner tip,240 in,,,\n" * 2, "the same as line 2"),
        ("# units: yd\n" + HEAD + "distance,nose tip,spinner tip,5,,,\n", "allowed: in, ft, mm"),
        (
            HEAD
            + "".join(
                f"distance,nose tip,{to},{inches * 25.4:.1f} in,,,\n"
                for to, inches in (
                    ("spinner tip", 240.1),
                    ("left main axle", 151.0),
                    ("right main axle", 151.0),
                )
            ),
            "millimetres told as inches",
        ),
    ],
)
def test_files_that_cannot_be(marram, text, words):
    with pytest.raises(InputError) as refused:
        equations(marram, readings_in(text, "readings.csv", marram))
    assert words in str(refused.value)


def test_every_mistake_at_once(marram):
    rows = "distance,nos tip,spinner tip,5 m,,,\ndistance,nose tip,spinner tip,5,,,\nx,,,,,,\n"
    with pytest.raises(InputError) as refused:
        readings_in(HEAD + rows, "readings.csv", marram)
    assert len(refused.value.problems) == 3


WIDE = "what,point,to,line,read,x,tolerance,reversed\n"
NOSE = "distance,nose tip,spinner tip,,"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (WIDE + "level along,nose tip,spinner tip,,1 deg,,,maybe\n", "allowed: yes, no or nothing"),
        (WIDE + NOSE + "240 in,,,yes\n", "reversed: given 'yes'; allowed: nothing here"),
        (WIDE + "height,nose tip,spinner tip,,30 in,,,\n", "is it a height difference?"),
        (WIDE + NOSE + "240 in,3 in,,\n", "x: given '3 in'; allowed: nothing here"),
        (WIDE + NOSE + "-240 in,,,\n", "a tape has no minus"),
        (WIDE + NOSE + "0 in,,,\n", "more than zero"),
        (WIDE + NOSE + "999 m,,,\n", "at most 300 m"),
        (WIDE + NOSE + "240 in,,-1 in,\n", "tolerance: given '-1 in'; allowed: more than zero"),
        (WIDE + NOSE + "240 in,,50 in,\n", "at most 1 m"),
        (WIDE + "level along,nose tip,spinner tip,,1 deg,,11 deg,\n", "at most 10 deg"),
        (WIDE + "level along,nose tip,spinner tip,,95 deg,,,\n", "between -90 deg and 90 deg"),
        (WIDE + "station,left main axle,,nose tip > nose tip,3 in,,,\n", "a third one read off"),
        (WIDE + "station,nose tip,,nose tip > spinner tip,3 in,,,\n", "a third one read off"),
        (WIDE + 'distance,"nose tip,spinner tip,,240 in,,,\n', "a quotation mark at both ends"),
        (WIDE + NOSE + "9" * 200_000 + " in,,,\n", "a quotation mark at both ends"),
        (WIDE + NOSE + "9" * 1_000 + " in,,,\n", "at most 300 letters"),
        (WIDE + "distance,nose\u202e tip,spinner tip,,240 in,,,\n", "cannot be seen"),
        ("# stge: complete\n" + WIDE + NOSE + "240 in,,,\n", "did you mean 'stage'"),
        ("what;point;to;read\ndistance;nose tip;spinner tip;6,096 m\n", "read two ways"),
        ("name,x,y,z\nnose tip,1e999,2,3\nspinner tip,1,2,3\n", "allowed: a plain number"),
    ],
)
def test_cells_that_cannot_be(marram, text, words):
    with pytest.raises(InputError) as refused:
        readings_in(text, "readings.csv", marram)
    assert words in str(refused.value)
    assert len(refused.value.problems) == 1


def test_decimal_commas_where_they_can_be_nothing_else(marram):
    table = "what;point;to;read;tolerance\ndistance;nose tip;spinner tip;6,096 m;1,5 mm\n"
    found = readings_in("\ufeff" + table, "readings.csv", marram)
    assert found.readings[0].value == pytest.approx((6.096,))
    assert found.readings[0].tolerance == pytest.approx(0.0015)
    assert any("decimal commas" in words for words in found.taken)


def test_lines_of_text_with_names_of_several_words(marram):
    text = "# units: m\nnose tip 1.5 2 3\nleft main axle 4 5 6\n"
    found = readings_in(text, "points.txt", marram).readings
    assert [one.point for one in found] == ["nose tip", "left main axle"]
    assert found[0].value == pytest.approx((1.5, 2.0, 3.0))


def test_the_parts_on_are_asked_once_a_stage(marram, monkeypatch):
    asked = []

    def counted(airframe, stage=None):
        asked.append(stage)
        return named_points(airframe, stage)

    monkeypatch.setattr("planform.rigging.reading_file.named_points", counted)
    rows = "".join(f"distance,nose tip,spinner tip,240 in,,,again {k}\n" for k in range(50))
    assert len(readings_in(HEAD + rows, "readings.csv", marram).readings) == 50
    assert len(asked) == 2


def test_offsets_told_to_the_left_and_one_mistake_in_many_lines(marram):
    head = "what,point,line,read\n"
    rows = "".join(
        f"offset,{side} {point},nose tip > spinner tip,{hand * inches} in\n"
        for side, hand in (("left", 1.0), ("right", -1.0))
        for point, inches in (("main axle", 36.0), ("foreplane tip le", 78.0))
    )
    with pytest.raises(InputError, match="4 of 4 lie on the other side than their points"):
        equations(marram, readings_in(head + rows, "readings.csv", marram))
    bare = "what,point,to,read\n" + "".join(
        f"distance,nose tip,{side} {part} tip le,12{k}\n"
        for k, (side, part) in enumerate(
            [(s, p) for s in ("left", "right") for p in ("foreplane", "outer panel", "winglet")]
        )
    )
    with pytest.raises(InputError, match="the same in 5 more lines: 3, 4, 5, 6, 7") as refused:
        readings_in(bare, "readings.csv", marram)
    assert len(refused.value.problems) == 2


def test_a_list_in_text_may_have_names_with_commas(marram):
    where = {point.name: point.at for point in named_points(marram)}
    chosen = ("nose tip", "spinner tip", "left foreplane tip, leading edge", "right main axle")
    rows = [f"{name} {' '.join(f'{v:.4f}' for v in where[name])}" for name in chosen]
    found = readings_in("# units: m\n" + "\n".join(rows), "points.txt", marram)
    assert [one.point for one in found.readings] == list(chosen)


def test_points_inside_a_body_are_told(marram):
    hidden = buried(marram, named_points(marram))
    assert hidden["foreplane root, leading edge"] == "hull"
    assert "nose tip" not in hidden
    assert "left foreplane tip, leading edge" not in hidden
    assert not any("main axle" in name for name in hidden)
