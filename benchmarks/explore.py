"""What-if: milliseconds from a changed value to heights and to the parked verdict, whole way.

Run: python -m benchmarks.explore [RUNS]. A real server in a process of its own is asked over HTTP
as its page asks it, warm, each question as soon as the parked verdict of the one before is there
(so that there is always older work to end), and once with a pause after each. Wanted: 100 ms median
on the demo. In the browser, drawing comes on top. A loop of ten million additions and the load are
printed beside, to compare machines.
"""

from __future__ import annotations

import http.client
import json
import os
import re
import statistics
import subprocess
import sys
import time
from pathlib import Path

from benchmarks.in_parts import calibration

ROOT = Path(__file__).parents[1]
DESIGN, PLACE = ROOT / "designs/marram.toml", ROOT / "designs/boatshed.toml"
MOVED = {
    "winglets.winglet.cant": lambda k: ("design", f"{13 + k / 4} deg"),
    "lifting.wing.cuts[1].chord": lambda k: ("design", f"{88 + k / 16} in"),
    "bodies.hull.cuts[3].top": lambda k: ("design", f"WL {46 + k / 16} in"),
    "doors[1].clear_height": lambda k: ("place", f"{114 + k / 16} in"),
}
"""Fields that are moved, from one that little hangs on to one of the room."""
BUILT, PARKED = "built", "standing in the room"


class Page:
    """Asks as the page asks."""

    def __init__(self, address: str) -> None:
        found = re.fullmatch(r"http://127\.0\.0\.1:(\d+)/([\w-]+)/", address.strip())
        assert found is not None
        self.port, self.secret = int(found[1]), found[2]
        self.ticket, self.has = 0, set[str]()

    def ask(self, path: str, sort: str, text: str) -> dict[str, float]:
        """Seconds to each of the first two steps."""
        self.ticket += 1
        question = {
            "page": "benchmark",
            "ticket": self.ticket,
            "changes": {sort: {path: text}} if path else {},
            "has": sorted(self.has),
        }
        headers = {
            "Content-Type": "application/json",
            "Origin": f"http://127.0.0.1:{self.port}",
        }
        began, out = time.perf_counter(), dict[str, float]()
        connection = http.client.HTTPConnection("127.0.0.1", self.port)
        connection.request("POST", f"/{self.secret}/ask", json.dumps(question), headers)
        for line in connection.getresponse():
            told = json.loads(line)
            if "step" not in told:
                raise RuntimeError(told)
            out[told["step"]] = time.perf_counter() - began
            self.has |= set(told["look"]["meshes"])
            if path and told["step"] == PARKED:
                break
            if not path and told["step"] == "flow":
                break
        connection.close()
        return out


def main() -> None:
    """Print the figures."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 25
    print(f"ten million additions: {calibration():.2f} s; load {os.getloadavg()[0]:.1f}")
    command = "from planform.cli.app import main; main()"
    words = [sys.executable, "-c", command, "explore", str(DESIGN), str(PLACE), "--address"]
    server = subprocess.Popen(words, stdout=subprocess.PIPE, text=True)
    try:
        assert server.stdout is not None
        page = Page(server.stdout.readline().removeprefix("the page: "))
        page.ask("", "design", "")
        for pause in (0.0, 0.5):
            print("one after the other" if not pause else f"{pause} s between them")
            for path, moved in MOVED.items():
                found = []
                for k in range(runs):
                    found.append(page.ask(path, *moved(k)))
                    time.sleep(pause)
                told = [f"{step}: {_told(found, step)}" for step in (BUILT, PARKED)]
                print(f"  {path}: {'; '.join(told)}")
        print(f"load {os.getloadavg()[0]:.1f}")
    finally:
        server.terminate()
        server.wait(30)


def _told(found: list[dict[str, float]], step: str) -> str:
    times = sorted(1e3 * one[step] for one in found)
    nine = times[int(0.9 * (len(times) - 1))]
    return f"median {statistics.median(times):.0f} ms, 9 of 10 within {nine:.0f} ms"


if __name__ == "__main__":
    main()
