"""Parts on a trailer or in a container in words."""

from __future__ import annotations

from planform.study.hauling import Haul

NOTES = (
    "Each piece counts as the box round it in one of the attitudes tried: its least box found and "
    "those of the aircraft's axes, on any face. It stands on the bed with nothing on top; one "
    "on its edge or on end needs a cradle that holds it there; "
    "racks and leaning pieces are not looked at. Not found is not no.",
    "The load on the hitch is statics about the middle of the axles, which are taken to carry "
    "alike. Common practice, no source: a tenth to a seventh of the loaded trailer on the hitch; "
    "the trailer's and the tow vehicle's plates come first. A light hitch makes a trailer swing.",
    "Masses are estimates of the design file: weigh the axles and the hitch before the road.",
)

MIND = (
    "Lash every piece fore, aft and sideways on its own, on pads, never over a skin alone; a "
    "wing lifts in the wind of the road. 49 CFR 393.102 asks for 0.8 g forward, 0.5 g rearward and "
    "0.5 g sideways; local rules come first.",
    "Flag and light what stands out at the rear as the local rules ask. Look again after the "
    "first miles.",
)


def headline(found: Haul) -> str:
    """The answer in one sentence."""
    if found.found:
        return f"{found.verdict}: a place for each piece was found and checked"
    if found.too_large:
        return f"not found: {found.too_large[0]} goes on in none of the attitudes tried"
    return "not found: no placing for all pieces together; that proves nothing"
