"""What a drawing is drawn with: lines, shapes and words, in mm from the top left, written as a standalone SVG."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from html import escape
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

Point = tuple[float, float]
"""x to the right and y downwards, mm."""

FAMILY = "'Source Sans Pro', 'Source Sans 3', Arial, 'Liberation Sans', sans-serif"
"""The face of the manual first: the only one that the printed manual has."""
INK, PAPER, LIGHT = "#000", "#fff", "#a6a6a6"
FINE, USUAL, STRONG = 0.25, 0.35, 0.7
"""Widths of lines, mm."""

_NO_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_BLANKS = re.compile("[ \\t\\r\\n]+")
_MEASURED_AT = 1000
"""The size of type, in pixels, at which words are measured."""


def number(value: float) -> str:
    """Return a length with two decimals: the same text on every machine."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def point(place: Point) -> str:
    """Return a point as a path has it."""
    return f"{number(place[0])},{number(place[1])}"


def in_xml(words: str) -> str:
    """Return words as the text of an element."""
    return escape(_NO_XML.sub("\ufffd", " ".join(words.split())), quote=False)


@cache
def _face(bold: bool) -> FreeTypeFont:
    import font_source_sans_pro
    from PIL.ImageFont import Layout, truetype

    name = f"SourceSansPro-{'Bold' if bold else 'Regular'}.ttf"
    return truetype(f"{font_source_sans_pro.font_directory}/{name}", _MEASURED_AT, layout_engine=Layout.BASIC)


@cache
def _advance(words: str, bold: bool) -> float:
    return float(_face(bold).getlength(words)) / _MEASURED_AT


def width_of(words: str, size: float, *, bold: bool = False) -> float:
    """Return how long words are in the face of the manual, mm; `size` is that of the type, mm."""
    return _advance(" ".join(words.split()), bold) * size


def wrapped(words: str, width: float, size: float, *, bold: bool = False) -> list[str]:
    """Return words in lines of at most a width, mm; one that is longer is parted at a no-break space, or else cut."""
    lines: list[str] = []
    for word in _parted(words, width, size, bold):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size, bold=bold) <= width:
            lines[-1] = longer
            continue
        rest = word
        while len(rest) > 1 and width_of(rest, size, bold=bold) > width:
            cut = next(
                (end for end in range(len(rest) - 1, 1, -1) if width_of(rest[:end], size, bold=bold) <= width), 1
            )
            lines.append(rest[:cut])
            rest = rest[cut:]
        lines.append(rest)
    return lines


def _parted(words: str, width: float, size: float, bold: bool) -> Iterator[str]:
    for word in filter(None, _BLANKS.split(words)):
        yield from [word] if width_of(word, size, bold=bold) <= width else word.split()


class Canvas:
    """A sheet of a size, mm; what is drawn later lies on top."""

    def __init__(self, width: float, height: float) -> None:
        self.width = width
        self.height = height
        self.shapes: list[str] = []

    def path(
        self,
        data: str,
        *,
        fill: str = "none",
        stroke: str = INK,
        weight: float = USUAL,
        dash: str = "",
        kind: str = "",
    ) -> None:
        """Draw a path; `data` is the `d` of SVG, `kind` a name that tests and style sheets find it by."""
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        lined = f'stroke="{stroke}" stroke-width="{number(weight)}"{dashed} stroke-linejoin="round"' if weight else ""
        named = f'class="{kind}" ' if kind else ""
        self.shapes.append(f'<path {named}d="{data}" fill="{fill}"{" " if lined else ""}{lined}/>')

    def line(
        self, points: Sequence[Point], *, weight: float = USUAL, stroke: str = INK, dash: str = "", kind: str = ""
    ) -> None:
        """Draw a line through points."""
        self.path(f"M{'L'.join(map(point, points))}", stroke=stroke, weight=weight, dash=dash, kind=kind)

    def polygon(
        self,
        points: Sequence[Point],
        *,
        fill: str = PAPER,
        weight: float = USUAL,
        stroke: str = INK,
        kind: str = "",
    ) -> None:
        """Draw a closed figure."""
        self.path(f"M{'L'.join(map(point, points))}Z", fill=fill, weight=weight, stroke=stroke, kind=kind)

    def box(
        self,
        corner: Point,
        width: float,
        height: float,
        *,
        fill: str = PAPER,
        weight: float = USUAL,
        stroke: str = INK,
        radius: float = 0,
        kind: str = "",
    ) -> None:
        """Draw a rectangle by its top left corner."""
        x, y = corner
        named = f'class="{kind}" ' if kind else ""
        rounded = f' rx="{number(radius)}"' if radius else ""
        self.shapes.append(
            f'<rect {named}x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}"{rounded} '
            f'fill="{fill}" stroke="{stroke if weight else "none"}" stroke-width="{number(weight)}"/>'
        )

    def ellipse(
        self,
        middle: Point,
        across: float,
        down: float,
        *,
        fill: str = PAPER,
        weight: float = USUAL,
        stroke: str = INK,
        kind: str = "",
    ) -> None:
        """Draw an ellipse by its middle and its two radii."""
        x, y = middle
        named = f'class="{kind}" ' if kind else ""
        self.shapes.append(
            f'<ellipse {named}cx="{number(x)}" cy="{number(y)}" rx="{number(across)}" ry="{number(down)}" '
            f'fill="{fill}" stroke="{stroke if weight else "none"}" stroke-width="{number(weight)}"/>'
        )

    def circle(
        self,
        middle: Point,
        radius: float,
        *,
        fill: str = PAPER,
        weight: float = USUAL,
        stroke: str = INK,
        kind: str = "",
    ) -> None:
        """Draw a circle."""
        self.ellipse(middle, radius, radius, fill=fill, weight=weight, stroke=stroke, kind=kind)

    def words(
        self,
        place: Point,
        words: str,
        size: float,
        *,
        bold: bool = False,
        anchor: str = "start",
        fill: str = INK,
        halo: bool = False,
        kind: str = "",
    ) -> None:
        """Set words on a baseline, from its `start`, `middle` or `end`; a halo keeps them legible on lines.

        In another face than that of the manual, they are set as long as in that one.
        """
        x, y = place
        long = number(width_of(words, size, bold=bold))
        fitted = f' textLength="{long}" lengthAdjust="spacingAndGlyphs"' if len(words) > 1 and long != "0" else ""
        named = f'class="{kind}" ' if kind else ""
        weight = ' font-weight="700"' if bold else ""
        around = f' stroke="{PAPER}" stroke-width="{number(0.22 * size)}" stroke-linejoin="round"' if halo else ""
        start = (
            f'<text {named}x="{number(x)}" y="{number(y)}" font-size="{number(size)}"{weight} text-anchor="{anchor}"'
            f"{fitted}"
        )
        if halo:
            # What is drawn round letters goes below them: the printed manual knows no other order of painting.
            self.shapes.append(f'{start} fill="{PAPER}"{around} aria-hidden="true">{in_xml(words)}</text>')
        self.shapes.append(f'{start} fill="{fill}">{in_xml(words)}</text>')

    def svg(self, label: str, description: str) -> str:
        """Return the drawing as the text of a standalone SVG, with its title, and with what it shows in words."""
        width, height = number(self.width), number(self.height)
        return "\n".join(
            [
                f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{width}mm" height="{height}mm" '
                f'viewBox="0 0 {width} {height}" font-family="{FAMILY}">',
                f"<title>{in_xml(label)}</title>",
                f"<desc>{in_xml(_beyond(label, description))}</desc>",
                f'<rect width="{width}" height="{height}" fill="{PAPER}"/>',
                *self.shapes,
                "</svg>\n",
            ]
        )


def _beyond(label: str, description: str) -> str:
    """Return what a description says beyond the title: both are read aloud, and nobody need hear the title twice."""
    rest = description.removeprefix(label)
    if rest == description or rest[:1] not in (".", ":") or not (rest := rest[1:].lstrip()):
        return description
    return rest[0].upper() + rest[1:]


def around(points: Iterable[Point]) -> tuple[float, float, float, float]:
    """Return the box round points: left, top, right, bottom, mm."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
