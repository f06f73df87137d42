"""Makes the pictures of the pages here with the tool itself: `python docs/make.py [NAME...]`.

Each is a file that a command writes for the demo; run it after a change of how something is drawn.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
DESIGNS = HERE.parent / "designs"
CANTS = "0 deg, 15 deg, 30 deg"
PANEL = ("--part", "left outer panel + left winglet")

COMMANDS: dict[str, tuple[tuple[str, ...], dict[str, str]]] = {
    "preview": (("preview", "marram.toml"),
                {"above.png": "above.png", "front.png": "front.png",
                 "three_quarter.png": "three_quarter.png"}),
    "sheet": (("sheet", "marram.toml", "boatshed.toml"), {"sheet.svg": "dimension-sheet.svg"}),
    "fit": (("report", "marram.toml", "boatshed.toml"),
            {"plan-1.svg": "plan-1.svg", "marram.png": "room-3.png"}),
    "way out": (("rollout", "samphire.toml", "barn.toml"), {"chalk.svg": "chalk.svg"}),
    "jam": (("rollout", "marram.toml", "boatshed.toml"), {"jam.svg": "jam.svg"}),
    "pack": (("pack", "long-hall.toml", "marram.toml", "quillwort.toml",
              "--gap", "3 in", "--over", "2 in"), {"packed.svg": "plan.svg"}),
    "carry": (("carry", "marram.toml", "garden-shed.toml", *PANEL), {"roll.svg": "roll.svg"}),
    "haul": (("haul", "marram.toml", "flat-trailer.toml", *PANEL, "--part", "foreplane"),
             {"bed.svg": "plan.svg"}),
    "balance": (("balance", "marram.toml"),
                {"loading.svg": "loading.svg", "envelope.svg": "envelope.svg",
                 "lateral.svg": "lateral.svg"}),
    "survey": (("survey", "marram.toml", "readings/marram-morning.csv"),
               {"marram-read.svg": "readings-above.svg"}),
    "compare": (("compare", "marram.toml", "boatshed.toml", "--cant", CANTS),
                {"trade.svg": "trade.svg"}),
}  # fmt: skip
"""What is run, and which file of its folder becomes which picture."""


def make(words: tuple[str, ...], wanted: dict[str, str], folder: Path) -> None:
    """Run a command on the demo and keep the pictures that are wanted of it."""
    named = [str(DESIGNS / w) if w.endswith((".toml", ".csv")) else w for w in words]
    program = [sys.executable, "-c", "from planform.cli.app import main; main()"]
    done = subprocess.run([*program, *named, "-o", str(folder)], check=False)
    if done.returncode not in (0, 1):
        raise SystemExit(f"{' '.join(words)}: ended with {done.returncode}")
    for picture, source in wanted.items():
        target = HERE / "pictures" / picture
        if target.suffix == ".png":
            _small(folder / source, target)
        else:
            shutil.copyfile(folder / source, target)


def _small(source: Path, target: Path) -> None:
    """A picture small enough to keep: half as wide as it is rendered, in few colours."""
    from PIL import Image

    image = Image.open(source).convert("RGB")
    wide, high = image.size
    image.resize((wide // 2, high // 2), Image.Resampling.LANCZOS).quantize(128).save(target)


def _guides() -> None:
    """The drawings of the guides."""
    import guides

    from planform.drawing.writers import svg

    for name, drawing in (("rooms", guides.map_of_rooms()), ("axes", guides.axes())):
        (HERE / "pictures" / f"{name}.svg").write_bytes(svg.written(drawing))


def main() -> None:
    """Make the named pictures, or all; 'guides' are those of the guides."""
    names = sys.argv[1:] or [*COMMANDS, "guides"]
    if "guides" in names:
        names.remove("guides")
        _guides()
    with tempfile.TemporaryDirectory() as out:
        for name in names:
            make(*COMMANDS[name], Path(out) / name)


if __name__ == "__main__":
    main()
