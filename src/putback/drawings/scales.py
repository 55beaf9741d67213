"""Scales of a reading: what is good is hatched and says so, with round numbers to find one's own reading by."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import NamedTuple

from putback.drawings.canvas import FINE, STRONG, USUAL, Canvas, width_of
from putback.words.drawn import ScaleSaid

LENGTH = 58.0
"""Length of the axis, mm: with its unit, a scale stands beside the line that the reading is written on."""
BAND = 4.6
"""Height of the band above the axis, mm."""
SIZE = 3.0
"""Size of type, mm."""
HATCH = 1.6
"""From one line of the hatching to the next, mm."""
MARGIN = 2.0
"""Beside the axis, mm: half a number at its end."""

_NEW_ABOVE = 4.0
"""What the word for the value of a new part takes above the band, mm."""
_PAST_ONE = Decimal("0.6"), Decimal("0.3")
"""How far a scale goes past its limit, in parts of the limit: where it begins at nought, and where it does not."""
_PAST_SPAN = Decimal("0.6")
"""The same in parts of what lies between the least and the greatest value that it shows."""

_FINE, _PAST_LAST = 3, 20
"""A limit of so many figures is a fine one; most that a scale goes past it, in units of its last figure."""


class Scale(NamedTuple):
    """Within what a reading is good."""

    low: Decimal | None
    """The least good value; None when there is none."""
    high: Decimal | None
    """The greatest good value; None when there is none."""
    new: tuple[Decimal, Decimal] | None
    """Between what the value of a new part lies."""
    unit: str
    """The unit of all numbers."""
    from_nought: bool
    """Whether there are no readings below nought."""


class _Axis(NamedTuple):
    """The round numbers that a scale runs between."""

    start: Decimal
    end: Decimal
    step: Decimal

    def at(self, value: Decimal) -> float:
        """Return where a value stands, mm from the left."""
        return MARGIN + LENGTH * float((value - self.start) / (self.end - self.start))

    def ticks(self) -> Iterator[Decimal]:
        """Yield the round numbers."""
        value = self.start
        while value <= self.end:
            yield value
            value += self.step


def is_scale(scale: Scale) -> bool:
    """Tell whether there is a range to show: a single value is none."""
    return (scale.low, scale.high) != (None, None) and scale.low != scale.high


def scale_drawing(scale: Scale, words: ScaleSaid) -> str:
    """Return a scale as the text of a standalone SVG. Raises ValueError for one without a range."""
    if not is_scale(scale):
        raise ValueError("a scale needs a range")
    axis = _axis(scale)
    top = 1 + (_NEW_ABOVE if scale.new else 0)
    base = top + BAND
    canvas = Canvas(2 * MARGIN + LENGTH + 1.5 + width_of(scale.unit, SIZE), base + 2.2 + SIZE)
    low, high = (axis.at(end if value is None else value) for value, end in zip(scale[:2], axis[:2], strict=True))
    _band(canvas, axis, (low, high), top, words)
    for value in axis.ticks():
        canvas.line([(axis.at(value), base), (axis.at(value), base + 1.4)], weight=FINE, kind="tick")
    canvas.line([(MARGIN, base), (MARGIN + LENGTH, base)], weight=USUAL)
    limits = [value for value in scale[:2] if value is not None]
    for value in limits:
        canvas.line([(axis.at(value), top - 0.5), (axis.at(value), base + 1.8)], weight=STRONG, kind="limit")
    _numbers(canvas, axis, limits, base + 2 + 0.78 * SIZE, words.decimal)
    if scale.new:
        _new(canvas, axis, scale.new, top, words)
    canvas.words((2 * MARGIN + LENGTH + 0.5, base + 2 + 0.78 * SIZE), scale.unit, SIZE, kind="unit")
    return canvas.svg(words.label, words.alt)


def _axis(scale: Scale) -> _Axis:
    """Return the axis of a scale: past its limits on both sides, and from one round number to another."""
    values = [value for value in (scale.low, scale.high, *(scale.new or ())) if value is not None]
    least, most = min(values), max(values)
    below = above = _PAST_SPAN * (most - least)
    if least == most:
        below = above = _PAST_ONE[1] * abs(least) or Decimal(1)
        if scale.from_nought and scale.low is None and least >= 0:
            below, above = least, _PAST_ONE[0] * abs(least) or Decimal(1)
        below, above = (min(past, _finest(least)) for past in (below, above))
    start, end = least - below, most + above
    if scale.from_nought and least >= 0:
        start = max(start, Decimal(0))
    step = _round_step((end - start) / 5)
    start, end = (
        (value / step).to_integral_value(way) * step for value, way in ((start, ROUND_FLOOR), (end, ROUND_CEILING))
    )
    return _Axis(start, end, step)


def _finest(limit: Decimal) -> Decimal:
    """Return how far a scale may go past a limit: one of three figures could not be told on a long one."""
    _, figures, last = limit.normalize().as_tuple()
    return Decimal(_PAST_LAST).scaleb(int(last)) if len(figures) >= _FINE else Decimal("Infinity")


def _round_step(least: Decimal) -> Decimal:
    """Return the least of 1, 2 and 5 with noughts that is no less."""
    ten = Decimal(1).scaleb(least.adjusted())
    return next(step * ten for step in (Decimal(1), Decimal(2), Decimal(5), Decimal(10)) if step * ten >= least)


def _band(canvas: Canvas, axis: _Axis, good: tuple[float, float], top: float, words: ScaleSaid) -> None:
    """Draw the good range, hatched, and the words in it and beside it, where they have room."""
    low, high = good
    canvas.box((MARGIN, top), LENGTH, BAND, weight=FINE)
    x = low - BAND
    while x < high:
        # Lines at 45°, cut off where the range ends.
        left, right = max(x, low), min(x + BAND, high)
        if right > left:
            canvas.line([(left, top + BAND - (left - x)), (right, top + BAND - (right - x))], weight=FINE, kind="hatch")
        x += HATCH
    canvas.box((low, top), high - low, BAND, fill="none", weight=USUAL, kind="good")
    ends = axis.at(axis.start), axis.at(axis.end)
    for word, (left, right) in ((words.below, (ends[0], low)), (words.good, good), (words.above, (high, ends[1]))):
        bold = word == words.good
        width = width_of(word, SIZE, bold=bold) + 1
        middle = (left + right) / 2
        if not word or width > right - left:
            continue
        if bold:
            canvas.box((middle - width / 2, top + 0.4), width, BAND - 0.8, weight=0)
        canvas.words((middle, top + BAND / 2 + 0.34 * SIZE), word, SIZE, bold=bold, anchor="middle", kind="range")


def _numbers(canvas: Canvas, axis: _Axis, limits: list[Decimal], base: float, decimal: str) -> None:
    """Set the limits below the axis, bold, and as many of the round numbers between them as have room."""
    taken: list[tuple[float, float]] = []
    wide = [width_of(_number(value, decimal), SIZE, bold=True) for value in limits]
    places = [_within(canvas, axis.at(value), width) for value, width in zip(limits, wide, strict=True)]
    if len(limits) == 2 and (over := (apart := sum(wide) / 2 + 1.2) - (places[1] - places[0])) > 0:
        high = max(places[1] + over / 2, wide[0] / 2 + 0.2 + apart)
        high = _within(canvas, high, wide[1])
        places = [_within(canvas, high - apart, wide[0]), high]
    for value, x, width in zip(limits, places, wide, strict=True):
        canvas.words((x, base), _number(value, decimal), SIZE, bold=True, anchor="middle", kind="limit-number")
        taken.append((x - width / 2, x + width / 2))
    for value in axis.ticks():
        width = width_of(_number(value, decimal), SIZE)
        x = _within(canvas, axis.at(value), width)
        if all(x + width / 2 + 1 < left or right + 1 < x - width / 2 for left, right in taken):
            canvas.words((x, base), _number(value, decimal), SIZE, anchor="middle", kind="number")
            taken.append((x - width / 2, x + width / 2))


def _within(canvas: Canvas, x: float, width: float) -> float:
    """Return the middle of words, moved into the room below the axis."""
    return min(max(x, width / 2 + 0.2), 2 * MARGIN + LENGTH - width / 2 - 0.2)


def _new(canvas: Canvas, axis: _Axis, new: tuple[Decimal, Decimal], top: float, words: ScaleSaid) -> None:
    """Point at the value of a new part, with its word and number."""
    left, right = (axis.at(value) for value in new)
    middle = (left + right) / 2
    if right > left:
        canvas.line([(left, top - 0.8), (right, top - 0.8)], weight=USUAL)
    canvas.polygon(
        [(middle, top - 0.2), (middle - 1, top - 1.8), (middle + 1, top - 1.8)], fill="#000", weight=0, kind="new"
    )
    said = f"{words.new} {'–'.join(dict.fromkeys(_number(value, words.decimal) for value in new))}"
    width = width_of(said, SIZE) + 3
    # Beside the pointer, on the side that has more room.
    after = middle + width <= canvas.width
    canvas.words(
        (middle + (1.6 if after else -1.6), top - 0.6 - 0.2),
        said,
        SIZE,
        anchor="start" if after else "end",
        kind="new-word",
    )


def _number(value: Decimal, decimal: str) -> str:
    """Return a number with all its digits, without an exponent."""
    value = value.normalize()
    return f"{value:f}".replace("-", "−").replace(".", decimal)
