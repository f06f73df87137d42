"""A scan laid on the built surface: where it came from is found again, and what is off is told."""

import struct
from pathlib import Path

import numpy as np
import pytest
import trimesh
from scipy.spatial import cKDTree
from scipy.spatial.transform import Rotation

from planform.airframe.build import build
from planform.airframe.deviated import moved_by
from planform.airframe.freedoms import freedoms
from planform.design.load import load
from planform.design.problems import InputError
from planform.rigging.scan.cloud import read_cloud
from planform.rigging.scan.laying import lay_on
from planform.rigging.scan.surface import skin_of

COUNT = 30_000


@pytest.fixture(scope="module")
def quillwort():
    return build(load(Path("designs/quillwort.toml")))


def outside(airframe):
    return [part for part in airframe.parts if not part.within]


def scanned(parts, seed, noise=0.001):
    """Points all over the parts with noise, a floor and trestles, in axes of the scanner's own."""
    dice = np.random.default_rng(seed)
    skin = skin_of(parts)
    chosen = dice.integers(0, len(skin.at), COUNT)
    true = skin.at[chosen] + skin.out[chosen] * dice.normal(0.0, noise, COUNT)[:, None]
    floor = dice.uniform([-2.0, -4.0, -1.1], [7.0, 4.0, -1.09], (COUNT // 5, 3))
    turn = Rotation.random(random_state=seed).as_matrix()
    shift = dice.uniform(-5.0, 5.0, 3)
    return true, (np.vstack([true, floor]) - shift) @ turn, (turn, shift)


@pytest.mark.parametrize("seed", [1, 2])
def test_a_scan_is_laid_where_it_came_from(quillwort, seed):
    true, points, (turn, _) = scanned(outside(quillwort), seed)
    laid = lay_on(outside(quillwort), points)
    assert not laid.doubt
    np.testing.assert_allclose(laid.at[:COUNT], true, atol=2e-4)
    np.testing.assert_allclose(laid.turn, turn, atol=1e-4)
    off = laid.at[:COUNT] - true
    assert np.abs(off.mean(axis=0)).max() < 4.0 * laid.sd[:3].max() + 1e-5
    assert laid.on_aircraft == pytest.approx(COUNT / (COUNT * 1.2), abs=0.02)
    assert (laid.part[COUNT:] < 0).mean() > 0.95
    for part in laid.parts:
        assert abs(part.mean) < 5e-4, part.name


def test_from_targets_and_against_another_method(quillwort):
    parts = [p for p in outside(quillwort) if p.name == "pod"]
    true, points, pose = scanned(parts, 3, noise=0.0)
    near = (Rotation.from_rotvec([0.01, -0.02, 0.015]).as_matrix() @ pose[0], pose[1] + 0.02)
    laid = lay_on(parts, points[:COUNT], near)
    np.testing.assert_allclose(laid.at, true, atol=5e-5)
    mesh = parts[0].trimesh()
    few = laid.at[::300] + np.array([0.0, 0.0, 0.004])
    corners = mesh.triangles
    far = []
    for point in few:
        spots = trimesh.triangles.closest_point(corners, np.tile(point, (len(corners), 1)))
        far.append(np.linalg.norm(spots - point, axis=1).min())
    skin = skin_of(parts)
    nearest = cKDTree(skin.at).query(few)[1]
    off = ((few - skin.at[nearest]) * skin.out[nearest]).sum(axis=1)
    assert np.quantile(np.abs(np.abs(off) - far), 0.9) < 2e-4


def test_a_part_that_is_off_is_told(quillwort):
    dihedral = [f for f in freedoms(quillwort) if f.name == "left outer panel, dihedral"]
    built = moved_by(quillwort, dihedral, [0.005])
    _, points, _ = scanned(outside(built), 5)
    laid = lay_on(outside(quillwort), points)
    by_name = {part.name: part for part in laid.parts}
    left, right = by_name["left outer panel"], by_name["right outer panel"]
    assert left.spread > 3.0 * right.spread
    assert left.high > 0.01
    assert by_name["pod"].spread < 0.002


def test_a_round_thing_is_doubtful():
    ball = trimesh.creation.icosphere(subdivisions=3, radius=0.5)
    from planform.airframe.part import Part

    part = Part("ball", "ball", "fuselage", np.asarray(ball.vertices), np.asarray(ball.faces))
    points = np.asarray(ball.sample(3_000, seed=1))
    assert "turned over" in lay_on([part], points).doubt


def test_kinds_of_files(tmp_path):
    dice = np.random.default_rng(0)
    points = dice.uniform(-3.0, 3.0, (400, 3))
    (tmp_path / "a.xyz").write_text(
        "// a scan\n" + "\n".join(f"{x:.6f} {y:.6f} {z:.6f} 12 200" for x, y, z in points)
    )
    (tmp_path / "b.pts").write_text(
        "400\n" + "\n".join(f"{x:.6f};{y:.6f};{z:.6f}" for x, y, z in points)
    )
    trimesh.PointCloud(points).export(tmp_path / "c.ply")
    for name in ("a.xyz", "b.pts", "c.ply"):
        got = read_cloud(tmp_path / name, "m")
        np.testing.assert_allclose(got.points, points, atol=2e-6)
    inches = read_cloud(tmp_path / "a.xyz", "in")
    np.testing.assert_allclose(inches.points, points * 0.0254, atol=1e-7)
    ball = trimesh.creation.icosphere(subdivisions=3)
    ball.export(tmp_path / "d.stl")
    assert len(read_cloud(tmp_path / "d.stl", "m").points) >= 600


def test_e57(tmp_path):
    pye57 = pytest.importorskip("pye57", reason="the extra e57 is not installed")
    points = np.random.default_rng(0).uniform(-3.0, 3.0, (500, 3))
    with pye57.E57(str(tmp_path / "scan.e57"), mode="w") as file:
        file.write_scan_raw({f"cartesian{axis}": points[:, k] for k, axis in enumerate("XYZ")})
    got = read_cloud(tmp_path / "scan.e57")
    assert got.unit == "m"
    np.testing.assert_allclose(got.points, points, atol=1e-6)


@pytest.mark.parametrize(
    ("name", "content", "unit", "words"),
    [
        ("a.xyz", b"", "m", "cannot be read"),
        ("a.xyz", b"1 2 3\n" * 5, "m", "allowed: 100 or more"),
        ("a.xyz", b"1 2 3\n4 5 6\n" * 100, None, "does not say its unit"),
        ("a.xyz", b"1 2 3\n4 5 6\n" * 100, "yd", "allowed: m, mm, cm, in, ft"),
        ("a.xyz", b"1 2 3\n" * 100 + b"1 x 3\n", "m", "cannot be read"),
        ("a.xyz", b"nan nan nan\n" * 200, "m", "allowed: 100 or more"),
        ("a.ply", struct.pack("300s", b"ply\nformat"), "m", "cannot be read as ply"),
        ("a.stl", b"solid x\nfacet", "m", "a.stl"),
        ("a.e57", b"no", None, "cannot be read as e57"),
        ("a.las", b"1 2 3", "m", "allowed: .ply, .stl"),
    ],
)
def test_files_that_are_no_scan(tmp_path, name, content, unit, words):
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(InputError) as refused:
        read_cloud(path, unit)
    assert words in str(refused.value)
    with pytest.raises(InputError, match="no such file"):
        read_cloud(tmp_path / "none.xyz", "m")
