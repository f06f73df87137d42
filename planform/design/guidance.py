"""Published clearances and sizes of hangars and shops: guidance, not law for a private shop."""

from __future__ import annotations

from dataclasses import dataclass

from planform.design.units import FOOT

READ = "read"
MEMORY = "common practice, no source"
"""How a figure is known: seen in a text of its source, or not."""


@dataclass(frozen=True)
class Guide:
    """One published figure: what it asks, how much [m], where it is printed, how it is known.

    name : what a place file calls the source by
    wishes : the fields of a place's clearances that the figure stands for; none where it is no
        clearance between an aircraft and its room
    """

    key: str
    asks: str
    metres: float
    name: str
    where: str
    wishes: tuple[str, ...] = ()
    status: str = READ

    @property
    def source(self) -> str:
        """The source in full."""
        return f"{self.name}{self.where}"


WORK_SPACE = Guide(
    "work space",
    "work space all round a parked aircraft",
    10 * FOOT,
    "UFC 3-260-01 Table 8.1",
    " (2001, ch. 8)",
    ("walls", "obstacles"),
)
GUIDES = (
    WORK_SPACE,
    Guide(
        "corridor",
        "safety corridor round the floor",
        5 * FOOT,
        "UFC 3-260-01 Att. 3",
        " (2001)",
        ("walls",),
    ),
    Guide(
        "ceiling",
        "top of the aircraft to the ceiling, corrosion-control bay",
        5 * FOOT,
        "MIL-HDBK-1028/1C",
        " (1999), par. 3.3",
        ("ceiling",),
    ),
    Guide(
        "open door",
        "aircraft to the open front door, level and upright, corrosion-control bay",
        5 * FOOT,
        "MIL-HDBK-1028/1C",
        " (1999), par. 3.3",
        ("door_sides", "door_head"),
    ),
    Guide(
        "heater",
        "unit heater over the highest wing or engine",
        10 * FOOT,
        "780 CMR 412.4",
        " (International Building Code text)",
    ),
    Guide(
        "exit width",
        "clear width of an exit route",
        28 * FOOT / 12,
        "29 CFR 1910.36(g)",
        "",
        ("walls", "obstacles"),
    ),
    Guide("exit height", "ceiling over an exit route", 7.5 * FOOT, "29 CFR 1910.36(g)", ""),
    Guide(
        "road width", "width on the road, load included", 102 * FOOT / 12, "23 CFR 658.15(a)", ""
    ),
    Guide(
        "road height",
        "height on the road, load included, in most states",
        13.5 * FOOT,
        "state law",
        "",
        status=MEMORY,
    ),
)


def figure(key: str) -> float:
    """A published figure by its key [m]."""
    return next(guide.metres for guide in GUIDES if guide.key == key)


def guide_names() -> tuple[str, ...]:
    """The sources that a place file can take clearances from."""
    return tuple(dict.fromkeys(guide.name for guide in GUIDES if guide.wishes))


def guided(field: str, names: tuple[str, ...]) -> Guide | None:
    """The figure that the named sources give for a field of the clearances; the greatest counts."""
    found = [guide for guide in GUIDES if guide.name in names and field in guide.wishes]
    return max(found, key=lambda guide: guide.metres, default=None)


def space_module(length: float, width: float) -> tuple[float, float, float]:
    """Hangar floor for one aircraft [m, m, m2]: its length and width with work space all round.

    Source: UFC 3-260-01 (2001), ch. 8, Table 8.1.
    """
    long, wide = (side + 2.0 * WORK_SPACE.metres for side in (length, width))
    return long, wide, long * wide
