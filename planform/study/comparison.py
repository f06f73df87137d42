"""Options side by side in one call: what is varied, on which terms, and every option's record."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from planform.core.shown import Brief, Shown
from planform.design.models import Design
from planform.design.place import Place
from planform.design.told import said
from planform.study.compare import Figures, Study, default_terms, study_of
from planform.study.options import Option, Variation, grid, variation
from planform.study.run import Progress, run_study


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


def compare(
    design: Design,
    varied: Mapping[str, str] | Sequence[Variation],
    place: Place | None = None,
    *,
    stage: str | None = None,
    stance: str | None = None,
    lift: float | None = None,
    cg: float | None = None,
    skin: float | None = None,
    confirmed: bool = False,
    workers: int | None = None,
    scheduler: str | None = None,
    folder: Path | None = None,
    progress: Progress = lambda done, whole: None,
) -> Comparison:
    """Every combination of the values that fields take, measured, solved, weighed and judged.

    varied : fields by path, or 'cant', 'length', 'toe', 'sweep' of every winglet, and the values
        each takes, between commas: `{"cant": "0 deg, 15 deg"}`
    lift, cg, skin : see `Terms` ; confirmed : a very large grid is meant
    workers, scheduler, folder, progress : see `run_study`
    Raises InputError for a field that is not there or a value that is not read.
    """
    asked = [variation(*one) for one in varied.items()] if isinstance(varied, Mapping) else varied
    options = grid(design, asked, confirmed=confirmed)
    terms, taken = default_terms(design, stage, stance, lift, cg, skin)
    study = study_of(design, place, terms)
    records = run_study(
        study, options, workers=workers, scheduler=scheduler, folder=folder, progress=progress
    )
    return Comparison(design, study, options, tuple(records), taken)
