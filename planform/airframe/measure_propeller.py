"""How high the propeller stands over the floor, as it is parked and as it turns."""

from __future__ import annotations

from planform.airframe.builders.propellers import disc
from planform.airframe.stance import Standing

CLEAR, PARKED, TOP, ARC_TOP = (
    "propeller_ground_clearance",
    "propeller_parked_clearance",
    "propeller_parked_top",
    "propeller_arc_top",
)


def propeller_heights(standing: Standing) -> list[tuple[str, str, float]]:
    """Keys, words and heights [m] of the propeller, where it is on.

    The ground clearance is that of the disc, which the blades sweep; of blades, also where their
    tips are as parked, and the top of both.
    """
    propeller = standing.airframe.design.propeller
    part = next((p for p in standing.parts if p.role == "propeller"), None)
    if part is None or propeller is None:
        return []
    if propeller.blades is None:
        return [(CLEAR, "propeller ground clearance", float(part.points[:, 2].min()))]
    parked = part.points[:, 2]
    swept = standing.to_floor(disc(propeller)[0])[:, 2]
    return [
        (CLEAR, "propeller ground clearance, as it turns", float(swept.min())),
        (PARKED, "propeller ground clearance, blades as parked", float(parked.min())),
        (TOP, "propeller top, blades as parked", float(parked.max())),
        (ARC_TOP, "propeller top, as it turns", float(swept.max())),
    ]
