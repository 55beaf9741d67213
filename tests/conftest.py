"""What the tests of the core share: small guides on disk, and the command."""

from __future__ import annotations

import json
import os
import signal
import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NamedTuple, Protocol

import hypothesis
import pytest

from putback.cli import main

GUIDE = "title: Bench pump\n"

MACHINE = """\
machine: Bench pump
parts:
  lid: {}
fasteners:
  screws: {name: screw, count: 4, thread: M5 x 0.8, torque: 4 N·m, class: 8.8, order: crosswise, secures: lid}
"""

JOB = """\
job: Look under the lid
steps:
  - inspect: lid
    note: Look for cracks.
"""


if threading.current_thread() is threading.main_thread():
    # What a shell starts in the background has interruptions switched off, and hands that down to all that it starts.
    signal.signal(signal.SIGINT, signal.default_int_handler)

# What a test changes in Putback itself, while it runs, is no part of what a kept result depends on.
os.environ["PUTBACK_CACHE"] = ""

run_main: Callable[[Sequence[str]], object] = main


def pytest_itemcollected(item: pytest.Item) -> None:
    """Let `-k your_name` find what is called `your-name`: a check has hyphens in its name, and its file underscores."""
    item.extra_keyword_matches.add(item.name.replace("-", "_"))


class Answer(NamedTuple):
    """What a run of the command gave."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        return json.loads(self.out)

    @property
    def findings(self) -> list[str]:
        """Each finding as `path:line:column check: message`."""
        return [
            f"{found['path']}:{found['line']}:{found['column']} {found['check']}: {found['message']}"
            for found in self.data["findings"]
        ]


class Putback(Protocol):
    def __call__(self, *args: str) -> Answer: ...


@pytest.fixture
def putback(capsys: pytest.CaptureFixture[str]) -> Putback:
    """Run the command as a shell would, and return its exit code and what it printed."""

    def run(*args: str) -> Answer:
        # A console script ends with `sys.exit(main())`.
        code: object
        try:
            code = run_main(args)
        except SystemExit as stopped:
            code = stopped.code
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        assert code is None or isinstance(code, int)
        return Answer(code or 0, out, err)

    return run


Write = Callable[[dict[str, str | bytes | None]], Path]


@pytest.fixture
def write_guide(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Write:
    """Write a small whole guide into the folder `pump`, with other files in place of its own (None: without it).

    The current folder is the one above it, and has a library with nothing in it.
    """

    def write(files: dict[str, str | bytes | None]) -> Path:
        whole: dict[str, str | bytes | None] = {
            "pump/guide.yaml": GUIDE,
            "pump/machine.yaml": MACHINE,
            "pump/jobs/look.yaml": JOB,
            "shared/tools.yaml": "{}\n",
        }
        for name, content in (whole | files).items():
            if content is None:
                continue
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content.encode() if isinstance(content, str) else content)
        monkeypatch.chdir(tmp_path)
        return tmp_path / "pump"

    return write


# A busy machine is no fault; and CI tries the same examples each time, so that a change is judged by what it changed.
hypothesis.settings.register_profile("putback", deadline=None, derandomize=os.environ.get("CI") == "true")
hypothesis.settings.load_profile("putback")
