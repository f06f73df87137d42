"""Points laid on points, four ways: Arun 1987 here, Horn's quaternion, scipy and trimesh.

Entry PN-13 was worked with all four, which agree to 2e-15; the papers print no numbers.
"""

import numpy as np
import pytest
import trimesh
from scipy.spatial.transform import Rotation

from planform.core.adjust.rigid import lay

A = np.array([[0, 0, 0], [100, 0, 0], [0, 60, 0], [0, 0, 40], [100, 60, 40]], dtype=float)
OFF = np.array([[0.1, 0, 0], [-0.1, 0.1, 0], [0, -0.1, 0.1], [0, 0, -0.1], [0.1, 0, 0]])


def turned(noise):
    turn = Rotation.from_euler("ZYX", [30.0, 10.0, -5.0], degrees=True).as_matrix()
    return A @ turn.T + [12.0, -7.0, 33.0] + noise


def horn(a, b):
    """Horn 1987: the quaternion of the greatest eigenvalue."""
    m = (a - a.mean(axis=0)).T @ (b - b.mean(axis=0))
    skew = np.array([m[1, 2] - m[2, 1], m[2, 0] - m[0, 2], m[0, 1] - m[1, 0]])
    n = np.zeros((4, 4))
    n[0, 0] = np.trace(m)
    n[0, 1:] = n[1:, 0] = skew
    n[1:, 1:] = m + m.T - np.trace(m) * np.eye(3)
    w, *xyz = np.linalg.eigh(n)[1][:, -1]
    return Rotation.from_quat([*xyz, w]).as_matrix()


def test_pn_13_printed():
    off = np.array([[0.1, 0, 0], [-0.1, 0.1, 0], [0, -0.1, 0.1], [0, 0, -0.1], [0, 0, 0]])
    got = lay(A, turned(off))
    np.testing.assert_allclose(got.shift, [12.035380368, -7.016621086, 32.98198358], atol=1e-8)
    assert np.sqrt((got.residual**2).sum()) == pytest.approx(0.1894232793, abs=1e-9)
    np.testing.assert_allclose(got.turn[0], [0.852276385, -0.512072027, 0.106804510], atol=1e-8)


@pytest.mark.parametrize("seed", range(20))
def test_pn_13_four_ways(seed):
    dice = np.random.default_rng(seed)
    a = dice.normal(size=(7, 3)) * [3.0, 1.0, 0.4]
    turn = Rotation.random(random_state=seed).as_matrix()
    b = a @ turn.T + dice.normal(size=3) + 0.02 * dice.normal(size=(7, 3))
    got = lay(a, b)
    np.testing.assert_allclose(got.turn, horn(a, b), atol=1e-9)
    mean = b.mean(axis=0), a.mean(axis=0)
    scipys = Rotation.align_vectors(b - mean[0], a - mean[1])[0].as_matrix()
    np.testing.assert_allclose(got.turn, scipys, atol=1e-9)
    matrix, laid, _ = trimesh.registration.procrustes(a, b, reflection=False, scale=False)
    np.testing.assert_allclose(got.laid(a), laid, atol=1e-9)
    np.testing.assert_allclose(got.turn, matrix[:3, :3], atol=1e-9)
    weights = dice.uniform(0.2, 3.0, 7)
    heavy = lay(a, b, weights)
    weighed = Rotation.align_vectors(
        b - weights @ b / weights.sum(), a - weights @ a / weights.sum(), weights=weights
    )[0].as_matrix()
    np.testing.assert_allclose(heavy.turn, weighed, atol=1e-9)


@pytest.mark.parametrize("seed", range(10))
def test_scale_is_found_and_a_mirror_image_told(seed):
    dice = np.random.default_rng(seed)
    a = dice.normal(size=(6, 3)) * [3.0, 1.0, 0.4]
    turn = Rotation.random(random_state=seed).as_matrix()
    b = 25.4 * a @ turn.T + [4.0, -2.0, 1.0]
    got = lay(a, b, scale=True)
    assert got.scale == pytest.approx(25.4, rel=1e-12)
    assert not got.mirrored
    matrix, _, _ = trimesh.registration.procrustes(a, b, reflection=False, scale=True)
    np.testing.assert_allclose(got.scale * got.turn, matrix[:3, :3], atol=1e-9)
    other = lay(a * [1.0, -1.0, 1.0], b, scale=True)
    assert other.mirrored
    assert np.linalg.det(other.turn) == pytest.approx(1.0, abs=1e-12)


def test_points_on_a_line_and_in_a_plane():
    with pytest.raises(ValueError, match="on one line"):
        lay(np.outer(np.arange(4.0), [1.0, 2.0, 0.5]), np.zeros((4, 3)))
    with pytest.raises(ValueError, match="2 points"):
        lay(A[:2], A[:2])
    plane = A * [1.0, 1.0, 0.0]
    got = lay(plane, plane)
    assert got.flat
    assert not got.mirrored
