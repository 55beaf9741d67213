"""`python -m tests.fuzz --runs 1000000 --seed 7 --jobs 2`: try guides at length, and print what fails, made small."""

from __future__ import annotations

import argparse
import sys
from concurrent.futures import ProcessPoolExecutor
from itertools import repeat
from pathlib import Path

from tests.fuzz.keeping import as_case, keep
from tests.fuzz.running import QUICK, RICH, Tally, made, run

PORTION = 500
"""Executions that are handed out at once."""


def main() -> int:
    """Run; return 1 when something failed."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz")
    parser.add_argument("--runs", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--only", type=int, help="one execution, by its number: its files are printed")
    parser.add_argument("--keep", type=Path, help="a folder to write the failing inputs to, as regression files")
    parser.add_argument("--quick", action="store_true", help="mostly a tiny guide, as the tests do")
    chosen = parser.parse_args()
    mix = QUICK if chosen.quick else RICH
    if chosen.only is not None:
        print(as_case(made(chosen.seed, chosen.only, mix).files, ""))
        portions = [range(chosen.only, chosen.only + 1)]
    else:
        portions = [range(at, min(at + PORTION, chosen.runs)) for at in range(0, chosen.runs, PORTION)]
    whole = Tally()
    if chosen.jobs > 1:
        with ProcessPoolExecutor(chosen.jobs) as pool:
            for tally in pool.map(run, repeat(chosen.seed), portions, repeat(mix)):
                _tell(whole, tally, chosen.keep)
    else:
        for portion in portions:
            _tell(whole, run(chosen.seed, portion, mix), chosen.keep)
    for kind in sorted(whole.runs):
        share = whole.walked[kind] / whole.runs[kind]
        print(f"{kind}: {whole.runs[kind]} executions, {share:.0%} of them of a good shape and walked")
    print(f"{whole.seconds:.0f} s of CPU, the slowest {whole.slowest:.2f} s (number {whole.slowest_number})")
    print(f"answers {whole.digest[:16]}")
    for found in whole.found.values():
        print(f"{found.times:>6} {found.kind}")
    return 1 if whole.found else 0


def _tell(whole: Tally, tally: Tally, folder: Path | None) -> None:
    new = [found for kind, found in tally.found.items() if kind not in whole.found]
    whole.add(tally)
    done = whole.runs.total()
    if done % 5_000 < PORTION:
        print(f"{done} executions, {whole.seconds:.0f} s of CPU", file=sys.stderr, flush=True)
    for found in new:
        print(f"\n== {found.kind}\n   {found.detail}\n   seed {found.seed}, number {found.number}")
        print(as_case(found.files, found.kind), flush=True)
        if folder is not None:
            keep(folder, found.files, found.kind)


if __name__ == "__main__":
    sys.exit(main())
