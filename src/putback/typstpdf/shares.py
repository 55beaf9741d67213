"""How much of the room of a page each column of a table is best given, so that the table is low.

All in characters: the page measures words exactly, and this says only what to aim at.
"""

from __future__ import annotations

from collections.abc import Sequence

ROOM = 100
"""Characters of a table that stand beside each other on a page."""

GUTTER = 2
"""Characters that the line between two columns takes."""

STEP = 3
"""Characters that are given away at a time."""

MOST_ROWS = 60
"""Of a longer table, only so many rows with the most text are looked at."""

Row = Sequence[Sequence[int]]
"""The characters of each paragraph of each cell of a row."""


def best_shares(needs: Sequence[int], rows: Sequence[Row]) -> list[int]:
    """Return the characters that each column should be given.

    `needs` has the longest word of each column, which is not parted. What is left goes, a little at a time, to the
    column that makes the table lower by the most; where all cells would stand on one line, each gets what it needs.
    """
    full = [
        max([need, *(length for row in rows for length in (row[at] if at < len(row) else ()))])
        for at, need in enumerate(needs)
    ]
    room = ROOM - GUTTER * (len(needs) - 1)
    if sum(full) <= room:
        return full
    widths = [min(need, most) for need, most in zip(needs, full, strict=True)]
    looked_at = sorted(rows, key=lambda row: sum(map(sum, row)), reverse=True)[:MOST_ROWS]
    # The lines of each cell at the width that its column has so far.
    lines = [[_lines(cell, widths[at]) for at, cell in enumerate(row)] for row in looked_at]
    while sum(widths) + STEP <= room:
        gains = [_gain(looked_at, lines, at, widths[at] + STEP) for at in range(len(widths))]
        best = max(range(len(widths)), key=lambda at: (gains[at], full[at] - widths[at]))
        if full[best] <= widths[best]:
            break
        widths[best] += STEP
        for row, known in zip(looked_at, lines, strict=True):
            if best < len(row):
                known[best] = _lines(row[best], widths[best])
    return widths


def _lines(cell: Sequence[int], width: int) -> float:
    """Return how many lines a cell takes; parts of a line count, because words are not all of one length."""
    return sum(max(1.0, length / width) for length in cell)


def _gain(rows: Sequence[Row], lines: Sequence[Sequence[float]], at: int, width: int) -> float:
    """Return by how many lines the table gets lower when a column has another width."""
    gain = 0.0
    for row, known in zip(rows, lines, strict=True):
        if at >= len(row):
            continue
        highest = max(known)
        if known[at] < highest:
            continue
        others = max((each for other, each in enumerate(known) if other != at), default=0.0)
        gain += highest - max(others, _lines(row[at], width))
    return gain
