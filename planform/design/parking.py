"""Which point of an aircraft stands on a spot, in words and by the names of its wheels."""

from __future__ import annotations

from planform.design.models import Design
from planform.design.sided import on_side, side_of


def main_axle(design: Design) -> tuple[str, str] | None:
    """The outermost wheel on the left and on the right, by name; None where a side has none.

    Of wheels equally far out the aftmost counts.
    """
    out: dict[float, tuple[float, float, str]] = {}
    for name, pair in design.wheels.items():
        for side, prefix in ((-1.0, "left "), (1.0, "right ")):
            wheel = on_side(pair, side_of(side))
            one = name if wheel.side != "both" else prefix + name
            mirror = {"left": -1.0, "right": 1.0}.get(wheel.side, 1.0)
            butt = (side if wheel.side == "both" else mirror) * float(wheel.bl)
            found = (abs(butt), float(wheel.fs), one)
            if side * butt > 0.0 and found[:2] > out.get(side, (0.0, 0.0, ""))[:2]:
                out[side] = found
    return (out[-1.0][2], out[1.0][2]) if len(out) == 2 else None


def parked_by(design: Design) -> str:
    """What stands on a spot, in words."""
    if design.spot_station is not None:
        return f"the point at {design.spot_station.text} on the centre line"
    if main_axle(design) is not None:
        return "the middle of the main axle"
    return "the middle of the points that it stands on"
