"""Options side by side in sentences."""

from __future__ import annotations

from collections.abc import Sequence

from planform.design.models import Design
from planform.fit.verdict import CARE, FITS, NOT, UNJUDGED, Verdict
from planform.study.compare import ASKEW, TURNED, non_dominated
from planform.study.terms import Figures


def sentences(records: Sequence[Figures], design: Design) -> tuple[str, ...]:
    """Which options fit, and which are not beaten; nothing is recommended."""
    out = []
    judged = [r for r in records if r["verdict"] is not None]
    for verdict in (FITS, CARE, NOT, UNJUDGED):
        names = [r["name"] for r in judged if r["verdict"] == verdict]
        if names:
            out.append(_listed(verdict, names))
    for leaves in dict.fromkeys(r["comes_out"] for r in judged):
        if leaves and leaves.startswith((ASKEW, TURNED)):
            names = [r["name"] for r in judged if r["comes_out"] == leaves]
            out.append(_listed(f"out of the door {leaves}", names))
    if len(records) > 1 and judged:
        out += _none_fits(records)
    failed = [f"{r['name']} ({r['problem']})" for r in records if r["problem"] is not None]
    if failed:
        out.append(_listed("cannot be built", failed))
    out += _not_flown([r for r in records if r["problem"] is None])
    good = non_dominated(list(records))
    if good and len(records) > 1:
        names = [r["name"] for r in records if r["number"] in good]
        what = "in induced drag, root bending and tip height at once"
        if len(good) == len(records):
            out.append(f"None is beaten {what}: each gives something for what it takes.")
        else:
            out.append(_listed(f"not beaten {what}", names))
    out.append(
        f"base: {design.name} as designed."
        + (" Which option is best is for its builder to say." if len(records) > 1 else "")
    )
    return tuple(out)


def in_trim(flown: Sequence[Figures]) -> str:
    """What follows “at the same lift” in a title: whether options with such figures trim."""
    trimmed = [r["trimmer"] is not None for r in flown]
    if all(trimmed):
        return ", in trim"
    return ", in trim where a surface trims" if any(trimmed) else " (no surface trims)"


def _not_flown(records: Sequence[Figures]) -> list[str]:
    """Why options have no figures of the lattice or none in trim, each reason once."""
    out = []
    for reason in dict.fromkeys(r["lattice"] for r in records if r["lattice"] is not None):
        alike = [r for r in records if r["lattice"] == reason]
        flown = any(r["neutral_point"] is not None for r in alike)
        what = "no figures in trim" if flown else "no figures of the air, and no tables of them"
        if len(alike) == len(records):
            out.append(f"{what}: {reason}.")
        else:
            what = what if flown else "no figures of the air"
            out.append(_listed(f"{what}, as {reason}", [r["name"] for r in alike]))
    return out


def _none_fits(records: Sequence[Figures]) -> list[str]:
    """The sentence where no option fits, if so."""
    base, *options = [Verdict(r["verdict"] or UNJUDGED) for r in records]
    if min(options).good:
        return []
    if base.good:
        return ["No option fits; the base design does."]
    if min(base, *options) == NOT:
        return ["No option fits, and neither does the base design."]
    return ["Neither an option nor the base design is shown to fit."]


NAMED = 20
"""Options that a sentence names; the others are counted."""


def _listed(head: str, names: Sequence[str]) -> str:
    """A sentence that names options: in one line, or one a line where a name holds a comma."""
    told = list(names[:NAMED])
    if len(names) > NAMED:
        told.append(f"and {len(names) - NAMED} more, in the tables")
    if any("," in name for name in names[:NAMED]):
        return "\n  ".join([f"{head}:", *told])
    return f"{head}: {', '.join(told)}"
