"""The server of the page whose values move: on this machine only, and gone with its last page."""

from __future__ import annotations

import asyncio
import json
import secrets
import signal
import socket
import sys
from collections.abc import AsyncIterator, Awaitable, Callable, Coroutine, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

import uvicorn
from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp

from planform.design.problems import InputError
from planform.explore.asked import BadQuestion, Variant, json_of, kept_of, page_of, question_of
from planform.explore.front import front_look, numbers
from planform.explore.guard import Guard, told
from planform.explore.keep import kept_files
from planform.explore.page_html import SERVED, page, served
from planform.explore.visits import Visits
from planform.explore.watch import Watch
from planform.report.record import Record

LINGERS = 30.0
"""Seconds that the server waits for a page to come back after the last one closed."""
LOOKS = 0.25
"""Seconds between two looks at the files."""
BEATS = 10.0
"""Seconds between signs of life on a stream of events."""
LARGEST_BODY = 256_000
"""Bytes of what a page asks."""
NAME = "127.0.0.1"
SWITCH = 0.0005
"""Seconds until a thread at work lets another one on: a new question waits for a few of them."""


@dataclass(frozen=True)
class Explored:
    """What is served.

    first : the stage, stance and spot that the page begins with
    system : the units asked for; those of the design where None
    command : what starts it again
    lingers : seconds until it ends after the last page closed
    """

    design: Path
    place: Path | None
    first: Variant
    system: str | None
    command: str
    lingers: float = LINGERS


class Server:
    """The pages, the files and the end of one server."""

    def __init__(
        self,
        explored: Explored,
        watch: Watch,
        failed: Callable[[BaseException], str],
        ended: asyncio.Event | None = None,
    ) -> None:
        self.explored, self.watch = explored, watch
        self.visits = Visits(lambda: watch.files, failed)
        self.ended = ended or asyncio.Event()
        self.words = ""

    def end(self, words: str) -> None:
        """End the server, for a reason in words."""
        if not self.ended.is_set():
            self.words = words
            self.visits.tell(("ends", {"words": words}))
            self.visits.tell(None)
            self.visits.stop()
            self.ended.set()

    def app(self) -> Starlette:
        """What answers requests that the guard lets through."""
        routes = [
            Route("/", self.page, methods=["GET"]),
            Route("/numbers", self.numbers, methods=["GET"]),
            Route("/events", self.events, methods=["GET"]),
            Route("/ask", self.ask, methods=["POST"]),
            Route("/keep", self.keep, methods=["POST"]),
            *(Route(f"/{name}", self.file, methods=["GET"]) for name in SERVED),
        ]
        return Starlette(
            routes=routes,
            exception_handlers={
                404: _sentence("Refused: there is nothing at this address."),
                405: _sentence("Refused: this address is not asked in this way."),
                InputError: self.unbuilt,
            },
        )

    def tasks(self) -> Sequence[Coroutine[object, object, None]]:
        """Look at the files, and whether a page is still there."""
        return self.watching(), self.lingering()

    def left(self) -> None:
        """Wait a little for what is still being worked out."""
        self.visits.join(2.0)

    async def unbuilt(self, request: Request, error: Exception) -> Response:
        """What is said where the files are read well and yet nothing can be built of them."""
        return told(" ".join(str(error).split()), 409)

    async def page(self, request: Request) -> Response:
        """The page with the files as they are."""
        first = self.explored.first
        look = await asyncio.to_thread(front_look, self.watch.files, first)
        spot = first.spot if isinstance(first.spot, str) else None
        asked: Record = {"stage": first.stage, "stance": first.stance, "spot": spot}
        design = self.watch.files.design.design
        return Response(page(look, asked, f"What if: {design.name}"), media_type="text/html")

    async def file(self, request: Request) -> Response:
        """What the page loads."""
        name = request.url.path.rsplit("/", 1)[-1]
        return Response(served(name), media_type=SERVED[name])

    async def numbers(self, request: Request) -> Response:
        """The numbers that can be moved, and the names that can be chosen."""
        held = await asyncio.to_thread(numbers, self.watch.files, self.explored.command)
        held["problems"] = self.watch.news().record()["problems"]
        return Response(as_line(held), media_type="application/json")

    async def ask(self, request: Request) -> Response:
        """One question; its answer comes in lines."""
        try:
            question = question_of(await body(request))
        except BadQuestion as error:
            return told(str(error), 400)
        job, lines = self.visits.ask(question)

        async def answer() -> AsyncIterator[bytes]:
            try:
                while (line := await lines.get()) is not None:
                    yield as_line(line)
            finally:
                job.halt.ask()

        return StreamingResponse(answer(), media_type="application/x-ndjson")

    async def keep(self, request: Request) -> Response:
        """The difference that a new file would have, or the new file."""
        try:
            sort, kept, write = kept_of(await body(request))
        except BadQuestion as error:
            return told(str(error), 400)
        source = self.watch.files.of(sort)
        if source is None:
            return told("Refused: no place was given.", 400)
        held = await asyncio.to_thread(kept_files, source.path, sort, kept, write)
        return Response(as_line(held), media_type="application/json")

    async def events(self, request: Request) -> Response:
        """What a page is told unasked."""
        try:
            name = page_of(request.query_params.get("page"))
        except BadQuestion as error:
            return told(str(error), 400)
        stream = self.visits.open(name)
        if self.ended.is_set():
            stream.put_nowait(None)

        async def flowing() -> AsyncIterator[bytes]:
            try:
                yield b"retry: 1000\n\n"
                while True:
                    try:
                        event = await asyncio.wait_for(stream.get(), BEATS)
                    except TimeoutError:
                        yield b": still here\n\n"
                        continue
                    if event is None:
                        return
                    yield b"event: %s\ndata: %s\n" % (event[0].encode(), as_line(event[1])) + b"\n"
            finally:
                self.visits.close(name, stream)

        return StreamingResponse(flowing(), media_type="text/event-stream")

    async def watching(self) -> None:
        """Look at the files until the end, and tell the pages what changed."""
        while not self.ended.is_set():
            news = await asyncio.to_thread(self.watch.look)
            if news is not None:
                self.visits.tell(("file", news.record()))
            await asyncio.sleep(LOOKS)

    async def lingering(self) -> None:
        """End once no page was there for a while; time asleep does not count."""
        alone, step = 0.0, 0.25
        while not self.ended.is_set():
            await asyncio.sleep(step)
            alone = 0.0 if self.visits.streams or not self.visits.ever else alone + step
            if alone >= self.explored.lingers:
                self.end(f"the last page was closed {self.explored.lingers:g} s ago")


def _sentence(words: str) -> Callable[[Request, Exception], Awaitable[Response]]:
    """What answers an error in one sentence."""

    async def answer(request: Request, error: Exception) -> Response:
        return told(words, getattr(error, "status_code", 400))

    return answer


def as_line(held: object) -> bytes:
    """JSON on one line."""
    return json.dumps(held, ensure_ascii=False, allow_nan=False).encode() + b"\n"


async def body(request: Request) -> object:
    """The JSON that a page sent. Raises BadQuestion."""
    kind = request.headers.get("content-type", "").split(";")[0].strip().lower()
    if kind != "application/json":
        raise BadQuestion("Refused: what is asked must come as application/json.")
    return json_of(await received(request, LARGEST_BODY))


async def received(request: Request, most: int) -> bytes:
    """All that a page sent, so many bytes at the most. Raises BadQuestion."""
    held = bytearray()
    try:
        async for piece in request.stream():
            held += piece
            if len(held) > most:
                raise BadQuestion(f"Refused: a question has at most {most // 1000} kB.")
    except ClientDisconnect:
        raise BadQuestion("Refused: the question broke off.") from None
    return bytes(held)


class _Quiet(uvicorn.Server):
    """A server that leaves signals to us."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Take no signal."""
        yield


def serve(
    explored: Explored,
    failed: Callable[[BaseException], str],
    ready: Callable[[str], None],
) -> tuple[str, int]:
    """Serve until the terminal or the last page ends it; why it ended, and by which signal.

    failed : what is said of a failure of planform itself
    ready : is told the address once it answers
    Raises InputError where a file cannot be read or built, or has none of the names.
    """
    watch = Watch(explored.design, explored.place, explored.system)
    front_look(watch.files, explored.first)
    sys.setswitchinterval(SWITCH)

    async def serving() -> tuple[str, int]:
        return await until_ended(Server(explored, watch, failed), ready)

    return asyncio.run(serving())


class Served(Protocol):
    """What is served until it ends."""

    ended: asyncio.Event

    @property
    def words(self) -> str:
        """Why it ended."""

    def end(self, words: str) -> None:
        """End it, for a reason in words."""

    def app(self) -> ASGIApp:
        """What answers requests that the guard lets through."""

    def tasks(self) -> Sequence[Coroutine[object, object, None]]:
        """What goes on beside the answers."""

    def left(self) -> None:
        """Wait a little for what is still being worked out."""


async def until_ended(server: Served, ready: Callable[[str], None]) -> tuple[str, int]:
    """Serve until the terminal or the server itself ends it; why, and by which signal."""
    by: list[int] = []

    def ended(number: int) -> None:
        by.append(number)
        server.end("the terminal ended it")

    _on_signals(ended)
    with socket.socket() as listening:
        listening.bind((NAME, 0))
        port, secret = listening.getsockname()[1], secrets.token_urlsafe(24)
        config = uvicorn.Config(
            Guard(server.app(), secret, port),
            log_config=None, access_log=False, lifespan="off", server_header=False,
            timeout_graceful_shutdown=2, ws="none",
        )  # fmt: skip
        http = _Quiet(config)
        tasks = [asyncio.create_task(http.serve(sockets=[listening]))]
        while not http.started and not tasks[0].done():
            await asyncio.sleep(0.01)
        tasks += [asyncio.create_task(one) for one in server.tasks()]
        ready(f"http://{NAME}:{port}/{secret}/")
        await server.ended.wait()
        http.should_exit = True
        await tasks[0]
        for task in tasks[1:]:
            task.cancel()
        await asyncio.gather(*tasks[1:], return_exceptions=True)
    await asyncio.to_thread(server.left)
    return server.words, by[0] if by else 0


def _on_signals(ended: Callable[[int], None]) -> None:
    """Have signals to end told."""
    loop = asyncio.get_running_loop()
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        if number is None:
            continue
        try:
            loop.add_signal_handler(number, ended, number)
        except NotImplementedError:
            with suppress(ValueError):
                signal.signal(number, lambda n, _: loop.call_soon_threadsafe(ended, n))
