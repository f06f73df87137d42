"""The batch against the one-at-a-time closed forms and shapely's least rectangle."""

import numpy as np
import pytest
import shapely

from planform.core.shape import planform as pf
from planform.core.shape.batch import CHUNK, Winglets, measure_planforms


def _random(k, seed=3):
    rng = np.random.default_rng(seed)
    y = np.sort(rng.uniform(0.1, 5.0, (k, 4)), axis=1)
    y[:, 0] = 0.0
    return {
        "y": y,
        "x": rng.uniform(0.0, 3.0, (k, 4)),
        "chord": rng.uniform(0.3, 2.0, (k, 4)),
        "z": rng.uniform(0.0, 1.0, (k, 4)),
        "winglet_length": np.where(rng.uniform(size=k) < 0.2, 0.0, rng.uniform(0.2, 2.0, k)),
        "winglet_cant": rng.uniform(-0.3, 1.2, k),
        "winglet_sweep": rng.uniform(-0.2, 0.9, k),
        "winglet_tip_chord": rng.uniform(0.2, 0.6, k),
    }


def _measured(v):
    cuts = (v[n] for n in ("y", "x", "chord", "z"))
    winglets = (v[f"winglet_{n}"] for n in Winglets._fields)
    return measure_planforms(*cuts, Winglets(*winglets))


def test_each_variant_is_what_the_closed_forms_say():
    v = _random(200)
    found = _measured(v)
    for k in range(200):
        y, x, c = v["y"][k], v["x"][k], v["chord"][k]
        assert found.area[k] == pytest.approx(2 * pf.half_area(y, c))
        assert found.aspect_ratio[k] == pytest.approx((2 * y[-1]) ** 2 / found.area[k])
        assert found.mac[k] == pytest.approx(pf.mean_aerodynamic_chord(y, c))
        assert found.lemac[k] == pytest.approx(pf.mac_leading_edge(y, x, c))
        top = v["z"][k, -1] + v["winglet_length"][k] * np.cos(v["winglet_cant"][k])
        assert found.tip_height[k] == pytest.approx(max(v["z"][k].max(), top))


def test_least_rectangle_is_shapelys():
    v = _random(150, seed=5)
    found = _measured(v)
    for k in range(150):
        length, cant, sweep = (v[f"winglet_{n}"][k] for n in ("length", "cant", "sweep"))
        y = np.append(v["y"][k], v["y"][k, -1] + length * np.sin(cant))
        x = np.append(v["x"][k], v["x"][k, -1] + length * np.tan(sweep))
        c = np.append(v["chord"][k], v["winglet_tip_chord"][k] if length else v["chord"][k, -1])
        xs, ys = np.concatenate([x, x + c]), np.concatenate([y, y])
        if (ys < 0).any():
            continue
        points = shapely.multipoints(np.stack([np.tile(xs, 2), np.concatenate([ys, -ys])], axis=1))
        area = shapely.minimum_rotated_rectangle(points).area
        assert found.footprint_long[k] * found.footprint_short[k] == pytest.approx(area, rel=1e-9)


def test_chunks_change_nothing():
    v = _random(CHUNK + 10)
    whole = _measured(v)
    tail = _measured({name: value[-5:] for name, value in v.items()})
    for field in ("area", "mac", "lemac", "tip_height", "footprint_long", "footprint_short"):
        assert np.array_equal(getattr(whole, field)[-5:], getattr(tail, field))


def test_shapes_must_agree():
    v = _random(5)
    v["winglet_length"] = v["winglet_length"][:4]
    with pytest.raises(ValueError, match=r"expected shapes \(5, 4\)"):
        _measured(v)
