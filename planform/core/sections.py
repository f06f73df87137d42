"""temporary"""

import numpy as np


def parse(t):
    w = t.split()
    if len(w) != 2 or w[0] != "NACA" or not w[1].isdigit() or len(w[1]) != 4:
        raise ValueError("allowed: NACA and four digits, such as NACA 2412")
    d = w[1]
    return int(d[0]) / 100, int(d[1]) / 10, int(d[2:]) / 100


def naca4(m, p, t, n, closed=True):
    x = 0.5 * (1 - np.cos(np.linspace(0, np.pi, n)))
    yt = (
        5
        * t
        * (
            0.2969 * np.sqrt(x)
            - 0.126 * x
            - 0.3516 * x**2
            + 0.2843 * x**3
            - (0.1036 if closed else 0.1015) * x**4
        )
    )
    if closed:
        yt[-1] = 0
    if m == 0:
        return np.stack([x, yt], 1), np.stack([x, -yt], 1)
    yc = np.where(
        x < p, m / p**2 * (2 * p * x - x * x), m / (1 - p) ** 2 * (1 - 2 * p + 2 * p * x - x * x)
    )
    th = np.arctan(np.where(x < p, 2 * m / p**2 * (p - x), 2 * m / (1 - p) ** 2 * (p - x)))
    return np.stack([x - yt * np.sin(th), yc + yt * np.cos(th)], 1), np.stack(
        [x + yt * np.sin(th), yc - yt * np.cos(th)], 1
    )
