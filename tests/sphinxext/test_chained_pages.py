"""Jobs that go on from each other, a block that is printed alone, and references, on pages."""

from __future__ import annotations

import re
from html import unescape

import pytest

from tests.sphinxext.projects import GUIDE, build, write

OPEN = """\
job: Open the pump
before: shut
ends-with: [lid-screws, lid]
steps:
  - remove: lid-screws
    name: open-it
  - remove: lid
    text: Take the lid off, as in {step guard-off of look}.
  - inspect: lid
    for: cracks
    otherwise:
      - stop: "{step open-it} was all. Go on with {job look}; the lid is within {limit lid-play}."
"""
SHUT = """\
job: Shut the pump
skill: For somebody who has done {job look}.
after: open
steps:
  - install: lid
  - install: lid-screws
  - tighten: lid-screws
    note: They came out in {step open-it of open}.
  - check: lid
    limit: dry after 10 min
    otherwise:
      - stop: Do the job again.
"""
LATER = """\
follow-ups:
  - after: 2 h
    steps:
      - inspect: guard
        for: cracks
        otherwise:
          - stop: Fit a new guard.
"""
LOOK = """\
job: Look behind the guard
steps:
  - note: Stand on the left.
  - remove: pad
  - install: pad
  - do: guard
  - do: guard
  - check: pad
    limit: do not rattle
    otherwise:
      - stop: Do the job again.
"""
BLOCK = """\
block: Look at the guard
own-page: true
steps:
  - inspect: guard
    name: guard-off
    for: cracks
    otherwise:
      - stop: Fit a new guard, and go on behind {step guard-off}.
"""
INDEX = """\
# Pump

{putback:step}`guard-off of look`, {putback:step}`open-it`,
{putback:step}`the screws <open-it>`, {putback:limit}`lid-play`.

```{putback-before-you-start}
```

```{toctree}
machine
jobs/seal
jobs/open
jobs/shut
jobs/look
blocks/guard
```
"""
PLACES = """\
places: {corner: [left, right]}
parts:
  pad: {each: corner, uses: 2}
"""
SETTING = "settings:\n  lid-play: {limit: 0.1 mm .. 0.2 mm, measured: at the lid}\n"


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    root = tmp_path_factory.mktemp("chain") / "project"
    write(root, GUIDE)
    for name, text in (("open", OPEN), ("shut", SHUT + LATER), ("look", LOOK)):
        (root / "jobs" / f"{name}.yaml").write_text(text, encoding="utf-8")
    (root / "blocks").mkdir()
    (root / "blocks" / "guard.yaml").write_text(BLOCK, encoding="utf-8")
    (root / "index.md").write_text(INDEX, encoding="utf-8")
    machine = root / "machine.yaml"
    text = machine.read_text(encoding="utf-8").replace("parts:\n", PLACES)
    text = text.replace("{name: lid screw,", "{name: lid screws, retighten-after: 10 h,")
    machine.write_text(f"{text}{SETTING}", encoding="utf-8")
    _, warnings = build(root)
    assert warnings == ""
    found = {}
    for name in ("index", "jobs/open", "jobs/shut", "jobs/look", "blocks/guard"):
        found[name] = (root / "_build" / "html" / f"{name}.html").read_text(encoding="utf-8")
    return found


def words(page: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", page)).replace("\N{NO-BREAK SPACE}", " ").split())


def test_the_block_that_opens_a_job_says_what_it_begins_and_ends_with(pages: dict[str, str]) -> None:
    first, second = words(pages["jobs/open"]), words(pages["jobs/shut"])
    assert "Continues with Shut the pump Ends with Off: lid. Out: four lid screws." in first
    assert "Begins with" not in first
    assert "Continues from Open the pump Begins with Off: lid. Out: four lid screws." in second
    assert "Ends with" not in second
    assert 'href="shut.html#shut-job"' in pages["jobs/open"]
    # What the first leaves off is counted back in the second.
    assert "Lid screws 4 – –" in first
    assert "What is left off here goes back in a later job." in first
    assert "Lid screws 4 4 –" in second


def test_a_reference_is_the_number_of_its_step(pages: dict[str, str]) -> None:
    first = words(pages["jobs/open"])
    assert "Take the lid off, as in step 3 of “Look behind the guard” ." in first
    assert "Step 1 was all. Go on with “Look behind the guard” ; the lid is within 0.1–0.2 mm" in first
    assert 'href="#open-step-1"' in pages["jobs/open"]
    assert 'href="open.html#open-step-1"' in pages["jobs/shut"]
    assert "They came out in step 1 of “Open the pump” ." in words(pages["jobs/shut"])
    index = words(pages["index"])
    assert "step 3 of “Look behind the guard” , step 1 of “Open the pump” , the screws , 0.1–0.2 mm" in index


def test_what_stands_of_a_job_on_other_pages_has_its_references(pages: dict[str, str]) -> None:
    for page in ("index", "jobs/shut"):
        assert "For somebody who has done “Look behind the guard” ." in words(pages[page])


def test_the_place_for_the_hours_stands_before_what_hangs_on_the_answer(pages: dict[str, str]) -> None:
    behind = words(pages["jobs/shut"]).split("After 2 running hours:")[1]
    assert behind.index("Done at running hours") < behind.index("If you find any:")


def test_what_settles_stands_under_its_own_hours(pages: dict[str, str]) -> None:
    behind = words(pages["jobs/shut"]).split("Fit a new guard.")[1]
    assert behind.startswith(" After 10 running hours: F2 Tighten the four lid screws once more")


def test_each_of_several_pieces_has_a_line_for_its_use(pages: dict[str, str]) -> None:
    said = words(pages["jobs/look"]).split("Pads: which use (of two); after that, fit a new one")[1]
    assert said.startswith(" Corner left Corner right")


def test_a_block_that_is_done_twice_refers_to_its_own_steps(pages: dict[str, str]) -> None:
    assert re.findall(r"go on behind (step \d)", words(pages["jobs/look"])) == ["step 3", "step 4"]


def test_a_block_is_printed_alone(pages: dict[str, str]) -> None:
    page = words(pages["blocks/guard"])
    assert "Look at the guard" in page
    assert "go on behind step 1 ." in page
    assert "Sign-off" in page
    assert 'href="#guard-step-1"' in pages["blocks/guard"]
