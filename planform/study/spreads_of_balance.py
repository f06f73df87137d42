"""What the inputs' tolerances do to balance: each input moved, everything worked out again."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planform.airframe.build import Airframe, build
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.balance.answer import BalanceAnswer, balance
from planform.balance.ends import BACK
from planform.balance.loading import CARE, INSIDE, Loaded
from planform.core.shown import Brief, Shown
from planform.core.spread import NO_SPREAD, Spread, Values, spreads
from planform.design.kinds import KINDS
from planform.design.models import Design
from planform.design.naming import field_name
from planform.design.texts import bracketed
from planform.design.told import said
from planform.design.vary import shifted, toleranced
from planform.study.lift import LiftFindings, lift_findings


@dataclass(frozen=True, eq=False, repr=False)
class BalanceFindings(Shown):
    """A balance with the spread of its figures, by the keys of `figures`.

    taken : what was taken of the stages, where none was named
    """

    answer: BalanceAnswer
    spreads: dict[str, Spread]
    lift: LiftFindings
    taken: tuple[str, ...] = ()

    @property
    def neutral_point(self) -> tuple[float, str] | None:
        """The user's own neutral point, else the lattice's, and where it comes from [m]."""
        given = self.answer.design.balance.neutral_point if self.answer.design.balance else None
        if given is not None:
            return float(given.fs), f"as given{bracketed(given.record)}"
        found = self.lift.complete
        if found is None:
            return None
        return found.neutral_point.value, "by the lattice, without body and propeller"

    def spread(self, key: str) -> Spread:
        """What the tolerances do to one figure; nothing where none matters."""
        return self.spreads.get(key, NO_SPREAD)

    def brief(self) -> Brief:
        """Empty weight and CG, the neutral point, and the verdict on every loading case."""
        answer = self.answer
        units, rows = answer.design.units, list[tuple[str, str]]()
        if answer.record is not None:
            now = answer.record.now
            rows += [
                ("empty weight", said(now.mass, "mass", units)),
                ("empty CG", said(now.fs, "station", units)),
            ]
        if self.neutral_point is not None:
            at, source = self.neutral_point
            rows.append(("neutral point", f"{said(at, 'station', units)} {source}"))
        for case in answer.cases:
            total = case.total
            told = f"{said(total.mass, 'mass', units)} at {said(total.fs, 'station', units)}"
            rows.append((case.name, f"{told}, {case.verdict}"))
        for one in answer.standings:
            told = said(one.tip_back, "angle", units)
            tips = "tips back beyond" if one.ends is BACK else "goes over its nose beyond"
            words = f"{one.standing.title}, {tips}"
            rows.append((words, told))
        return Brief(f"{answer.design.name}, balance", tuple(rows))


def figures(answer: BalanceAnswer) -> Values:
    """The figures whose spread is told, in SI."""
    out: Values = {}
    if answer.record is not None:
        for where, item in (("empty", answer.record.now), ("record", answer.record.base)):
            out |= {f"{where}.mass": item.mass, f"{where}.fs": item.fs, f"{where}.bl": item.bl}
            for one in answer.references:
                out[f"{where}.{one.key}"] = one.share(item.fs)
        weighed = answer.record.weighed
        if weighed is not None and weighed.tilted is not None and weighed.tilted.told:
            out["record.cg_wl"] = weighed.tilted.solved or 0.0
    for k, stage in enumerate(answer.standings):
        out |= {
            f"stages.{k}.mass": stage.total.mass,
            f"stages.{k}.fs": stage.total.fs,
            f"stages.{k}.front": stage.front_load,
            f"stages.{k}.tip_back": stage.tip_back,
        }
    for k, case in enumerate(answer.cases):
        out |= {
            f"cases.{k}.mass": case.total.mass,
            f"cases.{k}.fs": case.total.fs,
            f"cases.{k}.bl": case.total.bl,
            f"cases.{k}.zero_fuel": case.zero_fuel,
        }
        out |= {f"cases.{k}.{m.bound}": m.left for m in case.margins}
        for one in answer.references:
            out[f"cases.{k}.{one.key}"] = one.share(case.total.fs)
    return out


def balance_findings(
    standings: tuple[Standing, ...], design: Design, taken: tuple[str, ...] = ()
) -> BalanceFindings:
    """Balance with spreads; a case whose margin a tolerance could take away needs care.

    standings : stages of the design as they stand; empty for a design without geometry
    taken : what was taken of them, to be told beside the answer
    """
    like = standings[0].airframe if standings else build(design)
    answer = balance(like, standings)

    def again(moved: Design) -> Values:
        airframe = _built(moved, like)
        stood = [
            stand_on(airframe, stage_named(moved, s.stage.name), s.stance_name) for s in standings
        ]
        return figures(balance(airframe, stood, searched=False))

    changes = [
        (field_name(design, path), again(shifted(design, path, sign * reading.tolerance)))
        for path, reading in toleranced(design)
        for sign in (1.0, -1.0)
    ]
    found = spreads(figures(answer), changes)
    cases = tuple(_careful(case, k, found) for k, case in enumerate(answer.cases))
    return BalanceFindings(replace(answer, cases=cases), found, lift_findings(standings), taken)


SHAPING = {name for kind in KINDS for name in (kind.field, *kind.drawn_by)}
"""The fields of a design that its parts are built from."""


def _built(moved: Design, like: Airframe) -> Airframe:
    """The airframe of a design with one reading moved; the same parts where it shapes none."""
    if all(getattr(moved, name) is getattr(like.design, name) for name in SHAPING):
        return replace(like, design=moved)
    return build(moved, like=like)


def _careful(case: Loaded, k: int, found: dict[str, Spread]) -> Loaded:
    near = any(m.left < found[f"cases.{k}.{m.bound}"].worst for m in case.margins)
    return replace(case, verdict=CARE) if case.verdict == INSIDE and near else case
