"""A line of a known length, to see whether a page was printed at its true size."""

from __future__ import annotations

from putback.drawings.canvas import FINE, STRONG, USUAL, Canvas

INCH = 25.4
"""mm (exactly, by international agreement)."""
_EDGE = 3.0
_TALL = 8.5
_FIGURES = 2.6


def ruler_drawing(*, inches: bool, label: str) -> str:
    """Return a line of 100 mm, or of 4 in, with its marks, as the text of a standalone SVG."""
    unit, count, parts = (INCH, 4, 8) if inches else (10.0, 10, 10)
    length = unit * count
    canvas = Canvas(length + 2 * _EDGE, _TALL)
    base = _TALL - 0.6
    canvas.line([(_EDGE, base), (_EDGE + length, base)], weight=USUAL, kind="ruler")
    for mark in range(count * parts + 1):
        x = _EDGE + mark * unit / parts
        whole, half = mark % parts == 0, mark * 2 % parts == 0
        high = 4.2 if whole else 2.8 if half else 1.6
        canvas.line([(x, base), (x, base - high)], weight=STRONG if whole else FINE)
        if whole:
            figure = str(mark // parts if inches else mark)
            canvas.words((x, base - high - 0.6), figure, _FIGURES, anchor="middle")
    return canvas.svg(label, label)
