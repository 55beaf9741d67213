"""A QR code (ISO/IEC 18004) of an address: black squares, with the quiet zone that the standard asks for."""

from __future__ import annotations

from itertools import groupby

from putback.drawings.canvas import INK, Canvas, number

QUIET = 4
"""Modules of white around a code (ISO/IEC 18004)."""
SIDE = 27.0
"""Side of the drawing with its quiet zone, mm; of a long address, more."""
LEAST = 0.5
"""Least side of one module, mm: a camera at arm's length still tells them apart (common practice, no source)."""


def code_drawing(address: str, *, label: str) -> str:
    """Return the code of an address as the text of a standalone SVG; `label` says what it is."""
    rows = matrix(address)
    count = len(rows) + 2 * QUIET
    module = max(LEAST, SIDE / count)
    canvas = Canvas(count * module, count * module)
    runs = []
    for down, row in enumerate(rows, QUIET):
        across = QUIET
        for dark, modules in groupby(row):
            many = len(list(modules))
            if dark:
                x, y, width = (number(value * module) for value in (across, down, many))
                runs.append(f"M{x},{y}h{width}v{number(module)}h-{width}z")
            across += many
    # Without lines round them: those would make each square larger than it is.
    canvas.path("".join(runs), fill=INK, weight=0)
    return canvas.svg(label, label)


def matrix(address: str) -> tuple[tuple[bool, ...], ...]:
    """Return the dark modules of the code of an address, row by row."""
    import segno

    # As much of it may be dirty as a code of this size can bear.
    code = segno.make_qr(address, error="m", boost_error=True)
    return tuple(tuple(bool(module) for module in row) for row in code.matrix)
