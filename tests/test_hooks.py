"""`.pre-commit-hooks.yaml`: what it says is what pre-commit takes, and each hook does what it is for."""

from __future__ import annotations

import re
import shlex
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from tests.conftest import Putback, Write
from tests.docs.test_ci import FILES
from tests.lint.changing import git, write
from tests.pasted import ROOT

HOOKS: dict[str, Any] = {
    hook["id"]: hook for hook in YAML(typ="safe").load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))
}
OFF = "job: Off\nsteps:\n  - remove: screws\n"


@pytest.fixture
def repository(write_guide: Write) -> Path:
    """Make a repository with two guides, of which the second has a fault already."""
    folder = write_guide({"motor/guide.yaml": "title: Motor\n", "motor/machine.yaml": "machine: Motor\n"}).parent
    write("motor/jobs/off.yaml", "job: Off\nsteps:\n  - remove: nothing\n")
    git("init", "--quiet")
    git("add", "--all")
    git("commit", "--quiet", "--message", "The start")
    return folder


def words(hook: str, *args: str) -> list[str]:
    """Return what a hook calls, without the command."""
    command, *rest = shlex.split(HOOKS[hook]["entry"])
    assert command == "putback"
    return [*rest, *args]


@pytest.mark.parametrize("hook", HOOKS.values(), ids=HOOKS)
def test_a_hook_is_installed_by_pip_and_gets_no_names_of_files(hook: dict[str, Any]) -> None:
    assert {"id", "name", "description", "entry", "language", "pass_filenames"} < set(hook)
    assert hook["language"] == "python"
    assert hook["pass_filenames"] is False


def test_the_first_hook_checks_what_the_commit_changes(repository: Path, putback: Putback) -> None:
    assert HOOKS["putback"]["always_run"] is True
    assert putback(*words("putback")).code == 0
    assert putback(*words("putback", "pump")).code == 0
    write("pump/jobs/off.yaml", OFF)
    git("add", "--all")
    run = putback(*words("putback"))
    assert run.code == 1
    assert "motor/" not in run.out
    assert putback(*words("putback", "motor")).code == 0
    git("reset", "--quiet", "--hard")
    (repository / "pump/machine.yaml").unlink()
    assert putback(*words("putback")).code == 2


def test_the_first_hook_checks_a_first_commit(write_guide: Write, putback: Putback) -> None:
    write_guide({"pump/jobs/off.yaml": OFF})
    git("init", "--quiet")
    git("add", "--all")
    assert putback(*words("putback")).code == 1


def test_the_other_hook_checks_everything(repository: Path, putback: Putback) -> None:
    run = putback(*words("putback-all"))
    assert run.code == 1
    assert "motor/jobs/off.yaml" in run.out
    pattern = re.compile(HOOKS["putback-all"]["files"])
    read = [path.relative_to(repository).as_posix() for path in repository.rglob("*.yaml")]
    assert all(map(pattern.search, [*read, "a/index.md", "images/a.svg", "images/b.jpeg", "translations/de.po"]))
    assert not pattern.search("a.py")


def test_the_page_shows_hooks_that_there_are(repository: Path, putback: Putback) -> None:
    theirs, own = (file["repos"][0] for file in FILES if "repos" in file)
    assert [hook["id"] for hook in theirs["hooks"]] == ["putback"]
    assert [hook["args"] for hook in theirs["hooks"]] == [["procedures"]]
    (hook,) = own["hooks"]
    (repository / "procedures").mkdir()
    (repository / "pump").rename(repository / "procedures/pump")
    assert hook["entry"].startswith("putback ")
    assert putback(*shlex.split(hook["entry"])[1:]).code == 0
    write("procedures/pump/jobs/off.yaml", OFF)
    assert putback(*shlex.split(hook["entry"])[1:]).code == 1
