"""What the shell offers at the cursor: files of the sort that is wanted, and names out of them.

A file that is missing or has mistakes offers what can be read of it, often nothing; nothing else
is printed and nothing raised.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

from typer import Context, Typer

from planform.design.problems import InputError, Problem

VARIABLE = "_PLANFORM_COMPLETE"
"""Environment variable by which a shell asks."""

LARGEST = 1_000_000
"""Bytes of a file that is still looked into; assumption."""

IN_BASH = """\
_planform_completion() {
    local IFS=$'\\n'
    COMPREPLY=( $( env COMP_WORDS="${COMP_WORDS[*]}" COMP_CWORD=$COMP_CWORD \\
        _PLANFORM_COMPLETE=complete_bash "$1" 2>/dev/null ) )
    [[ "${COMPREPLY[*]}" == *[\\ /]* ]] && compopt -o filenames 2>/dev/null
    return 0
}
complete -o default -F _planform_completion planform
"""
"""Names with blanks are quoted by the shell, as it does with names of files."""

SHELLS = ("bash", "zsh", "fish")


def script(shell: str) -> str:
    """What a shell reads so that it completes planform's words."""
    if shell not in SHELLS:
        allowed = f"allowed: {', '.join(SHELLS)}"
        raise InputError("option", [Problem("--completion", repr(shell), allowed)])
    if shell == "bash":
        return IN_BASH
    from typer.completion import get_completion_script  # type: ignore[attr-defined]

    return get_completion_script(prog_name="planform", complete_var=VARIABLE, shell=shell)


def complete(app: Typer) -> int:
    """Answer a shell; the exit code. What goes wrong offers nothing."""
    import typer
    from typer.completion import completion_init  # type: ignore[attr-defined]

    try:
        completion_init()
        typer.main.get_command(app)([], prog_name="planform", complete_var=VARIABLE)
    except SystemExit as end:
        return int(end.code or 0)
    except Exception:
        return 1
    return 0


def _text(path: Path) -> str:
    """What a file holds; empty where it cannot be read."""
    try:
        if path.is_file() and path.stat().st_size <= LARGEST:
            return path.read_text(encoding="utf-8")
    except (OSError, ValueError):
        pass
    return ""


SORT = re.compile(r"""^\s*format\s*=\s*["']planform (\w+) \d+["']""", re.MULTILINE)


def sort_of(path: Path) -> str:
    """Design, place or carrier by a file's own words; empty where it does not say."""
    found = SORT.search(_text(path))
    return found.group(1) if found else ""


def files(*sorts: str) -> Callable[[str], list[str]]:
    """What offers files of these sorts, and folders on the way to them."""

    def offered(incomplete: str) -> list[str]:
        typed = incomplete[: incomplete.rfind("/") + 1]
        folder = Path(typed or ".").expanduser()
        try:
            entries = sorted(folder.iterdir())
        except (OSError, RuntimeError):
            return []
        out = []
        for entry in entries:
            name = f"{typed}{entry.name}"
            if not name.startswith(incomplete) or entry.name.startswith("."):
                continue
            if entry.is_dir():
                out.append(f"{name}/")
            elif entry.suffix == ".toml" and sort_of(entry) in sorts:
                out.append(name)
        return _clean(out)

    return offered


def _clean(names: Iterable[object]) -> list[str]:
    """Names that fit on a line, each once."""
    return [n for n in dict.fromkeys(names) if isinstance(n, str) and n.isprintable() and n]


def _named_files(ctx: Context, sort: str) -> Iterator[Path]:
    """The files of a sort that the line names, in its order."""
    words: list[Any] = []
    for value in ctx.params.values():
        words += value if isinstance(value, list | tuple) else [value]
    for word in dict.fromkeys(map(str, [*words, *ctx.args])):
        if word.endswith(".toml"):
            path = Path(word).expanduser()
            if sort_of(path) == sort:
                yield path


def _tables(ctx: Context, sort: str) -> Iterator[dict[str, Any]]:
    """The files of a sort that the line names, as they are written."""
    import tomllib

    for path in _named_files(ctx, sort):
        try:
            yield tomllib.loads(_text(path))
        except (tomllib.TOMLDecodeError, RecursionError):
            continue


def _names(entries: object) -> list[object]:
    """The names of a list of tables."""
    rows = entries if isinstance(entries, list) else []
    return [row.get("name") for row in rows if isinstance(row, dict)]


def stages(ctx: Context, incomplete: str) -> list[str]:
    """Stages of the designs on the line."""
    return _clean(name for table in _tables(ctx, "design") for name in _names(table.get("stages")))


def stages_or_all(ctx: Context, incomplete: str) -> list[str]:
    """Stages of the designs on the line, and what stands for all of them."""
    found = stages(ctx, incomplete)
    return _clean([*found, "all"]) if found else []


def staged(ctx: Context, incomplete: str) -> list[str]:
    """Each aircraft on the line with each of its stages."""
    return _clean(
        f"{table.get('name')}: {name}"
        for table in _tables(ctx, "design")
        for name in _names(table.get("stages"))
        if isinstance(table.get("name"), str) and isinstance(name, str)
    )


def stances(ctx: Context, incomplete: str) -> list[str]:
    """Stances of the designs on the line."""
    found = (table.get("stances") for table in _tables(ctx, "design"))
    return _clean(name for one in found if isinstance(one, dict) for name in one)


def joints(ctx: Context, incomplete: str) -> list[str]:
    """Joints that the designs on the line name."""
    found = (table.get("joints") for table in _tables(ctx, "design"))
    return _clean(name for one in found if isinstance(one, dict) for name in one)


def spots(ctx: Context, incomplete: str) -> list[str]:
    """Spots of the places on the line."""
    return _clean(name for table in _tables(ctx, "place") for name in _names(table.get("spots")))


def units(incomplete: str) -> list[str]:
    """Systems of units."""
    from planform.design.units import SYSTEMS

    return list(SYSTEMS)


def scan_units(incomplete: str) -> list[str]:
    """The units that a scan's numbers may be in."""
    return [name for name in ("m", "mm", "cm", "in", "ft") if name.startswith(incomplete)]


def moving(incomplete: str) -> list[str]:
    """How an aircraft may be moved."""
    return ["dollies", "wheels"]


def axes(incomplete: str) -> list[str]:
    """The axes that solids are written in."""
    return ["aircraft", "floor"]


def views(incomplete: str) -> list[str]:
    """The sides that a picture is taken from."""
    return ["three-quarter", "side", "front", "above"]


def parts(ctx: Context, incomplete: str) -> list[str]:
    """Parts and groups of the designs on the line; behind a + those that may be joined to it."""
    from planform.design.kinds import part_names
    from planform.design.load import load

    joined = incomplete[: re.match(r"(.*\+\s*)?", incomplete).end()]  # type: ignore[union-attr]
    found: list[str] = []
    for path in _named_files(ctx, "design"):
        try:
            found += part_names(load(path))
        except InputError:
            continue
    return _clean(f"{joined}{name}" for name in found)


def papers(incomplete: str) -> list[str]:
    """The papers that drawings are made on."""
    from planform.drawing.paper.sizes import PAPERS

    return [name for name in PAPERS if name.lower().startswith(incomplete.lower())]


SHEETS = ("A4", "letter")
"""The papers that answers are printed on."""


def sheets(incomplete: str) -> list[str]:
    """The papers that answers are printed on."""
    return [name for name in SHEETS if name.lower().startswith(incomplete.lower())]


def first_answers(incomplete: str) -> list[str]:
    """What a first design may be told, as it begins."""
    from planform.design.first_questions import QUESTIONS

    return [f"{q.key}=" for q in QUESTIONS if q.key.startswith(incomplete)]


def stills(incomplete: str) -> list[str]:
    """What stills are made of."""
    return [name for name in ("room", "heights", "stages", "way") if name.startswith(incomplete)]
