"""100,000 planform variants at once, beside the plain numpy arithmetic they need.

Run: python benchmarks/batch.py. Plain arithmetic: the same closed forms and
the same candidate directions of the rectangle, whole arrays at a time, without the batch's checks.
"""

from __future__ import annotations

import time
import tracemalloc

import numpy as np

from planform.core.shape.batch import Batch, Winglets, measure_planforms


def variants(k: int) -> dict[str, np.ndarray]:
    """Random cranked wings with winglets, reproducible."""
    rng = np.random.default_rng(7)
    y = np.tile([0.0, 0.7, 1.7, 4.4], (k, 1)) * rng.uniform(0.9, 1.1, (k, 1))
    chord = np.tile([2.2, 2.2, 1.27, 0.66], (k, 1)) * rng.uniform(0.9, 1.1, (k, 4))
    x = np.tile([3.8, 3.8, 4.8, 6.0], (k, 1)) + rng.uniform(-0.1, 0.1, (k, 4))
    z = np.tile([0.5, 0.5, 0.5, 0.55], (k, 1))
    return {
        "y": y,
        "x": x,
        "chord": chord,
        "z": z,
        "winglet_length": rng.uniform(1.0, 1.6, k),
        "winglet_cant": rng.uniform(0.0, 0.6, k),
        "winglet_sweep": rng.uniform(0.3, 0.6, k),
        "winglet_tip_chord": rng.uniform(0.25, 0.4, k),
    }


def measured(v: dict[str, np.ndarray]) -> Batch:
    """The library's answer for the variants."""
    cuts = (v[n] for n in ("y", "x", "chord", "z"))
    winglets = (v[f"winglet_{n}"] for n in Winglets._fields)
    return measure_planforms(*cuts, Winglets(*winglets))


def plain(v: dict[str, np.ndarray]) -> float:
    """The arithmetic alone, whole arrays at a time, with the hull's sides known."""
    y, x, c = v["y"], v["x"], v["chord"]
    dy = np.diff(y, axis=1)
    half = (0.5 * (c[:, :-1] + c[:, 1:]) * dy).sum(1)
    mac = ((c[:, :-1] ** 2 + c[:, :-1] * c[:, 1:] + c[:, 1:] ** 2) * dy).sum(1) / (3 * half)
    le = (
        (x[:, :-1] * (2 * c[:, :-1] + c[:, 1:]) + x[:, 1:] * (c[:, :-1] + 2 * c[:, 1:])) * dy
    ).sum(1) / (6 * half)
    ratio = (2 * y[:, -1]) ** 2 / (2 * half)
    reach = v["winglet_length"] * np.sin(v["winglet_cant"])
    aft = v["winglet_length"] * np.tan(v["winglet_sweep"])
    top = v["z"][:, -1] + v["winglet_length"] * np.cos(v["winglet_cant"])
    px = np.column_stack([x, x[:, -1] + aft, x + c, x[:, -1] + aft + v["winglet_tip_chord"]])
    py = np.column_stack([y, y[:, -1] + reach, y, y[:, -1] + reach])
    m = px.shape[1]
    pairs = [(i, j, sign) for i in range(m) for j in range(i + 1, m) for sign in (-1.0, 1.0)]
    best = np.full(len(px), np.inf)
    for i, j, sign in pairs:
        dx, dyy = px[:, j] - px[:, i], py[:, j] + sign * py[:, i]
        n = np.hypot(dx, dyy) + 1e-300
        cs, sn = (dx / n)[:, None], (np.abs(dyy) / n)[:, None]
        a = (cs * px + sn * py).max(1) - (cs * px - sn * py).min(1)
        b = (sn * px + np.abs(cs) * py).max(1) - (sn * px - np.abs(cs) * py).min(1)
        best = np.minimum(best, a * b)
    return float(mac.sum() + le.sum() + ratio.sum() + top.sum() + best.sum())


def main() -> None:
    """Print the ratio and the peak memory at two sizes."""
    v = variants(100_000)
    measured(variants(5_000))
    times = []
    for work in (lambda: measured(v), lambda: plain(v)):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    print(f"batch {times[0]:.2f} s, plain {times[1]:.2f} s, ratio {times[0] / times[1]:.2f}")
    for k in (50_000, 100_000, 200_000):
        v = variants(k)
        tracemalloc.start()
        measured(v)
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        print(f"{k} variants: peak {peak / 1e6:.1f} MB, {peak / k:.0f} bytes each")


if __name__ == "__main__":
    main()
