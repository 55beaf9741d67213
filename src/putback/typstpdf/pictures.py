"""How pictures and figures print."""

from __future__ import annotations

import re
from pathlib import PurePosixPath

from docutils import nodes
from sphinx.util import logging

from putback.typstpdf.blocks import is_lone
from putback.typstpdf.escape import clean, literal, one_line
from putback.typstpdf.pen import Looks, Pen, option, whole, yes
from putback.typstpdf.tables import figure_number

logger = logging.getLogger(__name__)

LENGTH = re.compile(r"^\s*(\d+(?:\.\d+)?)\s*(px|pt|mm|cm|in|em|pc|%|)\s*$")

PIXEL = 0.75
"""Points in one pixel: 96 pixels to the inch (CSS Values and Units, level 3)."""

PICA = 12
"""Points in one pica."""


def length(text: str) -> str:
    """Return a length of docutils (`12em`, `300px`, `50%`, `40`) as Typst writes it; nothing when it is none."""
    found = LENGTH.match(text)
    if not found:
        return ""
    amount, unit = float(found[1]), found[2]
    if unit in ("px", ""):
        return f"{amount * PIXEL:g}pt"
    if unit == "pc":
        return f"{amount * PICA:g}pt"
    return f"{amount:g}{unit}"


def print_picture(pen: Pen, node: nodes.Element) -> None:
    """Print a picture; a missing one prints as its words in a box."""
    if pen.in_title:
        # PDF/UA-1 wants a heading of words.
        pen.emit(pen.quoted(node.get("alt", "") or PurePosixPath(node.get("uri", "")).stem, node))
        return
    inline = isinstance(node.parent, nodes.TextElement) and not is_lone(node.parent)
    found = picture_call(pen, node, inline=inline)
    pen.emit(f"picture({found}, inline: {yes(inline)}{_size(node)})" if found.startswith("image(") else found)


def picture_call(pen: Pen, node: nodes.Element, *, inline: bool = False) -> str:
    """Return a picture as Typst reads it, `image(…)` with its words; a missing one as its words in a box."""
    address = node.get("uri", "")
    alt = one_line(clean(node.get("alt", ""))).strip()
    if not _is_at_hand(pen, node):
        _tell_missing(pen, node)
        return f"no-picture({pen.quoted(alt or PurePosixPath(address).name, node)}, inline: {yes(inline)})"
    if not alt:
        alt = _other_words(node) or PurePosixPath(node.get("original", address)).stem
        logger.warning(
            "picture %r has no alt text; a reader who cannot see it is told %r",
            node.get("original", address),
            alt,
            location=node,
            type="putback",
            subtype="alt",
        )
    path = literal(pen.album.names[address])
    return f"image({path}, alt: {literal(alt)})"


def _size(node: nodes.Element) -> str:
    options = option("width", length(str(node.get("width", ""))))
    options += option("height", length(str(node.get("height", ""))))
    scale = re.sub(r"[^0-9.]", "", str(node.get("scale", "")))
    options += option("scale", f"{scale}%" if scale.strip(".") else "")
    side = node.get("align", "")
    return options + option("side", literal(side) if side in ("left", "center", "right") else "")


def _tell_missing(pen: Pen, node: nodes.Element) -> None:
    address = node.get("uri", "")
    why = pen.album.refused.get(address)
    logger.warning(
        "picture %r %s; its words are printed instead",
        node.get("original", address),
        f"cannot be printed: {why}" if why else "was not found",
        location=node,
        type="putback",
        subtype="picture",
    )


def _is_at_hand(pen: Pen, image: nodes.Element) -> bool:
    return image.get("uri", "") in pen.album.names


def _figure_words(pen: Pen, figure: nodes.Element, images: list[nodes.image]) -> str:
    words = next((image["alt"] for image in images if image.get("alt")), "") or figure.astext()
    return one_line(clean(words)).strip() or pen.labels.get("picture", "picture")


def _other_words(node: nodes.Element) -> str:
    figure = node.parent
    while figure is not None and not isinstance(figure, nodes.figure):
        figure = figure.parent
    captions = figure.findall(nodes.caption) if figure is not None else ()
    return next((one_line(clean(caption.astext())).strip() for caption in captions), "")


def print_figure(pen: Pen, node: nodes.Element) -> None:
    """Print a picture with its caption and its legend."""
    captions = [child for child in node.children if isinstance(child, nodes.caption)]
    legends = [child for child in node.children if isinstance(child, nodes.legend)]
    rest = [child for child in node.children if child not in captions and child not in legends]
    number = figure_number(pen, node, "figure")
    caption = pen.content(captions[0].children, number) if captions else "none"
    legend = pen.content(legends[0].children) if legends else "none"
    images = [image for child in rest if isinstance(child, nodes.Element) for image in child.findall(nodes.image)]
    # PDF/UA-1 asks a figure without a picture for its words.
    words = "" if any(_is_at_hand(pen, image) for image in images) else _figure_words(pen, node, images)
    options = option("alt", literal(words) if words else "")
    pen.emit(f"figured({pen.content(rest, pen.anchors(node))}, {caption}, {legend}{options})")


PICTURES: Looks = {nodes.image: whole(print_picture), nodes.figure: whole(print_figure)}
"""Looks of pictures."""
