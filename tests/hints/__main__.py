"""`python -m tests.hints [GUIDE]`: each hint of a guide's seeded faults obeyed; by check, what came of it."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

from tests.faults.finding import Trial
from tests.faults.seeding import seed
from tests.hints.trial import of_fault


def main(folder: Path) -> None:
    """Print what did no good, and a table."""
    trial, counts = Trial.of(folder), dict[str, Counter[str]]()
    for fault in seed(folder):
        for outcome in of_fault(trial, fault):
            finding = outcome.finding
            what = "advice" if outcome.advice else "bad" if outcome.fault else "good"
            counts.setdefault(finding.check, Counter())[what] += 1
            if outcome.fault:
                print(f"{fault.kind}, {fault.path}:{fault.line}: [{finding.check}] {finding.message}")
                print(f"    {finding.hint}\n    {outcome.fault}")
    print(f"{'check':24}{'good':>8}{'bad':>8}{'advice':>8}")
    for check, each in [*sorted(counts.items()), ("all", sum(counts.values(), Counter()))]:
        print(f"{check:24}{each['good']:>8}{each['bad']:>8}{each['advice']:>8}")


if __name__ == "__main__":
    main(Path(sys.argv[1] if sys.argv[1:] else "procedures/hollin-20"))
