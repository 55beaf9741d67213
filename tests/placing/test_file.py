"""One file takes its place as a whole, whenever its writer is killed or fails; no link leads it elsewhere."""

from __future__ import annotations

import errno
import os
import sys
from contextlib import nullcontext, suppress
from itertools import count
from pathlib import Path

import pytest

from putback.placing import file
from putback.placing.file import write_whole
from putback.placing.scratch import leftovers
from tests.conftest import Putback, Write
from tests.placing.killing import FullError, killed_at, watch_for

OLD, NEW = b"old\n" * 50, b"new\n" * 70_000

posix = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")


@pytest.fixture(autouse=True)
def _no_waiting_for_the_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "fsync", lambda handle: None)


@posix
@pytest.mark.parametrize("before", [OLD, None], ids=["over an old one", "at a free place"])
def test_killed_at_any_line(tmp_path: Path, before: bytes | None) -> None:
    place, lines, seen = tmp_path / "list.csv", 0, set()
    for line in count(1):
        place.unlink(missing_ok=True)
        if before is not None:
            place.write_bytes(before)
        if not killed_at(line, lambda: write_whole(place, NEW)):
            break
        lines += 1
        now = place.read_bytes() if place.exists() else None
        seen.add(now)
        assert len(list(leftovers(tmp_path))) <= 1, "the next one clears away what the last one left"
    assert seen == {before, NEW}
    assert lines > 50
    write_whole(place, NEW)
    assert [path.name for path in tmp_path.iterdir()] == ["list.csv"]


@posix
def test_a_full_disk_at_any_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(file, "claim", lambda folder: nullcontext(True))  # a lock needs no room
    place = tmp_path / "list.csv"
    for line in count(1):
        place.write_bytes(OLD)
        reached: list[bool] = []

        def full(reached: list[bool] = reached) -> None:
            reached.append(True)
            raise FullError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        watch_for(line, full)
        with suppress(FullError):
            write_whole(place, NEW)
        sys.settrace(None)
        if not reached:
            break
        assert place.read_bytes() in (OLD, NEW)
    assert line > 30
    write_whole(place, NEW)
    assert [path.name for path in tmp_path.iterdir()] == ["list.csv"]


def test_a_link_at_the_place_is_replaced_and_not_followed(tmp_path: Path) -> None:
    (tmp_path / "precious").write_bytes(OLD)
    (tmp_path / "list.csv").symlink_to("precious")
    write_whole(tmp_path / "list.csv", NEW)
    assert (tmp_path / "precious").read_bytes() == OLD
    assert not (tmp_path / "list.csv").is_symlink()


def test_links_under_every_name_that_could_be_guessed(write_guide: Write, putback: Putback) -> None:
    """A name with the number of the process can be laid out beforehand, for all numbers."""
    pump = write_guide({"pump/translations/x.txt": "x"})
    precious = pump.parent / "precious"
    precious.write_bytes(OLD)
    for folder, name in ((pump / "translations", "de.po"), (pump.parent, "list.csv")):
        for scratch in (f".{name}.{os.getpid()}", f".{name}", f"{name}.part", f".{name}.new"):
            (folder / scratch).symlink_to(precious)
    assert putback("translate", "pump", "--to", "de").code == 0
    assert putback("supplies", "pump", "--format", "csv", "--out", "list.csv").code == 0
    assert precious.read_bytes() == OLD
    assert (pump / "translations" / "de.po").is_file()


@pytest.mark.parametrize("command", [("translate", "pump", "--to", "de"), ("supplies", "pump", "--format", "csv")])
def test_a_full_disk_leaves_the_old_file_and_nothing_else(
    command: tuple[str, ...], write_guide: Write, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    pump = write_guide({"pump/translations/de.po": None})
    out = ("--out", "list.csv") if command[0] == "supplies" else ()
    assert putback(*command, *out).code == 0
    place = pump.parent / "list.csv" if out else pump / "translations" / "de.po"
    before, there = place.read_bytes(), sorted(place.parent.iterdir())
    (pump / "machine.yaml").write_text(
        (pump / "machine.yaml").read_text(encoding="utf-8").replace("lid: {}", "lid: {name: cover, number: C-1}"),
        "utf-8",
    )

    def full(path: Path, data: bytes) -> int:
        with path.open("wb") as file:
            file.write(data[:7])
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "write_bytes", full)
    answer = putback(*command, *out)
    assert answer.code == 2
    assert "cannot be written: no space left on device" in answer.err
    assert place.read_bytes() == before
    assert sorted(place.parent.iterdir()) == there


def test_a_pipe_in_the_place_of_the_list_is_not_opened(write_guide: Write, putback: Putback) -> None:
    pump = write_guide({})
    os.mkfifo(pump.parent / "list.csv")
    answer = putback("supplies", "pump", "--format", "csv", "--out", "list.csv")
    assert answer.code == 2
    assert "'list.csv' is there and is no list of supplies; name another file" in answer.err


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
