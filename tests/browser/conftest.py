"""The manual of the Hollin 20 with a page of hard prose added, made once, and browsers to look at it.

Every test of a page runs twice: with the face that the pages bring, and without it, where there is only a wide one.
"""

from __future__ import annotations

import os
import shutil
import warnings
from collections.abc import Iterator
from pathlib import Path
from typing import NoReturn

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.manual import build_manual
from tests.browser.devtools import Browser, find_chromium
from tests.browser.faces import ALONE, DEJAVU, FOREIGN, SHIPPED, WIDE, Faces
from tests.browser.long_guide import write_long_guide

ROOT = Path(__file__).parents[2]

PROSE = """# Workshop notes

A_name_without_any_place_to_break_that_is_longer_than_a_phone_is_wide_and_goes_on_for_a_while.

| Column one of many | Column two of many | Column three of many | Column four of many | Column five of many |
| --- | --- | --- | --- | --- |
| HN-000000000000001 | HN-000000000000002 | HN-000000000000003 | HN-000000000000004 | HN-000000000000005 |

```text
a line of code that is so long that it cannot stand on a phone, nor on a tablet, and has to scroll in its own box
```

![A rail](images/wide.svg)

:::{note}
A note of the author.
:::

## Torques again

```{putback-torques}
```
"""
"""What an author can write that is wider than a phone."""

PICTURE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="900" height="90" viewBox="0 0 900 90">'
    '<rect x="5" y="5" width="890" height="80" fill="none" stroke="black"/></svg>'
)
"""A picture that is wider than a phone as well."""


def missing(what: str) -> NoReturn:
    """Skip on a desk; fail in CI, where nobody would see what was left out."""
    if os.environ.get("CI", "") not in ("", "0", "false"):
        pytest.fail(f"{what} is missing")
    pytest.skip(f"{what} is missing")


@pytest.fixture(scope="session")
def manual(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the HTML."""
    place = tmp_path_factory.mktemp("manual")
    guide = place / "procedures" / "hollin-20"
    shutil.copytree(ROOT / "procedures" / "hollin-20", guide, ignore=shutil.ignore_patterns("build"))
    shutil.copytree(ROOT / "shared", place / "shared")
    index = guide / "index.md"
    index.write_text(index.read_text("utf-8").replace("\nsafety\n", "\nsafety\nworkshop-notes\n", 1), "utf-8")
    (guide / "workshop-notes.md").write_text(PROSE, "utf-8")
    (guide / "images").mkdir(exist_ok=True)
    (guide / "images" / "wide.svg").write_text(PICTURE, "utf-8")
    return made(guide, place / "out")


@pytest.fixture(scope="session")
def long_manual(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the HTML of a guide with 120 steps, branches of branches, and words without a break."""
    place = tmp_path_factory.mktemp("long")
    return made(write_long_guide(place), place / "out")


def made(guide: Path, out: Path) -> Path:
    """Make the HTML of a guide, and return its folder."""
    with warnings.catch_warnings():
        # MyST-Parser 5 still uses a name that Sphinx 9 calls old.
        warnings.filterwarnings("ignore", message=".*myst_parser.*")
        built = build_manual(open_guide(read_guide(guide)), ["html"], out)
    assert built.warnings == []
    return built.files[0].parent


@pytest.fixture(scope="session")
def pages(manual: Path) -> list[Path]:
    """Return every page."""
    return sorted(manual.rglob("*.html"))


@pytest.fixture(scope="session")
def job(manual: Path) -> Path:
    """Return the page of the longest job."""
    return manual / "jobs" / "water-pump.html"


@pytest.fixture(scope="session", params=[SHIPPED, FOREIGN], ids=lambda faces: faces.name)
def browser(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """Start a Chromium with the pages' own face, and then one without it."""
    yield from started(request.param, tmp_path_factory)


@pytest.fixture(scope="session")
def bare_browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """Start a Chromium that has no letter but those of the pages' own face."""
    yield from started(ALONE, tmp_path_factory)


@pytest.fixture(autouse=True)
def nothing_kept(request: pytest.FixtureRequest) -> None:
    """Let no test find in a browser what an earlier one has left in it."""
    if "browser" in request.fixturenames:
        request.getfixturevalue("browser").forget()


def started(faces: Faces, folders: pytest.TempPathFactory) -> Iterator[Browser]:
    """Start a Chromium with some faces."""
    program = find_chromium()
    if program is None:
        missing("chromium")
    if faces.installed and not all((DEJAVU / file).is_file() for file in WIDE):
        missing(f"the face DejaVu Sans in {DEJAVU}")
    running = Browser(program, *faces.flags, variables=faces.variables(folders.mktemp(faces.name)))
    yield running
    running.close()
