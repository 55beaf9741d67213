"""`python -m tests.published`: how well a likely torque is told from a mistaken one, on published tables."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator

from tests.published.angles import read_angles, turned_too_far
from tests.published.tables import Published, explained, forgotten, read_all, slips


def share(part: int, whole: int) -> str:
    """Return a share in percent, rounded down so that 100 % is all; a dash of nothing."""
    return f"{part * 1000 // whole / 10:.1f} %" if whole else "–"


def kinds(torques: list[Published]) -> Iterator[str]:
    """Yield what was found of each kind of slip, line by line."""
    tried: Counter[tuple[str, bool]] = Counter()
    found: Counter[tuple[str, bool]] = Counter()
    told: Counter[tuple[str, bool]] = Counter()
    for slip in slips(torques):
        key = (slip.kind, slip.torque.has_class)
        tried[key] += 1
        found[key] += slip.found
        told[key] += slip.told
    yield f"{'':36}{'with a class':^26}{'no class':^26}".rstrip()
    head = f"{'tried':>7}{'error':>9}{'+ advice':>10}"
    yield f"{'slip':36}{head}{head}"
    for kind in dict.fromkeys(kind for kind, _ in tried):
        keys = [(kind, has) for has in (True, False)]
        cells = (f"{tried[key]:>7}{share(found[key], tried[key]):>9}{share(told[key], tried[key]):>10}" for key in keys)
        yield f"{kind:36}{''.join(cells)}"


def left_out(torques: list[Published]) -> Iterator[str]:
    """Yield what is lost when the author leaves out what the table says, line by line."""
    yield f"{'torques with a class':28}{'wrong':>12}{'× 10 found':>12}{'÷ 10 found':>12}{'+ advice':>10}"
    for name, kept in forgotten(torques):
        alarms = sum(torque.is_unlikely() for torque in kept)
        up, down = (sum(torque.is_unlikely(times) for torque in kept) for times in (10, 0.1))
        told = share(sum(torque.is_told(0.1) for torque in kept), len(kept))
        found = f"{share(up, len(kept)):>12}{share(down, len(kept)):>12}{told:>10}"
        yield f"{name:28}{f'{alarms} of {len(kept)}':>12}{found}"


def alarms(torques: list[Published]) -> Iterator[str]:
    """Yield how many published torques are called unlikely, line by line."""
    for later, name in ((False, "tables that the limits were tuned on"), (True, "tables not used for tuning")):
        kept = [torque for torque in torques if torque.later is later]
        count, advice = (sum(each) for each in zip(*((t.is_unlikely(), t.is_told()) for t in kept), strict=True))
        tables = len({each.table for each in kept})
        yield f"{name}: {count} called wrong and {advice - count} unusual of {len(kept)} torques, {tables} tables"


def angles() -> Iterator[str]:
    """Yield how many published angles are called too far, and how many of them when they are made larger."""
    bolts = read_angles()
    for times, name in (
        (1, "angles as published"),
        (2, "twice as far"),
        (3, "three times as far"),
        (10, "ten times as far"),
    ):
        found = sum(turned_too_far(bolt._replace(angle=bolt.angle * times)) for bolt in bolts)
        yield f"{name}: {found} of {len(bolts)} called too far"


def report(torques: list[Published]) -> str:
    """Return all that is printed, but the false alarms one by one."""
    stated = sum(torque.has_class for torque in torques)
    head = f"{len(torques)} torques of {len({each.table for each in torques})} tables; {stated} of them with a class"
    later = [torque for torque in torques if torque.later]
    apart = ["Of these, the tables that were not used for tuning:", "", *kinds(later)]
    return "\n".join(
        [head, "", *kinds(torques), "", *apart, "", *left_out(torques), "", *alarms(torques), "", *angles()]
    )


def main() -> int:
    """Print the tables and the false alarms; return 1 when one of them is not explained."""
    torques, reasons = read_all(), explained()
    print(report(torques))
    alarmed = [torque for torque in torques if torque.is_unlikely()]
    for torque in alarmed:
        print(f"  {torque}: {torque.judged().wrong}\n    {reasons.get(str(torque), 'NOT EXPLAINED')}")
    return 1 if any(str(torque) not in reasons for torque in alarmed) else 0


if __name__ == "__main__":
    sys.exit(main())
