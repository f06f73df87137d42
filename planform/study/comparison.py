"""Options side by side in one call: what is varied, on which terms, and every option's record."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypedDict, Unpack

from planform.core.shown import Brief, Shown
from planform.design.models import Design
from planform.design.place import Place
from planform.design.told import said
from planform.study.compare import Study, default_terms, study_of
from planform.study.options import Option, Variation, grid, variation
from planform.study.run import Progress, run_study
from planform.study.terms import Figures


@dataclass(frozen=True, eq=False, repr=False)
class Comparison(Shown):
    """Every option of a design, the base first, worked out on the same terms.

    records : one for each option, figures in SI; `study.compare` says what each is
    taken : what had to be taken as something, in sentences
    """

    design: Design
    study: Study
    options: tuple[Option, ...]
    records: tuple[Figures, ...]
    taken: tuple[str, ...]

    def brief(self) -> Brief:
        """Tip height, neutral point and verdict of every option, where they are known."""
        units = self.design.units

        def told(record: Figures) -> str:
            figures = (("tip_height", "length", "tips"), ("neutral_point", "station", "neutral at"))
            words = [
                f"{word} {said(record[key], kind, units)}"
                for key, kind, word in figures
                if record[key] is not None
            ]
            return ", ".join([*words, *(v for v in (record["verdict"], record["problem"]) if v)])

        rows = tuple((record["name"], told(record)) for record in self.records)
        count = "1 option" if len(rows) == 1 else f"{len(rows)} options"
        return Brief(f"{self.design.name}, {count}", rows)


class Settings(TypedDict, total=False):
    """What a comparison may be told by name.

    stage, stance : the complete aircraft, the stage's own stance, unless told
    lift, cg, skin : see `Terms` ; confirmed : a very large grid is meant
    workers, scheduler, folder, progress : see `run_study`
    """

    stage: str | None
    stance: str | None
    lift: float | None
    cg: float | None
    skin: float | None
    confirmed: bool
    workers: int | None
    scheduler: str | None
    folder: Path | None
    progress: Progress


def compare(
    design: Design,
    varied: Mapping[str, str] | Sequence[Variation],
    place: Place | None = None,
    **told: Unpack[Settings],
) -> Comparison:
    """Every combination of the values that fields take, measured, solved, weighed and judged.

    varied : fields by path, or 'cant', 'length', 'toe', 'sweep' of every winglet, and the values
        each takes, between commas: `{"cant": "0 deg, 15 deg"}`
    Raises InputError for a field that is not there or a value that is not read.
    """
    asked = [variation(*one) for one in varied.items()] if isinstance(varied, Mapping) else varied
    options = grid(design, asked, confirmed=told.get("confirmed", False))
    figures = told.get("lift"), told.get("cg"), told.get("skin")
    terms, taken = default_terms(design, told.get("stage"), told.get("stance"), *figures)
    study = study_of(design, place, terms)
    records = run_study(
        study, options,
        workers=told.get("workers"), scheduler=told.get("scheduler"), folder=told.get("folder"),
        progress=told.get("progress", lambda done, whole: None),
    )  # fmt: skip
    return Comparison(design, study, options, tuple(records), taken)
