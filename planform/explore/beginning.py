"""The first evening in the page: its questions as a form, whose answers become the two files."""

from __future__ import annotations

import asyncio
import shlex
import sys
from collections.abc import Callable, Coroutine, Sequence
from pathlib import Path
from typing import get_args
from urllib.parse import parse_qsl

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.types import ASGIApp, Receive, Scope, Send

from planform.design.fields import UnitSystem
from planform.design.first_files import DESIGN, PLACE, begun
from planform.design.problems import InputError, Problem
from planform.design.starter import FILES, with_schemas
from planform.explore.asked import BadQuestion, Variant
from planform.explore.first_form import UNITS, form, form_page
from planform.explore.front import front_look
from planform.explore.serve import SWITCH, Explored, Server, received, until_ended
from planform.explore.watch import Watch
from planform.report.folder import written

LARGEST_FORM = 20_000
"""Bytes of the answers."""


class Beginning:
    """Asks the questions of a first evening; once they are answered, what follows takes its place.

    folder : where the files go ; follow : makes what follows, of the design's and the place's file
    """

    def __init__(
        self, folder: Path, system: UnitSystem, follow: Callable[[Path, Path], ASGIApp]
    ) -> None:
        self.folder, self.system, self.follow = folder, system, follow
        self.begun = asyncio.Event()
        routes = [
            Route("/", self.asked, methods=["GET"]),
            Route("/", self.answered, methods=["POST"]),
        ]
        self.inner: ASGIApp = Starlette(routes=routes)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        await self.inner(scope, receive, send)

    async def asked(self, request: Request) -> Response:
        """The form."""
        return form_page(form({}, self.system, ()))

    async def answered(self, request: Request) -> Response:
        """The files written, and on to what follows; or the form with what cannot be."""
        try:
            body = await received(request, LARGEST_FORM)
        except BadQuestion:
            words = "<p>Refused: these are more answers than there are questions.</p>"
            return form_page(words, 413)
        told = dict(parse_qsl(body.decode("utf-8", "replace"), keep_blank_values=True))
        asked = told.pop(UNITS, "")
        system: UnitSystem = next(
            (one for one in get_args(UnitSystem) if one == asked), self.system
        )
        answers = {key: text for key, text in told.items() if text.strip()}
        try:
            texts = with_schemas(begun(answers, system))
            await asyncio.to_thread(written, self.folder, texts, FILES)
            self.inner = self.follow(self.folder / DESIGN, self.folder / PLACE)
        except InputError as error:
            return form_page(form(answers, system, error.problems), 422)
        self.begun.set()
        return Response(status_code=303, headers={"Location": "./"})


class FirstServer:
    """Serves the questions, and what follows them.

    folder : where the files go ; command : what starts it again, the files' names behind it
    """

    def __init__(
        self, folder: Path, system: UnitSystem, command: str, failed: Callable[[BaseException], str]
    ) -> None:
        self._command, self._failed = command, failed
        self.ended = asyncio.Event()
        self._beginning = Beginning(folder, system, self._follow)
        self._next: Server | None = None
        self._words = ""

    @property
    def words(self) -> str:
        """Why it ended."""
        return self._words if self._next is None else self._next.words

    def end(self, words: str) -> None:
        """End it, for a reason in words."""
        self._words = words
        if self._next is not None:
            self._next.end(words)
        self.ended.set()

    def app(self) -> ASGIApp:
        """The form, then what follows."""
        return self._beginning

    def _follow(self, design: Path, place: Path) -> ASGIApp:
        watch = Watch(design, place, None)
        first = Variant({}, None, None, None)
        front_look(watch.files, first)
        command = f"{self._command} {shlex.quote(str(design))} {shlex.quote(str(place))}"
        explored = Explored(design, place, first, None, command)
        self._next = Server(explored, watch, self._failed, self.ended)
        return self._next.app()

    def tasks(self) -> Sequence[Coroutine[object, object, None]]:
        """What goes on once the questions are answered."""
        return (self._after(),)

    async def _after(self) -> None:
        await self._beginning.begun.wait()
        assert self._next is not None
        await asyncio.gather(*self._next.tasks())

    def left(self) -> None:
        """Wait a little for what is still being worked out."""
        if self._next is not None:
            self._next.left()


def serve_first(
    folder: Path,
    system: UnitSystem,
    command: str,
    failed: Callable[[BaseException], str],
    ready: Callable[[str], None],
) -> tuple[str, int]:
    """Ask the questions of a first evening, then serve what was made of the answers.

    Arguments and answer as of `FirstServer` and `serve`. Raises InputError where a file of that
    name is in the folder already.
    """
    there = [folder / name for name in FILES if (folder / name).exists()]
    if there:
        allowed = "already there; name it to explore it, or begin in another folder"
        raise InputError("explore", [Problem("", str(path), allowed) for path in there])

    async def serving() -> tuple[str, int]:
        return await until_ended(FirstServer(folder, system, command, failed), ready)

    sys.setswitchinterval(SWITCH)
    return asyncio.run(serving())
