"""An aircraft's empty weight with its places to load: states, the burn, what limits allow."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from planform.airframe.weight.items import Item
from planform.airframe.weight.record import EmptyRecord
from planform.core.mass.limits import CLOSE, State, least_margin
from planform.core.mass.loading import BOUNDS, Envelope
from planform.core.quantity import Kilograms, Metres, OfKind
from planform.design.loading import (
    BurnStep,
    JointLimit,
    LoadingCase,
    LoadPlace,
    density_of,
    kilograms,
)
from planform.design.reading import Reading

Amounts = dict[str, float]

KIND = dict.fromkeys(("forward", "aft", "left", "right"), "length") | {"lateral_moment": "moment"}
"""The kind of quantity of a bound's margin, where it is no mass."""


@dataclass(frozen=True)
class Margin:
    """What is left to one bound at its worst along the burn, and the state there [kg, m]."""

    bound: str
    left: OfKind
    mass: Kilograms
    fs: Metres
    bl: Metres

    @property
    def kind(self) -> str:
        """What kind of quantity is left."""
        return KIND.get(self.bound, "mass")


@dataclass(frozen=True, eq=False)
class Loader:
    """An aircraft's empty weight with its places to load and the limits around it.

    joints : limits of several places together; burn : the tanks' order for every case without one
    """

    record: EmptyRecord
    places: dict[str, LoadPlace]
    envelope: Envelope
    joints: Mapping[str, JointLimit] = field(default_factory=dict)
    burn: tuple[BurnStep, ...] | None = None

    def most(self, name: str) -> float:
        """The most a place may carry [kg], alone or jointly; infinite where no limit is given."""
        place = self.places[name]
        own = np.inf if place.limit is None else kilograms(place.limit, place)
        shared = [
            float(joint.limit) / self.per_kilogram(joint, name)
            for joint in self.joints.values()
            if name in joint.places
        ]
        return float(min(own, *shared)) if shared else own

    def least(self, name: str) -> float:
        """The least a place carries [kg]: what it must, and of a tank what cannot be burnt."""
        place = self.places[name]
        needed = [kilograms(a, place) for a in (place.least, place.unusable) if a is not None]
        return max(needed, default=0.0)

    def per_kilogram(self, joint: JointLimit, name: str) -> float:
        """What a kilogram in a place counts toward a joint limit: itself, or its volume [m3]."""
        if name not in joint.places:
            return 0.0
        if joint.limit.kind == "mass":
            return 1.0
        density = density_of(self.places[name])
        assert density is not None
        return 1.0 / float(density)

    def beyond(self, joint: JointLimit, amounts: Mapping[str, float]) -> float:
        """By how much a loading is over a joint limit [kg or m3]; below zero: what is to spare."""
        held = sum(self.per_kilogram(joint, n) * m for n, m in amounts.items())
        return held - float(joint.limit)

    def spare(self, name: str, amounts: Amounts) -> float:
        """What a place takes on top [kg], by its own limit and those it shares."""
        room = [self.most(name) - amounts.get(name, 0.0)]
        for joint in self.joints.values():
            if name in joint.places:
                room.append(-self.beyond(joint, amounts) / self.per_kilogram(joint, name))
        return min(room)

    def arm(self, name: str) -> float:
        """Station of a place [m]."""
        return float(self.places[name].fs)

    def amounts(self, case: LoadingCase) -> Amounts:
        """What a case puts into each place [kg]."""
        return {n: kilograms(amount, self.places[n]) for n, amount in case.loads.items()}

    def lines(self, amounts: Amounts) -> tuple[Item, ...]:
        """Empty weight and loads, line by line."""
        out = [self.record.now]
        for name, mass in amounts.items():
            place = self.places[name]
            wl = None if place.wl is None else float(place.wl)
            out.append(Item(name, mass, float(place.fs), float(place.bl), wl))
        return tuple(out)

    def state(self, amounts: Amounts) -> State:
        """Mass, moment, moment to the right and fuel to burn with these loads aboard."""
        now = self.record.now
        mass = now.mass + sum(amounts.values())
        moment = now.moment + sum(m * self.arm(n) for n, m in amounts.items())
        side = now.mass * now.bl + sum(m * float(self.places[n].bl) for n, m in amounts.items())
        return mass, moment, side, self.fuel(amounts)

    def fuel(self, amounts: Amounts) -> float:
        """The fuel aboard that can be burnt [kg]."""
        return sum(
            max(0.0, mass - kilograms(place.unusable, place) if place.unusable else mass)
            for mass, place in ((m, self.places[n]) for n, m in amounts.items())
            if place.kind == "fuel"
        )

    def step(self, changes: Mapping[str, float]) -> State:
        """What a kilogram of a change adds to the state; by place, what it adds there."""
        places = [(self.places[n], s) for n, s in changes.items()]
        return (
            sum(changes.values()),
            sum(s * float(p.fs) for p, s in places),
            sum(s * float(p.bl) for p, s in places),
            sum(s for p, s in places if p.kind == "fuel"),
        )

    def burn_order(self, case: LoadingCase) -> tuple[BurnStep, ...]:
        """The steps of the burn: the case's, else the aircraft's, else tank by tank as listed."""
        if case.burn is not None:
            return case.burn
        if self.burn is not None:
            return self.burn
        fuel = (n for n, p in self.places.items() if p.kind == "fuel" and n in case.loads)
        return tuple(BurnStep(tanks=(name,)) for name in fuel)

    def burning(self, case: LoadingCase) -> Burn:
        """How the fuel of a case burns."""
        return Burn(self, self.burn_order(case), case.kept)

    def margins(self, states: Sequence[State]) -> list[Margin]:
        """The worst margin to each bound along the states' straight lines."""
        found: dict[str, Margin] = {}

        def note(bound: str, left: float, state: State) -> None:
            steady = CLOSE if bound == "max_zero_fuel_mass" else 0.0  # it stays as fuel burns
            if bound not in found or left < found[bound].left - steady:
                mass, moment, side = state[:3]
                found[bound] = Margin(bound, left, mass, moment / mass, side / mass)

        for state in states:
            for bound, left in self.envelope.margins(state).items():
                note(bound, left, state)
        for a, b in pairwise(states):
            for bound, limit, sign in (
                ("forward", self.envelope.forward, 1.0),
                ("aft", self.envelope.aft, -1.0),
            ):
                if limit is not None:
                    note(bound, *least_margin(limit, sign, a, b))
        return [found[bound] for bound in BOUNDS if bound in found]

    def over(self, amounts: Amounts) -> tuple[str, ...]:
        """The places that carry more than their limit, and the joint limits that are passed."""
        own = {n: p.limit for n, p in self.places.items()}
        alone = (
            n
            for n, m in amounts.items()
            for limit in [own[n]]
            if limit is not None and m > kilograms(limit, self.places[n]) + CLOSE
        )
        return (*alone, *(n for n, j in self.joints.items() if self.beyond(j, amounts) > CLOSE))

    def under(self, amounts: Amounts) -> tuple[str, ...]:
        """The places that carry less than the least they must, an empty one too."""
        return tuple(n for n in self.places if amounts.get(n, 0.0) < self.least(n) - CLOSE)

    def holds(self, amounts: Amounts, burn: Burn) -> bool:
        """Whether a loading stays inside the limits, and within each place's, along the burn."""
        states = [state for _, state in burn.path(amounts)]
        within = not self.over(amounts) and not self.under(amounts)
        return within and all(m.left >= -CLOSE for m in self.margins(states))


@dataclass(frozen=True, eq=False)
class Burn:
    """How fuel burns: step by step, down to what each step and the case leave in the tanks."""

    loader: Loader
    steps: tuple[BurnStep, ...]
    kept: Mapping[str, Reading]

    @property
    def tanks(self) -> set[str]:
        """Every tank that is burnt from."""
        return {name for step in self.steps for name in step.tanks}

    def path(self, amounts: Amounts) -> list[tuple[str, State]]:
        """States from all aboard to the last that burns; straight in mass and moment between."""
        left = dict(amounts)
        out = [("all aboard", self.loader.state(left))]
        for step in self.steps:
            for reached in self._drawn(step, left):
                out.append((reached, self.loader.state(left)))
        return out

    def _drawn(self, step: BurnStep, left: Amounts) -> Iterator[str]:
        """Burn a step off what is left, told wherever a tank has given all it gives."""
        floors = {name: self._floor(step, name) for name in step.tanks}
        while feeding := [n for n in floors if left.get(n, 0.0) > floors[n][0] + CLOSE]:
            spare = {n: left[n] - floors[n][0] for n in feeding}
            rate = {n: self._rate(step, n, spare[n]) for n in feeding}
            share = min(spare[n] / rate[n] for n in feeding)
            done = [n for n in feeding if spare[n] / rate[n] <= share * (1.0 + 1e-9)]
            for name in feeding:
                left[name] -= share * rate[name]
            for name in done:
                left[name] = floors[name][0]
            words = {n: f"down to {floors[n][1]}" if floors[n][0] else "dry" for n in done}
            yield ", ".join(f"{n} {word}" for n, word in words.items())

    def _rate(self, step: BurnStep, name: str, spare: float) -> float:
        """How fast a tank feeds beside the others of its step: equal volumes, or as it has."""
        if step.share == "in proportion":
            return spare
        density = density_of(self.loader.places[name])
        return 1.0 if density is None else float(density)

    def _floor(self, step: BurnStep, name: str) -> tuple[float, str]:
        """What stays in a tank [kg], and as it was written."""
        place = self.loader.places[name]
        given = (step.down_to, self.kept.get(name), place.unusable)
        found = [(kilograms(amount, place), amount.text) for amount in given if amount is not None]
        return max(found, default=(0.0, ""))
