"""Where the pieces of one fastener sit: read from a machine file, as places in mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from putback.joints import JointError
from putback.joints.plane import ALIKE, Place, axes, clockwise, fitted, mean
from putback.source.late import Late
from putback.source.nearest import nearest
from putback.units import Form, Kind, Quantity, QuantityError, digits, parse

MOST = 500
"""Places in one layout. No joint has so many; without a limit, a slip in a count would cost minutes."""
_LONGEST = 120
_LEAST, _FARTHEST = 1, 100_000
"""Least length of a layout and farthest place, mm: one bolt, and far beyond any joint."""
_DECIMALS = 1
"""Decimals of a mm in which two places must differ."""


class LayoutError(JointError):
    """A text or a list that is no layout. Its message is fit for the author."""

    def __init__(self, message: str, hint: str, index: int | None = None) -> None:
        super().__init__(message, hint)
        self.index = index
        """The position at fault in a list, from 0; None when it is the whole."""


class Shape(StrEnum):
    """How a layout is described."""

    CIRCLE = "circle"
    """Evenly on a circle, clockwise from the top or from a given angle."""
    RECTANGLE = "rectangle"
    """Round a rectangle, clockwise from the top left."""
    ROWS = "rows"
    """In rows: from left to right, the top row first."""
    FREE = "free"
    """As listed."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the pieces of one fastener sit; number 1 is the first place."""

    places: tuple[Place, ...]
    """x to the right and y upwards, mm, as seen by the person who tightens."""
    shape: Shape
    """How it was described."""


_EXAMPLES = {
    "circle": "'circle 46 mm' or 'circle 46 mm from 30°'",
    "rectangle": "'rectangle 60 mm x 40 mm'",
    "rows": "'rows 2 x 5, 160 mm x 84 mm'",
}
_ANY = f"write {', '.join(_EXAMPLES.values())}, or a list of positions such as [-32, 55]"
_CIRCLE = Late(r"(?:of )?(.+?)(?: from (.+))?")
_SIDES = Late(r"(?:of )?(.+?) ?x ?(.+)")
_ROWS = Late(r"([0-9]{1,4}) ?x ?([0-9]{1,4})(?: ?[,:;]? ?(.+))?")


def read_layout(text: str, count: int) -> Layout:
    """Return the layout of `count` pieces that a text describes. Raises LayoutError."""
    said = " ".join(text[:_LONGEST].split())
    if len(text) > _LONGEST:
        raise LayoutError(f"'{said[:30]} …' is too long for a layout", _ANY)
    word, _, rest = said.replace("×", "x").replace("X", "x").partition(" ")
    kind = word.rstrip(",:").lower()
    if kind not in _EXAMPLES:
        near = nearest(kind, _EXAMPLES)
        hint = (f"did you mean '{near} {rest}'?" if rest else f"write it as in {_EXAMPLES[near]}") if near else _ANY
        raise LayoutError(f"'{said}' is not a known layout", hint)
    if count < 2:
        raise LayoutError(f"'{said}' is for two pieces or more, but the count is {count}", "give its 'count'")
    _not_too_many(count)
    read = {"circle": _circle, "rectangle": _rectangle, "rows": _rows}[kind]
    return read(said, rest.strip(), count)


def positions_layout(positions: Sequence[Sequence[float | str]], count: int | None = None) -> Layout:
    """Return the layout of listed positions, each an x and a y: plain numbers are mm, texts may have a unit.

    Raises LayoutError; its `index` tells the position at fault. With `count`, there must be so many.
    """
    _not_too_many(len(positions))
    if not positions:
        raise LayoutError("the list of positions is empty", "write it as in [[-32, 55], [32, 55]]")
    places: list[Place] = []
    seen: dict[Place, int] = {}
    for index, position in enumerate(positions):
        if isinstance(position, str) or len(position) != 2:
            much = "is a text" if isinstance(position, str) else f"has {len(position)} numbers"
            message = f"position {index + 1} {much}, but x and y are expected"
            raise LayoutError(message, "write it as in [-32, 55]", index)
        place = _clean(_coordinate(position[0], index), _coordinate(position[1], index))
        other = seen.setdefault((round(place[0], _DECIMALS), round(place[1], _DECIMALS)), index)
        if other != index:
            where = f"{digits(place[0])}, {digits(place[1])}"
            raise LayoutError(
                f"positions {other + 1} and {index + 1} are alike, both at {where}", "give each its own position", index
            )
        places.append(place)
    if count is not None and len(places) != count:
        raise _wrong_number(f"{len(places)} position{'s' * (len(places) != 1)}", len(places), count)
    return Layout(tuple(places), Shape.FREE)


def _wrong_number(what: str, found: int, count: int) -> LayoutError:
    return LayoutError(f"{what} for a count of {count}", f"give {count} places, or write 'count: {found}'")


def _not_too_many(count: int) -> None:
    if count > MOST:
        raise LayoutError(f"{count} places are more than a layout can have, {MOST}", "leave the layout out")


def _clean(x: float, y: float) -> Place:
    """Return a place without the last digits of a float, and without -0."""
    return round(x, 6) + 0.0, round(y, 6) + 0.0


def _coordinate(value: float | str, index: int) -> float:
    if not isinstance(value, str):
        if not abs(value) <= _FARTHEST:  # nan too
            raise LayoutError(f"position {index + 1} has the number {digits(value, 15)}", "write a number of mm", index)
        return float(value)
    written = value.strip()
    size = written.lstrip("+-−")
    if len(written) - len(size) > 1 or not size:
        raise LayoutError(f"'{written}' is not a number of mm", "write it as in -32", index)
    try:
        return _mm(size, "mm") * (-1 if written[0] in "-−" else 1)
    except LayoutError as error:
        raise LayoutError(str(error), error.hint, index) from None


def _single(text: str, kind: Kind, unit: str | None) -> Quantity:
    """Return one value; a number without a unit has `unit`, where that is given."""
    try:
        quantity = parse(text, kind)
    except QuantityError as error:
        if error.bare and unit is not None:
            return _single(f"{text} {unit}", kind, None)
        raise LayoutError(str(error), error.hint) from None
    if quantity.form not in (Form.VALUE, Form.SPLIT) or quantity.nominal is None:
        raise LayoutError(f"'{text}' is more than one value", f"write one {kind.value}")
    return quantity


def _mm(text: str, unit: str | None = None) -> float:
    value = _single(text, Kind.LENGTH, unit).to("mm").nominal
    assert value is not None
    if value > _FARTHEST:
        raise LayoutError(f"'{text}' is longer than any joint", "write a length of mm")
    return float(value)


def _length(text: str, what: str, unit: str | None = None) -> float:
    """Return a length that bolts can stand in, mm."""
    value = _mm(text, unit)
    if value < _LEAST:
        raise LayoutError(f"the {what} is '{text}'", f"write a length of {_LEAST} mm or more")
    return value


def _no_form(said: str, kind: str) -> LayoutError:
    return LayoutError(f"'{said}' is not how {kind} is written", f"write it as in {_EXAMPLES[kind.split()[-1]]}")


def _circle(said: str, rest: str, count: int) -> Layout:
    match = _CIRCLE.fullmatch(rest)
    if match is None or rest.endswith(" from"):
        raise _no_form(said, "a circle")
    radius = _length(match[1], "diameter") / 2
    start = _single(match[2], Kind.ANGLE, None).to("°").nominal if match[2] else None
    turns = [math.radians(float(start or 0) + 360 * k / count) for k in range(count)]
    return Layout(tuple(_clean(radius * math.sin(a), radius * math.cos(a)) for a in turns), Shape.CIRCLE)


def _two(said: str, rest: str, kind: str) -> tuple[float, float]:
    """Return width and height, mm; a unit after the second serves both."""
    match = _SIDES.fullmatch(rest)
    if match is None:
        raise _no_form(said, f"a {kind}")
    height = _length(match[2], "height")
    return _length(match[1], "width", _single(match[2], Kind.LENGTH, None).unit), height


def _rectangle(said: str, rest: str, count: int) -> Layout:
    width, height = _two(said, rest, "rectangle")
    if count % 2 or count < 4:
        raise LayoutError(
            f"'{said}' cannot hold a count of {count}: a rectangle takes an even number, four or more",
            "list the positions, each as in [-32, 55]",
        )
    # One on each corner. The others go where the widest gap becomes least; opposite sides have equally many.
    more = (count - 4) // 2
    along = min(range(more + 1), key=lambda a: (max(width / (a + 1), height / (more - a + 1)), a))
    across = more - along
    x, y = width / 2, height / 2
    top = [(-x + width * k / (along + 1), y) for k in range(along + 1)]
    right = [(x, y - height * k / (across + 1)) for k in range(across + 1)]
    half = top + right
    return Layout(tuple(_clean(*place) for place in half + [(-a, -b) for a, b in half]), Shape.RECTANGLE)


def _rows(said: str, rest: str, count: int) -> Layout:
    match = _ROWS.fullmatch(rest)
    if match is None or "0" in (match[1], match[2]):
        raise _no_form(said, "a layout of rows")
    rows, columns = int(match[1]), int(match[2])
    if rows * columns != count:
        raise _wrong_number(f"{rows} x {columns} are {rows * columns} places", rows * columns, count)
    if match[3] is None:
        raise LayoutError(f"'{said}' does not say how long the rows are", f"write it as in {_EXAMPLES['rows']}")
    if 1 in (rows, columns):
        if "x" in match[3]:
            what, size = ("row", "height") if rows == 1 else ("column", "width")
            raise LayoutError(f"one {what} has no {size}", f"write it as in 'rows {rows} x {columns}, 160 mm'")
        length = _length(match[3], "length")
        width, height = (length, 0.0) if rows == 1 else (0.0, length)
    else:
        width, height = _two(said, match[3], "layout of rows")
    xs = [width * (k / (columns - 1) - 0.5) if columns > 1 else 0.0 for k in range(columns)]
    ys = [height * (0.5 - k / (rows - 1)) if rows > 1 else 0.0 for k in range(rows)]
    return Layout(tuple(_clean(x, y) for y in ys for x in xs), Shape.ROWS)


# What shape the places make

LONGEST_RING = 1.4
"""How much longer than wide a ring is at most; a longer one is tightened from its middle."""
HOLE = 0.55
"""Share of the way from the middle to the edge within which a ring has no place."""


def centre_of(layout: Layout) -> Place | None:
    """Return the centre of the circle on which all places lie, within 2 %, and that they go round; else None."""
    places = layout.places
    if layout.shape is Shape.CIRCLE:
        return 0.0, 0.0
    centre = fitted(places) if len(places) > 2 else None
    if centre is None:
        return None
    radii = [math.dist(place, centre) for place in places]
    radius = sum(radii) / len(radii)
    if max(abs(r - radius) for r in radii) > ALIKE * radius:
        return None
    turns = sorted(clockwise(place, centre) for place in places)
    widest = max(after - before for before, after in zip(turns, [*turns[1:], turns[0] + 360], strict=True))
    # An arc is no circle: nothing stands opposite.
    return centre if widest <= 181 else None


def is_ring(layout: Layout) -> bool:
    """Whether the places go round a hole, and about as far across as along: a round cover that is no circle.

    The shares are common practice, no source.
    """
    xs, ys = [x for x, _ in layout.places], [y for _, y in layout.places]
    wide, high = (max(xs) - min(xs)) / 2, (max(ys) - min(ys)) / 2
    if not wide or not high or not 1 / LONGEST_RING <= wide / high <= LONGEST_RING:
        return False
    middle = min(xs) + wide, min(ys) + high
    out = [math.hypot((x - middle[0]) / wide, (y - middle[1]) / high) for x, y in layout.places]
    turns = sorted(clockwise(place, middle) for place in layout.places)
    widest = max(after - before for before, after in zip(turns, [*turns[1:], turns[0] + 360], strict=True))
    return min(out) > HOLE and widest < 150


def is_straight(layout: Layout) -> bool:
    """Whether all places lie in one line, within 2 % of its length."""
    middle = mean(layout.places)
    (ux, uy), _ = axes(layout.places, middle)
    along = [(x - middle[0]) * ux + (y - middle[1]) * uy for x, y in layout.places]
    beside = [(y - middle[1]) * ux - (x - middle[0]) * uy for x, y in layout.places]
    return max(beside) - min(beside) <= ALIKE * (max(along) - min(along))
