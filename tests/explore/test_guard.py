"""Who may talk to the server."""

from __future__ import annotations

import asyncio
import json

import pytest
from starlette.datastructures import Headers

from planform.explore.guard import HEADERS, Guard

SECRET, PORT = "a-secret", 4321
HOST = f"127.0.0.1:{PORT}"
ORIGIN = f"http://{HOST}"


async def inner(scope, receive, send):
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": scope["path"].encode()})


GUARD = Guard(inner, SECRET, PORT)


def answer(method="GET", path=f"/{SECRET}/numbers", headers=(("host", HOST),)):
    """Status, headers and body of one request."""
    sent = []
    raw = [(k.encode(), v.encode()) for k, v in headers]
    scope = {"type": "http", "method": method, "path": path, "headers": raw}

    async def send(message):
        sent.append(message)

    asyncio.run(GUARD(scope, None, send))
    return sent[0]["status"], dict(sent[0]["headers"]), sent[1]["body"]


def test_what_comes_from_the_page_goes_on_without_the_secret():
    status, headers, body = answer()
    assert (status, body) == (200, b"/numbers")
    assert {name.lower().encode() for name in HEADERS} <= set(headers)
    headers = (("host", f"LOCALHOST:{PORT}"), ("origin", f"http://localhost:{PORT}"))
    assert answer("POST", headers=headers)[0] == 200


@pytest.mark.parametrize(
    ("method", "headers"),
    [
        ("GET", ()),
        ("GET", (("host", "127.0.0.1"),)),
        ("GET", (("host", f"127.0.0.1:{PORT + 1}"),)),
        ("GET", (("host", f"evil.example:{PORT}"),)),
        ("GET", (("host", f"127.0.0.1.evil.example:{PORT}"),)),
        ("GET", (("host", HOST), ("host", HOST))),
        ("GET", (("host", HOST), ("origin", "http://evil.example"))),
        ("GET", (("host", HOST), ("origin", "null"))),
        ("GET", (("host", HOST), ("origin", f"https://{HOST}"))),
        ("POST", (("host", HOST),)),
        ("POST", (("host", HOST), ("origin", "http://127.0.0.1"))),
        ("POST", (("host", HOST), ("origin", ORIGIN), ("origin", "http://evil.example"))),
        ("DELETE", (("host", HOST),)),
    ],
)
def test_what_comes_from_elsewhere_is_refused_in_one_sentence(method, headers):
    status, out, body = answer(method, headers=headers)
    assert status == 403
    words = json.loads(body)["words"]
    assert words.startswith("Refused: ")
    assert words.count(".") == 1
    assert b"content-security-policy" in out


@pytest.mark.parametrize(
    "path", ["", "/", "/numbers", "/a-secre/x", "/a-secrets/x", "//a-secret/x"]
)
def test_without_the_secret_nothing_is_served(path):
    assert answer(path=path)[0] == 403


def test_the_secret_without_a_slash_leads_to_the_page():
    status, headers, _ = answer(path=f"/{SECRET}")
    assert status == 307
    assert headers[b"location"] == f"/{SECRET}/".encode()


def test_the_refusal_says_nothing_of_the_secret():
    assert SECRET not in GUARD.refusal("GET", Headers({"host": HOST}), "/other/")
