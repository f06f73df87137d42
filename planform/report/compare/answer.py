"""Options side by side: the answer on its way to a reader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from planform.fit.verdict import Verdict
from planform.report.answer import Answer, Block, Files, write
from planform.report.compare.charts import span_chart, trade_chart
from planform.report.compare.csv import loading_csv, options_csv
from planform.report.compare.page import comparison_page, loadings, options_shown
from planform.report.compare.record import comparison_record
from planform.report.compare.tables import tables
from planform.report.compare.words import sentences
from planform.report.folder import Content
from planform.report.record import Record, document
from planform.study.compare import non_dominated
from planform.study.comparison import Comparison


@dataclass(frozen=True, eq=False, kw_only=True)
class ComparisonAnswer(Answer):
    """Options side by side, on the same terms."""

    kind = "compare"
    writes = "compare"

    found: Comparison

    @property
    def good(self) -> bool:
        """Whether an option fits, or none was judged."""
        words = (record["verdict"] for record in self.found.records)
        judged = [Verdict(word) for word in words if word is not None]
        return not judged or min(judged).good

    def said(self, system: str) -> Iterator[Block]:
        """The tables and the sentences."""
        found = self.found
        yield from tables(found.records, found.options, found.study.terms)
        yield from self.in_short(system)

    def in_short(self, system: str) -> Iterator[Block]:
        """What the options come to, in sentences."""
        return iter(sentences(self.found.records, self.found.design))

    def record(self, system: str) -> Record:
        """Every option with its figures."""
        return comparison_record(self.found)

    def beside(self) -> Record:
        """Nothing more."""
        return {}

    def files(self, system: str) -> Files:
        """The page, the plots and the data."""
        found = self.found
        files: dict[str, Content] = {}
        drawn = _charts(found, system)
        files |= {f"{name}.svg": text for name, text in drawn.items()}
        files["options.csv"] = options_csv(found.records, system)
        if any(record["loading"] is not None for record in found.records):
            files["loading.csv"] = loading_csv(found.records, system)
        files["options.json"] = document(self.kind, self.record(system))
        files["compare.html"] = comparison_page(found, drawn, system)
        return files


def _charts(found: Comparison, system: str) -> dict[str, str]:
    """The plots that there is something to draw in, by name."""
    name, records = found.design.name, found.records
    shown = loadings(options_shown(found))
    plots = {
        "trade": trade_chart(records, non_dominated(list(records)), f"{name}: options", system),
        "span": span_chart(shown, f"{name}: loading", system),
    }
    return {plot: text for plot, text in plots.items() if text is not None}


def write_comparison(
    found: Comparison, folder: str | Path, system: str, streamed: tuple[str, ...] = ()
) -> list[str]:
    """Write the comparison into a folder; returns the files' names.

    streamed : files in the folder that belong to it: the records streamed there
    """
    return write(ComparisonAnswer(found=found, carried=streamed), folder, system)
