"""A release takes the fragments of the changelog with it, once, and leaves all as it was when it is refused."""

from __future__ import annotations

import importlib.machinery
import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

from tests.pasted import ROOT


@pytest.fixture
def program(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    monkeypatch.setattr(sys, "path", [*sys.path])  # it adds the folder of what draws the changelog
    loader = importlib.machinery.SourceFileLoader("release_program", str(ROOT / ".ci" / "release"))
    spec = importlib.util.spec_from_loader("release_program", loader)
    assert spec is not None
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    loader.exec_module(module)
    return module


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    changes = tmp_path / "docs" / "changes"
    changes.mkdir(parents=True)
    (changes / "renames.tsv").write_text("# none\n", encoding="utf-8")
    (changes / "0001.start.md").write_text("It begins.\n", encoding="utf-8")
    (changes / "0002.speed.md").write_text("It is faster:\nby half.\n", encoding="utf-8")
    package = tmp_path / "src" / "putback"
    package.mkdir(parents=True)
    (package / "__init__.py").write_text('"""A package."""\n\n__version__ = "0.1.0"\n', encoding="utf-8")
    return tmp_path


def listed(tree: Path) -> dict[str, str]:
    return {str(path.relative_to(tree)): path.read_text(encoding="utf-8") for path in tree.rglob("*") if path.is_file()}


def test_a_release_takes_the_fragments_and_writes_the_version(program: ModuleType, tree: Path) -> None:
    told = program.release(tree, "0.2.0", "2026-03-31")
    assert told == "- It is faster:\n  by half.\n- It begins.\n"
    assert listed(tree) == {
        "docs/changes/renames.tsv": "# none\n",
        "docs/changes/0.2.0/0001.start.md": "It begins.\n",
        "docs/changes/0.2.0/0002.speed.md": "It is faster:\nby half.\n",
        "docs/changes/0.2.0/released.txt": "2026-03-31\n",
        "src/putback/__init__.py": '"""A package."""\n\n__version__ = "0.2.0"\n',
    }


def test_the_page_has_what_waits_and_each_release_newest_first(program: ModuleType, tree: Path) -> None:
    program.release(tree, "0.9.0", "2026-03-31")
    for number, version in (("0003", "0.10.0"), ("0004", None)):
        (tree / f"docs/changes/{number}.more.md").write_text(f"{number}.\n", encoding="utf-8")
        if version:
            program.release(tree, version, "2026-04-30")
    found = program.releases(tree / "docs" / "changes")
    assert [(release.title, [path.name for path in release.fragments]) for release in found] == [
        ("Not released yet", ["0004.more.md"]),
        ("0.10.0, 2026-04-30", ["0003.more.md"]),
        ("0.9.0, 2026-03-31", ["0002.speed.md", "0001.start.md"]),
    ]


@pytest.mark.parametrize(
    ("version", "why"),
    [
        ("new", "'new' is no version: write it as 0.2.0"),
        ("0.2", "'0.2' is no version: write it as 0.2.0"),
        ("v0.2.0", "'v0.2.0' is no version: write it as 0.2.0"),
        ("0.1.9", "0.1.9 is not after the last release, 0.2.0"),
        ("0.2.0", "0.2.0 is not after the last release, 0.2.0"),
        ("0.3.0", "docs/changes has no fragment that is not released"),
    ],
)
def test_a_wrong_release_is_refused_and_nothing_moves(program: ModuleType, tree: Path, version: str, why: str) -> None:
    program.release(tree, "0.2.0", "2026-03-31")
    before = listed(tree)
    with pytest.raises(ValueError, match=f"^{why}$"):
        program.release(tree, version, "2026-04-30")
    assert listed(tree) == before
