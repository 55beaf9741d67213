"""Readings and outcomes on a page of HTML and on paper."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.sphinxext.projects import GUIDE, JOB, build, write

pytestmark = pytest.mark.filterwarnings("ignore:.*myst_parser.*")

MEASURED = """\
      - measure: gap at the lid
        readings: [left side, right side]
        judge: largest
        limit: "<= 0.2 mm"
        outcomes:
          - found: 0.2 mm .. 0.3 mm
            steps:
              - note: Buy a new lid.
          - found: "> 0.3 mm"
            steps:
              - stop: Do the job again.
"""


class Depths(HTMLParser):
    """Notes how deep each branch and each step lies in others."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.found: list[tuple[str, int]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "div":
            classes = (dict(attrs).get("class") or "").split()
            name = next((one for one in classes if one in ("step", "otherwise")), "")
            self.found.append((name, sum(other in ("step", "otherwise") for other in self.open)))
            self.open.append(name)

    def handle_endtag(self, tag: str) -> None:
        if tag == "div":
            self.open.pop()


def test_outcomes_stand_beside_each_other(tmp_path: Path) -> None:
    old = JOB[JOB.index("      - measure:") : JOB.index("      - caution:")]
    write(tmp_path, {**GUIDE, "jobs/seal.yaml": JOB.replace(old, MEASURED)})
    build(tmp_path)
    page = (tmp_path / "_build/html/jobs/seal.html").read_text(encoding="utf-8")
    depths = Depths()
    depths.feed(page)
    assert depths.open == []
    assert [depth for name, depth in depths.found if name == "otherwise"] == [1, 1]
    assert {depth for name, depth in depths.found if name == "step"} == {0, 2}
    labels = re.findall(r'<p class="otherwise-label">([^<]*)</p>', page)
    assert [label.replace("\xa0", " ").split(" (")[0] for label in labels] == [
        "If the largest is 0.2–0.3 mm",
        "If the largest is more than 0.3 mm",
    ]
    assert re.findall(r'class="blank-label">([^<]*)<', page)[:3] == ["Left side", "Right side", "Largest"]
    named = re.findall(r'aria-label="([^"]*), step 9"', page)
    assert len(set(named)) == 3
