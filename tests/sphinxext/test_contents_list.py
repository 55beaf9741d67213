"""The contents beside each page are, byte for byte, those that Sphinx would have made."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.contentslist import HOW, ContentsList
from putback.sphinxext.manual import build_manual

pytestmark = pytest.mark.filterwarnings("ignore:.*myst_parser.*")

GUIDES = Path(__file__).parents[2] / "procedures"

MACHINE = "machine: Mill\nparts:\n  lid: {name: lid}\n"
JOB = """\
job: Take & put <{name}>
steps:
  - remove: lid
  - install: lid
  - check: all
    limit: it runs
    otherwise:
      - stop: Again.
"""

BOOK = {
    "guide.yaml": "title: Mill\n",
    "machine.yaml": MACHINE,
    "index.md": (
        "# Mill\n\n```{toctree}\n:caption: First\nmachine\nOther words <jobs/b>\nmore\nself\nhttps://example.org/\n```\n\n"
        "```{toctree}\n:caption: Then\njobs/a\ntwo\nhidden\n```\n\n```{toctree}\n:hidden:\nlast\n```\n"
    ),
    "more.md": "# More\n\n## Inside\n\n```{toctree}\ndeep/one\njobs/c\n```\n\n## After\n",
    "deep/one.md": "# One\n\n## Two\n\n### Three\n",
    "two.md": "# Two\n\n## Part *with* `marks`\n\n# Second title\n",
    "hidden.md": "# Twice\n\n```{toctree}\n:hidden:\nlast\n```\n",
    "last.md": "# Last\n",
    **{f"jobs/{name}.yaml": JOB.format(name=name) for name in "abc"},
}
"""A book whose lists have all that makes them differ: captions, titles, pages below pages, pages that stand twice."""


def compared(monkeypatch: pytest.MonkeyPatch) -> dict[str, tuple[str | None, str]]:
    """Note, for each page that is made from now on, the list from here and the list from Sphinx."""
    found: dict[str, tuple[str | None, str]] = {}
    of = ContentsList.of

    def both(self: ContentsList, builder: Any, page: str) -> str | None:
        made = of(self, builder, page)
        found[page] = (made, builder._get_local_toctree(page, **HOW))
        return made

    monkeypatch.setattr(ContentsList, "of", both)
    return found


def build(root: Path, out: Path) -> None:
    build_manual(open_guide(read_guide(root)), ["html"], out)


def test_lists_of_a_book_with_pages_below_pages(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, text in BOOK.items():
        (tmp_path / "mill" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "mill" / name).write_text(text, "utf-8")
    found = compared(monkeypatch)
    build(tmp_path / "mill", tmp_path / "out")
    assert {page: made for page, (made, theirs) in found.items() if made is not None and made != theirs} == {}
    quick = {page for page, (made, _) in found.items() if made is not None}
    assert quick >= {"machine", "jobs/a", "jobs/b", "more"}
    assert quick.isdisjoint({"index", "last", "deep/one", "jobs/c"})


@pytest.mark.parametrize("guide", ["sessel-w15", "hollin-20"])
def test_lists_of_a_shipped_guide(guide: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    found = compared(monkeypatch)
    build(GUIDES / guide, tmp_path / "out")
    assert {page for page, (made, theirs) in found.items() if made is not None and made != theirs} == set()
    assert [page for page, (made, _) in found.items() if page.startswith("jobs/") and made is None] == []
