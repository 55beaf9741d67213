"""Drawings of tightening orders: standalone SVG for pages and for PDF.

The number on each bolt is its turn in tightening, in every drawing of the joint: loosening goes against the numbers.
Arrows and the black bolt show where it begins. Black on white in any theme, as a printed page; lengths are mm on paper
at the drawing's own size. Figures are 7 mm tall, to be read at arm's length, unless the bolts stand so close that they
would overlap: no number covers another.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from putback.drawings.canvas import FAMILY, LIGHT, in_xml, number, point
from putback.joints.patterns import Layout, Place, Shape

WIDTHS = (100.0, 140.0)
"""Least and greatest width of a drawing, mm."""
USUAL_HEIGHT = 66.0
"""Height that bolts far apart are drawn in, mm; close ones take up to TALLEST."""
TALLEST = 170.0
"""Greatest height of a drawing, mm."""
BOLT = 16.0
"""Diameter of a bolt as drawn, mm."""
GAP = 1.5
"""Least gap between two bolts, mm."""
EDGE = 4.0
"""From the bolts to the outline of the joint, mm."""
MOST_LINKED = 10
"""Bolts whose order is shown by lines too; with more, the lines would hide what they show."""

MARGIN = 10.0
"""What the word for the front takes at its side, mm."""

FIGURE = 11.4
"""Greatest size of type, mm: figures 7 mm tall and more, as they are 0.65 of it in the narrowest face below."""
_WIDE, _TALL = 0.56, 0.72
"""Greatest width and height of a figure in these faces, in parts of the size of type."""
_THIN = 0.5


def tightening_drawing(
    layout: Layout,
    order: Sequence[int],
    *,
    label: str,
    words: str,
    loosening: bool = False,
    front: tuple[str, str] | None = None,
) -> str:
    """Return the drawing of an order as the text of a standalone SVG.

    `order` holds the numbers of the places, from 1, each once, as they are tightened; with `loosening` the arrows go
    the other way, and the numbers stay. `label` is the title, and `words` say what is to be seen. `front` is where the
    front of the machine is (up, right, down, left), and the word for it. Raises ValueError for an order that is no
    permutation.
    """
    if sorted(order) != list(range(1, len(layout.places) + 1)):
        raise ValueError(f"the order {list(order)} does not name each of {len(layout.places)} places once")
    sheet = _Sheet(layout, front[0] if front else None)
    bolts = [sheet.at(layout.places[turn - 1]) for turn in order]
    width, height = number(sheet.width), number(sheet.height)
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}">',
        f"<title>{in_xml(label)}</title>",
        f"<desc>{in_xml(words)}</desc>",
        f'<rect width="{width}" height="{height}" fill="#fff"/>',
        *_outline(layout, sheet),
        *(_front(*front, sheet) if front else ()),
        *_links(bolts[::-1] if loosening else bolts, sheet.bolt / 2),
        *_bolts(bolts, sheet.bolt, len(bolts) if loosening else 1),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


class _Sheet:
    """How large a layout is drawn, and where its places come on paper."""

    def __init__(self, layout: Layout, front: str | None) -> None:
        xs, ys = [x for x, _ in layout.places], [y for _, y in layout.places]
        if layout.shape is Shape.CIRCLE:  # all of its outline is drawn
            radius = math.hypot(*layout.places[0])
            xs, ys = [-radius, radius], [-radius, radius]
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        self.middle = (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2
        around = BOLT + 2 * EDGE + 1
        nearest = _least_distance(layout.places)
        scale = min(_ratio(WIDTHS[0] - around, wide), _ratio(USUAL_HEIGHT - around, high))
        scale = max(scale, _ratio(BOLT + GAP, nearest) if nearest else 0)
        self.scale = min(scale, _ratio(WIDTHS[1] - around, wide), _ratio(TALLEST - around, high))
        if not math.isfinite(self.scale):
            self.scale = 1.0  # a single bolt
        room = nearest * self.scale if nearest else math.inf
        self.bolt = BOLT if room >= BOLT + GAP else room * BOLT / (BOLT + GAP)
        self.width = max(WIDTHS[0], wide * self.scale + around) + MARGIN * (front in ("left", "right"))
        self.height = high * self.scale + around + MARGIN * (front in ("up", "down"))
        aside = {"left": (MARGIN / 2, 0.0), "right": (-MARGIN / 2, 0.0), "up": (0.0, MARGIN / 2)}
        self.aside = aside.get(front or "", (0.0, -MARGIN / 2 if front == "down" else 0.0))

    def at(self, place: Place) -> Place:
        """Return where a place comes on paper, mm from the top left."""
        x, y = place[0] - self.middle[0], place[1] - self.middle[1]
        across, down = self.aside
        return self.width / 2 + across + x * self.scale, self.height / 2 + down - y * self.scale


def _ratio(paper: float, real: float) -> float:
    return paper / real if real else math.inf


def _least_distance(places: Sequence[Place]) -> float | None:
    """Return the least distance between two places, mm; None for one."""
    ordered = sorted(places)
    least = math.inf
    for k, place in enumerate(ordered):
        for other in ordered[k + 1 :]:
            if other[0] - place[0] >= least:
                break
            least = min(least, math.dist(place, other))
    return None if math.isinf(least) else least


def _outline(layout: Layout, sheet: _Sheet) -> Iterator[str]:
    """Yield the outline of the joint: the edge at an even distance round the outermost bolts."""
    edge = sheet.bolt / 2 + EDGE
    if layout.shape is Shape.CIRCLE:
        x, y = sheet.at((0.0, 0.0))
        radius = math.hypot(*layout.places[0]) * sheet.scale + edge
        yield (
            f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(radius)}" fill="none" stroke="{LIGHT}" '
            f'stroke-width="{_THIN}"/>'
        )
        return
    corners = [sheet.at(place) for place in _hull(layout.places)]
    path = f"M{'L'.join(map(point, corners))}Z"
    # A broad line with a broad white one on it leaves a thin edge with rounded corners.
    for colour, width in ((LIGHT, 2 * edge + 2 * _THIN), ("#fff", 2 * edge)):
        yield (
            f'<path d="{path}" fill="{colour}" stroke="{colour}" stroke-width="{number(width)}" '
            'stroke-linejoin="round" stroke-linecap="round"/>'
        )


def _hull(places: Sequence[Place]) -> list[Place]:
    """Return the corners of the convex hull (Andrew's monotone chain, 1979)."""
    ordered = sorted(set(places))
    if len(ordered) < 3:
        return ordered

    def half(points: Sequence[Place]) -> list[Place]:
        chain: list[Place] = []
        for place in points:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], place) <= 0:
                chain.pop()
            chain.append(place)
        return chain[:-1]

    return half(ordered) + half(ordered[::-1])


def _turn(a: Place, b: Place, c: Place) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _links(bolts: Sequence[Place], radius: float) -> Iterator[str]:
    """Yield a faint arrow from each bolt to the next; none at all where one would pass under another bolt."""
    pairs = list(pairwise(bolts))
    if len(bolts) > MOST_LINKED or any(_passes(bolts, start, end, radius) for start, end in pairs):
        return
    yield f'<g fill="{LIGHT}" stroke="{LIGHT}" stroke-width="{_THIN}">'
    for (x, y), end in pairs:
        length = math.dist((x, y), end)
        if length <= 2 * radius + 3:
            continue
        ux, uy = (end[0] - x) / length, (end[1] - y) / length
        start = x + ux * radius, y + uy * radius
        tip = end[0] - ux * (radius + 0.5), end[1] - uy * (radius + 0.5)
        back = tip[0] - ux * 2.6, tip[1] - uy * 2.6
        head = [tip, (back[0] - uy, back[1] + ux), (back[0] + uy, back[1] - ux)]
        yield f'<path d="M{point(start)}L{point(back)}M{"L".join(map(point, head))}Z"/>'
    yield "</g>"


def _passes(bolts: Sequence[Place], start: Place, end: Place, radius: float) -> bool:
    """Whether the line between two bolts passes under a third."""
    length = math.dist(start, end)
    for bolt in bolts:
        if bolt in (start, end):
            continue
        along = ((bolt[0] - start[0]) * (end[0] - start[0]) + (bolt[1] - start[1]) * (end[1] - start[1])) / length
        if 0 < along < length and abs(_turn(start, end, bolt)) / length < radius:
            return True
    return False


def _front(side: str, word: str, sheet: _Sheet) -> Iterator[str]:
    """Yield the word for the front of the machine at its side, with an arrow towards it."""
    turned = {"up": 0, "right": 90, "down": 180, "left": -90}[side]
    x = {"left": 5.0, "right": sheet.width - 5.0}.get(side, sheet.width / 2)
    y = {"up": 5.0, "down": sheet.height - 5.0}.get(side, sheet.height / 2)
    away = 1.6 * len(word) + 3
    place = f"translate({number(x)} {number(y)})"
    if side != "down":  # upside down, a word is hard to read
        place += f" rotate({turned})" if turned else ""
    tip = "M0,-3L2.2,1.4L-2.2,1.4Z" if side != "down" else "M0,3L2.2,-1.4L-2.2,-1.4Z"
    yield (
        f'<g class="front" transform="{place}" fill="#000" font-family="{FAMILY}" font-size="5.5" text-anchor="middle">'
    )
    yield f'<text x="0" y="1.8">{in_xml(word)}</text>'
    yield from (f'<path transform="translate({number(aside)} 0)" d="{tip}"/>' for aside in (-away, away))
    yield "</g>"


def _bolts(bolts: Sequence[Place], diameter: float, start: int) -> Iterator[str]:
    """Yield the bolts with their turns; the one to start with is black."""
    digits = len(str(len(bolts)))
    size = min(FIGURE, 0.94 * diameter / math.hypot(_WIDE * digits, _TALL))
    line = min(0.7, diameter / 20)
    yield (
        f'<g stroke="#000" stroke-width="{number(line)}" font-family="{FAMILY}" font-size="{number(size)}" '
        'font-weight="700" text-anchor="middle">'
    )
    for turn, (x, y) in enumerate(bolts, 1):
        ground, ink = ("#000", "#fff") if turn == start else ("#fff", "#000")
        yield f'<circle cx="{number(x)}" cy="{number(y)}" r="{number((diameter - line) / 2)}" fill="{ground}"/>'
        # The baseline by hand: not every program knows how to centre a letter upright.
        base = y + 0.335 * size
        yield f'<text x="{number(x)}" y="{number(base)}" fill="{ink}" stroke="none">{turn}</text>'
    yield "</g>"
