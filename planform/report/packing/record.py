"""Several aircraft in one hangar as JSON."""

from __future__ import annotations

from collections.abc import Mapping

from planform.core.spread import NO_SPREAD, Spread
from planform.fit.berth import Berth
from planform.fit.packing import Packing
from planform.fit.parked_gaps import Between, Flat, OneOver
from planform.fit.steps import steps_of
from planform.fit.swept import corners_of, plan_outline
from planform.report.packing.words import headline, proofs, steps_in
from planform.report.record import Record, Recorder, number, tolerance
from planform.report.way_out.record import SHAPES, route_record
from planform.study.spreads_of_parked import key_between, key_room


def _flat(flat: Flat, recorder: Recorder) -> Record:
    told = recorder.told(flat, "aircraft=name wheel to_spare=left")
    return {**told, "between": [flat.part, flat.thing], **recorder.told(flat, "before")}


RECORDER = Recorder(
    SHAPES
    | {
        Berth: "number name design=standing.airframe.design.name stage=standing.stage.name "
        "stance=standing.stance_name parked=pose",
        OneOver: "above under distance=apart",
        Flat: _flat,
    }
)


def packing_record(found: Packing, system: str, spreads: Mapping[str, Spread]) -> Record:
    """The order, each one's way in, the gaps, and what a flat tyre leaves."""
    return {
        "answer": headline(found),
        **RECORDER.told(
            found, "found gap_wanted=gap gap_wanted_upright=over places_tried=tried "
            "searched_to_its_end=whole",
        ),
        "order_in": [_berth(found, berth, system) for berth in found.berths],
        "between": [_between(one, spreads) for one in found.between],
        "to_the_room": [
            {
                "aircraft": name,
                "part": near.part,
                "thing": near.thing,
                "distance": number(near.gap, "length"),
                "tolerance": tolerance(spreads.get(key_room(name), NO_SPREAD)),
            }
            for name, near in found.walls
        ],
        **RECORDER.told(found, "flat_tyres=flats"),
        "proved": proofs(found),
        **RECORDER.told(found, "second_check=gone_over"),
    }  # fmt: skip


def _berth(found: Packing, berth: Berth, system: str) -> Record:
    steps = steps_of(berth.way_in, corners_of(plan_outline(berth.standing)))
    return {
        **RECORDER.of(berth),
        "way_in": route_record(berth.way_in, steps, steps_in(berth, system)),
        "comes_out_with_all_others_standing": dict(found.alone)[berth.name],
    }


def _between(one: Between, spreads: Mapping[str, Spread]) -> Record:
    spread = spreads.get(key_between(one.first, one.second), NO_SPREAD)
    return {
        "first": f"{one.first}: {one.part}",
        "second": f"{one.second}: {one.other}",
        "distance": number(one.apart, "length"),
        "tolerance": tolerance(spread),
        **RECORDER.told(one, "over"),
    }
