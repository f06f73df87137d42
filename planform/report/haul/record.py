"""Parts on a trailer or in a container as JSON."""

from __future__ import annotations

from planform.core.spread import NO_SPREAD
from planform.report.haul.words import NOTES, headline
from planform.report.record import Json, Record, Recorder, number, tolerance
from planform.study.hauling import Haul
from planform.study.load_limits import LimitCheck
from planform.study.stowing import Piece, PlacedPiece, least_box


def _piece(piece: Piece, recorder: Recorder) -> Record:
    box: list[Json] = [number(float(v), "length") for v in least_box(piece.carried)[2]]
    mass = recorder.told(piece, "mass=item.mass without_mass=missing")
    return {"name": piece.name, "least_box": box, **mass}


RECORDER = Recorder(
    {
        Piece: _piece,
        PlacedPiece: "piece=attitude.piece.name stands=attitude.words size=attitude.size "
        "from_front=along from_left=across",
        LimitCheck: "name is=value limit to_spare=left",
    }
)


def haul_record(found: Haul) -> Record:
    """The pieces, their places and the limits."""
    return {
        "answer": headline(found),
        **RECORDER.told(
            found, "verdict searched_to_its_end=whole pieces places=loaded pushed_back=shift "
            "centre_of_load=centre",
        ),
        "limits": [
            {
                **RECORDER.of(line),
                "tolerance": tolerance(found.spreads.get(line.name, NO_SPREAD), line.kind),
                "verdict": line.verdict,
                "from": line.source,
            }
            for line in found.lines
        ],
        "notes": NOTES,
    }  # fmt: skip
