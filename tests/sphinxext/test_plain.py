"""Pages for builders that know nothing of our nodes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from docutils import nodes

from tests.sphinxext.projects import GUIDE, build, write

pytestmark = pytest.mark.filterwarnings("ignore:.*myst_parser.*")


@pytest.mark.parametrize("builder", ["text", "latex"])
def test_no_emphasis_begins_or_ends_with_a_blank(tmp_path: Path, builder: str) -> None:
    write(tmp_path, GUIDE)
    app, _ = build(tmp_path, builder)
    found = [
        node.astext()
        for name in ("machine", "jobs/seal", "index")
        for node in app.env.get_and_resolve_doctree(name, app.builder, tags=app.tags).findall(nodes.Element)
        if isinstance(node, nodes.strong | nodes.emphasis)
    ]
    assert len(found) > 5
    assert [words for words in found if words != words.strip()] == []


def test_a_labelled_value_stands_on_one_line(tmp_path: Path) -> None:
    write(tmp_path, GUIDE)
    build(tmp_path, "text")
    page = (tmp_path / "_build/text/jobs/seal.txt").read_text(encoding="utf-8")
    assert "**Purpose:** Stop a leak.\n" in page
    assert "**Only with belt drive.** Inspect" in page
    assert re.search(r"\*\* \*\*|\s\*\*\s|: \*\*\n", page) is None
