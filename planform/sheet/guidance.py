"""Published hangar guidance beside the aircraft's sizes: guidance, not law for a private shop."""

from __future__ import annotations

from dataclasses import dataclass

FT = 0.3048


@dataclass(frozen=True)
class Guide:
    """One published figure: what it asks, how much [m], and where it is printed."""

    key: str
    asks: str
    metres: float
    source: str


WORK_SPACE = Guide(
    "work space",
    "work space all round a parked aircraft",
    10 * FT,
    "UFC 3-260-01 (2001), ch. 8, Table 8.1",
)
GUIDES = (
    WORK_SPACE,
    Guide("corridor", "safety corridor round the floor", 5 * FT, "UFC 3-260-01 (2001), Att. 3"),
    Guide(
        "ceiling",
        "top of the aircraft to the ceiling, corrosion-control bay",
        5 * FT,
        "MIL-HDBK-1028/1C (1999), par. 3.3",
    ),
    Guide(
        "heater",
        "unit heater over the highest wing or engine",
        10 * FT,
        "780 CMR 412.4 (International Building Code text)",
    ),
    Guide("exit width", "clear width of an exit route", 28 * FT / 12, "29 CFR 1910.36(g)"),
    Guide("exit height", "ceiling over an exit route", 7.5 * FT, "29 CFR 1910.36(g)"),
    Guide("road width", "width on the road, load included", 102 * FT / 12, "23 CFR 658.15(a)"),
)


def space_module(length: float, width: float) -> tuple[float, float, float]:
    """Hangar floor for one aircraft [m, m, m2]: its length and width with work space all round.

    Source: UFC 3-260-01 (2001), ch. 8, Table 8.1.
    """
    long, wide = (side + 2.0 * WORK_SPACE.metres for side in (length, width))
    return long, wide, long * wide
