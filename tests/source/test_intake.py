"""Whatever lies at a path, there are its bytes or a reason, at once."""

from __future__ import annotations

import os
import socket
from pathlib import Path

import pytest

from putback.source.intake import LARGEST, Disk, Memory, NotReadError, list_names, take
from putback.source.load import load
from putback.source.plainly import printable


def refused(path: Path, largest: int = LARGEST) -> str:
    with pytest.raises(NotReadError) as caught:
        take(path, largest)
    return str(caught.value)


def test_the_bytes_of_a_file_also_through_links(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"abc" * 1_000_000)
    (tmp_path / "b").symlink_to("a")
    (tmp_path / "c").symlink_to("b")
    assert take(tmp_path / "c") == b"abc" * 1_000_000


def test_what_is_no_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "linked").symlink_to("pipe")
    (tmp_path / "folder").mkdir()
    (tmp_path / "lost").symlink_to("nowhere")
    (tmp_path / "round").symlink_to("round")
    (tmp_path / "endless").symlink_to("/dev/zero")
    with socket.socket(socket.AF_UNIX) as other:
        # The path of a socket must be short.
        monkeypatch.chdir(tmp_path)
        other.bind("socket")
        assert refused(tmp_path / "socket") == "it is a socket"
    assert refused(tmp_path / "pipe") == "it is a named pipe"
    assert refused(tmp_path / "linked") == "it is a named pipe"
    assert refused(tmp_path / "folder") == "it is a folder"
    assert refused(tmp_path / "lost") == "it is a link to 'nowhere', which does not exist"
    assert refused(tmp_path / "round") == "it is a link that leads back to itself"
    assert refused(tmp_path / "endless") == "it is a device"
    assert refused(tmp_path / "none") == "no such file or directory"
    assert refused(tmp_path / "folder" / "none" / "at-all") == "no such file or directory"
    assert refused(tmp_path / ("x" * 300)) == "file name too long"
    assert "null" in refused(Path("a\0b"))


def test_a_file_that_is_too_large(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"x" * 1000)
    assert len(take(path, 1000)) == 1000
    assert refused(path, 999) == "it has 1,000 bytes; at most 999 can be read"
    with pytest.raises(NotReadError, match="it has 1,000 bytes; at most 999 can be read"):
        Memory({path: "x" * 1000}).read(path, 999)
    path.write_bytes(b"")
    os.truncate(path, 1 << 40)  # a file with holes, that takes no room
    assert refused(path) == f"it has 1,099,511,627,776 bytes; at most {LARGEST:,} can be read"


def test_a_file_that_does_not_say_how_large_it_is(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"x")
    monkeypatch.setattr(os, "read", lambda handle, size: b"x" * size)
    assert refused(path, 5_000_000) == "it has more than 5,000,000 bytes, more than can be read"


def test_a_pipe_that_takes_the_place_of_a_file_is_not_waited_for(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"x")
    look = os.stat

    def look_and_change(where: Path) -> os.stat_result:
        facts = look(where)
        path.unlink()
        os.mkfifo(path)
        return facts

    monkeypatch.setattr(os, "stat", look_and_change)
    assert refused(path) == "it is a named pipe"


def test_what_the_system_refuses(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def refuse(*args: object) -> int:
        raise PermissionError(13, "Permission denied")

    (tmp_path / "a").write_bytes(b"x")
    monkeypatch.setattr(os, "open", refuse)
    assert refused(tmp_path / "a") == "permission denied"


def test_names_in_a_folder(tmp_path: Path) -> None:
    (tmp_path / "b").write_bytes(b"")
    (tmp_path / "a").mkdir()
    (tmp_path / "lost").symlink_to("nowhere")
    os.mkfifo(tmp_path / "pipe")
    assert list_names(tmp_path) == ["a", "b", "lost", "pipe"]
    for name, reason in [
        ("b", "it is a file"),
        ("pipe", "it is a named pipe"),
        ("lost", "it is a link to 'nowhere', which does not exist"),
        ("none", "no such file or directory"),
    ]:
        with pytest.raises(NotReadError) as caught:
            list_names(tmp_path / name)
        assert str(caught.value) == reason


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("pump.yaml", "pump.yaml"),
        ("Kühlwasser · 20 µm", "Kühlwasser · 20 µm"),
        (os.fsdecode(b"p\xffmp.yaml"), "p\\xffmp.yaml"),
        ("a\x1b[31mb\n", "a\\x1b[31mb\\x0a"),
        ("120\u202e", "120\\u202e"),
    ],
)
def test_a_name_can_be_shown_anywhere(name: str, shown: str) -> None:
    assert printable(name) == shown
    shown.encode()


def test_files_in_memory() -> None:
    pump = Path("/guides/pump")
    store = Memory({pump / "machine.yaml": "machine: Ü\n", pump / "jobs" / "a.yaml": b"\xff"})
    assert store.names(pump) == ["jobs", "machine.yaml"]
    assert store.names(pump / "jobs") == ["a.yaml"]
    assert store.names(Path("/")) == ["guides"]
    assert store.read(pump / "machine.yaml") == "machine: Ü\n".encode()
    assert store.read(pump / "jobs" / "a.yaml") == b"\xff"
    assert [store.is_folder(pump), store.is_there(pump), store.is_file(pump)] == [True, True, False]
    machine = pump / "machine.yaml"
    assert [store.is_folder(machine), store.is_there(machine), store.is_file(machine)] == [False, True, True]
    assert not store.is_there(pump / "guide.yaml")
    for path, reason in [(pump, "it is a folder"), (pump / "x", "no such file or directory")]:
        with pytest.raises(NotReadError, match=reason):
            store.read(path)
    for path, reason in [(pump / "machine.yaml", "it is a file"), (pump / "x", "no such file or directory")]:
        with pytest.raises(NotReadError, match=reason):
            store.names(path)


def test_unsaved_texts_stand_in_for_files(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("old", encoding="utf-8")
    store = Disk({tmp_path / "a": "new", tmp_path / "jobs" / "b": "b"})
    assert store.names(tmp_path) == ["a", "jobs"]
    assert (store.read(tmp_path / "a"), store.read(tmp_path / "jobs" / "b")) == (b"new", b"b")
    assert [store.is_file(tmp_path / "a"), store.is_folder(tmp_path / "jobs")] == [True, True]
    assert store.is_there(tmp_path / "jobs")
    assert store.names(tmp_path / "jobs") == ["b"]


def test_a_yaml_file_is_read_in_this_way(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "job.yaml")
    loaded = load(tmp_path / "job.yaml", "job.yaml")
    assert loaded.unreadable
    assert [(fault.check, fault.message) for fault in loaded.faults] == [
        ("unread-file", "the file cannot be read: it is a named pipe")
    ]
