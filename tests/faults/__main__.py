"""`python -m tests.faults [GUIDE]`: a table of what was put in, what was found, and what is no fault."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

from tests.faults.finding import Trial, allowed


def main(folder: Path) -> int:
    """Print the table; return 1 when a fault was missed that is not on the list."""
    answers = list(Trial.of(folder).answers())
    seeded = Counter(answer.fault.kind for answer in answers)
    missed = Counter(answer.fault.kind for answer in answers if answer.why_missed)
    print(f"{'fault':34}{'put in':>8}{'found':>8}{'missed':>8}")
    for kind in sorted(seeded):
        print(f"{kind:34}{seeded[kind]:>8}{seeded[kind] - missed[kind]:>8}{missed[kind]:>8}")
    print(f"{'all':34}{seeded.total():>8}{seeded.total() - missed.total():>8}{missed.total():>8}")
    entries, unexplained = allowed(folder), 0
    for answer in answers:
        if answer.why_missed:
            fault = answer.fault
            entry = next((entry for entry in entries if entry.fits(fault)), None)
            unexplained += entry is None
            reason = f"no fault: {entry.reason}" if entry else f"MISSED: {answer.why_missed}"
            print(f"{fault.path}:{fault.line}: {fault.kind}, {fault.step}\n    {reason}")
    return 1 if unexplained else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1] if len(sys.argv) > 1 else "procedures/hollin-20")))
