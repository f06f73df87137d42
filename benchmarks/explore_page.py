"""What-if in the browser: milliseconds from a slider's movement to the changed number on the page.

Run: python -m benchmarks.explore_page [RUNS]. The demo, warm, in chromium without a graphics card
(so drawing is slower than on a laptop), the first two steps of an answer: heights, and the least
gap of the parked verdict. Once with a pause after each movement, once each as soon as the gap of
the one before is there, so that there is always older work to end. Wanted: 100 ms median.
A loop of ten million additions and the load are printed beside, to compare machines.
"""

from __future__ import annotations

import os
import shutil
import statistics
import subprocess
import sys
from pathlib import Path

from benchmarks.in_parts import calibration

ROOT = Path(__file__).parents[1]
FILES = (ROOT / "designs/marram.toml", ROOT / "designs/boatshed.toml")
FLAGS = ("--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader")
SOFT = "--enable-unsafe-swiftshader"
MOVED = ("design:winglets.winglet.cant", "place:doors[1].clear_height")
WHOLE = 'body[data-answer="whole"]'

MEASURE = """async ([path, runs, pause]) => {
  const slider = document.querySelector(`.hand [data-path="${path}"] input[type=range]`);
  const cell = (key) => document.querySelector(`tr[data-key=${key}] td[data-of=now]`);
  const rest = (time) => new Promise((go) => setTimeout(go, time));
  const fresh = async (key) => { while (cell(key).ariaBusy !== 'false') await rest(1); };
  const out = [];
  for (let k = 0; k < runs; k += 1) {
    slider.value = Number(slider.value) + (k % 2 ? 3 : -2);
    const began = performance.now();
    slider.dispatchEvent(new Event('input', {bubbles: true}));
    await fresh('tip_height');
    const heights = performance.now() - began;
    await fresh('least_gap');
    out.push([heights, performance.now() - began]);
    await rest(pause);
  }
  slider.dispatchEvent(new Event('change', {bubbles: true}));
  return out;
}"""
"""A cell that is busy holds a number of before; a slider's movement makes all of them busy."""


def main() -> None:
    """Print the figures."""
    from playwright.sync_api import sync_playwright

    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 25
    print(f"ten million additions: {calibration():.2f} s; load {os.getloadavg()[0]:.1f}")
    command = "from planform.cli.app import main; main()"
    words = [sys.executable, "-c", command, "explore", *map(str, FILES), "--address"]
    server = subprocess.Popen(words, stdout=subprocess.PIPE, text=True)
    try:
        assert server.stdout is not None
        address = server.stdout.readline().removeprefix("the page: ").strip()
        with sync_playwright() as play:
            browser = play.chromium.launch(
                executable_path=shutil.which("chromium"), args=[*FLAGS, SOFT]
            )
            page = browser.new_page(viewport={"width": 1280, "height": 800})
            page.goto(address)
            page.wait_for_selector(WHOLE, timeout=120_000)
            for pause in (800, 0):
                print(f"{pause / 1000} s between them" if pause else "one after the other")
                for path in MOVED:
                    found = page.evaluate(MEASURE, [path, runs, pause])
                    page.wait_for_selector(WHOLE, timeout=120_000)
                    told = [f"{name} {_told([one[k] for one in found])}" for k, name in NAMES]
                    print(f"  {path}: {'; '.join(told)}")
            browser.close()
        print(f"load {os.getloadavg()[0]:.1f}")
    finally:
        server.terminate()
        server.wait(30)


NAMES = ((0, "heights"), (1, "parked"))


def _told(times: list[float]) -> str:
    nine = sorted(times)[int(0.9 * (len(times) - 1))]
    return f"median {statistics.median(times):.0f} ms, 9 of 10 within {nine:.0f} ms"


if __name__ == "__main__":
    main()
