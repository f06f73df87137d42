"""How far control surfaces are deflected, and what they come near as they move."""

from __future__ import annotations

from collections.abc import Iterator

from planform.airframe.stance import Standing
from planform.airframe.sweeping import least_gap


def control_measures(standing: Standing) -> Iterator[tuple[str, str, float, str, str]]:
    """Keys, words, values [rad, m], kinds and references, of the controls that are on.

    The least gap is that of all a control sweeps to the parts that are on, nothing else turned.
    """
    by_name = standing.airframe.by_name
    on = [by_name[part.name] for part in standing.parts]
    for part in (part for part in on if part.role == "control"):
        angle = standing.turns.get(part.name)
        if angle:
            yield (
                f"{part.name}.deflected",
                f"{part.name} deflected",
                angle,
                "angle",
                standing.title,
            )
        near = least_gap(part, on)
        if near is not None:
            words = f"least gap of the {part.name}, as far as it moves, to the {near[1]}"
            yield f"{part.name}.gap", words, near[0], "length", "nothing else turned"
