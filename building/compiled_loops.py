"""The search loops compiled while planform is installed, and put into its wheel.

They are compiled for what every machine of this kind can do and go into a package of their own, so
the wheel is for this Python and kind of machine. Where they cannot be compiled the wheel stays as
it is, and the loops are compiled at their first use.
"""

from __future__ import annotations

import base64
import hashlib
import os
import re
import subprocess
import sys
import sysconfig
import tempfile
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]

PACKED = "planform_loops"
"""The package of compiled loops, `planform.core.compiled.PACKED`."""

COMPILERS = ("llvmlite", "numba", "numpy")
"""What compiles the loops; of the versions that `constraints.txt` names, as those of others would
not be taken."""

NEWEST = (3, 15)
"""The newest Python that these are made for. A newer one compiles the loops at their first use."""

TIME = 900.0
"""Longest that compiling may take [s]."""


def compilers() -> list[str]:
    """The requirements of what compiles the loops; none where nothing names their versions."""
    pins = ROOT / "constraints.txt"
    if not pins.is_file() or sys.version_info[:2] > NEWEST:
        return []
    lines = pins.read_text(encoding="utf-8").split()
    return [line for line in lines if line.partition("==")[0] in COMPILERS]


def with_loops(wheel: Path) -> Path:
    """The wheel with what is compiled of the loops, under the name that tells whom it is for."""
    with tempfile.TemporaryDirectory() as folder:
        site = Path(folder)
        fault = compile_loops(site)
        if fault:
            sys.stderr.write(f"the search loops are compiled at their first use: {fault}\n")
            return wheel
        kinds = ("__init__.py", "*.nbi", "*.nbc")
        files = sorted(path for kind in kinds for path in (site / PACKED).rglob(kind))
        return packed(wheel, {f.relative_to(site).as_posix(): f.read_bytes() for f in files})


def compile_loops(site: Path) -> str:
    """Compile every loop into the package of loops in a folder; what hindered it, or nothing."""
    package = site / PACKED
    package.mkdir(parents=True)
    about = '"""The search loops of planform, compiled when it was installed."""\n'
    (package / "__init__.py").write_text(about, encoding="utf-8")
    env = {name: value for name, value in os.environ.items() if not name.startswith("NUMBA_")}
    env |= {"NUMBA_CPU_NAME": "generic", "NUMBA_CPU_FEATURES": "", "PLANFORM_CACHE": str(package)}
    # `site` before all, so that no loops of an earlier installation are taken instead
    paths = [str(site), str(ROOT), env.get("PYTHONPATH", "")]
    env["PYTHONPATH"] = os.pathsep.join(filter(None, paths))
    words = [sys.executable, "-m", "planform.core.rehearsal"]
    try:
        done = subprocess.run(words, env=env, cwd=site, capture_output=True, timeout=TIME)
    except (OSError, subprocess.TimeoutExpired) as error:
        return str(error)
    if done.returncode == 0:
        return "" if any(package.rglob("*.nbi")) else "nothing was kept"
    said = done.stderr.decode(errors="replace").strip().splitlines()
    return said[-1] if said else f"it ended with {done.returncode}"


def packed(wheel: Path, files: dict[str, bytes]) -> Path:
    """A wheel with more files, for this Python and kind of machine alone; it replaces the old."""
    with zipfile.ZipFile(wheel) as old:
        held = {info: old.read(info) for info in old.infolist()}
    tag = this_machine()
    out = wheel.with_name(f"{wheel.stem.rsplit('-', 3)[0]}-{tag}.whl")
    wheel.unlink()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for info, content in held.items():
            if info.filename.endswith(".dist-info/WHEEL"):
                told = content.decode().replace("Root-Is-Purelib: true", "Root-Is-Purelib: false")
                content = re.sub(r"(?m)^Tag: .*$", f"Tag: {tag}", told).encode()
                files = {info.filename: content, **files}
            elif info.filename.endswith(".dist-info/RECORD"):
                record = info, content.decode()
            else:
                new.writestr(info, content)
        for name, content in files.items():
            about = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            new.writestr(about, content, zipfile.ZIP_DEFLATED)
        kept = [line for line in record[1].splitlines() if line.split(",")[0] not in files]
        lines = [*kept, *(recorded(*file) for file in files.items())]
        new.writestr(record[0], "\n".join(lines) + "\n")
    return out


def recorded(name: str, content: bytes) -> str:
    """A file's line in the record of a wheel."""
    digest = base64.urlsafe_b64encode(hashlib.sha256(content).digest()).rstrip(b"=").decode()
    return f"{name},sha256={digest},{len(content)}"


def this_machine() -> str:
    """The tag of a wheel for this Python on this kind of machine."""
    python = f"cp{sys.version_info[0]}{sys.version_info[1]}"
    kind = re.sub(r"[-.]", "_", sysconfig.get_platform())
    return f"{python}-{python}{getattr(sys, 'abiflags', '')}-{kind}"
