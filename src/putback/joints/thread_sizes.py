"""The threads that standards list: diameters, pitches, threads per inch.

Status of what is listed: read, seen in a public copy of the table; memory, recalled and not seen.

Metric: ISO 261. The pitches of ISO 262 (M1 to M64, coarse and the first fine ones) are read, of two public copies that
agree; the further fine pitches and the third-choice diameters (M5.5, M9, M15 ...) are memory, of which M5.5, M8 to
M10 are read. M11 x 1.25 and M34 x 1.5 are not of ISO 261; engines have the one in cylinder heads, axles the other
(common practice). Unified: ASME B1.1; UNC and UNF are read, UNEF is memory, of which #12, 5/8 and 11/16 are read; the
constant pitches 8, 12 and 16 are memory, of which 5/8 and 11/16 are read. Pipe: ISO 228-1, ISO 7-1 and ASME B1.20.1,
read, except G 7/8, G 1 1/8 and G 1 3/4: memory.
"""

from __future__ import annotations

from fractions import Fraction

INCH = 25.4
"""mm."""

METRIC: dict[float, tuple[float, ...]] = {
    1: (0.25, 0.2),
    1.1: (0.25, 0.2),
    1.2: (0.25, 0.2),
    1.4: (0.3, 0.2),
    1.6: (0.35, 0.2),
    1.8: (0.35, 0.2),
    2: (0.4, 0.25),
    2.2: (0.45, 0.25),
    2.5: (0.45, 0.35),
    3: (0.5, 0.35),
    3.5: (0.6, 0.35),
    4: (0.7, 0.5),
    4.5: (0.75, 0.5),
    5: (0.8, 0.5),
    5.5: (0.5,),
    6: (1, 0.75, 0.5),
    7: (1, 0.75),
    8: (1.25, 1, 0.75),
    9: (1.25, 1, 0.75),
    10: (1.5, 1.25, 1, 0.75),
    11: (1.5, 1.25, 1, 0.75),
    12: (1.75, 1.5, 1.25, 1),
    14: (2, 1.5, 1.25, 1),
    15: (1.5, 1),
    16: (2, 1.5, 1),
    17: (1.5, 1),
    18: (2.5, 2, 1.5, 1),
    20: (2.5, 2, 1.5, 1),
    22: (2.5, 2, 1.5, 1),
    24: (3, 2, 1.5, 1),
    25: (2, 1.5, 1),
    26: (1.5,),
    27: (3, 2, 1.5, 1),
    28: (2, 1.5, 1),
    30: (3.5, 3, 2, 1.5, 1),
    32: (2, 1.5),
    33: (3.5, 3, 2, 1.5),
    34: (1.5,),
    35: (1.5,),
    36: (4, 3, 2, 1.5),
    38: (1.5,),
    39: (4, 3, 2, 1.5),
    40: (3, 2, 1.5),
    42: (4.5, 4, 3, 2, 1.5),
    45: (4.5, 4, 3, 2, 1.5),
    48: (5, 4, 3, 2, 1.5),
    50: (3, 2, 1.5),
    52: (5, 4, 3, 2, 1.5),
    55: (4, 3, 2, 1.5),
    56: (5.5, 4, 3, 2, 1.5),
    58: (4, 3, 2, 1.5),
    60: (5.5, 4, 3, 2, 1.5),
    62: (4, 3, 2, 1.5),
    64: (6, 4, 3, 2, 1.5),
}
"""Pitches, mm, by diameter, mm; the coarse pitch first where there is one."""

NO_COARSE = frozenset({5.5, 15, 17, 25, 26, 28, 32, 34, 35, 38, 40, 50, 55, 58, 62})
"""Diameters, mm, that have fine pitches only."""

LARGE, LARGE_PITCHES = 25.0, (1.0, 1.5, 2.0, 3.0)
"""Diameter, mm, from which any whole one may have one of these pitches, when it is stated: nuts of bearings and of
steering heads, caps of forks. ISO 261 allows them beside its table (memory)."""
LARGEST = 300.0
"""The largest diameter of ISO 261, mm."""

FORMER: dict[float, float] = {1.7: 0.35, 2.3: 0.4, 2.6: 0.45}
"""Pitch by diameter, mm, of threads outside ISO 261 that small machines still have; read in a tap maker's tables."""


def is_large(diameter: float) -> bool:
    """Tell whether a metric diameter, mm, may have pitches beside the table."""
    return LARGE <= diameter <= LARGEST and diameter.is_integer()


def pitches(diameter: float) -> tuple[float, ...]:
    """Return the pitches, mm, that are listed for a metric diameter, mm, or else those of large ones."""
    former = FORMER.get(diameter)
    return METRIC.get(diameter) or ((former,) if former else LARGE_PITCHES)


def _rows(text: str) -> dict[Fraction, int]:
    pairs = (pair.rsplit("-", 1) for pair in text.split(","))
    return {inches(size): int(threads) for size, threads in pairs}


def inches(size: str) -> Fraction:
    """Return the diameter, in, of a size: #10, 1/4, 1 1/8."""
    size = size.strip()
    if size.startswith("#"):
        # ASME B1.1: number sizes are 0.060 in and 0.013 in more for each number
        return Fraction(60 + 13 * int(size[1:]), 1000)
    return sum((Fraction(part) for part in size.split()), Fraction(0))


_UN = {threads: range(first, 49) for threads, first in ((8, 17), (12, 10), (16, 7))}  # sizes in sixteenths of an inch

UNIFIED: dict[str, dict[Fraction, int]] = {
    "UNC": _rows(
        "#1-64,#2-56,#3-48,#4-40,#5-40,#6-32,#8-32,#10-24,#12-24,1/4-20,5/16-18,3/8-16,7/16-14,1/2-13,9/16-12,"
        "5/8-11,3/4-10,7/8-9,1-8,1 1/8-7,1 1/4-7,1 3/8-6,1 1/2-6,1 3/4-5"
    ),
    "UNF": _rows(
        "#0-80,#1-72,#2-64,#3-56,#4-48,#5-44,#6-40,#8-36,#10-32,#12-28,1/4-28,5/16-24,3/8-24,7/16-20,1/2-20,9/16-18,"
        "5/8-18,3/4-16,7/8-14,1-12,1 1/8-12,1 1/4-12,1 3/8-12,1 1/2-12"
    ),
    "UNEF": _rows(
        "#12-32,1/4-32,5/16-32,3/8-32,7/16-28,1/2-28,9/16-24,5/8-24,11/16-24,3/4-20,13/16-20,7/8-20,15/16-20,1-20,"
        "1 1/16-18,1 1/8-18,1 3/16-18,1 1/4-18,1 5/16-18,1 3/8-18,1 7/16-18,1 1/2-18,1 9/16-18,1 5/8-18,1 11/16-18"
    ),
    "8-UN": {Fraction(size, 16): 8 for size in _UN[8]},
    "12-UN": {Fraction(size, 16): 12 for size in _UN[12]},
    "16-UN": {Fraction(size, 16): 16 for size in _UN[16]},
    "UNS": _rows("1-14,9/16-20,7/8-18"),
}
"""Threads per inch by diameter, in; the first series that has a pair names it."""

NUMBERS = {inches(f"#{number}"): number for number in (0, 1, 2, 3, 4, 5, 6, 8, 10, 12)}
"""Number sizes by diameter, in."""

PIPE: dict[str, tuple[float, float]] = {
    "1/16": (7.723, 28),
    "1/8": (9.728, 28),
    "1/4": (13.157, 19),
    "3/8": (16.662, 19),
    "1/2": (20.955, 14),
    "5/8": (22.911, 14),
    "3/4": (26.441, 14),
    "7/8": (30.201, 14),
    "1": (33.249, 11),
    "1 1/8": (37.897, 11),
    "1 1/4": (41.910, 11),
    "1 1/2": (47.803, 11),
    "1 3/4": (53.746, 11),
    "2": (59.614, 11),
}
"""Major diameter, mm, and threads per inch of ISO 228-1 by size; of a taper thread, at its gauge plane."""

PARALLEL_ONLY = frozenset({"5/8", "7/8", "1 1/8", "1 3/4"})
"""Sizes that ISO 228-1 has and ISO 7-1 has not."""

NPT: dict[str, tuple[float, float]] = {
    "1/16": (0.3125 * INCH, 27),
    "1/8": (0.405 * INCH, 27),
    "1/4": (0.540 * INCH, 18),
    "3/8": (0.675 * INCH, 18),
    "1/2": (0.840 * INCH, 14),
    "3/4": (1.050 * INCH, 14),
    "1": (1.315 * INCH, 11.5),
    "1 1/4": (1.660 * INCH, 11.5),
    "1 1/2": (1.900 * INCH, 11.5),
    "2": (2.375 * INCH, 11.5),
}
"""Outside diameter of the pipe, mm, and threads per inch of ASME B1.20.1 by size."""


def mixed(size: Fraction) -> str:
    """Return a diameter, in, as the trade writes it: #10, 1/4, 1 1/8."""
    if size in NUMBERS:
        return f"#{NUMBERS[size]}"
    whole, part = divmod(size, 1)
    return " ".join(str(piece) for piece in (whole, part) if piece)


def named_size(size: Fraction) -> str:
    """Return the same with its unit, where it has one: #10, 1/4 in."""
    return mixed(size) if size in NUMBERS else f"{mixed(size)} in"
