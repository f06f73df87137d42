"""What a careful reader of a design's joints would ask back."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from planform.airframe.build import Airframe
from planform.design.units import show

FAR = 1.5
"""A bolt farther than this from the box round the part that it holds is a slip [m]; assumption."""


def joint_questions(airframe: Airframe) -> Iterator[str]:
    """Of bolts that lie far from their part."""
    for name, joint in airframe.design.joints.items():
        held = [p.points for p in airframe.parts if joint.part in (p.name, p.group)]
        for k, bolt in enumerate(joint.bolts if held else ()):
            at = np.array([float(bolt.fs), float(bolt.bl), float(bolt.wl)])
            off = min(
                float(np.linalg.norm(at - np.clip(at, p.min(axis=0), p.max(axis=0)))) for p in held
            )
            if off > FAR:
                yield (
                    f'joints."{name}".bolts[{k + 1}] lies {show(off, "length", "m")} from the '
                    f"{joint.part} that it holds; is that meant?"
                )
