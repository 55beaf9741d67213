"""Guides checked by several processes: the same bytes as by one, and no process left behind, whatever happens."""

from __future__ import annotations

import multiprocessing
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.lint import processes, run
from putback.lint.cache import Cache, GuideRequest
from putback.lint.guides import lint
from putback.lint.processes import start_method, worth
from putback.lint.report.json import write as as_json
from putback.lint.result import LostHelperError
from tests.conftest import Putback
from tests.lint.keeping import write_guides

SRC = Path(__file__).parents[2] / "src"
PROGRAM = 'import sys\nfrom putback.cli import main\nsys.argv[0] = "putback"\nmain()'
only_with_fork = pytest.mark.skipif(start_method() != "fork", reason="what a test changes comes only into a copy")


@pytest.fixture
def guides(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Six guides with faults, and a seventh that cannot be read, in the current folder."""
    write_guides(tmp_path)
    for number in range(4):
        for name in ("guide.yaml", "machine.yaml", "jobs/look.yaml"):
            text = (tmp_path / "fan" / name).read_text(encoding="utf-8") + "# a line more\n" * number * 100
            path = tmp_path / f"fan-{number}" / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text.replace("inspect: lid", f"remove: lid-{number}"), encoding="utf-8")
    (tmp_path / "fan-0" / "guide.yaml").write_text("title: [", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture(autouse=True)
def nobody_is_left() -> object:
    yield
    assert multiprocessing.active_children() == []


def started(guides: Path, *args: str, before: str = "", cache: str = "") -> subprocess.Popen[str]:
    """Start the command in a group of its own."""
    return subprocess.Popen(
        [sys.executable, "-B", "-c", f"{before}\n{PROGRAM}", "lint", *args], cwd=guides, start_new_session=True,
        env=os.environ | {"PYTHONPATH": str(SRC), "PUTBACK_CACHE": cache},
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip


def somebody_is_left(group: int, seconds: float = 10) -> bool:
    """Tell whether some process of a group still runs when that time is over."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return False
        time.sleep(0.05)
    return True


@pytest.mark.parametrize("many", [2, 3, 50])
def test_the_same_bytes_by_any_number(many: int, guides: Path, tmp_path: Path) -> None:
    del guides
    alone = lint([Path()])
    assert lint([Path()], processes=many) == alone
    cache = tmp_path / "kept"
    assert as_json(lint([Path()], processes=many, cache=Cache(cache))) == as_json(alone)
    assert len([*cache.iterdir()]) == 6
    assert as_json(lint([Path()], processes=many, cache=Cache(cache))) == as_json(alone)


def test_processes_that_are_new_and_no_copies(guides: Path) -> None:
    before = "import putback.lint.processes as p\np.start_method = lambda: 'spawn'"
    with started(guides, "--processes", "2", "--format", "json", before=before) as running:
        out, err = running.communicate()
    assert (out, err) == (as_json(lint([Path()])) + "\n", "")
    assert running.returncode == 2, "one file cannot be read"


def test_small_runs_do_not_pay_for_a_second_process(guides: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(processes, "cores", lambda: 4)
    monkeypatch.setattr(processes, "start_method", lambda: "fork")
    small = [GuideRequest(path.parent) for path in sorted(guides.glob("*/machine.yaml"))]
    assert worth(small) == 1
    for each in small:
        (each.folder / "jobs").mkdir(exist_ok=True)
        (each.folder / "jobs" / "long.yaml").write_bytes(b"# a line\n" * 8000)
    assert worth(small) == 4
    assert worth(small[:3]) == 3
    assert worth(small[:2]) == 1, "the longer one takes as long as both are worth"
    monkeypatch.setattr(processes, "start_method", lambda: "spawn")
    assert worth(small) == 1
    monkeypatch.setattr(processes, "cores", lambda: 100)
    assert worth(small * 50) == 8
    monkeypatch.setattr(processes, "cores", lambda: 1)
    assert worth(small * 50) == 1


@only_with_fork
def test_a_fault_in_a_helper_is_told_as_in_one_process(
    guides: Path, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    del guides
    read = read_guide

    def fall(folder: Path, **more: object) -> object:
        if folder.name in ("fan-1", "fan-2"):
            raise KeyError(folder.name)
        return read(folder, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(run, "read_guide", fall)
    alone = putback("lint", "--processes", "1")
    assert alone.code == 2
    assert "Error: KeyError: 'fan-1', while reading fan-1\nThis is a fault in Putback" in alone.err
    several = putback("lint", "--processes", "2")
    assert several.err.replace("processes 2", "processes 1") == alone.err
    assert (several.code, several.out) == (alone.code, alone.out)


@only_with_fork
def test_what_only_a_helper_cannot_do_is_done_here(guides: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    del guides
    alone, read, here = lint([Path()]), read_guide, os.getpid()

    def fall(folder: Path, **more: object) -> object:
        if os.getpid() != here and folder.name != "fan":
            raise MemoryError
        return read(folder, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(run, "read_guide", fall)
    assert lint([Path()], processes=2) == alone


@only_with_fork
@pytest.mark.parametrize("how", ["kill", "leave"])
def test_a_helper_that_is_gone_is_told_with_its_guide(
    how: str, guides: Path, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    read, here = read_guide, os.getpid()

    def fall(folder: Path, **more: object) -> object:
        if os.getpid() != here and folder.name == "fan-2":
            if how == "leave":
                os._exit(3)
            os.kill(os.getpid(), signal.SIGKILL)
        return read(folder, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(run, "read_guide", fall)
    answer = putback("lint", "--processes", "2")
    why = {
        "kill": "was killed by signal 9; perhaps there is not enough memory: try --processes 1",
        "leave": "ended with code 3",
    }
    assert (answer.code, answer.out) == (2, "")
    assert answer.err == f"Error: the process that checked {guides / 'fan-2'} {why[how]}\n"
    with pytest.raises(LostHelperError):
        lint([Path()], processes=2)


SLOW = """
import time
import putback.lint.run as lint
read = lint.read_guide
def slow(*args, **more):
    print("here", flush=True)
    if args[0].name == "fan-3":
        time.sleep(60)
    return read(*args, **more)
lint.read_guide = slow
"""


@only_with_fork
def test_an_interruption_leaves_nobody_behind_and_keeps_what_is_done(guides: Path, tmp_path: Path) -> None:
    kept = tmp_path / "kept"
    with started(guides, "--processes", "2", before=SLOW, cache=str(kept)) as running:
        assert running.stdout is not None
        for _ in range(6):
            assert running.stdout.readline() == "here\n"
        # Who is at the sixth guide has handed in the four before it, the last one just now; the other one sleeps.
        os.killpg(running.pid, signal.SIGINT)
        _, err = running.communicate()
    assert (running.returncode, err.strip()) == (130, "")
    assert not somebody_is_left(running.pid)
    assert len([*kept.iterdir()]) in (3, 4, 5)


@only_with_fork
def test_helpers_end_when_the_first_process_is_killed(guides: Path) -> None:
    before = SLOW.replace("sleep(60)", "sleep(3)")
    with started(guides, "--processes", "3", before=before) as running:
        assert running.stdout is not None
        assert running.stdout.readline() == "here\n"
        running.kill()
    assert not somebody_is_left(running.pid, 20)


def test_numbers_that_make_no_sense(guides: Path, putback: Putback) -> None:
    del guides
    for number in ("0", "-1", "257", "many"):
        answer = putback("lint", "--processes", number)
        assert answer.code == 2
        assert "--processes" in answer.err
