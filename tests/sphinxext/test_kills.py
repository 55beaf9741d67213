"""A manual is whole, old or new: through kills, two builds at once, full disks and read-only ones; checked by hash.

PUTBACK_KILLS=200 pytest tests/sphinxext/test_kills.py -k killed -s
"""

from __future__ import annotations

import os
import random
import re
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from putback.placing.digest import digest
from putback.placing.scratch import NAME
from tests.sphinxext.projects import GUIDE, write

KILLS = int(os.environ.get("PUTBACK_KILLS", "12"))
SEED = int(os.environ.get("PUTBACK_KILLS_SEED", "9"))
PROGRAM = "from putback.cli import main; main()"

pytestmark = pytest.mark.skipif(os.name != "posix", reason="kills and modes of files as POSIX has them")


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with edition 1 of a guide in `pump`, and its manual."""
    folder = tmp_path_factory.mktemp("first")
    write(folder / "pump", GUIDE)
    turn(folder, 1)
    assert run(folder).returncode == 0
    return folder


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """Return a folder with a guide in `pump`."""
    write(tmp_path / "pump", GUIDE)
    return tmp_path


@pytest.fixture
def printed(first: Path, root: Path) -> Path:
    """Return the folder of the manual of edition 1; the guide in `root` is edition 2."""
    shutil.copytree(first / "build", root / "build")
    turn(root, 2)
    return root / "build" / "pump"


def turn(root: Path, number: int) -> None:
    """Make another edition of the guide."""
    (root / "pump" / "guide.yaml").write_text(f"title: Test pump {number}\n", encoding="utf-8")


def start(root: Path, *args: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", PROGRAM, "build", "pump", *args]
    return subprocess.Popen(command, cwd=root, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def run(root: Path, *args: str, first: str = "") -> subprocess.CompletedProcess[str]:
    """Build, after the program `first`."""
    command = [sys.executable, "-c", f"{first}\n{PROGRAM}", "build", "pump", *args]
    done = subprocess.run(command, cwd=root, capture_output=True, text=True, check=False)
    assert "Traceback" not in done.stdout + done.stderr
    return done


def edition(out: Path) -> tuple[int, int]:
    """Return which edition the HTML and the PDF are, -1 when not there."""
    page, pdf = out / "html" / "index.html", out / "pump-a4.pdf"
    return (
        int(re.findall(r"Test pump (\d+)", page.read_text(encoding="utf-8"))[0]) if page.exists() else -1,
        int(re.findall(rb"<rdf:li[^>]*>Test pump (\d+)", pdf.read_bytes())[0]) if pdf.exists() else -1,
    )


def scratches(out: Path) -> list[str]:
    return [path.name for path in out.iterdir() if NAME.fullmatch(path.name)] if out.exists() else []


def names(out: Path) -> list[str]:
    return sorted(path.name for path in out.iterdir())


def hashes(out: Path) -> tuple[str, str]:
    return digest(out / "html"), digest(out / "pump-a4.pdf")


def test_killed_at_any_moment(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PUTBACK_CACHE", str(root / "kept"))  # so that what stands is not made again
    out = root / "build" / "pump"
    chance = random.Random(SEED)
    turn(root, 0)
    began = time.monotonic()
    assert run(root).returncode == 0
    lasts = time.monotonic() - began
    known = {0: hashes(out)}
    ends: Counter[str] = Counter()
    for number in range(1, KILLS + 1):
        before = edition(out)[0]
        turn(root, number)
        began = time.monotonic()
        build = start(root)
        try:
            build.wait(chance.uniform(0.05, 1.05) * lasts)
            # How long a build lasts changes with what else the machine does: the kills are to come before its end.
            lasts = time.monotonic() - began
            ends["not killed"] += 1
        except subprocess.TimeoutExpired:
            build.send_signal(signal.SIGKILL)
            lasts *= 1.05
        build.communicate()
        page, pdf = edition(out)
        left = scratches(out)
        assert len(left) <= 1, "the next build clears away what the last one left"
        if page != pdf:
            # Killed between one system call and the next; the journal is there, and the next build goes by it.
            assert (out / left[0] / "switch.json").exists()
            ends["between two renames"] += 1
            assert run(root, "--to", "html", "--paper", "letter").returncode == 0
            continue
        ends[f"{'new' if page == number else 'old'}, {'leftovers' if left else 'nothing left'}"] += 1
        assert page in (before, number)
        assert known.setdefault(page, hashes(out)) == hashes(out)
    assert run(root).returncode == 0
    assert edition(out) == (KILLS, KILLS)
    assert names(out) == ["html", "pump-a4.pdf"]
    known[KILLS] = hashes(out)
    # Each that ever was in place is, to the byte, what a build gives that nobody kills.
    for number, kept in list(known.items())[-3 if KILLS < 100 else 0 :]:
        turn(root, number)
        assert run(root, "--out", "whole").returncode == 0
        assert hashes(root / "whole") == kept
    print(f"\n{KILLS} kills, seed {SEED}, a build of {lasts:.1f} s:", dict(ends))


def test_two_builds_at_once(root: Path) -> None:
    """The second waits for the first; what is there in the end is of one of them."""
    turn(root, 1)
    builds = [start(root) for _ in range(2)]
    said = [build.communicate() for build in builds]
    assert [build.returncode for build in builds] == [0, 0], said
    assert not any("Traceback" in err for _, err in said)
    assert sum("another build is running in 'build/pump'; waiting for it" in err for _, err in said) >= 1
    out = root / "build" / "pump"
    assert names(out) == ["html", "pump-a4.pdf"]
    together = hashes(out)
    assert run(root, "--out", "alone").returncode == 0
    assert hashes(root / "alone") == together


# disks


def limited(size: int) -> str:
    """Let no file become larger than `size` bytes."""
    return f"import resource; resource.setrlimit(resource.RLIMIT_FSIZE, ({size}, {size}))"


@pytest.mark.parametrize("size", [0, 500, 5_000, 30_000, 100_000])
def test_a_disk_that_takes_no_more(root: Path, printed: Path, size: int) -> None:
    """Files can be begun and not finished, as on a full disk; this needs no rights."""
    before = hashes(printed)
    done = run(root, first=limited(size))
    assert (done.returncode, done.stdout) == (2, "")
    assert re.search(r"file too large|could not be written|could not be made", done.stderr, re.IGNORECASE), done.stderr
    assert hashes(printed) == before
    assert names(printed) == ["html", "pump-a4.pdf"]


def test_a_disk_that_takes_no_more_at_the_first_build(root: Path) -> None:
    assert run(root, first=limited(5_000)).returncode == 2
    assert not (root / "build").exists()


def in_a_room_of_its_own(script: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run a shell script where it may mount disks that nobody else sees; skip where the system does not let us."""
    unshare = shutil.which("unshare")
    if unshare is None:
        pytest.skip("this system has no mount namespaces")
    user = [] if os.geteuid() == 0 else ["--user", "--map-root-user"]
    probe = f"mount -t tmpfs -o size=64k tmpfs '{folder}'"
    room = [unshare, *user, "--mount", "sh", "-euc"]
    if subprocess.run([*room, probe], capture_output=True, check=False).returncode != 0:
        pytest.skip("this system lets us mount no disk of our own")
    environment = {**os.environ, "PYTHON": sys.executable}
    return subprocess.run(
        [*room, script], cwd=folder.parent, env=environment, capture_output=True, text=True, check=False
    )


FULL = """
mount -t tmpfs -o size=32m tmpfs disk
build() { "$PYTHON" -c 'from putback.cli import main; main()' build pump --out disk/out; }
cp -r build/pump disk/out
cp -r disk/out before
used=$(df -k --output=used disk | tail -n 1)
for room in 0 40 400 800 1600 20000; do
    mount -o remount,size=$((used + room))k disk
    sed -i "s/title:.*/title: Test pump $room/" pump/guide.yaml
    if build > made 2> said; then
        rm -rf before
        cp -r disk/out before
        used=$(df -k --output=used disk | tail -n 1)
        echo "$room made"
    else
        echo "$room $? $(tail -n 1 said)"
        diff -r before disk/out
    fi
    test "$(ls -A disk/out)" = "$(printf 'html\\npump-a4.pdf')"
done
"""


def test_a_full_disk(root: Path, printed: Path) -> None:
    (root / "disk").mkdir()
    done = in_a_room_of_its_own(FULL, root / "disk")
    assert done.returncode == 0, done.stdout + done.stderr
    told = dict(line.split(" ", 1) for line in done.stdout.splitlines())
    assert told.pop("20000") == "made"
    told = {room: said for room, said in told.items() if said != "made"}
    assert len(told) >= 3
    for said in told.values():
        assert re.match(r"2 .*no space left on device", said, re.IGNORECASE), told
    assert names(printed) == ["html", "pump-a4.pdf"]


READ_ONLY = """
mount -t tmpfs tmpfs disk
build() { "$PYTHON" -c 'from putback.cli import main; main()' build pump --out "$1"; }
cp -r build/pump disk/out
mount -o remount,ro disk
for out in disk/out disk/new; do build $out 2>&1 && exit 1; done
ls disk disk/out
"""


def test_a_read_only_disk(root: Path, printed: Path) -> None:
    (root / "disk").mkdir()
    done = in_a_room_of_its_own(READ_ONLY, root / "disk")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "Traceback" not in done.stdout
    assert "'disk/out' cannot be written: the disk is read-only; name another folder with --out" in done.stdout
    assert "'disk' cannot be written: the disk is read-only; name another folder with --out" in done.stdout
    assert done.stdout.endswith("disk:\nout\n\ndisk/out:\nhtml\npump-a4.pdf\n")


LAYERED = """
mount -t tmpfs tmpfs disk
mkdir disk/lower disk/upper disk/work disk/whole
mv build disk/lower
mount -t overlay overlay -o lowerdir=disk/lower,upperdir=disk/upper,workdir=disk/work disk/whole || exit 9
build() { "$PYTHON" -c 'from putback.cli import main; main()' build pump --out disk/whole/build/pump; }
build 2>&1 && exit 1
ls -A disk/whole/build/pump
rm -r disk/whole/build/pump/html
build 2>&1
"""


def test_a_layered_disk_as_in_a_container(root: Path, printed: Path) -> None:
    """A folder of a lower layer cannot be renamed there."""
    (root / "disk").mkdir()
    done = in_a_room_of_its_own(LAYERED, root / "disk")
    if done.returncode == 9:
        pytest.skip("this system lets us lay no disk over another")
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout.splitlines() == [
        "Error: this disk cannot rename what is in 'disk/whole/build/pump/html'; remove the old manual there, "
        "and build again",
        "html",
        "pump-a4.pdf",
        "made disk/whole/build/pump/html/index.html",
        "made disk/whole/build/pump/pump-a4.pdf",
    ]


WITHOUT_PRIVILEGES = """
import ctypes, os
if os.geteuid() == 0:
    head, rights = (ctypes.c_uint32 * 2)(0x20080522, 0), (ctypes.c_uint32 * 6)()
    assert ctypes.CDLL(None).capset(head, rights) == 0
"""
"""Lets the modes of files count for root as well (Linux)."""


@pytest.fixture
def shut(root: Path) -> Iterator[Path]:
    """Return a folder that nobody may write to."""
    folder = root / "shut"
    folder.mkdir()
    folder.chmod(0o555)
    yield folder
    folder.chmod(0o755)


@pytest.mark.skipif(os.name == "posix" and os.geteuid() == 0 and not sys.platform.startswith("linux"), reason="as root")
@pytest.mark.parametrize("out", ["shut", "shut/new"])
def test_a_folder_that_may_not_be_written_to(root: Path, shut: Path, out: str) -> None:
    done = run(root, "--out", out, first=WITHOUT_PRIVILEGES)
    assert (done.returncode, done.stdout) == (2, "")
    assert "'shut' cannot be written: permission denied; name another folder with --out" in done.stderr
    assert names(shut) == []


@pytest.mark.skipif(os.name == "posix" and os.geteuid() == 0 and not sys.platform.startswith("linux"), reason="as root")
def test_a_manual_in_a_folder_that_was_shut_meanwhile(root: Path, printed: Path) -> None:
    before = hashes(printed)
    printed.chmod(0o555)
    try:
        done = run(root, first=WITHOUT_PRIVILEGES)
    finally:
        printed.chmod(0o755)
    assert (done.returncode, done.stdout) == (2, "")
    assert "'build/pump' cannot be written: permission denied" in done.stderr
    assert hashes(printed) == before
    assert names(printed) == ["html", "pump-a4.pdf"]


@pytest.mark.parametrize("stop", [signal.SIGINT, signal.SIGTERM])
def test_a_build_that_is_stopped_leaves_the_old_manual(root: Path, printed: Path, stop: signal.Signals) -> None:
    before = hashes(printed)
    build = start(root)
    while not any((printed / name / "new").exists() for name in scratches(printed)) and build.poll() is None:
        time.sleep(0.01)
    build.send_signal(stop)
    _, err = build.communicate()
    assert build.returncode != 0
    assert "Traceback" not in err
    assert hashes(printed) == before
    if stop == signal.SIGINT:
        assert names(printed) == ["html", "pump-a4.pdf"]
