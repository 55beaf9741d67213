"""A file is there as a whole or not at all."""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from putback.placing import file as placing
from putback.placing.file import write_whole
from tests.test_house import SRC

WRITER = """
import sys
from pathlib import Path
from putback.placing.file import write_whole
print("ready", flush=True)
while True:
    for letter in b"ab":
        write_whole(Path("report.json"), bytes([letter]) * 3_000_000)
"""


def test_a_writer_that_is_killed_leaves_a_whole_file(tmp_path: Path) -> None:
    luck = random.Random(5)
    for _ in range(6):
        with subprocess.Popen(
            [sys.executable, "-c", WRITER],
            cwd=tmp_path,
            env=os.environ | {"PYTHONPATH": str(SRC.parent)},
            stdout=subprocess.PIPE,
        ) as writer:
            assert writer.stdout is not None
            writer.stdout.readline()
            time.sleep(luck.uniform(0, 0.2))
            writer.kill()
        path = tmp_path / "report.json"
        if path.exists():
            content = path.read_bytes()
            assert len(content) == 3_000_000
            assert len(set(content)) == 1
    assert (tmp_path / "report.json").exists()


def test_a_full_disk_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.json"
    path.write_text("old", encoding="utf-8")

    def full(path: Path) -> None:
        raise OSError(28, os.strerror(28), str(path))

    monkeypatch.setattr(placing, "flush", full)
    with pytest.raises(OSError, match="No space left"):
        write_whole(path, b"new")
    assert [each.name for each in tmp_path.iterdir()] == ["a.json"]
    assert path.read_text(encoding="utf-8") == "old"


def test_folders_are_made_and_other_things_stay(tmp_path: Path) -> None:
    write_whole(tmp_path / "a" / "b" / "c.txt", b"x")
    assert (tmp_path / "a" / "b" / "c.txt").read_bytes() == b"x"
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path in (pipe, tmp_path / "a"):
        with pytest.raises(OSError, match="it is no ordinary file"):
            write_whole(path, b"x")
    with pytest.raises(NotADirectoryError):
        write_whole(tmp_path / "a" / "b" / "c.txt" / "d", b"x")
