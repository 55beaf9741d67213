"""Pictures on their way out: every builder gets the cleaned copy of a picture, never the author's file.

This holds for pages of prose as well, and in any Sphinx project that this extension is loaded in. What cannot be
cleaned is not published: the page says so in its place.
"""

from __future__ import annotations

import os
from hashlib import sha256
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, Any

from docutils import nodes
from sphinx.transforms.post_transforms import SphinxPostTransform
from sphinx.util import logging

from putback import __version__
from putback.pictures import ALL, ENDINGS, BadPictureError, Crop, examine, published
from putback.source.intake import LARGEST_PICTURE, NotReadError, take
from putback.words import labels_for

if TYPE_CHECKING:
    from collections.abc import Mapping

logger = logging.getLogger(__name__)

FOLDER = "putback-pictures"
"""The folder among the doctrees that cleaned copies lie in."""

CROP = "crop"
"""The attribute of a picture that says which part of it is shown."""


class CleanedPictures(SphinxPostTransform):
    """Puts the cleaned copy of each picture in its place."""

    default_priority = 190
    """After what fetches pictures from elsewhere, and before what turns one kind into another."""

    def run(self, **facts: Any) -> None:
        """Go through the pictures of one document, or of a whole manual."""
        del facts
        for node in list(self.document.findall(nodes.image)):
            candidates: Mapping[str, str] = node.get("candidates", {})
            if "?" in candidates or not candidates or node.get("cleaned"):
                continue
            try:
                found = {kind: self.copied(address, node) for kind, address in candidates.items()}
            except BadPictureError as error:
                tell_bad(node, error)
                say_instead(node, self.config.language)
                continue
            node["cleaned"] = True
            node["original"] = node["uri"]
            chosen = next((kind for kind, address in candidates.items() if address == node["uri"]), next(iter(found)))
            node["candidates"], node["uri"] = found, found[chosen]

    def copied(self, address: str, node: nodes.image) -> str:
        """Return the cleaned copy of a picture; one of a kind that is unknown here stays what it is, with a warning."""
        file = (Path(self.env.srcdir) / address).resolve()
        if file.suffix.lower() not in ENDINGS:
            logger.warning(
                "picture %r is published as it is, with all that its file says beside the picture",
                address,
                location=node,
                type="putback",
                subtype="picture",
            )
            return address
        crop = crop_of(node)
        self.tell_left_out(file, address, node)
        copy = cleaned_copy(file, crop, Path(self.env.doctreedir) / FOLDER, sized=bool(node.get("sized")))
        self.name(copy, address, crop)
        return str(copy)

    def tell_left_out(self, file: Path, address: str, node: nodes.image) -> None:
        """Warn of a program in a drawing on a page of prose; of those at steps, the check of that name tells."""
        if file.suffix.lower() == ".svg" and not str(node.source or "").endswith(".yaml"):
            for what in examine(file, file.parent).without:
                message = "picture %r has %s, which is left out"
                logger.warning(message, address, what, location=node, type="putback", subtype="picture")

    def name(self, copy: Path, address: str, crop: Crop) -> None:
        """Give a copy its name in the output: that of the picture, unless it is only a part or of another kind."""
        key = str(copy)
        if key in self.env.images or address not in self.env.images:
            return
        documents, name = self.env.images[address]
        given = PurePath(name)
        if crop != ALL or given.suffix != copy.suffix:
            name = f"{given.stem}-{copy.parent.name[:8]}{copy.suffix}"
        self.env.images[key] = (set(documents), name)


def crop_of(node: nodes.Element) -> Crop:
    """Return which part of a picture is shown."""
    return Crop(*node[CROP]) if node.get(CROP) else ALL


def cleaned_copy(file: Path, crop: Crop, folder: Path, *, sized: bool) -> Path:
    """Return the file of the cleaned copy, made once for each state of a picture. Raises `BadPictureError`."""
    try:
        data = take(file, LARGEST_PICTURE)
    except NotReadError:
        data = b""
    digest = sha256(repr((__version__, tuple(crop), sized, file.name)).encode() + data).hexdigest()
    place = folder / digest[:24]
    endings = {kind: ending for ending, kind in reversed(ENDINGS.items())}
    if data and (made := next(place.glob("*.*"), None)) is not None:
        return made
    clean = published(file, file.parent, crop, sized=sized)
    place.mkdir(parents=True, exist_ok=True)
    ending = file.suffix.lower() if ENDINGS[file.suffix.lower()] == clean.kind else endings[clean.kind]
    copy, half = place / f"{file.stem}{ending}", place / f"part-{os.getpid()}"
    half.write_bytes(clean.data)
    half.replace(copy)
    return copy


def tell_bad(node: nodes.image, error: BadPictureError) -> None:
    """Warn that a picture is not shown, at its place in the author's file."""
    hint = f"; {error.hint}" if error.hint else ""
    logger.warning(
        "picture %r cannot be shown: %s%s", node["uri"], error.message, hint,
        location=node, type="putback", subtype="picture",
    )  # fmt: skip


def say_instead(node: nodes.image, language: str | None) -> None:
    """Put words in the place of a picture: that it is not shown, and what it would show."""
    label = labels_for(language).book.no_picture
    words = f"[{label}: {node['alt']}]" if node.get("alt") else f"[{label}]"
    inline = isinstance(node.parent, nodes.TextElement)
    node.replace_self(nodes.inline("", words) if inline else nodes.paragraph("", words, classes=["no-picture"]))
