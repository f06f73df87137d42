"""A real server in a process of its own, asked as a page asks it."""

from __future__ import annotations

import http.client
import json
import os
import re
import subprocess
import sys
import threading
from contextlib import contextmanager

from tests.processes import waited

COMMAND = "from planform.cli.app import main; main()"
QUICK = (
    "import sys, planform.explore.serve as s; s.LOOKS = 0.05; s.LINGERS = {lingers}; "
    "s.Explored.__init__.__defaults__ = ({lingers},); "
    "from planform.cli.app import main; main()"
)
"""The command with less patience: looks at the files more often, waits less for a page."""


class Asker:
    """Asks a server what a page asks."""

    def __init__(self, address):
        found = re.fullmatch(r"http://127\.0\.0\.1:(\d+)/([\w-]{20,})/", address)
        self.address, self.port, self.secret = address, int(found[1]), found[2]
        self.ticket, self.answers = 0, []

    def close(self):
        """Let go of all answers that were not read to their end."""
        for answer in self.answers:
            answer.close()

    def request(self, method, path, body=None, headers=None, seconds=120):
        """The open answer to one request."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=seconds)
        own = {"Connection": "close"}
        if method == "POST":
            own |= {
                "Content-Type": "application/json",
                "Origin": f"http://127.0.0.1:{self.port}",
            }
        if body is not None and not isinstance(body, bytes):
            body = json.dumps(body)
        own = {name: one for name, one in {**own, **(headers or {})}.items() if one is not None}
        connection.request(method, f"/{self.secret}/{path}", body, own)
        self.answers.append(connection.getresponse())
        return self.answers[-1]

    def json(self, method, path, body=None):
        """The answer to one request, which is JSON."""
        answer = self.request(method, path, body)
        held = json.loads(answer.read())
        assert answer.status == 200, held
        return held

    def ask(self, changes=None, page="p", **more):
        """The lines of an answer, as they come."""
        self.ticket += 1
        body = {"page": page, "ticket": self.ticket, "changes": changes or {}, **more}
        answer = self.request("POST", "ask", body)
        assert answer.status == 200
        return _lines(answer)

    def events(self, page="p"):
        """The events of a page, as they come: name and what they tell."""
        answer = self.request("GET", f"events?page={page}")
        assert answer.status == 200
        return _events(answer)


def _lines(answer):
    for line in answer:
        yield json.loads(line)


def _events(answer):
    name = ""
    for raw in answer:
        line = raw.decode().rstrip("\n")
        if line.startswith("event: "):
            name = line.removeprefix("event: ")
        elif line.startswith("data: "):
            yield name, json.loads(line.removeprefix("data: "))


@contextmanager
def server(*words, code=COMMAND, env=None, address_only=True):
    """A server, ended where the test did not; the process and who asks it."""
    child = subprocess.Popen(
        [sys.executable, "-c", code, "explore", *map(str, words), *["--address"] * address_only],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, **(env or {})},
    )
    watchdog = threading.Timer(180.0, child.kill)  # a test that waits in vain fails
    watchdog.start()
    try:
        first = child.stdout.readline()
        assert first.startswith("the page: "), first + child.stderr.read()
        assert child.stdout.readline() == "Ctrl-C ends it\n"
        asker = Asker(first.removeprefix("the page: ").strip())
        yield child, asker
        asker.close()
    finally:
        watchdog.cancel()
        if child.poll() is None:
            child.kill()
        child.communicate(timeout=30)


def gone(child, seconds=30.0):
    """The exit code of a process that ends, and what it printed."""
    waited(lambda: child.poll() is not None, seconds)
    return child.returncode, child.stdout.read(), child.stderr.read()
