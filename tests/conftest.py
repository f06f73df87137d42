"""Shared paths, small designs, and hypothesis settings without a clock."""

from __future__ import annotations

import copy
import fcntl
import os
from pathlib import Path
from typing import Any
from unittest import mock

import pytest
from hypothesis import settings

settings.register_profile("steady", deadline=None, max_examples=30, derandomize=True)
settings.load_profile("steady")

ROOT = Path(__file__).parents[1]
DESIGNS = ROOT / "designs"

PLAIN: dict[str, Any] = {
    "format": "planform design 1",
    "name": "Plain",
    "units": "m",
    "datum": "FS 0 is the wing's leading edge",
    "lifting": {
        "wing": {
            "role": "wing",
            "profile": "NACA 0012",
            "cuts": [
                {"fs": "0 m", "bl": "0 m", "wl": "0 m", "chord": "2 m"},
                {"bl": "4 m", "sweep_le_plan": "20 deg", "chord": "1 m"},
            ],
        }
    },
    "winglets": {
        "winglet": {
            "on": "wing",
            "length": "1 m",
            "cant": "0 deg",
            "sweep_le_panel": "0 deg",
            "root_chord": "0.8 m",
            "tip_chord": "0.4 m",
        }
    },
    "bodies": {
        "pod": {
            "cuts": [
                {"fs": "-2 m", "half_width": "0.4 m", "bottom": "-0.5 m", "top": "0.5 m"},
                {"fs": "2 m", "half_width": "0.4 m", "bottom": "-0.5 m", "top": "0.5 m"},
            ]
        }
    },
    "wheels": {
        "nose": {"fs": "-1 m", "bl": "0 m", "wl": "-0.8 m", "diameter": "0.4 m", "width": "0.1 m"},
        "main": {
            "side": "both",
            "fs": "1 m",
            "bl": "1 m",
            "wl": "-0.8 m",
            "diameter": "0.4 m",
            "width": "0.1 m",
            "flat_drop": "0.05 m",
        },
    },
    "stances": {"gear": {"on": ["nose", "main"]}},
    "stages": [{"name": "complete", "stance": "gear"}],
}

ROOM: dict[str, Any] = {
    "format": "planform place 1",
    "name": "Box",
    "units": "m",
    "floor": {"width": "12 m", "depth": "10 m"},
    "ceiling": {"height": "3 m"},
    "doors": [
        {
            "name": "door",
            "wall": "front",
            "from_corner": "1 m",
            "clear_width": "10 m",
            "clear_height": "2.5 m",
        }
    ],
    "clearances": {
        "walls": "0.1 m",
        "ceiling": "0.1 m",
        "obstacles": "0.1 m",
        "door_sides": "0.1 m",
        "door_head": "0.1 m",
    },
    "spots": [{"name": "middle", "at": ["6 m", "5 m"], "heading": "180 deg"}],
}


@pytest.fixture
def plain() -> dict[str, Any]:
    """A small design as tables, free to change."""
    return copy.deepcopy(PLAIN)


@pytest.fixture
def room() -> dict[str, Any]:
    """A box room as tables, free to change."""
    return copy.deepcopy(ROOM)


@pytest.fixture(scope="session")
def quillwort_report(tmp_path_factory) -> Path:
    """The report's folder as the real command writes it, once for all processes of the tests."""
    from planform.fit import way_out
    from tests.commands.test_commands import called

    base = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        base = base.parent
    with (base / "quillwort-report.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        folder = base / "quillwort-report" / "out"
        if not folder.exists():
            files = (str(DESIGNS / f"{name}.toml") for name in ("quillwort", "garden-shed"))
            with mock.patch.object(way_out, "MORE", 1_000):
                code, _, err = called("report", *files, "-o", folder)
            assert code == 0, err
            assert "note: Vector pictures were drawn" in err
    return folder
