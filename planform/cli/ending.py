"""How a command ends: one line on stderr where it went wrong, and an exit code that says so.

What cannot be printed (a closed pipe, a full device, a terminal without UTF-8) never turns into a
verdict: the command goes on to its end, and the loss is told.
"""

from __future__ import annotations

import codecs
import errno
import io
import os
import signal
import sys
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer
    from typer import Typer

    from planform.design.problems import InputError

BAD_INPUT = 2
FAILED = 3
"""planform itself failed, or its answer could not be printed."""
INTERRUPTED = 128 + signal.SIGINT

TRACEBACK = "PLANFORM_TRACEBACK"
"""Environment variable: 1 shows where an internal failure came from."""

PLAIN = {
    "°": " deg", "±": "+/-", "×": "x", "−": "-", "–": "-", "—": "-", "…": "...", "⁄": "/",
    "“": '"', "”": '"', "‘": "'", "’": "'", "′": "'", "″": '"', "·": "*", "→": "->",
    "≥": ">=", "≤": "<=", "│": "|", "•": "-", "─": "-", "━": "-", "╸": "-", "╺": "-",
}  # fmt: skip
"""What is printed where an output does not take a letter."""


def plainly(error: UnicodeError) -> tuple[str, int]:
    """Letters that the output takes for those that it does not; a codecs error handler."""
    from planform.design.texts import LETTERS, folded

    if not isinstance(error, UnicodeEncodeError):
        raise error
    out = []
    for letter in error.object[error.start : error.end]:
        out.append(PLAIN.get(letter) or folded(letter, LETTERS | PLAIN) or "?")
    return "".join(out), error.end


def as_json(error: UnicodeError) -> tuple[str, int]:
    """JSON's own escapes for letters that the output does not take; a codecs error handler."""
    import json

    if not isinstance(error, UnicodeEncodeError):
        raise error
    return json.dumps(error.object[error.start : error.end])[1:-1], error.end


codecs.register_error("planform.plain", plainly)
codecs.register_error("planform.json", as_json)


class Outlet(io.FileIO):
    """The end of an output that never raises: once it takes no more, its reason is kept."""

    lost: OSError | None = None

    def write(self, content: ReadableBuffer) -> int:
        """How many bytes went out, or would have."""
        if self.lost is None:
            try:
                return super().write(content)
            except OSError as error:
                self.lost = error
        return memoryview(content).nbytes


def guarded(stream: TextIO | None, errors: str) -> tuple[TextIO, Outlet | None]:
    """The stream with an end that never raises; as it is where it is not a file of the system.

    stream : None where it was closed before the start; what is printed then is lost
    """
    if stream is None:
        return open(os.devnull, "w", encoding="utf-8"), None
    buffer = getattr(stream, "buffer", None)
    raw = getattr(buffer, "raw", buffer)  # an unbuffered one has no other below it
    if not isinstance(raw, io.FileIO):
        return stream, None
    outlet = Outlet(raw.fileno(), "w", closefd=False)
    text = io.TextIOWrapper(
        io.BufferedWriter(outlet),
        encoding=stream.encoding,
        errors=errors,
        line_buffering=bool(stream.line_buffering),
        write_through=raw is buffer,
    )
    return text, outlet


def run(app: Typer) -> int:
    """Run the commands; the exit code."""
    sys.stdout, outlet = guarded(
        sys.stdout, "planform.json" if "--json" in sys.argv else "planform.plain"
    )
    sys.stderr, _ = guarded(sys.stderr, "planform.plain")
    for number in (signal.SIGTERM, getattr(signal, "SIGHUP", signal.SIGTERM)):
        if signal.getsignal(number) is signal.SIG_DFL:
            signal.signal(number, _stopped)
    code = ended(app)
    sys.stdout.flush()
    lost = None if outlet is None else outlet.lost
    if lost is not None and lost.errno == errno.EPIPE:
        _say("note: the reader closed the output; the rest of the answer was not printed")
    elif lost is not None:
        _say(f"planform: the answer could not be printed: {lost.strerror}")
        code = FAILED if code < BAD_INPUT else code
    return code


def ended(app: Typer) -> int:
    """Run a command on the outputs as they are; the exit code."""
    import typer

    from planform.design.problems import Failure, InputError

    try:
        command = typer.main.get_command(app)
        with command.make_context("planform", sys.argv[1:]) as context:
            command.invoke(context)
    except typer.Exit as end:
        return end.exit_code
    except InputError as error:
        _say(str(_in_its_file(error)))
        return BAD_INPUT
    except Failure as error:
        _say(f"planform: {error}")
        return FAILED
    except (KeyboardInterrupt, typer.Abort):
        _say("planform: stopped before it was done")
        return INTERRUPTED
    except Exception as error:
        if hasattr(error, "show") and hasattr(error, "exit_code"):  # of the library of commands
            error.show()
            return int(error.exit_code)
        _say(internal(error))
        return FAILED
    return 0


def _in_its_file(error: InputError) -> InputError:
    """What building a design refused, told with the file that it is in, as `check` tells it."""
    from pathlib import Path

    from planform.airframe.build import build
    from planform.design.including import in_files
    from planform.design.load import load_any
    from planform.design.models import Design
    from planform.design.problems import InputError

    if error.origin != "design":
        return error
    for path in [Path(word) for word in sys.argv[1:] if word.endswith(".toml")]:
        try:
            found = load_any(path)
        except (InputError, OSError):
            continue
        if not isinstance(found, Design):
            continue
        try:
            build(found)
        except InputError as own:
            if [p.path for p in own.problems] == [p.path for p in error.problems]:
                return InputError(str(path), in_files(path, Design, error.problems))
    return error


def _stopped(number: int, frame: object) -> None:
    """A signal to end: what was begun is cleared away on the way out."""
    _say(f"planform: stopped by {signal.Signals(number).name} before it was done")
    raise SystemExit(128 + number)


def internal(error: BaseException) -> str:
    """An internal failure in one line: what, where, and what to report."""
    import traceback

    from planform import __version__

    if os.environ.get(TRACEBACK) == "1":
        _say("".join(traceback.format_exception(error)))
    frames = traceback.extract_tb(error.__traceback__)
    own = [f for f in frames if f"{os.sep}planform{os.sep}" in f.filename] or frames
    where = f", {os.path.basename(own[-1].filename)} line {own[-1].lineno}" if own else ""
    what = " ".join(f"{type(error).__name__} {error}".split())[:200]
    return (
        f"planform: internal failure, no answer about your files ({what}{where}). Please report "
        f"this line, version {__version__}, the command and its files; {TRACEBACK}=1 tells more."
    )


def _say(line: str) -> None:
    print(line, file=sys.stderr)
