"""The strip at the top of the README shows the present state of one step: written, found missing, printed."""

from __future__ import annotations

import importlib.util
import re
import sys
from collections.abc import Iterator
from types import ModuleType

import pytest

from tests.pasted import ROOT

IMAGES = ROOT / "docs" / "images"


@pytest.fixture(scope="module")
def maker() -> Iterator[ModuleType]:
    spec = importlib.util.spec_from_file_location("putback_strip", ROOT / ".ci" / "pictures.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "path", [*sys.path])  # the program adds to it
        patch.setitem(sys.modules, spec.name, module)
        spec.loader.exec_module(module)
        yield module


def test_the_strip_is_made_from_the_present_state(maker: ModuleType) -> None:
    made = maker.strip()
    assert sorted(made) == sorted(path.name for path in IMAGES.iterdir())
    for name, png in made.items():
        kept = (IMAGES / name).read_bytes()
        now, then = maker.told(png), maker.told(kept)
        assert now["Description"] == then["Description"], f"make it again: python .ci/pictures.py ({name})"
        # Another version of Typst, or another processor, draws the same words in other pixels.
        assert now["Software"] != then["Software"] or png == kept, f"make it again: python .ci/pictures.py ({name})"


def test_the_three_pictures_show_one_step_and_the_readme_shows_the_three(maker: ModuleType) -> None:
    words = {
        name: maker.told((IMAGES / f"{name}.png").read_bytes())["Description"] for name in ("step", "finding", "page")
    }
    assert words["step"].splitlines()[0] == maker.STEP
    finding = words["finding"].splitlines()
    assert finding[1] == "  lower flat washer comes off and never goes back"
    assert re.match(r"74 Install the lower flat washer\b", words["page"])
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    shown = re.findall(r'<img src="docs/images/([a-z]+)\.png" width="\d+" alt="([^"]+)">', readme.partition("</p>")[0])
    assert [name for name, _ in shown] == ["step", "finding", "page"]
    tour = next(block for block in re.findall(r"```console\n(.*?)```", readme, re.DOTALL) if finding[1] in block)
    assert [line for line in finding if line not in tour.splitlines()] == []
