"""What lines of a view are: joints, halves of one thing, discs, noses; frames; the same twice."""

import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
import shapely

from planform.airframe.build import build
from planform.airframe.part import Part
from planform.airframe.stance import stand_on
from planform.design.load import load
from planform.drawing.lines.frames import FRAMES, flat_frame, looking
from planform.drawing.lines.line_view import line_view
from planform.drawing.lines.united import only_swept, united
from tests.conftest import DESIGNS


def box(name, low, high, group=None, role="fuselage"):
    import trimesh

    mesh = trimesh.creation.box(bounds=[low, high])
    return Part(name, group or name, role, np.array(mesh.vertices), np.array(mesh.faces))


def demo(name, stage):
    design = load(DESIGNS / f"{name}.toml")
    return stand_on(build(design), design.stages[stage])


def kinds(view):
    return {line.kind for line in view.lines}


def length(view, kind):
    return sum(shapely.LineString(x.points).length for x in view.lines if x.kind == kind)


def test_frames_are_turns_and_opposite_eyes_are_mirror_images():
    for frame in FRAMES.values():
        assert frame @ frame.T == pytest.approx(np.eye(3), abs=1e-15)
        assert np.linalg.det(frame) == pytest.approx(1.0)
    for one, two in (("left", "right"), ("ahead", "behind")):
        assert pytest.approx(FRAMES[two] * [[1], [1], [1]]) == FRAMES[one] * [[-1], [1], [-1]]
    eye = FRAMES["three-quarter"]
    assert np.linalg.norm(eye[:2], axis=0) == pytest.approx(np.sqrt(2.0 / 3.0))  # isometric
    with pytest.raises(ValueError, match="line of sight"):
        looking(np.array([0, 0, 2.0]), np.array([0, 0, -1.0]))


def test_a_winglet_is_seen_flat_in_its_true_size():
    standing = demo("quillwort", -1)
    winglet = next(p for p in standing.parts if p.name == "right winglet")
    frame = flat_frame(winglet)
    design = standing.airframe.design.winglets["winglet"]
    normal = frame[2] @ standing.turn
    assert np.arctan2(-normal[2], normal[1]) == pytest.approx(float(design.cant), abs=0.01)
    flat = winglet.points @ frame.T
    assert np.ptp(flat[:, 2]) < 0.15 * min(np.ptp(flat[:, 0]), np.ptp(flat[:, 1]))
    assert frame[2, 1] > 0.0  # from outboard
    assert float(design.length) == pytest.approx(np.ptp(flat[:, 1]), rel=0.03)
    left = next(p for p in standing.parts if p.name == "left winglet")
    mirror = np.array([1.0, -1.0, 1.0])
    assert flat_frame(left)[2] == pytest.approx(frame[2] * mirror, abs=1e-9)


def test_two_boxes_side_by_side_meet_in_a_joint_and_halves_of_one_thing_do_not():
    left, right = box("left", (0, 0, 0), (1, 1, 1)), box("right", (1, 0, 0), (2, 1, 1))
    joint = line_view([left, right], np.eye(3))
    assert length(joint, "joint") == pytest.approx(1.0)
    halves = [replace(left, group="fin"), replace(right, group="fin")]
    assert "joint" not in kinds(line_view(halves, np.eye(3)))
    other = [replace(left, group="fin"), replace(right, group="fin", role="boom")]
    assert length(line_view(other, np.eye(3)), "joint") == pytest.approx(1.0)


def test_a_step_between_two_boxes_is_a_joint_at_its_foot():
    base, tower = box("base", (0, 0, 0), (4, 4, 1)), box("tower", (1, 1, 1), (2, 2, 5))
    view = line_view([base, tower], FRAMES["three-quarter"])
    seen = [x for x in view.lines if x.kind == "joint"]
    scale = np.sqrt(2.0 / 3.0)
    assert sum(shapely.LineString(x.points).length for x in seen) == pytest.approx(2.0 * scale)


def test_a_cube_aslant_shows_nine_edges_and_hides_three():
    view = line_view([box("cube", (0, 0, 0), (1, 1, 1))], FRAMES["three-quarter"], hidden=True)
    side = np.sqrt(2.0 / 3.0)
    assert length(view, "outline") == pytest.approx(6 * side)
    assert length(view, "edge") == pytest.approx(3 * side)
    assert length(view, "hidden") == pytest.approx(3 * side, abs=1e-5)
    aside = looking(np.array([-1.0, -0.8, 0.5]), np.array([0.0, 0.0, 1.0]))
    view = line_view([box("cube", (0, 0, 0), (1, 1, 1))], aside, hidden=True)
    edges = np.linalg.norm(np.eye(3) @ aside[:2].T, axis=1).sum()
    assert length(view, "hidden") == pytest.approx(edges, abs=1e-5)
    assert length(view, "edge") == pytest.approx(edges)


def test_of_two_legs_behind_each_other_one_is_drawn():
    near, far = box("near", (0, 0, 0), (1, 1, 1)), box("far", (0, 3, 0), (1, 4, 1))
    view = line_view([near, far], FRAMES["left"], hidden=True)
    assert {line.part for line in view.lines} == {"near"}
    small = [replace(far, name=n, points=far.points * 0.5 + [0.2, at, 0.2])
             for n, at in (("one", 2.0), ("two", 4.0))]  # fmt: skip
    view = line_view([near, *small], FRAMES["left"], hidden=True)
    assert length(view, "hidden") == pytest.approx(2.0)


def test_a_disc_is_seen_through():
    hull = box("hull", (-1, -1, 0), (1, 1, 1))
    disc = box("disc", (-3, -3, 2), (3, 3, 2.1), role="propeller")
    view = line_view([hull, disc], np.eye(3), hidden=True)
    assert length(view, "outline") == pytest.approx(8.0)
    assert length(view, "swept") == pytest.approx(24.0)
    assert "hidden" not in kinds(view)
    behind = line_view([hull, replace(disc, points=disc.points - [0, 0, 5])], np.eye(3))
    assert length(behind, "swept") == pytest.approx(24.0)
    small = replace(disc, points=disc.points * [0.5, 0.1, 1.0] - [0, 0, 5])
    assert length(line_view([hull, small], np.eye(3)), "swept") == pytest.approx(4 * 0.5 + 2 * 0.6)


def test_blades_are_solid_and_a_whole_disc_is_not():
    assert united(demo("marram", -1).parts).swept is None
    swept = united(demo("quillwort", -1).parts).swept
    assert swept is not None
    assert swept.names == ("propeller",)
    assert only_swept(demo("marram", -1)) == ()


def test_a_part_that_is_no_solid_stays_apart_and_is_named():
    cube = box("cube", (0, 0, 0), (1, 1, 1))
    torn = replace(box("torn", (0.5, 0, 0), (2, 1, 1)), name="torn", group="torn")
    torn = replace(torn, faces=torn.faces[1:])
    view = line_view([cube, torn], FRAMES["three-quarter"])
    assert view.apart == ("torn",)
    assert "joint" not in kinds(view)
    assert {"cube", "torn"} <= {line.part for line in view.lines}


def test_no_line_runs_along_the_nose_of_a_wing():
    standing = demo("samphire", -1)
    view = line_view(standing.parts, FRAMES["ahead"])
    wing = [x for x in view.lines if x.part == "right wing" and x.kind == "edge"]
    assert sum(shapely.LineString(x.points).length for x in wing) < 0.5


@pytest.mark.parametrize("stage", [0, 1, 2])
def test_round_things_have_no_lines_along_them(stage):
    parts = [p for p in demo("marram", stage).parts if p.role in ("leg", "wheel")]
    for part in parts:
        for frame in FRAMES.values():
            view = line_view([part], frame)
            assert sum(len(x.points) > 1 for x in view.lines) <= 8  # a rim each end, two sides


TELL = """
import hashlib, sys
from planform.airframe.build import build
from planform.airframe.stance import stand_on
from planform.design.load import load
from planform.drawing.lines.frames import FRAMES
from planform.drawing.lines.line_view import line_view

def told(path):
    design = load(path)
    parts = stand_on(build(design), design.stages[-1]).parts
    seen = line_view(parts, FRAMES["three-quarter"], hidden=True).lines
    lines = [f"{x.part} {x.kind}".encode() + x.points.tobytes() for x in seen]
    return hashlib.sha256(b"".join(lines)).hexdigest()
"""


def test_another_process_tells_the_same_bytes():
    path = str(DESIGNS / "marram.toml")
    words = [sys.executable, "-c", f"{TELL}print(told(sys.argv[1]))", path]
    other = subprocess.run(words, capture_output=True, text=True, check=True).stdout.strip()
    here: dict[str, object] = {}
    exec(TELL, here)
    assert here["told"](path) == other
    assert len(other) == 64


def test_nothing_to_see_gives_no_lines():
    assert line_view([], np.eye(3), hidden=True).lines == ()
