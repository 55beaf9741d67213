"""One guide gives the same bytes, HTML and PDF: on any day, in any folder, locale and time zone, on any cores."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.pictures.samples import png, svg
from tests.sphinxext.projects import GUIDE

CLOCK = """
import datetime, itertools, os, time

start, pace = float(os.environ["CLOCK"]), float(os.environ["PACE"])
ticks = itertools.count()

def now():
    return start + pace * next(ticks)

asked = {name: getattr(time, name) for name in ("gmtime", "localtime", "ctime")}
for name, whole in asked.items():
    setattr(time, name, lambda seconds=None, whole=whole: whole(now() if seconds is None else seconds))
formatted = time.strftime
time.strftime = lambda form, moment=None: formatted(form, time.localtime() if moment is None else moment)
time.time, time.time_ns = now, lambda: int(now() * 1e9)

class Day(datetime.date):
    @classmethod
    def today(cls):
        return cls.fromtimestamp(now())

class Moment(datetime.datetime):
    @classmethod
    def now(cls, tz=None):
        return cls.fromtimestamp(now(), tz)

    @classmethod
    def utcnow(cls):
        return cls.now(datetime.timezone.utc).replace(tzinfo=None)

    today = now

datetime.date, datetime.datetime = Day, Moment
cores = int(os.environ["CORES"])
os.cpu_count = lambda: cores
if hasattr(os, "sched_setaffinity"):
    there = sorted(os.sched_getaffinity(0))
    os.sched_setaffinity(0, there[:cores])
"""
"""Makes the clock of a process say something else: seconds since 1970, and how far each look moves it on."""


class Circumstances(NamedTuple):
    """Under which a manual is made."""

    folder: str
    """Where the guide is."""
    clock: float
    """What the clock says, in seconds since 1970."""
    pace: float
    """Seconds that the clock moves between two looks at it."""
    cores: int
    """How many cores there are."""
    settings: Mapping[str, str]
    """Of the environment."""
    written: int
    """When the files of the guide were written, in seconds since 1970; and in which order, when odd the other way."""


WAYS = {
    "1970": Circumstances("a", 100.0, 1.0, 1, {"TZ": "UTC", "LC_ALL": "C", "PYTHONHASHSEED": "1"}, 0),
    "2100": Circumstances(
        "b b/ü/deep/er",
        4_102_444_800.0,
        1.0,
        64,
        {
            "TZ": "Asia/Tokyo",
            "LC_ALL": "tr_TR.UTF-8",
            "LANG": "tr_TR.UTF-8",
            "PYTHONHASHSEED": "4711",
            "HOME": "/nowhere",
        },
        4_102_444_801,
    ),
    "a clock that goes back": Circumstances(
        "c",
        1_700_000_000.0,
        -3_600.0,
        2,
        {"TZ": "America/St_Johns", "LANG": "de_DE", "PYTHONHASHSEED": "0"},
        1_600_000_001,
    ),
}
"""Each must give what the first one gives."""

PICTURED = "figure: {image: lid.png, alt: The lid.}"


def made(base: Path, way: Circumstances) -> dict[str, str]:
    """Make HTML and PDF; return the hash of each file."""
    root = base / way.folder / "pump"
    files: dict[str, str | bytes] = dict(GUIDE)
    files["guide.yaml"] = "title: Test pump\nedition: '3'\ndate: '2026-05-01'\nauthors: [A. Author]\n"
    files["jobs/seal.yaml"] = GUIDE["jobs/seal.yaml"].replace("note: They are alike.", PICTURED, 1)
    files |= {"images/lid.png": png(40, 30), "images/drawn.svg": svg("<rect width='9' height='9'/>")}
    files["more.md"] = "---\norphan: true\n---\n\n# More\n\n![A square](images/drawn.svg)\n"
    for name in sorted(files, reverse=bool(way.written % 2)):
        (path := root / name).parent.mkdir(parents=True, exist_ok=True)
        content = files[name]
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        os.utime(path, (way.written, way.written))
    left = ("SOURCE_DATE_EPOCH", "LC_ALL", "LANG", "TZ")
    environment = {name: value for name, value in os.environ.items() if name not in left} | {
        **way.settings,
        "CLOCK": str(way.clock),
        "PACE": str(way.pace),
        "CORES": str(way.cores),
    }
    program = f"{CLOCK}\nfrom putback.cli import main; main()"
    command = [sys.executable, "-c", program, "build", "pump", "--out", "made"]
    done = subprocess.run(command, cwd=root.parent, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    out = root.parent / "made"
    found = {path.relative_to(out).as_posix(): path for path in sorted(out.rglob("*")) if path.is_file()}
    return {name: sha256(path.read_bytes()).hexdigest() for name, path in found.items()}


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Return what the first way gives."""
    return made(tmp_path_factory.mktemp("first"), WAYS["1970"])


@pytest.mark.skipif(os.name != "posix", reason="time zones and cores as POSIX has them")
@pytest.mark.parametrize("way", [*WAYS][1:])
def test_one_guide_gives_the_same_bytes(way: str, first: dict[str, str], tmp_path: Path) -> None:
    again = made(tmp_path, WAYS[way])
    assert again.keys() == first.keys()
    assert [name for name in first if again[name] != first[name]] == []
    assert {"pump-a4.pdf", "html/index.html", "html/jobs/seal.html", "html/more.html"} <= first.keys()


def test_another_guide_gives_other_bytes(
    first: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The guard of the test above."""
    monkeypatch.setitem(GUIDE, "jobs/seal.yaml", GUIDE["jobs/seal.yaml"].replace("Renew the seal", "Renew a seal"))
    other = made(tmp_path, WAYS["1970"])
    assert {"pump-a4.pdf", "html/jobs/seal.html"} <= {name for name in first if other.get(name) != first[name]}
