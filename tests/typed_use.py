"""What an editor knows of the public names: checked by mypy, which finds every mistake here.

A mistake that mypy no longer found would make its `ignore` an error. Nothing runs this.
"""

from __future__ import annotations

import planform as pf


def used(path: str) -> pf.Verdict:
    """An answer's type is known all the way from a file."""
    design = pf.load(path)
    standing = pf.stand(pf.build(design), "complete")
    width: float = pf.standing_measures(standing)["width"]
    pf.meassure(standing)  # type: ignore[attr-defined]
    pf.stand(design)  # type: ignore[arg-type]
    design.nmae  # type: ignore[attr-defined]  # noqa: B018
    answer = pf.judge(standing, pf.build_room(pf.load_place(path)))
    answer.verdikt  # type: ignore[attr-defined]  # noqa: B018
    return answer.verdict if width > 0.0 else pf.find_way_out(standing, answer)  # type: ignore[arg-type, return-value]
