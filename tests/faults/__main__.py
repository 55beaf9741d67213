"""`python -m tests.faults [GUIDE]`: a table of what was put in, what was found, and what is no fault.

`python -m tests.faults --slips [GUIDE]`: of each kind of slip of the pen, how many findings one gives.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from statistics import median

from tests.faults.finding import Trial, allowed
from tests.faults.slips import MOST, findings_of_slip, slips_of


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


def slips(folder: Path) -> int:
    """Print the table of slips; return 1 when one gives more than three findings."""
    counts: dict[str, list[int]] = {}
    for slip in slips_of(folder):
        found = findings_of_slip(folder, slip)
        counts.setdefault(slip.kind, []).append(len(found))
        if len(found) > MOST:
            print(f"{slip.path}:{slip.line}: {slip.kind}, '{slip.word.strip()}': {len(found)} findings")
    print(f"{'slip':40}{'made':>8}{'median':>8}{'most':>8}{'not found':>12}")
    everything = [number for each in counts.values() for number in each]
    for kind, numbers in [*sorted(counts.items()), ("all", everything)]:
        print(f"{kind:40}{len(numbers):>8}{median(numbers):>8g}{max(numbers):>8}{numbers.count(0):>12}")
    return 1 if max(everything) > MOST else 0


if __name__ == "__main__":
    run = slips if "--slips" in sys.argv else main
    named = [word for word in sys.argv[1:] if word != "--slips"]
    sys.exit(run(Path(named[0] if named else "procedures/hollin-20")))
