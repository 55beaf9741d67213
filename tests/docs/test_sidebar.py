"""The contents beside a page of the documentation name the pages of every part, folded."""

from __future__ import annotations

import importlib.util
from types import SimpleNamespace
from typing import Any

from docutils import nodes

from tests.pasted import ROOT


def _contents(here: str, plain: str) -> str:
    spec = importlib.util.spec_from_file_location("sidebar", ROOT / "docs" / "_ext" / "sidebar.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    parts = {"index": ["tasks/index", "checks/index"], "tasks/index": list("abcd"), "checks/index": ["left-off"] * 100}
    titles = {name: nodes.title(text=f"{name[0].upper()} & co") for name in (*parts, *"abcd", "left-off")}
    app: Any = SimpleNamespace(
        config=SimpleNamespace(root_doc="index"), env=SimpleNamespace(toctree_includes=parts, titles=titles)
    )
    context: dict[str, Any] = {"toctree": lambda **_: plain, "pathto": lambda page: f"../{page}.html"}
    module.unfold(app, here, "page.html", context, None)
    return str(context["toctree"]())


def test_a_part_that_is_not_open_has_its_pages_folded() -> None:
    contents = _contents("checks/left-off", '<li><a href="../tasks/index.html">T &amp; co</a></li>')
    assert contents.startswith('<li><a href="../tasks/index.html">T &amp; co</a><details')
    assert contents.endswith("</ul></details></li>")
    assert '<a class="reference internal" href="../d.html">D &amp; co</a>' in contents


def test_a_part_that_is_open_and_a_catalogue_stay_as_they_are() -> None:
    for plain in (
        '<li><a href="../tasks/index.html">T &amp; co</a><ul><li>…</li></ul></li>',
        '<li><a href="../checks/index.html">C &amp; co</a></li>',
    ):
        assert _contents("tasks/a", plain) == plain
