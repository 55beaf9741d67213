"""How numbers are drawn over a picture: of one size on every page, and pointing at the same dots of it.

They are for eyes. Who cannot see the picture is told in its own words what they point at.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.typstpdf.pen import Pen, listed
from putback.typstpdf.pictures import picture_call

HIGHEST = 75
"""A picture with numbers is no higher than this share of the window, in per cent."""

_HEAD = (
    '<svg class="head" style="{}; transform: rotate({:g}deg)" viewBox="-14 -8 18 16" aria-hidden="true" '
    'focusable="false"><path d="M2 0-12 -6.5V6.5Z"/></svg>'
)
"""The head of an arrow that leads to the right; its tip is a little beyond the end of the line."""


def _image(node: nodes.Element) -> nodes.image | None:
    """Return the picture in a frame; None when it is not shown, and words are in its place."""
    return next((child for child in node.children if isinstance(child, nodes.image)), None)


# on the screen


def visit_marked(self: Any, node: nodes.Element) -> None:
    """Open the frame of a picture; one that is not shown has no numbers either."""
    if _image(node) is not None:
        ratio = node["ratio"]
        size = f"aspect-ratio: 1 / {ratio:g}; width: min(100%, {node['width']:g}mm, {HIGHEST / ratio:.4g}vh)"
        self.body.append(self.starttag(node, "div", CLASS="marked", style=size))


def depart_marked(self: Any, node: nodes.Element) -> None:
    """Draw what is over the picture, and close its frame."""
    if _image(node) is None:
        return
    ratio = node["ratio"]
    shapes = "".join(_shapes(node, ratio))
    self.body.append(
        '<svg class="marks" viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true" focusable="false">'
        f"{shapes}</svg>"
    )
    for x, y, to_x, to_y in node["arrows"]:
        turned = math.degrees(math.atan2(to_y - y, to_x - x))
        self.body.append(_HEAD.format(_at((to_x, to_y), ratio), round(turned, 1)))
    for spot in node["dots"]:
        self.body.append(f'<span class="dot" style="{_at(spot, ratio)}" aria-hidden="true"></span>')
    for number, *place in node["labels"]:
        self.body.append(f'<span class="mark" style="{_at(place, ratio)}" aria-hidden="true">{int(number)}</span>')
    self.body.append("</div>\n")


def _at(place: Sequence[float], ratio: float) -> str:
    return f"left: {place[0] * 100:.4g}%; top: {place[1] / ratio * 100:.4g}%"


def _shapes(node: nodes.Element, ratio: float) -> Iterator[str]:
    """Yield lines and rings, each first as a halo, so that they are seen on dark and on light."""

    def path(line: Sequence[float]) -> str:
        x, y, to_x, to_y = (f"{part:.4g}" for part in (a * 100 / b for a, b in zip(line, (1, ratio) * 2, strict=True)))
        return f'd="M{x} {y}L{to_x} {to_y}"'

    # In the page itself: checkers of style sheets do not know it (SVG 2, 8.13).
    same = 'vector-effect="non-scaling-stroke"'
    lines = [f'<path class="{{}}" {same} {path(line)}/>' for line in node["lines"]]
    arrows = [f'<path class="{{}} shaft" {same} {path(line)}/>' for line in node["arrows"]]
    rings = [
        f'<ellipse class="{{}} ring" {same} cx="{x * 100:.4g}" cy="{y / ratio * 100:.4g}" rx="{width * 50:.4g}" '
        f'ry="{width / ratio * 50:.4g}"/>'
        for x, y, width in node["rings"]
    ]
    for kind in ("halo", "line"):
        yield from (shape.format(kind) for shape in (*rings, *arrows, *lines))


def visit_callout_key(self: Any, node: nodes.Element) -> None:
    """Open what the numbers stand for."""
    self.body.append(self.starttag(node, "ul", CLASS="callout-key"))


def depart_callout_key(self: Any, node: nodes.Element) -> None:
    """Close it."""
    del node
    self.body.append("</ul>\n")


def visit_callout_entry(self: Any, node: nodes.Element) -> None:
    """Write a number, and open what it stands for."""
    self.body.append(f'<li><span class="mark">{int(node["number"])}</span> <span>')


def depart_callout_entry(self: Any, node: nodes.Element) -> None:
    """Close it."""
    del node
    self.body.append("</span></li>\n")


# on paper


def print_called_out(pen: Pen, node: nodes.Element) -> None:
    """Print a picture with its key; a picture that is not shown has no numbers, and its key says what it would show."""
    marked = next(child for child in node.children if isinstance(child, own.marked))
    image = _image(marked)
    found = picture_call(pen, image) if image is not None else pen.render(marked.children)
    if found.startswith("image("):
        found = _marked_call(found, marked)
    rows = [
        f"({int(entry['number'])}, {pen.run_in(entry.children)})"
        for key in node.children
        if isinstance(key, own.callout_key)
        for entry in key.children
        if isinstance(entry, own.callout_entry)
    ]
    pen.emit(f"called-out({found}, {marked['width']:g}mm, ({listed(rows)}))")


def _marked_call(image: str, node: nodes.Element) -> str:
    """Return a picture with what is over it as Typst reads it."""
    over = ", ".join(f"{name}: ({_tuples(node[name])})" for name in ("labels", "lines", "dots", "rings", "arrows"))
    return f"marked({image}, width: {node['width']:g}mm, ratio: {node['ratio']:g}, {over})"


def _tuples(rows: Sequence[Sequence[float]]) -> str:
    return "".join(f"({', '.join(f'{value:g}' for value in row)}), " for row in rows)
