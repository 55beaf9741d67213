"""The search of HTML leads to steps, and takes a part number as one word."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest
from sphinx import search
from sphinx.search.en import SearchEnglish

from putback.sphinxext.searching import _SPLITTER
from tests.sphinxext.projects import GUIDE, build, write

pytestmark = pytest.mark.filterwarnings("ignore:.*myst_parser.*")


def index_of(folder: Path, **settings: Any) -> dict[str, Any]:
    write(folder, GUIDE)
    build(folder, **settings)
    text = (folder / "_build/html/searchindex.js").read_text(encoding="utf-8")
    index: dict[str, Any] = json.loads(text.removeprefix("Search.setIndex(").removesuffix(")"))
    return index


def found(index: dict[str, Any]) -> dict[str, tuple[str, str]]:
    """Return the objects of an index: by the words that they are found by, the page and the anchor."""
    return {
        f"{prefix}.{name}" if prefix else name: (index["docnames"][page], anchor)
        for prefix, objects in index["objects"].items()
        for page, _, _, anchor, name in objects
    }


def test_a_step_is_found_by_its_words_and_by_the_part_numbers_of_what_it_handles(tmp_path: Path) -> None:
    objects = found(index_of(tmp_path))
    assert objects["3 Remove the seal (TP-1)"] == ("jobs/seal", "seal-step-3")
    assert objects["4 Install a new seal (part number TP-1)"] == ("jobs/seal", "seal-step-4")
    assert objects["9a Stop here. Do the job again"] == ("jobs/seal", "seal-step-9a")
    assert objects["Seal (TP-1)"] == ("machine", "seal-thing")


def test_every_anchor_is_on_its_page(tmp_path: Path) -> None:
    objects = found(index_of(tmp_path))
    for page, anchor in objects.values():
        html = (tmp_path / f"_build/html/{page}.html").read_text(encoding="utf-8")
        assert f'id="{anchor}"' in html, anchor
    assert len(objects) == 20


@pytest.mark.parametrize("language", ["en", "de", "pt_BR"])
def test_a_part_number_is_one_word_and_only_where_it_stands(tmp_path: Path, language: str) -> None:
    index = index_of(tmp_path, language=language)
    pages = index["terms"]["tp-1"]
    names = sorted(index["docnames"][page] for page in ([pages] if isinstance(pages, int) else pages))
    assert names == ["index", "jobs/seal", "machine"]
    assert "function splitQuery" in (tmp_path / "_build/html/_static/language_data.js").read_text(encoding="utf-8")


def test_a_language_that_has_a_splitter_keeps_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    class Own(SearchEnglish):
        lang = "own"
        js_splitter_code = "function splitQuery(query) { return [query]; }"

    monkeypatch.setitem(search.languages, "own", Own)
    index = index_of(tmp_path, html_search_language="own")
    assert "tp-1" not in index["terms"]
    script = (tmp_path / "_build/html/_static/language_data.js").read_text(encoding="utf-8")
    assert Own.js_splitter_code in script


@pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")
def test_what_is_typed_is_split_in_the_same_way() -> None:
    asked = ["ag-1103", "head bolts", "o-ring TP-1", "part AG-1103-b, new", "-", "12"]
    script = f"{_SPLITTER}\nconsole.log(JSON.stringify({json.dumps(asked)}.map(splitQuery)))"
    done = subprocess.run(["node", "-e", script], capture_output=True, check=True, text=True)
    assert json.loads(done.stdout) == [
        ["ag-1103"], ["head", "bolts"], ["TP-1", "o", "ring"], ["AG-1103-b", "part", "new"], [], ["12"]
    ]  # fmt: skip
