"""How lint does in a large repository: part of `.ci/run bench`. It prints each goal with what was measured.

- one library (`.ci/library.py`): `putback lint` against yamllint and check-jsonschema together, which read the same
  files and compare them with the same schemas; whole processes on one core, their CPU seconds in turn;
- one small guide against a process that only imports ruamel.yaml;
- growth and memory: libraries of 500, 2,000 and 4,000 jobs.

`python .ci/at_scale.py LINTERS [ROW ...]`: the folder that `.ci/linters` made, and some of `linters small growth`.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from library import ROOT, write_library

PUTBACK = [sys.executable, "-c", "from putback.cli import main; main()"]
ASK = (
    "import resource, subprocess, sys; subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL);"
    "r = resource.getrusage(resource.RUSAGE_CHILDREN); print(r.ru_utime + r.ru_stime, r.ru_maxrss / 1024)"
)


class Cost(NamedTuple):
    """What a process cost."""

    cpu: float
    """CPU seconds, of all that it started as well."""
    wall: float
    """Seconds by the clock."""
    mib: float
    """The most memory that it had."""


def cost(*command: object, folder: Path = ROOT) -> Cost:
    """Run a process on the first core; whatever it finds is its answer."""
    start = time.perf_counter()
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    asked = [sys.executable, "-c", ASK, *map(str, command)]
    done = subprocess.run(asked, cwd=folder, env=env, capture_output=True, text=True, check=True, preexec_fn=_stay)
    cpu, mib = map(float, done.stdout.split())
    return Cost(cpu, time.perf_counter() - start, mib)


def _stay() -> None:
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})


def row(work: str, measured: Cost, ratio: str = "", goal: str = "") -> None:
    """Print one line of the table."""
    print(f"| {work} | {measured.cpu:.2f} | {measured.wall:.1f} | {measured.mib:.0f} | {ratio} | {goal} |", flush=True)


def linters(place: Path) -> None:
    """Measure one library against the linters together."""
    with TemporaryDirectory() as folder:
        top = Path(folder)
        jobs = write_library(top)
        files = sorted(top.rglob("*.yaml"))
        size = sum(file.stat().st_size for file in files)
        print(f"| {jobs} jobs, {size / 1e6:.1f} MB in {len(files):,} files | | | | | |")
        parts = [cost(place / "bin" / "yamllint", "-d", "relaxed", ".", folder=top)]
        row("yamllint", parts[0])
        of_kind: dict[Path, list[Path]] = {}
        for file in files:
            kind = file.parent.name.removesuffix("s") if file.parent.name in ("jobs", "blocks") else file.stem
            of_kind.setdefault(ROOT / "schema" / f"{kind}.schema.json", []).append(file)
        checked = [
            cost(place / "bin" / "check-jsonschema", "--schemafile", schema, *of_kind[schema]) for schema in of_kind
        ]
        both = _sum([*parts, *checked])
        row("check-jsonschema, once for each schema", _sum(checked))
        ours = cost(*PUTBACK, "lint", ".", folder=top)
        row("putback lint", ours, f"1/{both.cpu / ours.cpu:.1f}", "at most 1/12 of both")


def _sum(costs: list[Cost]) -> Cost:
    return Cost(sum(one.cpu for one in costs), sum(one.wall for one in costs), max(one.mib for one in costs))


def small() -> None:
    """Measure one small guide, in turn with what it is measured against: the best of twenty runs."""
    bare, lint = [], []
    for _ in range(20):
        bare.append(cost(sys.executable, "-c", "import ruamel.yaml"))
        lint.append(cost(*PUTBACK, "lint", "docs/example"))
    row("import ruamel.yaml", min(bare))
    row("putback lint, one small guide", min(lint), f"{min(lint).cpu / min(bare).cpu:.1f}", "at most 3")


def growth() -> None:
    """Measure how time and memory grow with the jobs."""
    first = None
    for wanted, goal in ((500, ""), (2000, "under 400 MiB"), (4000, "at most 8.8")):
        with TemporaryDirectory() as folder:
            jobs = write_library(Path(folder), wanted)
            lint = cost(*PUTBACK, "lint", folder)
        first = first or (jobs, lint)
        # Whole guides are written: as if there were exactly so many times the jobs of the first.
        times = lint.cpu / first[1].cpu * (wanted / 500) / (jobs / first[0])
        row(f"putback lint, {jobs:,} jobs", lint, f"{times:.1f}", goal)


if __name__ == "__main__":
    rows = sys.argv[2:] or ["linters", "small", "growth"]
    print("| work | CPU s | wall s | MiB | ratio | goal |\n| --- | --- | --- | --- | --- | --- |")
    if "linters" in rows:
        linters(Path(sys.argv[1]).resolve())
    if "small" in rows:
        small()
    if "growth" in rows:
        growth()
