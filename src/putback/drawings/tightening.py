"""Drawings of tightening orders: standalone SVG for pages and for PDF.

The large figure in a bolt is its turn in tightening, in every drawing of the joint: loosening goes against the numbers.
What the place is called stands beside the bolt, small and in a box, so that nobody takes one for the other. The black
bolt and the arrows show where it begins. Turns are 7 mm tall, to be read at arm's length, unless the bolts stand so
close that they would overlap.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from putback.drawings.canvas import INK, LIGHT, PAPER, STRONG, Canvas, Point, in_xml, number, point, width_of
from putback.drawings.labelled import HIGH, TYPE, Tag, placed_tags
from putback.drawings.ring import hull, least_distance, middle_of, passes_under
from putback.joints.plane import Place

WIDEST, TALLEST = 132.0, 170.0
"""Greatest width and height of what is drawn of a joint, mm."""
USUAL = (96.0, 66.0)
"""Width and height that bolts far apart are drawn in, mm; close ones take more."""
BOLT = 16.0
"""Diameter of a bolt as drawn, mm."""
GAP = 1.5
"""Least gap between two bolts, mm."""
EDGE = 4.0
"""From the bolts, or from what stands beside them, to the outline of the joint, mm."""
MOST_LINKED = 10
"""Bolts whose order is shown by lines too; with more, the lines would hide what they show."""
FIGURE = 11.4
"""Greatest size of type, mm: figures 7 mm tall and more, as they are 0.65 of it in the narrowest face."""
HEADLINE = 5.0
"""Size of type of what is done, mm."""

_WIDE, _TALL = 0.56, 0.72
"""Greatest width and height of a figure in the faces of a page, in parts of the size of type."""
_THIN = 0.5
_MARGIN = 1.0
_BAND = 9.0
"""What the word for a side takes there, mm."""
_SHRUNK = (1.0, 0.85, 0.7, 0.6, 0.5, 0.42)
"""How much smaller bolts become where what stands beside them finds no room."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One bolt of a joint."""

    place: Place
    """Where it sits, mm, y upwards."""
    turn: int
    """When it is tightened, from 1."""
    tag: tuple[str, ...] = ()
    """What stands beside it, a line each: what its place is called, its length."""


@dataclass(frozen=True, slots=True)
class OrderWords:
    """The words in a drawing of an order."""

    label: str
    """Its title."""
    description: str
    """What is to be seen."""
    headline: str
    """What is done: `Tighten 1 → 8`."""
    turn: str = ""
    """What the number in a bolt is."""
    place: str = ""
    """What the number beside it is; nothing when names stand there."""
    sides: tuple[tuple[str, str], ...] = ()
    """Sides (up, right, down, left), and what is there: the front."""


def tightening_drawing(
    spots: Sequence[Spot], words: OrderWords, *, loosening: bool = False, circle: float | None = None
) -> str:
    """Return the drawing of an order as the text of a standalone SVG.

    With `loosening` the arrows go the other way, and the numbers stay. `circle` is the radius of a circle round 0, 0
    on which the bolts sit, mm. Raises ValueError for turns that are not each of 1 to the last once.
    """
    bolts = sorted(spots, key=lambda spot: spot.turn)
    if [spot.turn for spot in bolts] != list(range(1, len(bolts) + 1)):
        raise ValueError(f"the turns are {[spot.turn for spot in bolts]}, but must be each of 1 to the last once")
    drawn = _fitted(bolts, circle)
    left, top, right, bottom = drawn.box
    sides = dict(words.sides)
    heading, key = HEADLINE + 3, (HIGH + 4 if words.place else 0.0)
    bands = {side: _BAND * (side in sides) for side in ("left", "right", "up", "down")}
    inner = max(right - left, _least_width(words) - bands["left"] - bands["right"])
    aside = (inner - (right - left)) / 2
    canvas = Canvas(
        inner + bands["left"] + bands["right"] + 2 * _MARGIN,
        bottom - top + bands["up"] + bands["down"] + heading + key + 2 * _MARGIN,
    )
    moved = drawn.moved(_MARGIN + bands["left"] + aside - left, _MARGIN + heading + bands["up"] - top)
    canvas.words((_MARGIN, _MARGIN + 0.75 * HEADLINE), words.headline, HEADLINE, bold=True, kind="headline")
    _outline(canvas, moved)
    for side, word in sides.items():
        _side(canvas, side, word, moved.box)
    _links(canvas, moved.bolts[::-1] if loosening else moved.bolts, moved.diameter / 2)
    _bolts(canvas, moved.bolts, moved.diameter, len(bolts) if loosening else 1)
    for tag in moved.tags:
        tag.draw(canvas, boxed=bool(words.place))
    if words.place:
        _key(canvas, words)
    return canvas.svg(words.label, words.description)


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A joint on paper, mm."""

    bolts: tuple[Point, ...]
    diameter: float
    tags: tuple[Tag, ...]
    hull: tuple[Point, ...]
    """The corners that the outline goes round."""
    round: tuple[Point, float] | None
    """Or the circle that it is."""
    edge: float
    """How far outside of them the outline is."""

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom."""
        corners = [(x + away, y + away) for x, y in self.hull for away in (-self.edge, self.edge)]
        if self.round is not None:
            (x, y), radius = self.round
            reach = radius + self.edge
            corners += [(x - reach, y - reach), (x + reach, y + reach)]
        corners += [corner for tag in self.tags for corner in tag.corners]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        return min(xs) - _THIN, min(ys) - _THIN, max(xs) + _THIN, max(ys) + _THIN

    def moved(self, right: float, down: float) -> _Drawn:
        """Return the same elsewhere."""

        def shift(place: Point) -> Point:
            return place[0] + right, place[1] + down

        return _Drawn(
            tuple(map(shift, self.bolts)),
            self.diameter,
            tuple(tag.moved(right, down) for tag in self.tags),
            tuple(map(shift, self.hull)),
            (shift(self.round[0]), self.round[1]) if self.round else None,
            self.edge,
        )


def _fitted(bolts: Sequence[Spot], circle: float | None) -> _Drawn:
    """Return a joint as large as it is drawn, with smaller bolts where what stands beside them finds no room."""
    places = [spot.place for spot in bolts]
    scale, usual = _scale(places, circle)
    on_paper = tuple((x * scale, -y * scale) for x, y in places)
    middle = (0.0, 0.0) if circle else middle_of(on_paper)
    best: tuple[float, list[Tag]] = (usual, [])
    for smaller in _SHRUNK:
        tags = placed_tags(on_paper, [spot.tag for spot in bolts], usual * smaller / 2, middle)
        if tags is not None:
            best = usual * smaller, tags
            break
    diameter, tags = best
    around = (middle, circle * scale) if circle else None
    if not circle and any(tag.width > 2 * HIGH for tag in tags):
        # Round names too: an outline through them would strike them out.
        reach = [(x + dx, y + dy) for x, y in on_paper for dx, dy in _octagon(diameter / 2)]
        reach += [corner for tag in tags for corner in tag.four]
        return _Drawn(on_paper, diameter, tuple(tags), tuple(hull(reach)), None, EDGE / 2)
    edge = diameter / 2 + (HIGH + 2.4 if tags else EDGE)
    return _Drawn(on_paper, diameter, tuple(tags), tuple(hull(on_paper)), around, edge)


def _octagon(radius: float) -> list[Point]:
    turns = [math.pi * k / 4 for k in range(8)]
    return [(radius * math.cos(turn), radius * math.sin(turn)) for turn in turns]


def _scale(places: Sequence[Place], circle: float | None) -> tuple[float, float]:
    """Return how large a joint is drawn, and the diameter of its bolts, mm."""
    xs, ys = [x for x, _ in places], [y for _, y in places]
    if circle:
        xs, ys = [-circle, circle], [-circle, circle]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    around = BOLT + 2 * EDGE + 1
    nearest = least_distance(places)
    scale = min(_ratio(USUAL[0] - around, wide), _ratio(USUAL[1] - around, high))
    scale = max(scale, _ratio(BOLT + GAP, nearest) if nearest else 0)
    scale = min(scale, _ratio(WIDEST - around, wide), _ratio(TALLEST - around, high))
    if not math.isfinite(scale):
        return 1.0, BOLT  # a single bolt
    room = nearest * scale if nearest else math.inf
    return scale, BOLT if room >= BOLT + GAP else room * BOLT / (BOLT + GAP)


def _ratio(paper: float, real: float) -> float:
    return paper / real if real else math.inf


def _outline(canvas: Canvas, drawn: _Drawn) -> None:
    """Draw the outline of the joint: the edge at an even distance round the outermost bolts."""
    if drawn.round is not None:
        middle, radius = drawn.round
        canvas.circle(middle, radius + drawn.edge, fill="none", stroke=LIGHT, weight=_THIN, kind="joint")
        return
    path = f"M{'L'.join(map(point, drawn.hull))}Z"
    # A broad line with a broad white one on it leaves a thin edge with rounded corners.
    for colour, width in ((LIGHT, 2 * drawn.edge + _THIN), (PAPER, 2 * drawn.edge - _THIN)):
        canvas.shapes.append(
            f'<path class="joint" d="{path}" fill="{colour}" stroke="{colour}" stroke-width="{number(width)}" '
            'stroke-linejoin="round" stroke-linecap="round"/>'
        )


def _links(canvas: Canvas, bolts: Sequence[Point], radius: float) -> None:
    """Draw a faint arrow from each bolt to the next; none at all where one would pass under another bolt."""
    pairs = list(pairwise(bolts))
    if len(bolts) > MOST_LINKED or any(passes_under(bolts, start, end, radius) for start, end in pairs):
        return
    for (x, y), end in pairs:
        length = math.dist((x, y), end)
        if length <= 2 * radius + 3:
            continue
        ux, uy = (end[0] - x) / length, (end[1] - y) / length
        start = x + ux * radius, y + uy * radius
        tip = end[0] - ux * (radius + 0.5), end[1] - uy * (radius + 0.5)
        back = tip[0] - ux * 2.6, tip[1] - uy * 2.6
        head = [tip, (back[0] - uy, back[1] + ux), (back[0] + uy, back[1] - ux)]
        path = f"M{point(start)}L{point(back)}M{'L'.join(map(point, head))}Z"
        canvas.path(path, fill=LIGHT, stroke=LIGHT, weight=_THIN, kind="link")


def _bolts(canvas: Canvas, bolts: Sequence[Point], diameter: float, start: int) -> None:
    """Draw the bolts with their turns; the one to start with is black."""
    digits = len(str(len(bolts)))
    size = min(FIGURE, 0.94 * diameter / math.hypot(_WIDE * digits, _TALL))
    line = min(STRONG, diameter / 20)
    for turn, (x, y) in enumerate(bolts, 1):
        ground, ink = (INK, PAPER) if turn == start else (PAPER, INK)
        canvas.circle((x, y), (diameter - line) / 2, fill=ground, weight=line, kind="bolt")
        # The baseline by hand: not every program knows how to centre a letter upright.
        place = (x, y + 0.335 * size)
        canvas.words(place, str(turn), size, bold=True, anchor="middle", fill=ink, kind="turn")


def _side(canvas: Canvas, side: str, word: str, box: tuple[float, float, float, float]) -> None:
    """Write what is at a side of the machine there, with an arrow towards it."""
    left, top, right, bottom = box
    middle, level, size, away = (left + right) / 2, (top + bottom) / 2, 5.0, _BAND / 2
    long = width_of(word, size, bold=True)
    place, turned = {
        "up": ((middle, top - away), 0),
        "down": ((middle, bottom + away), 0),
        "left": ((left - away, level), -90),
        "right": ((right + away, level), 90),
    }[side]
    tip = "M0,-2.4L2.1,1.6L-2.1,1.6Z" if side != "down" else "M0,2.4L2.1,-1.6L-2.1,-1.6Z"
    turn = f" rotate({turned})" if turned else ""
    canvas.shapes.append(
        f'<g class="side" transform="translate({point(place).replace(",", " ")}){turn}" fill="{INK}" '
        f'font-size="{number(size)}" font-weight="700" text-anchor="middle">'
        f'<text x="0" y="{number(0.335 * size)}">{in_xml(word)}</text>'
        + "".join(f'<path transform="translate({number(x)} 0)" d="{tip}"/>' for x in (-long / 2 - 4, long / 2 + 4))
        + "</g>"
    )


def _key(canvas: Canvas, words: OrderWords) -> None:
    """Draw what the two kinds of numbers are, below."""
    level = canvas.height - _MARGIN - HIGH / 2
    base = level + 0.335 * TYPE
    canvas.circle((_MARGIN + HIGH / 2, level), HIGH / 2 - 0.2, weight=0.5, kind="key")
    canvas.words((_MARGIN + HIGH / 2, base), "1", TYPE, bold=True, anchor="middle")
    canvas.words((_MARGIN + HIGH + 1.2, base), words.turn, TYPE)
    left = _MARGIN + HIGH + 1.2 + width_of(words.turn, TYPE) + 6
    Tag(left, level - HIGH / 2, ("1",)).draw(canvas, boxed=True)
    canvas.words((left + Tag(0, 0, ("1",)).width + 1.2, base), words.place, TYPE)


def _least_width(words: OrderWords) -> float:
    """Return what the words above and below take, mm."""
    key = 2 * HIGH + 9 + width_of(words.turn, TYPE) + width_of(words.place, TYPE) if words.place else 0.0
    return max(width_of(words.headline, HEADLINE, bold=True), key)
