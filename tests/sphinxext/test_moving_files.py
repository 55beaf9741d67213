"""Files that go or change while they are read, and an output that goes while it is written: an answer, and no loss."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.placing.digest import digest
from putback.sphinxext import closed
from putback.sphinxext.closed.tree import look_around
from putback.sphinxext.manual import BuildError, build_manual
from tests.conftest import Putback, Write
from tests.pictures.samples import png

from .projects import GUIDE, write

pytestmark = pytest.mark.filterwarnings("ignore:.*is deprecated. Check CHANGES for Sphinx")  # in MyST-Parser

NAMES = ["guide.yaml", "machine.yaml", "jobs/look.yaml", "../shared/tools.yaml"]


def gone(path: Path) -> None:
    path.unlink(missing_ok=True)


def cut(path: Path) -> None:
    os.truncate(path, path.stat().st_size // 2)


def replaced(path: Path) -> None:
    path.write_bytes(b"\xff\x00" * 5_000)


def grown(path: Path) -> None:
    path.write_bytes(path.read_bytes() + b"\n# more" * 1_000_000)


CHANGES: dict[str, Callable[[Path], None]] = {"gone": gone, "cut": cut, "replaced": replaced, "grown": grown}


@pytest.mark.parametrize("change", CHANGES)
@pytest.mark.parametrize("moment", ["before it is opened", "before it is read"])
@pytest.mark.parametrize("name", NAMES)
def test_a_file_that_changes_while_lint_reads_it(
    name: str, moment: str, change: str, write_guide: Write, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = (write_guide({}) / name).resolve()
    opened, waiting = os.open, [True]

    def turn(asked: object, flags: int, *rest: int) -> int:
        mine = waiting and isinstance(asked, str | Path) and Path(asked) == path
        if mine and waiting.pop() and moment == "before it is opened":
            CHANGES[change](path)
        handle = opened(str(asked), flags, *rest)
        if mine and moment == "before it is read":
            CHANGES[change](path)
        return handle

    monkeypatch.setattr(os, "open", turn)
    answer = putback("lint", "pump")
    assert not waiting
    assert answer.code in (0, 1, 2)
    assert "fault in Putback" not in answer.err
    assert answer.out
    if answer.code == 0:
        # A file that is open is there to its end; half a file can be a whole guide.
        assert change in ("gone", "cut")
    else:
        assert path.name in answer.out


@pytest.fixture
def pump(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a guide with a picture, whose manual is there."""
    root = tmp_path / "pump"
    write(root, {**GUIDE, "more.md": "---\norphan: true\n---\n\n# More\n\n![x](images/a.png)\n"})
    (root / "images").mkdir()
    (root / "images" / "a.png").write_bytes(png(9, 9))
    monkeypatch.chdir(tmp_path)
    build_manual(open_guide(read_guide(root)), ["html"], tmp_path / "out")
    return root


@pytest.fixture
def while_building(monkeypatch: pytest.MonkeyPatch) -> list[Callable[[], object]]:
    """Return a list of what is done when all has been looked at, and Sphinx is about to read."""
    todo: list[Callable[[], object]] = []

    def look(root: Path) -> list[str]:
        found = look_around(root)
        while todo:
            todo.pop()()
        return found

    monkeypatch.setattr(closed, "look_around", look)
    return todo


@pytest.mark.parametrize("name", ["index.md", "more.md", "jobs/seal.yaml", "machine.yaml", "images/a.png"])
@pytest.mark.parametrize("change", ["gone", "replaced"])
def test_a_file_that_changes_while_the_manual_is_made(
    name: str, change: str, pump: Path, while_building: list[Callable[[], object]]
) -> None:
    """What was proved is printed, of what can be read; or else the old manual stays."""
    before = digest(pump.parent / "out")
    while_building.append(lambda: CHANGES[change](pump / name))
    try:
        built = build_manual(open_guide(read_guide(pump)), ["html"], pump.parent / "out")
    except BuildError:
        assert digest(pump.parent / "out") == before
    else:
        assert built.files[0].is_file()
        assert (pump.parent / "out" / "html" / "jobs" / "seal.html").is_file()
    assert [path.name for path in (pump.parent / "out").iterdir()] == ["html"]


def test_an_output_that_goes_while_the_manual_is_made(pump: Path, while_building: list[Callable[[], object]]) -> None:
    out = pump.parent / "out"
    before = digest(out)
    while_building.append(lambda: shutil.rmtree(out))
    try:
        build_manual(open_guide(read_guide(pump)), ["html"], out)
    except BuildError:
        build_manual(open_guide(read_guide(pump)), ["html"], out)
    assert digest(out) == before
