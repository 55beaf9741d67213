"""The watch sees what it is there for."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from tests.hostile.watching import watched

REACHES: dict[str, Callable[[Path], object]] = {
    "open /etc/": lambda folder: Path("/etc/hostname").read_bytes(),
    "os.listdir /etc": lambda folder: os.listdir("/etc"),  # noqa: PTH208
    "open to write": lambda folder: (folder / "guide" / "x").write_text("x"),
    "os.mkdir": lambda folder: (folder / "guide" / "x").mkdir(),
    "os.rename": lambda folder: (folder / "guide" / "a.py").rename(folder / "guide" / "b"),
    "os.remove": lambda folder: (folder / "guide" / "a.py").unlink(),
    "os.symlink": lambda folder: (folder / "guide" / "x").symlink_to("y"),
    "socket.": lambda folder: socket.create_connection(("127.0.0.1", 9), timeout=1),
    "socket.getaddrinfo": lambda folder: socket.getaddrinfo("localhost", 80),
    "subprocess.Popen": lambda folder: subprocess.run(["true"], check=False),
    "os.system": lambda folder: os.system("true"),
    "exec": lambda folder: __import__("a"),
}


@pytest.mark.parametrize("event", REACHES)
def test_each_reach_is_seen(event: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "guide").mkdir()
    (tmp_path / "guide" / "a.py").write_text("x = 1\n", encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path / "guide"))
    sys.modules.pop("a", None)
    with watched([tmp_path / "guide"], [tmp_path / "out"]) as found, suppress(OSError):
        REACHES[event](tmp_path)
    assert any(each.startswith(event) for each in found), found


def test_what_is_given_is_not_told(tmp_path: Path) -> None:
    (tmp_path / "guide").mkdir()
    (tmp_path / "guide" / "a").write_text("x", encoding="utf-8")
    with watched([tmp_path / "guide"], [tmp_path / "out"]) as found:
        (tmp_path / "guide" / "a").read_text(encoding="utf-8")
        (tmp_path / "out").mkdir()
        (tmp_path / "out" / "b").write_text("x", encoding="utf-8")
        (tmp_path / "out" / "b").rename(tmp_path / "out" / "c")
    assert found == []
