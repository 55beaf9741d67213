"""What the README offers to copy works as it stands: the CI file, and the ways to install."""

from __future__ import annotations

import os
import re
import shlex
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from tests.conftest import Putback
from tests.pasted import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_ci_file_fails_with_a_guide_that_does_and_makes_what_it_keeps(
    tmp_path: Path, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "procedures").mkdir()
    assert putback("new", "mill").code == 0
    block = re.search(r"^```yaml\n(name: manual\n.*?)^```$", README, re.DOTALL | re.MULTILINE)
    assert block is not None
    workflow = YAML(typ="safe", pure=True).load(block[1])
    steps = workflow["jobs"]["manual"]["steps"]
    assert all(re.fullmatch(r"[\w-]+/[\w-]+@v\d+", step["uses"]) for step in steps if "uses" in step)
    commands = [shlex.split(step["run"]) for step in steps if "run" in step]
    assert commands.pop(0) == ["pip", "install", "-r", "requirements.txt"]
    assert [(command[0], putback(*command[1:]).code) for command in commands] == [("putback", 0), ("putback", 0)]
    assert sorted(os.listdir(steps[-1]["with"]["path"])) == ["mill"]  # noqa: PTH208
    job = tmp_path / "procedures" / "mill" / "jobs" / "blades.yaml"
    job.write_text(job.read_text(encoding="utf-8").replace("- tighten: blade-screws", "- note: done"), "utf-8")
    assert [putback(*command[1:]).code for command in commands] == [1, 1]


def test_what_is_said_of_the_shipped_guides_is_so() -> None:
    """The smallest guide to copy from, and that there are four."""
    sizes = {
        guide.name: sum(path.stat().st_size for path in guide.rglob("*.yaml"))
        for guide in (ROOT / "procedures").iterdir()
        if guide.is_dir()
    }
    assert len(sizes) == 4
    assert f"`procedures/{min(sizes, key=sizes.__getitem__)}`, a hand winch, is the smallest of the four" in README
