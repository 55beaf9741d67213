"""Where the level of a fluid should be: on a dipstick, in a sight glass, in a tank, at a hole."""

from __future__ import annotations

from typing import NamedTuple

from putback.drawings.canvas import FINE, INK, LIGHT, STRONG, USUAL, Canvas, Point, width_of
from putback.words.drawn import LevelSaid

SIZE = 3.0
"""Size of type, mm."""
HATCH = 1.3
"""From one line of what is wet to the next, mm."""
SEEN_AT = ("dipstick", "sight-glass", "tank", "hole")
"""What is known how to draw."""


class DrawnLevel(NamedTuple):
    """Where a level shows, and where it should be."""

    seen_at: str
    """One of `SEEN_AT`."""
    marks: tuple[str, ...]
    """The names of its marks, from the lowest; empty ones have none. None at all for a hole, or a glass without."""
    good: int | None
    """Which mark it should reach, from 0; None for between the two, or for the middle of a glass."""


def level_drawing(level: DrawnLevel, words: LevelSaid) -> str:
    """Return the level as the text of a standalone SVG. Raises ValueError for a place that is not known."""
    match level.seen_at:
        case "dipstick":
            return _dipstick(level, words)
        case "sight-glass":
            return _glass(level, words)
        case "tank":
            return _tank(level, words)
        case "hole":
            return _hole(words)
    raise ValueError(f"a level cannot be seen at '{level.seen_at}'")


def _dipstick(level: DrawnLevel, words: LevelSaid) -> str:
    """Lay the stick down with its handle at the left; wet up to the level, from the tip at the right."""
    names = level.marks or ("", "")
    wide = max(44.0, sum(width_of(name, SIZE) for name in names) + 26)
    canvas = Canvas(wide, 15.5)
    top, bottom, tip = 6.4, 9.6, wide - 1.5
    low = wide - max(9.0, width_of(names[0], SIZE) / 2 + 0.8)
    high = low - 13.0 if len(names) > 1 else low - 5.0
    room = (width_of(names[-1], SIZE) + width_of(names[0], SIZE)) / 2 + 1.5 if len(names) > 1 else 0.0
    high = min(high, low - room)
    at = {None: (high + low) / 2, 0: low}.get(level.good, high)
    canvas.ellipse((4.0, 8.0), 3.0, 3.6, weight=STRONG)
    canvas.box((7.0, top + 0.8), high - 11, 1.6, weight=USUAL)
    blade = [(high - 4, top), (tip - 2, top), (tip, 8.0), (tip - 2, bottom), (high - 4, bottom)]
    canvas.polygon(blade, weight=USUAL)
    _wet(canvas, (at, top), (tip - 2, bottom))
    canvas.polygon(blade, fill="none", weight=USUAL)
    for name, x in zip(names, (low, high), strict=False):
        canvas.line([(x, top - 0.9), (x, bottom + 0.9)], weight=STRONG, kind="mark")
        if name:
            canvas.words((x, bottom + 4.2), name, SIZE, anchor="middle", kind="name")
    if level.good is None:
        canvas.line([(low, 5.0), (low, 4.2), (high, 4.2), (high, 5.0)], weight=USUAL)
        at = (low + high) / 2
    else:
        canvas.polygon([(at, 5.2), (at - 1, 3.6), (at + 1, 3.6)], fill=INK, weight=0)
    _word(canvas, (at, 3.0), words.good)
    return canvas.svg(words.label, words.alt)


def _word(canvas: Canvas, place: Point, word: str) -> None:
    """Set the word for the good level in the middle of a place, moved into the frame."""
    half = width_of(word, SIZE, bold=True) / 2
    x = min(max(place[0], half + 0.3), canvas.width - half - 0.3)
    canvas.words((x, place[1]), word, SIZE, bold=True, anchor="middle", kind="good")


def _wet(canvas: Canvas, start: Point, end: Point) -> None:
    """Hatch what is wet, between two corners."""
    (left, top), (right, bottom) = start, end
    high = bottom - top
    x = left - high
    while x < right:
        one, other = max(x, left), min(x + high, right)
        if other > one:
            canvas.line([(one, bottom - (one - x)), (other, bottom - (other - x))], weight=FINE, kind="wet")
        x += HATCH


def _beside(canvas: Canvas, level: DrawnLevel, words: LevelSaid, left: float, heights: tuple[float, float]) -> None:
    """Name the marks at the right of a glass or tank, and point out the good level; heights from the lowest."""
    low, high = heights
    names = level.marks if len(level.marks) > 1 else (*level.marks, "")[:1]
    places = (low, high) if len(names) > 1 else (low,)
    for name, y in zip(names, places, strict=False):
        canvas.words((left + 0.8, y + 0.34 * SIZE), name, SIZE, kind="name") if name else None
    wide = max((width_of(name, SIZE) for name in names), default=0.0)
    x = left + wide + 2.2
    if level.good is None and len(names) > 1:
        canvas.line([(x, low), (x + 0.9, low), (x + 0.9, high), (x, high)], weight=USUAL)
        y = (low + high) / 2
    else:
        y = places[level.good or 0]
        canvas.polygon([(x, y), (x + 1.7, y - 1), (x + 1.7, y + 1)], fill=INK, weight=0)
    canvas.words((x + 2.4, y + 0.34 * SIZE), words.good, SIZE, bold=True, kind="good")


def _wide(level: DrawnLevel, words: LevelSaid, left: float) -> float:
    names = max((width_of(name, SIZE) for name in level.marks), default=0.0)
    return left + names + 2.2 + 2.4 + width_of(words.good, SIZE, bold=True) + 0.8


def _glass(level: DrawnLevel, words: LevelSaid) -> str:
    """Look at the glass: wet below the level, its marks as lines across."""
    radius = 7.5
    left = 2 * radius + 2.6
    canvas = Canvas(_wide(level, words, left), 2 * radius + 2)
    middle = radius + 1.0, radius + 1.0
    low, high = (middle[1] + 3.0, middle[1] - 3.0) if len(level.marks) > 1 else (middle[1], middle[1])
    surface = {None: middle[1], 0: low}.get(level.good, high)
    canvas.circle(middle, radius, weight=STRONG)
    y = surface
    while y < middle[1] + radius - 0.6:
        half = (max(radius**2 - (y - middle[1]) ** 2, 0.0)) ** 0.5 - 0.6
        canvas.line([(middle[0] - half, y), (middle[0] + half, y)], weight=FINE, kind="wet")
        y += HATCH
    for mark in sorted({low, high}) if level.marks else ():
        canvas.line([(middle[0] - 5.5, mark), (left, mark)], weight=STRONG, kind="mark")
    _beside(canvas, level, words, left, (low, high))
    return canvas.svg(words.label, words.alt)


def _tank(level: DrawnLevel, words: LevelSaid) -> str:
    """Look at the wall of the tank, with its cap: wet below the level, its marks at the right."""
    left, top, bottom = 15.0, 4.0, 21.0
    canvas = Canvas(_wide(level, words, left + 2.6), bottom + 0.8)
    low, high = (16.0, 10.0) if len(level.marks) != 1 else (12.0, 12.0)
    surface = {None: (low + high) / 2, 0: low}.get(level.good, high)
    canvas.box((5.0, 0.6), 6.0, 2.2, weight=USUAL, fill=LIGHT)
    canvas.box((6.0, 2.8), 4.0, 1.2, weight=USUAL)
    _wet(canvas, (1.0, surface), (left, bottom))
    canvas.line([(1.0, surface), (left, surface)], weight=USUAL)
    canvas.box((1.0, top), left - 1.0, bottom - top, fill="none", weight=STRONG, radius=1)
    for mark in sorted({low, high}):
        canvas.line([(left - 4.0, mark), (left + 2.0, mark)], weight=STRONG, kind="mark")
    _beside(canvas, level._replace(marks=level.marks or ("", "")), words, left + 2.6, (low, high))
    return canvas.svg(words.label, words.alt)


def _hole(words: LevelSaid) -> str:
    """Cut through the wall at the hole: wet inside up to its lower edge, a drop running over."""
    canvas = Canvas(21.0 + width_of(words.good, SIZE, bold=True) + 4.4, 18.0)
    wall, edge, upper = 14.0, 11.0, 6.0
    _wet(canvas, (0.6, edge), (wall, 16.4))
    canvas.line([(0.6, edge), (wall + 3, edge)], weight=USUAL)
    for top, bottom in ((1.0, upper), (edge, 17.2)):
        canvas.box((wall, top), 3.0, bottom - top, fill=LIGHT, weight=USUAL)
    canvas.line([(0.6, 16.4), (wall, 16.4)], weight=USUAL)
    canvas.path(f"M{wall + 3},{edge}q1.6,0.2 1.6,2.6", weight=USUAL)
    canvas.ellipse((wall + 4.6, edge + 4.0), 0.55, 0.9, fill=INK, weight=0)
    canvas.polygon([(wall + 4, edge), (wall + 6.4, edge - 1), (wall + 6.4, edge + 1)], fill=INK, weight=0)
    canvas.words((wall + 7.2, edge + 0.34 * SIZE), words.good, SIZE, bold=True, kind="good")
    return canvas.svg(words.label, words.alt)
