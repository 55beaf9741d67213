"""Visitors for pictures and figures."""

from __future__ import annotations

import re
from pathlib import PurePosixPath

from docutils import nodes
from sphinx.util import logging

from putback.typstpdf.escape import clean, literal, one_line
from putback.typstpdf.tables import TableVisitors

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


class PictureVisitors(TableVisitors):
    """Images and figures."""

    def visit_image(self, node: nodes.Element) -> None:
        self.emit(self.picture(node))
        raise nodes.SkipNode

    def picture(self, node: nodes.Element) -> str:
        """Return the source of a picture; a missing one prints as its words in a box."""
        address = node.get("uri", "")
        if self.in_title:
            # PDF/UA-1 wants a heading of words.
            return self.quoted(node.get("alt", "") or PurePosixPath(address).stem, node)
        inline = isinstance(node.parent, nodes.TextElement) and not self.is_lone(node.parent)
        alt = one_line(clean(node.get("alt", ""))).strip()
        if not self._is_at_hand(node):
            why = self.builder.album.refused.get(address)
            logger.warning(
                "picture %r %s; its words are printed instead",
                address,
                f"cannot be printed: {why}" if why else "was not found",
                location=node,
                type="putback",
                subtype="picture",
            )
            return f"no-picture({self.quoted(alt or PurePosixPath(address).name, node)}, inline: {_yes(inline)})"
        if not alt:
            alt = self._other_words(node) or PurePosixPath(address).stem
            logger.warning(
                "picture %r has no alt text; a reader who cannot see it is told %r",
                address,
                alt,
                location=node,
                type="putback",
                subtype="alt",
            )
        options = self.option("width", length(str(node.get("width", ""))))
        options += self.option("height", length(str(node.get("height", ""))))
        scale = re.sub(r"[^0-9.]", "", str(node.get("scale", "")))
        options += self.option("scale", f"{scale}%" if scale.strip(".") else "")
        side = node.get("align", "")
        options += self.option("side", literal(side) if side in ("left", "center", "right") else "")
        path = literal(self.builder.album.names[address])
        return f"picture(image({path}, alt: {literal(alt)}), inline: {_yes(inline)}{options})"

    def _is_at_hand(self, image: nodes.Element) -> bool:
        return self.builder.has_picture(image.get("uri", ""))

    def _figure_words(self, figure: nodes.Element, images: list[nodes.image]) -> str:
        words = next((image["alt"] for image in images if image.get("alt")), "") or figure.astext()
        return one_line(clean(words)).strip() or "picture"

    @staticmethod
    def _other_words(node: nodes.Element) -> str:
        figure = node.parent
        while figure is not None and not isinstance(figure, nodes.figure):
            figure = figure.parent
        captions = figure.findall(nodes.caption) if figure is not None else ()
        return next((one_line(clean(caption.astext())).strip() for caption in captions), "")

    def visit_figure(self, node: nodes.Element) -> None:
        captions = [child for child in node.children if isinstance(child, nodes.caption)]
        legends = [child for child in node.children if isinstance(child, nodes.legend)]
        rest = [child for child in node.children if child not in captions and child not in legends]
        number = self.figure_number(node, "figure")
        caption = self.content(captions[0].children, number) if captions else "none"
        legend = self.content(legends[0].children) if legends else "none"
        images = [image for child in rest if isinstance(child, nodes.Element) for image in child.findall(nodes.image)]
        # PDF/UA-1 asks a figure without a picture for its words.
        words = "" if any(self._is_at_hand(image) for image in images) else self._figure_words(node, images)
        options = self.option("alt", literal(words) if words else "")
        self.emit(f"figured({self.content(rest, self.anchors(node))}, {caption}, {legend}{options})")
        raise nodes.SkipNode


def _yes(value: bool) -> str:
    return "true" if value else "false"
