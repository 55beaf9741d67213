"""The manual of the Hollin 20 with a page of hard prose added, made once, and a browser to look at it."""

from __future__ import annotations

import os
import shutil
import warnings
from collections.abc import Iterator
from pathlib import Path
from typing import NoReturn

import pytest

from putback.guide import read_guide
from putback.sphinxext.manual import build_manual
from tests.browser.devtools import Browser, find_chromium

ROOT = Path(__file__).parents[2]

PROSE = """# Workshop notes

A_name_without_any_place_to_break_that_is_longer_than_a_phone_is_wide_and_goes_on_for_a_while.

| Column one of many | Column two of many | Column three of many | Column four of many | Column five of many |
| --- | --- | --- | --- | --- |
| HN-000000000000001 | HN-000000000000002 | HN-000000000000003 | HN-000000000000004 | HN-000000000000005 |

```text
a line of code that is so long that it cannot stand on a phone, nor on a tablet, and has to scroll in its own box
```

![Four bolts](images/bolt-order.svg)

:::{note}
A note of the author.
:::

## Torques again

```{putback-torques}
```
"""
"""What an author can write that is wider than a phone."""


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
    with warnings.catch_warnings():
        # MyST-Parser 5 still uses a name that Sphinx 9 calls old.
        warnings.filterwarnings("ignore", message=".*myst_parser.*")
        built = build_manual(read_guide(guide), ["html"], place / "out")
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


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Start a Chromium."""
    program = find_chromium()
    if program is None:
        missing("chromium")
    running = Browser(program)
    yield running
    running.close()
