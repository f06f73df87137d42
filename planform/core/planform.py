"""temporary"""

import numpy as np


def half_area(y, c):
    return float((0.5 * (c[1:] + c[:-1]) * np.diff(y)).sum())


def mean_aerodynamic_chord(y, c):
    a, b = c[:-1], c[1:]
    return float(((a * a + a * b + b * b) / 3 * np.diff(y)).sum()) / half_area(y, c)


def mac_butt_line(y, c):
    a, b = c[:-1], c[1:]
    u, v = y[:-1], y[1:]
    return float(((2 * u * a + u * b + v * a + 2 * v * b) / 6 * np.diff(y)).sum()) / half_area(y, c)


def mac_leading_edge(y, x, c):
    a, b = c[:-1], c[1:]
    u, v = x[:-1], x[1:]
    return float(((2 * u * a + u * b + v * a + 2 * v * b) / 6 * np.diff(y)).sum()) / half_area(y, c)


def sweep_at(dy, x0, c0, x1, c1, f):
    return float(np.arctan2(x1 + f * c1 - x0 - f * c0, dy))


def to_centreline(y, x, c):
    s = -y[0] / (y[1] - y[0])
    return 0.0, float(x[0] + s * (x[1] - x[0])), float(c[0] + s * (c[1] - c[0]))


def volume_coefficient(sf, arm, s, mac):
    return sf * arm / (s * mac)
