"""What turns a fastener, and which hexagons go with a thread.

Sizes across flats: ISO 272 and ISO 4014, with those of older standards (17 and 19 for M10 and M12), of JIS, of small
heads and flanges, and of heavy nuts; sockets: ISO 4762, ISO 7380, ISO 10642, ISO 4026. Read in three tables; small
heads, flanges, heavy nuts and wheel nuts (3/4 with 1 1/2 in) from memory.
Each row is the smallest and the largest that is common, and the usual one.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from putback.joints.thread_sizes import INCH, inches
from putback.joints.threads import Thread, ThreadSystem
from putback.source.late import Late


class Drive(NamedTuple):
    """A hexagon."""

    size: float
    """Across flats, mm; as written where there is no unit."""
    inside: bool | None
    """Whether it is a socket, that a key goes into; None for a bare `hex`, which may be either."""
    unit: str | None
    """mm or in; None where none is written."""


_OUTSIDE: dict[float, tuple[float, float, float]] = {
    2: (3, 5, 4), 2.5: (4, 6, 5), 3: (5, 6, 5.5), 3.5: (5, 7, 6), 4: (5.5, 8, 7), 5: (7, 10, 8), 6: (8, 12, 10),
    7: (10, 13, 11), 8: (10, 15, 13), 9: (11, 17, 14), 10: (12, 19, 16), 11: (13, 20, 17), 12: (14, 24, 18),
    14: (17, 27, 21), 16: (18, 30, 24), 18: (21, 33, 27), 20: (24, 36, 30), 22: (27, 41, 34), 24: (30, 46, 36),
    27: (34, 50, 41), 30: (36, 55, 46), 33: (41, 60, 50), 36: (46, 65, 55), 39: (50, 70, 60),
}  # fmt: skip
"""Outside hexagons by metric diameter, mm: smallest, largest, usual."""
_INSIDE: dict[float, tuple[float, float, float]] = {
    2: (0.9, 1.5, 1.5), 2.5: (1.3, 2, 2), 3: (1.5, 2.5, 2.5), 4: (2, 3, 3), 5: (2.5, 4, 4), 6: (3, 5, 5), 8: (4, 6, 6),
    10: (5, 8, 8), 12: (6, 10, 10), 14: (8, 12, 12), 16: (8, 14, 14), 18: (10, 14, 14), 20: (10, 17, 17),
    22: (12, 17, 17), 24: (12, 19, 19), 27: (14, 19, 19), 30: (17, 22, 22), 36: (19, 27, 27),
}  # fmt: skip
"""The same of sockets."""


def _inch(rows: str) -> dict[float, tuple[float, float, float]]:
    sizes: dict[float, tuple[float, float, float]] = {}
    for row in rows.split(","):
        thread, *flats = row.split(":")
        low, high, usual = (float(inches(each)) * INCH for each in flats)
        sizes[round(float(inches(thread)) * INCH, 3)] = (low, high, usual)
    return sizes


_OUTSIDE_INCH = (
    "#6:1/4:5/16:5/16,#8:1/4:3/8:11/32,#10:1/4:7/16:3/8,1/4:5/16:9/16:7/16,5/16:3/8:5/8:1/2,3/8:7/16:3/4:9/16,"
    "7/16:1/2:13/16:5/8,1/2:9/16:15/16:3/4,9/16:11/16:1:13/16,5/8:3/4:1 1/8:15/16,3/4:7/8:1 1/2:1 1/8,"
    "7/8:1 1/16:1 9/16:1 5/16,1:1 1/4:1 3/4:1 1/2"
)
"""The same by Unified diameter, in."""
_OLDER = {17: 10, 19: 12, 22: 14}
"""Metric diameters that older standards give a hexagon, mm, where the newer ones have a rarer thread or none."""
_SLACK = 0.6
"""mm: heads are called by the nearest spanner, 14.3 mm by 14."""

_WORD = r"hex(?:agon)?(?:al)?(?:\s*(?:socket|key|head|bit))?|allen(?:\s*key)?|socket|spanner|wrench|af|across flats"
_DRIVE = Late(
    r"(?:[0-9]+[\s-]?point\s+|inner\s+|outer\s+|internal\s+|external\s+|socket\s+|allen\s+|bi-)*"
    rf"(?P<word>{_WORD})"
    r"[\s:,]*(?P<size>[0-9]{1,2}(?:[.,][0-9]{1,2})?|(?:[0-9]\s)?[0-9]{1,2}/[0-9]{1,2})\s*(?P<unit>mm|in\.?|inch|\")?"
    r"(?:\s*(?:af|a/f|across flats|spanner|wrench|socket|key))?"
)
_FIRST = Late(
    r"(?P<size>[0-9]{1,2}(?:[.,][0-9]{1,2})?|(?:[0-9]\s)?[0-9]{1,2}/[0-9]{1,2})\s*(?P<unit>mm|in\.?|inch|\")\s*"
    rf"(?P<word>{_WORD})"
)
_INNER = Late(r"\b(?:inner|internal|allen|key|bit)\b|\bhex(?:agon)?(?:al)?\s+socket\b|\bsocket\s+head\b|\bsocket\s+hex")

_OUTER = Late(r"\b(?:outer|external|spanner|wrench|af|a/f|across flats|head|socket|point)\b")


@lru_cache(maxsize=1024)
def read_drive(text: str) -> Drive | None:
    """Return the hexagon that a text names: `hex 10 mm`, `hex key 5 mm`, `9/16 in spanner`; None for another drive."""
    said = " ".join(text[:60].lower().split())
    match = _DRIVE.fullmatch(said) or _FIRST.fullmatch(said)
    if match is None:
        return None
    size = float(inches(match["size"].replace(",", ".")))
    unit = match["unit"] and ("mm" if match["unit"] == "mm" else "in")
    bare = re.fullmatch(r"hex(?:agon)?(?:al)?", match["word"]) and not _OUTER.search(said)
    inside = True if _INNER.search(said) else None if bare else False
    return Drive(size * INCH if unit == "in" else size, inside, unit)


def same_drive(one: str, other: str) -> bool:
    """Tell whether two texts name one drive: as they are written, or both a socket of one size for a hexagon key."""
    if one == other:
        return True
    first, second = read_drive(one), read_drive(other)
    if first is None or second is None or not (first.inside and second.inside):
        return False
    return first.size == second.size and first.unit == second.unit


def flats(thread: Thread, *, inside: bool) -> tuple[float, float, float] | None:
    """Return the smallest, the largest and the usual hexagon of a thread, mm; None where nothing is listed."""
    if thread.system is ThreadSystem.METRIC:
        return (_INSIDE if inside else _OUTSIDE).get(thread.diameter)
    if thread.system is ThreadSystem.UNIFIED and not inside:
        return _inch(_OUTSIDE_INCH).get(round(thread.diameter, 3))
    return None


def suits(drive: Drive, thread: Thread) -> bool:
    """Tell whether a hexagon goes with a thread; True where nothing is listed."""
    rows = [row for inside in _sides(drive) if (row := flats(thread, inside=inside))]
    return not rows or any(row[0] - _SLACK <= drive.size <= row[1] + _SLACK for row in rows)


def _sides(drive: Drive) -> tuple[bool, ...]:
    """Return whether a hexagon may be outside, and inside."""
    return (False, True) if drive.inside is None else (drive.inside,)


def threads_of(drive: Drive) -> list[float]:
    """Return the metric diameters that a hexagon is usual on, mm; of a bare one, outside if there are any."""
    if not drive.inside and drive.size in _OLDER:
        return [_OLDER[int(drive.size)]]
    for table in (_INSIDE if inside else _OUTSIDE for inside in _sides(drive)):
        usual = [d for d, row in table.items() if abs(row[2] - drive.size) < _SLACK / 2]
        if usual:
            return usual
    return []


def all_threads_of(drive: Drive) -> list[float]:
    """Return all metric diameters that a hexagon is found on, mm, smallest first; of a bare one, inside the usual."""
    found = set[float]()
    if not drive.inside:
        found |= {d for d, row in _OUTSIDE.items() if row[0] - _SLACK <= drive.size <= row[1] + _SLACK}
    if drive.inside is not False:
        found |= {d for d, row in _INSIDE.items() if row[0 if drive.inside else 2] <= drive.size <= row[2]}
    return sorted(found)
