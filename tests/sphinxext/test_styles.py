"""The style sheets of the extension in a project that has some of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

import putback.sphinxext
from putback.sphinxext.live import SCRIPT
from tests.sphinxext.projects import GUIDE, build, write


@pytest.mark.parametrize("theme", ["putback", "alabaster"])
def test_a_project_keeps_its_own_style_sheets(tmp_path: Path, theme: str) -> None:
    own = {
        f"_static/{name}": "/* the project's own */" for name in ("print.css", "drawings.css", "bench.css", "bench.js")
    }
    write(tmp_path, {**GUIDE, **own})
    build(tmp_path, html_theme=theme, html_static_path=["_static"])
    out = tmp_path / "_build/html"
    assert {name: (out / name).read_text(encoding="utf-8") for name in own} == own


def test_all_that_is_put_among_the_files_of_a_project_is_called_by_its_name() -> None:
    static = Path(putback.sphinxext.__file__).parent / "static"
    names = [SCRIPT, *(file.name for file in static.iterdir() if file.is_file())]
    assert [name for name in names if not name.startswith("putback")] == []
