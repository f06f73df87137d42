"""Who may talk to the server: a page that it served itself, on this machine."""

from __future__ import annotations

import hmac
import json
from dataclasses import dataclass

from starlette.datastructures import Headers
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LOCAL = ("127.0.0.1", "localhost")
"""The names of this machine that an address of the server may have."""

HEADERS = {
    "Cache-Control": "no-store",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self' "
    "'unsafe-inline'; img-src 'self' data: blob:; connect-src 'self'; base-uri 'none'; "
    "form-action 'self'; frame-ancestors 'none'",
}
"""What every answer carries: nothing is kept, told on, framed or loaded from elsewhere."""


def told(words: str, status: int) -> Response:
    """A refusal in one sentence."""
    body = json.dumps({"words": words})
    return Response(body, status, media_type="application/json")


@dataclass(frozen=True)
class Guard:
    """Refuses what does not come from a page of this server; the rest goes on to `inner`."""

    inner: ASGIApp
    secret: str
    port: int

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            if scope["type"] == "websocket":
                await send({"type": "websocket.close", "code": 1008})
            return

        async def marked(message: Message) -> None:
            if message["type"] == "http.response.start":
                own = [(k.lower().encode(), v.encode()) for k, v in HEADERS.items()]
                message = {**message, "headers": [*message.get("headers", ()), *own]}
            await send(message)

        path = scope["path"]
        words = self.refusal(scope["method"], Headers(scope=scope), path)
        if words:
            await told(words, 403)(scope, receive, marked)
            return
        rest = path[len(self.secret) + 1 :]
        if not rest:
            await RedirectResponse(f"/{self.secret}/")(scope, receive, marked)
            return
        await self.inner({**scope, "path": rest, "raw_path": rest.encode()}, receive, marked)

    def refusal(self, method: str, headers: Headers, path: str) -> str:
        """Why a request is refused, in one sentence; '' where it is not."""
        hosts = [f"{name}:{self.port}" for name in LOCAL]
        if len(headers.getlist("host")) != 1 or headers["host"].lower() not in hosts:
            return "Refused: this address is not one of this machine's own; open the one printed."
        origins = headers.getlist("origin")
        if not all(origin.lower() in [f"http://{host}" for host in hosts] for origin in origins):
            return "Refused: another page asked; only the page that planform serves may."
        if method not in ("GET", "HEAD") and len(origins) != 1:
            return "Refused: it is not told which page asked; only the page of planform may."
        first = path.split("/")[1] if path.startswith("/") else ""
        if not hmac.compare_digest(first.encode(), self.secret.encode()):
            return "Refused: the address lacks its secret; open the one that planform printed."
        return ""
