"""What a rigging card warns of, and the practice of the trade."""

from __future__ import annotations

CAUTIONS = (
    "This card approves no drilling and no bonding. The designer's limits and the person "
    "responsible do.",
    "Support the aircraft before anything is read: chocks, the tail held, never one jack alone; "
    "nobody under what is not bolted.",
    "Ladders on firm ground with someone at their foot; a laser at eye height is for nobody's "
    "eyes.",
    "What is read is only as good as the level's reversal and the tape's pull: read twice before "
    "a hole is made.",
)
PRACTICE = (
    "No limit is given here, and none is made up. Practice of the trade, which is no limit: left "
    "and right within 0.2 deg of incidence (a naval training text on structure alignment; "
    "builders' words), distances of light aircraft left and right within 20 mm (a maintenance "
    "manual), stations within 1/8 in to 1/4 in (common practice, no source)."
)
