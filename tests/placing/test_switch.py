"""All that is made takes its place, or nothing does: whenever the switch is killed, fails, or finds somebody else's."""

from __future__ import annotations

import errno
import json
import os
import shutil
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from putback.placing import rename
from putback.placing import switch as switching
from putback.placing.digest import digest
from putback.placing.scratch import open_scratch
from putback.placing.switch import JOURNAL, NEW, OLD, KeptError, finish, is_open, switch
from tests.placing.killing import NAMES, ages, all_may_go, begun, clear, made

ROOT = Path(__file__).parents[2]

posix = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")


def counted(how: str, folder: Path, exchange: bool) -> dict[str, dict[str, object]]:
    env = {**os.environ, "PUTBACK_NO_EXCHANGE": "" if exchange else "1"}
    command = [sys.executable, "-m", "tests.placing.killing", how, str(folder)]
    done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, check=False)
    assert done.returncode == 0, done.stderr.decode()
    told: dict[str, dict[str, object]] = json.loads(done.stdout)
    return told


@posix
@pytest.mark.parametrize("exchange", [True, False], ids=["exchange", "renames"])
def test_killed_at_any_line(tmp_path: Path, exchange: bool) -> None:
    told = counted("kill", tmp_path / "out", exchange)
    assert len(told) == 3
    for old, counts in told.items():
        assert counts["strange"] == 0, "something was left behind"
        # Killed clearing up as well; and then all were old or all new.
        assert isinstance(after := counts["after"], dict)
        assert set(after) == {old, "new-new"}
        # Only between one rename and the next is it neither, until the next build finishes it.
        assert isinstance(mixed := counts["mixed"], int)
        assert isinstance(lines := counts["lines"], int)
        assert 0 < mixed < lines / 6


@posix
@pytest.mark.parametrize("exchange", [True, False], ids=["exchange", "renames"])
def test_a_fault_at_any_line(tmp_path: Path, exchange: bool) -> None:
    for old, counts in counted("fail", tmp_path / "out", exchange).items():
        assert (counts["mixed"], counts["strange"]) == (0, 0)
        assert isinstance(after := counts["after"], dict)
        assert set(after) <= {old, "new-new"}
        assert after[old] > 100


@pytest.fixture(params=[True, False], ids=["exchange", "renames"])
def out(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder for things, on a system with and without an exchange of names."""
    if not request.param:
        monkeypatch.setattr(rename, "system_rename", lambda: None)
    # To the disk itself it would take long, and shows nothing here.
    monkeypatch.setattr(os, "fsync", lambda handle: None)
    return tmp_path / "out"


def test_linux_has_the_exchange() -> None:
    assert (rename.system_rename() is not None) == sys.platform.startswith("linux")


def test_new_things_are_in_place_and_the_old_ones_in_the_scratch_folder(out: Path) -> None:
    scratch = begun(out, NAMES)
    switch(scratch, NAMES, out, all_may_go)
    assert ages(out) == ("new", "new")
    assert not (out / "html" / "jobs" / "old.html").exists()
    assert not is_open(scratch)
    clear(out)
    assert sorted(path.name for path in out.iterdir()) == ["book.pdf", "html"]


@pytest.mark.parametrize("nth", [1, 2, 3, 4])
@pytest.mark.parametrize("call", ["put", "exchange"])
def test_a_rename_that_fails_is_taken_back_at_once(
    out: Path, nth: int, call: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    scratch = begun(out, NAMES)
    real, calls = getattr(rename, call), []

    def broken(one: Path, other: Path) -> object:
        calls.append(one)
        if len(calls) == nth:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        return real(one, other)

    monkeypatch.setattr(rename, call, broken)
    failed = False
    try:
        switch(scratch, NAMES, out, all_may_go)
    except OSError:
        failed = True
    assert failed == (len(calls) >= nth)
    assert ages(out) == (("old", "old") if failed else ("new", "new"))
    assert not is_open(scratch)


def test_a_way_back_that_fails_leaves_all_for_the_next_time(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    scratch = begun(out, NAMES)
    real, calls = rename.put, []

    def broken(one: Path, other: Path) -> None:
        calls.append(one)
        if len(calls) > 1:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        real(one, other)

    with monkeypatch.context() as patch:
        patch.setattr(rename, "exchange", lambda one, other: False)
        patch.setattr(rename, "put", broken)
        with pytest.raises(OSError, match=os.strerror(errno.EIO)):
            switch(scratch, NAMES, out, all_may_go)
    assert ages(out) == ("none", "old")
    assert is_open(scratch)
    clear(out)
    assert ages(out) == ("new", "new")


def test_what_is_kept_stays_and_so_does_all_else(out: Path) -> None:
    scratch = begun(out, NAMES)
    with pytest.raises(KeptError, match="it is hers"):
        switch(scratch, NAMES, out, lambda path: "it is hers" if path == out / "book.pdf" else None)
    assert ages(out) == ("old", "old")
    assert not is_open(scratch)


def test_what_came_in_the_last_moment_is_given_back(out: Path) -> None:
    scratch = begun(out, NAMES)
    seen: list[Path] = []

    def keep(path: Path) -> str | None:
        seen.append(path)
        if path.parent.parent != scratch:
            # Found good; and then she saves her notes there.
            (out / "html" / "notes.txt").write_text("mine", encoding="utf-8")
            return None
        return "there are notes" if (path / "notes.txt").exists() else None

    with pytest.raises(KeptError, match="there are notes"):
        switch(scratch, NAMES, out, keep)
    assert ages(out) == ("old", "old")
    assert (out / "html" / "notes.txt").read_text(encoding="utf-8") == "mine"


def interrupted(out: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the scratch folder of a switch that was killed after the HTML."""
    scratch = begun(out, NAMES)
    with monkeypatch.context() as patch:
        patch.setattr(switching, "_back", lambda *rest: None)
        patch.setattr(switching, "_check", lambda path, keep: None)
        real = rename.put if rename.system_rename() is None else rename.exchange

        def killed(one: Path, other: Path) -> object:
            if "book.pdf" in (one.name, other.name):
                shutil.copyfile(scratch / JOURNAL, out / "copy")
                raise KeyboardInterrupt
            return real(one, other)

        patch.setattr(rename, real.__name__, killed)
        with pytest.raises(KeyboardInterrupt):
            switch(scratch, NAMES, out, all_may_go)
    (out / "copy").rename(scratch / JOURNAL)
    assert ages(out) == ("new", "old")
    return scratch


def test_a_killed_switch_is_finished(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    scratch = interrupted(out, monkeypatch)
    finish(scratch, out, all_may_go)
    assert ages(out) == ("new", "new")
    assert not is_open(scratch)


def test_a_killed_switch_is_taken_back_where_somebody_came_between(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    scratch = interrupted(out, monkeypatch)
    (out / "book.pdf").write_text("mine now", encoding="utf-8")
    finish(scratch, out, lambda path: "hers" if path == out / "book.pdf" else None)
    assert ages(out) == ("old", "mine")


def test_what_somebody_changed_after_the_kill_stays(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    scratch = interrupted(out, monkeypatch)
    (out / "html" / "index.html").write_text("mine page", encoding="utf-8")
    finish(scratch, out, lambda path: "hers" if path == out / "html" else None)
    assert ages(out) == ("mine", "new")


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "3", '[["../x", "0"]]', '[["", "0"], ["..", "1"], ["a/b", "1"]]', "[" * 100_000, "ü"]
)
def test_a_journal_that_is_none_moves_nothing(tmp_path: Path, text: str) -> None:
    made(tmp_path, "old")
    scratch = open_scratch(tmp_path)
    (scratch / NEW / "x").mkdir(parents=True)
    (scratch / OLD).mkdir()
    (scratch / JOURNAL).write_text(text, encoding="utf-8")
    before = digest(tmp_path / "html"), digest(tmp_path / "book.pdf")
    clear(tmp_path)
    assert (digest(tmp_path / "html"), digest(tmp_path / "book.pdf")) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["book.pdf", "html"]


@pytest.mark.parametrize("name", ["../escaped", "../../out/../escaped", "/escaped", "..", "."])
def test_a_journal_moves_nothing_out_of_the_folder(tmp_path: Path, name: str) -> None:
    out = tmp_path / "deep" / "out"
    out.mkdir(parents=True)
    scratch = open_scratch(out)
    (scratch / NEW).mkdir()
    (scratch / OLD).mkdir()
    (scratch / "escaped").write_text("x", encoding="utf-8")
    journal = [[name, digest(scratch / NEW / name)]] if os.path.lexists(scratch / NEW / name) else [[name, "0"]]
    (scratch / JOURNAL).write_text(json.dumps(journal), encoding="ascii")
    finish(scratch, out, all_may_go)
    assert sorted(path.name for path in (tmp_path / "deep").iterdir()) == ["out"]
    assert (scratch / "escaped").exists()


@posix
@pytest.mark.parametrize("threads", [0, 1])
def test_a_signal_waits_for_the_end(out: Path, monkeypatch: pytest.MonkeyPatch, threads: int) -> None:
    scratch = begun(out, NAMES)
    answer = signal.getsignal(signal.SIGTERM)
    done = threading.Event()
    others = [threading.Thread(target=done.wait) for _ in range(threads)]
    for other in others:
        other.start()
    real = rename.put

    def stopped(one: Path, other: Path) -> None:
        os.kill(os.getpid(), signal.SIGINT)
        real(one, other)

    monkeypatch.setattr(rename, "exchange", lambda one, other: False)
    monkeypatch.setattr(rename, "put", stopped)
    try:
        with pytest.raises(KeyboardInterrupt):
            switch(scratch, NAMES, out, all_may_go)
    finally:
        done.set()
    assert ages(out) == ("new", "new")
    assert not is_open(scratch)
    assert signal.getsignal(signal.SIGTERM) is answer


def test_a_switch_in_another_thread(out: Path) -> None:
    scratch = begun(out, NAMES)
    other = threading.Thread(target=switch, args=(scratch, NAMES, out, all_may_go))
    other.start()
    other.join()
    assert ages(out) == ("new", "new")


def test_nothing_is_written_over(out: Path) -> None:
    made(out, "old", ("book.pdf",))
    (out / "other").write_text("x", encoding="utf-8")
    (out / "folder").mkdir()
    for place in ("book.pdf", "folder"):
        with pytest.raises(FileExistsError):
            rename.put(out / "other", out / place)
    assert (out / "other").exists()


def test_an_exchange_of_what_is_not_there_fails(tmp_path: Path) -> None:
    if rename.system_rename() is None:
        pytest.skip("this system has no exchange of names")
    with pytest.raises(FileNotFoundError):
        rename.exchange(tmp_path / "a", tmp_path / "b")


def test_a_file_system_without_exchange_is_told_by_its_answer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import ctypes

    def refused(*rest: object) -> int:
        ctypes.set_errno(errno.EINVAL)
        return -1

    monkeypatch.setattr(rename, "system_rename", lambda: refused)
    assert not rename.exchange(tmp_path / "a", tmp_path / "b")
    (tmp_path / "a").write_text("a", encoding="utf-8")
    rename.put(tmp_path / "a", tmp_path / "b")
    assert [path.name for path in tmp_path.iterdir()] == ["b"]


def test_a_digest_is_of_what_is_there(tmp_path: Path) -> None:
    made(tmp_path / "a", "old")
    made(tmp_path / "b", "old")
    assert digest(tmp_path / "a") == digest(tmp_path / "b")
    (tmp_path / "b" / "html" / "link").symlink_to("nowhere")
    one = digest(tmp_path / "b")
    (tmp_path / "b" / "html" / "link").unlink()
    (tmp_path / "b" / "html" / "link").write_text("nowhere", encoding="utf-8")
    assert len({digest(tmp_path / "a"), digest(tmp_path / "b"), one}) == 3
    with pytest.raises(FileNotFoundError):
        digest(tmp_path / "none")
