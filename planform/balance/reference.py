"""The chords that percentages are taken of."""

from __future__ import annotations

from dataclasses import dataclass

from planform.airframe.build import Airframe
from planform.airframe.measure import design_measures
from planform.core.mass.sums import mac_station, percent_mac
from planform.core.quantity import Metres

SAME = 1e-6
"""Metres; references this near to each other are one. Assumption."""


@dataclass(frozen=True)
class Reference:
    """A mean aerodynamic chord with the wing it belongs to [m]."""

    key: str
    name: str
    lemac: Metres
    mac: Metres

    def share(self, station: float) -> float:
        """A station as a share of this chord."""
        return percent_mac(station, self.lemac, self.mac)

    def station(self, share: float) -> float:
        """The station at a share of this chord [m]."""
        return mac_station(share, self.lemac, self.mac)


def references(airframe: Airframe) -> tuple[Reference, ...]:
    """The chords at hand, the one asked for first; equal ones are told once.

    The wing's true planform and its outer trapezoid carried to the centre line, and the user's
    own figures where given.
    """
    found: list[Reference] = []
    given = airframe.design.balance
    if given is not None and given.mac is not None:
        mac = given.mac
        found.append(Reference("given", mac.name, float(mac.lemac_fs), float(mac.mac)))
    if airframe.halves_in("wing"):
        measures = design_measures(airframe)
        for key, suffix, words in (
            ("planform", "", "wing, true planform"),
            ("trapezoid", "_trapezoid", "wing, outer panel to the centre line"),
        ):
            lemac, mac_length = measures[f"wing.lemac_fs{suffix}"], measures[f"wing.mac{suffix}"]
            found.append(Reference(key, words, lemac, mac_length))
    wanted = given.reference if given is not None else None
    found.sort(key=lambda r: r.key != wanted)
    out: list[Reference] = []
    for one in found:
        if all(abs(one.lemac - r.lemac) > SAME or abs(one.mac - r.mac) > SAME for r in out):
            out.append(one)
    return tuple(out)
