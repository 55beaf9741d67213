"""`python -m tests.fuzz.guided --runs 100000 [TARGET ...]`: fuzz with bytes that are steered by what they reach.

Needs atheris. Each target has a process of its own. Prints executions and CPU time, and each failure once. `--keep`
keeps what reaches most with fewest bytes.
"""

from __future__ import annotations

import argparse
import json
import re
import resource
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from tests.fuzz.corpus import keep, kept, read_folder, write_folder
from tests.fuzz.seeding import dictionary, seeds
from tests.fuzz.targets import TARGETS

MEMORY = 1024
"""MiB that a process may take."""
MOST_KEPT = 24_000
"""Bytes of inputs that are kept for a target."""


class Ran(NamedTuple):
    """What a run of one target came to."""

    executions: int
    seconds: float
    """Of CPU."""
    reached: int
    """Places in the program that were reached."""
    failures: list[dict[str, str]]


def main() -> int:
    """Run; return 1 when something failed."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz.guided")
    parser.add_argument("targets", nargs="*", metavar="TARGET", help=", ".join(TARGETS))
    parser.add_argument("--runs", type=int, default=20_000, help="executions in all, shared out among the targets")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", action="store_true", help="keep what reaches more in tests/fuzz/corpus")
    parser.add_argument("--failures", type=Path, help="a folder to write failing inputs to")
    chosen = parser.parse_args()
    if unknown := [name for name in chosen.targets if name not in TARGETS]:
        parser.error(f"there is no target {unknown[0]!r}: {', '.join(TARGETS)}")
    failed, whole, seconds = False, 0, 0.0
    names = chosen.targets or [*TARGETS]
    shares = sum(TARGETS[name].share for name in names)
    for name in names:
        runs = round(chosen.runs * TARGETS[name].share / shares)
        ran = run(name, runs, chosen.seed, keeping=chosen.keep, folder=chosen.failures)
        print(
            f"{name}: {ran.executions} executions, {ran.seconds:.0f} s of CPU, {ran.reached} places reached", flush=True
        )
        for failure in ran.failures:
            failed = True
            print(f"== {failure['failed']}\n   {failure['detail']}\n   {failure['input']!r}", flush=True)
        whole, seconds = whole + ran.executions, seconds + ran.seconds
    print(f"in all: {whole} executions, {seconds:.0f} s of CPU")
    return 1 if failed else 0


def run(name: str, runs: int, seed: int, *, keeping: bool, folder: Path | None) -> Ran:
    """Fuzz one target from its kept inputs and the seeds."""
    with TemporaryDirectory() as scratch:
        top = Path(scratch)
        failures = folder or top / "failures"
        failures.mkdir(parents=True, exist_ok=True)
        longest = TARGETS[name].longest
        write_folder(top / "corpus", [*kept(name), *seeds(name, longest)])
        (top / "words").write_text(dictionary(), encoding="ascii")
        options = [f"-max_len={longest}", f"-rss_limit_mb={MEMORY}", f"-artifact_prefix={failures}/stopped-"]
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        fuzzing = [
            f"-runs={runs}",
            f"-seed={seed}",
            f"-dict={top / 'words'}",
            "-print_final_stats=1",
            str(top / "corpus"),
        ]
        told = _worker(name, failures, [*options, *fuzzing])
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        if keeping:
            (top / "least").mkdir()
            _worker(name, failures, [*options, "-merge=1", str(top / "least"), str(top / "corpus")])
            keep(name, _within(read_folder(top / "least"), MOST_KEPT))
        seconds = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        found = [json.loads(path.read_text(encoding="utf-8")) for path in sorted(failures.glob("*.json"))]
        found = [each for each in found if each["target"] == name]
        return Ran(_last(r"number_of_executed_units: (\d+)", told), seconds, _last(r"cov: (\d+)", told), found)


def _worker(name: str, failures: Path, options: list[str]) -> str:
    command = [sys.executable, "-m", "tests.fuzz.worker", name, str(failures), *options]
    done = subprocess.run(command, capture_output=True, text=True, errors="replace", check=False)
    if done.returncode:
        # What ends the process leaves its input behind: too much memory, a fault in a library that is not Python.
        inputs = [repr(path.read_bytes()) for path in failures.glob("stopped-*")]
        sys.exit("\n".join([" ".join(command), done.stderr[-3000:], *inputs]))
    return done.stderr


def _last(pattern: str, text: str) -> int:
    return int((re.findall(pattern, text) or ["0"])[-1])


def _within(inputs: list[bytes], most: int) -> list[bytes]:
    """Return the shortest of some inputs, as many as have so many bytes together."""
    found: list[bytes] = []
    for data in sorted(inputs, key=len):
        most -= len(data)
        if most < 0:
            break
        found.append(data)
    return found


if __name__ == "__main__":
    sys.exit(main())
