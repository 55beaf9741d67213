"""A library of many guides, for `.ci/run bench`: the shipped guides over and over, in a repository like a maintainer's.

Every copy has a machine name of its own and each of its files begins with a line of its own, so that no two files are
the same and nothing can be taken from the guide before. `python .ci/library.py FOLDER [JOBS]` writes one to look at.
"""

from __future__ import annotations

import re
import shutil
import sys
from itertools import count
from pathlib import Path

ROOT = Path(__file__).parents[1]
SOURCES = sorted(path.parent for path in (ROOT / "procedures").glob("*/guide.yaml"))
JOBS = 352
"""Eight copies of each shipped guide, as they are now: about 31,000 steps in 1,100 files of YAML."""


def write_library(folder: Path, jobs: int = JOBS) -> int:
    """Write whole guides until there are so many jobs, and the shared library beside them; return the jobs."""
    shutil.copytree(ROOT / "shared", folder / "shared")
    written = 0
    for number in count():
        source = SOURCES[number % len(SOURCES)]
        _copy(source, folder / "guides" / f"{source.name}-{number}", number)
        written += len([*source.glob("jobs/*.yaml")])
        if written >= jobs:
            return written
    raise AssertionError


def _copy(source: Path, target: Path, number: int) -> None:
    """Write one guide anew, each file of YAML with a line more, the machine with a number behind its name."""
    shutil.copytree(source, target)
    for path in sorted(target.rglob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        if path.name == "machine.yaml":
            text = re.sub(r"(?m)^(machine: .*)$", rf"\1 {number}", text, count=1)
        path.write_text(f"# Guide {number} of this library.\n{text}", encoding="utf-8")


if __name__ == "__main__":
    write_library(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else JOBS)
