"""The workflows of the page about CI for one machine: each line of theirs that calls `putback` does what it says."""

from __future__ import annotations

import os
import shlex
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from tests.conftest import Putback, Write
from tests.docs.answering import answers
from tests.lint.changing import git, write
from tests.pasted import ROOT

PAGE = (ROOT / "docs/tasks/ci.md").read_text("utf-8")
SHOWN: list[Any] = [YAML(typ="safe").load(each.shown) for each in answers(PAGE) if each.reason]
FILES = [file for file in SHOWN if isinstance(file, dict)]  # a list is a part of a file
WORKFLOWS = [file for file in FILES if file.get("name") in ("manual", "change")]
STEPS = [step for flow in WORKFLOWS for job in flow["jobs"].values() for step in job["steps"]]
LINES = [step["run"] for step in STEPS if step.get("run", "").startswith("putback ")]


@pytest.fixture
def branch(write_guide: Write, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Make a repository with a guide in `procedures`, on a branch that left `origin/main`."""
    contents = "# Pump\n\n```{toctree}\njobs/look\n```\n"
    folder = write_guide({"pump/index.md": contents}).parent
    (folder / "procedures").mkdir()
    (folder / "pump").rename(folder / "procedures/pump")
    git("init", "--quiet")
    git("add", "--all")
    git("commit", "--quiet", "--message", "The start")
    git("update-ref", "refs/remotes/origin/main", "HEAD")
    monkeypatch.setenv("GITHUB_BASE_REF", "main")
    return folder


def words(line: str) -> list[str]:
    """Return the words of a line of shell with the variables that the platform sets; without the command."""
    return shlex.split(os.path.expandvars(line))[1:]


def test_there_are_lines_to_run() -> None:
    assert len(WORKFLOWS) == 2
    assert [words(line)[0] for line in LINES] == ["lint", "build", "lint"]


@pytest.mark.parametrize("line", LINES)
def test_a_line_passes_what_is_good_and_fails_what_is_not(line: str, branch: Path, putback: Putback) -> None:
    run = putback(*words(line))
    assert run.code == 0, run
    write(branch / "procedures/pump/jobs/off.yaml", "job: Off\nsteps:\n  - remove: screws\n")
    assert putback(*words(line)).code == 1


def test_a_change_is_compared_with_the_history(branch: Path) -> None:
    """What `--changed-since` needs is checked out."""
    del branch
    (change,) = [flow for flow in WORKFLOWS if "pull_request" in str(flow)]
    (job,) = change["jobs"].values()
    assert job["steps"][0]["with"] == {"fetch-depth": 0}


def test_a_workflow_may_only_read() -> None:
    assert [flow["permissions"] for flow in WORKFLOWS] == [{"contents": "read"}] * 2
    assert "pull_request_target" not in PAGE
