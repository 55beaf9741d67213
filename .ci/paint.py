"""How soon the page of a job is seen, and how long a tick takes: `python .ci/paint.py PAGE ...`, from the repository.

In Chromium, on a screen of a phone, with the processor four times slower. No test: it prints the median of three
openings, and of five ticks in each, until the page is laid out anew.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.browser.devtools import Browser, find_chromium

SLOWER, WIDTH = 4, 390
TICK = """[...document.querySelectorAll('.step > .tick input')].slice(0, 5).map(box => {
  const start = performance.now(); box.click(); document.body.offsetHeight; return performance.now() - start; })"""


def main() -> None:
    """Print a line for each page."""
    program = find_chromium()
    if program is None:
        raise SystemExit("there is no Chromium")
    browser = Browser(program)
    browser.send("Emulation.setCPUThrottlingRate", rate=SLOWER)
    for name in sys.argv[1:]:
        paints: list[float] = []
        ticks: list[float] = []
        for _ in range(3):
            browser.open(Path(name).resolve(), WIDTH)
            time.sleep(1)
            paints += browser.run("performance.getEntriesByName('first-contentful-paint').map(each => each.startTime)")
            ticks += browser.run(TICK)
        print(f"{name}: seen after {statistics.median(paints):.0f} ms, a tick {statistics.median(ticks):.0f} ms")
    browser.close()


if __name__ == "__main__":
    main()
