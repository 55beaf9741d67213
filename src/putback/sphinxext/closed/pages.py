"""A page as Sphinx has read it: what in it would be more than words, tables, and pictures of the guide."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path
from typing import TYPE_CHECKING

from docutils import nodes
from sphinx import addnodes
from sphinx.util import logging

from putback.pictures import BadPictureError, examine
from putback.sphinxext.closed.told import tell
from putback.sphinxext.published import say_instead

if TYPE_CHECKING:
    from sphinx.application import Sphinx

logger = logging.getLogger(__name__)

LINKS = frozenset({"http", "https", "mailto", "tel"})
"""Schemes that the address of a link may have."""

_BOXES = {
    '<input class="task-list-item-checkbox" disabled="disabled" type="checkbox">': "\u2610",
    '<input class="task-list-item-checkbox" checked="checked" disabled="disabled" type="checkbox">': "\u2713",
}
"""What becomes of `- [ ]` and `- [x]` in Markdown, and the sign for it on the screen and on paper."""

_COMMENTS = re.compile(r"(?:\s|<!--(?:(?!--!?>).)*-->)*", re.DOTALL)
_TAG = re.compile(r"</?\s*([A-Za-z][\w-]*)")
_SCHEME = re.compile(r"([a-z][a-z0-9+.-]*):", re.IGNORECASE)
_LEFT_OUT_OF_ADDRESSES = re.compile(r"^[\x00-\x20]+|[\t\n\r]+")
"""What a browser takes out of an address before it reads it (WHATWG URL standard)."""
TURNS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Signs that turn the order of the letters that follow: 120 would read 021."""


def look_over(app: Sphinx, document: nodes.document) -> None:
    """Tell what a page may not do, and take it out."""
    page = _ClosedPage(app, document)
    for raw in list(document.findall(nodes.raw)):
        page.raw(raw)
    for image in list(document.findall(nodes.image)):
        page.image(image)
    for download in list(document.findall(addnodes.download_reference)):
        page.download(download)
    for reference in list(document.findall(nodes.reference)):
        page.link(reference)
    for contents in document.findall(addnodes.toctree):
        page.contents(contents)
    for meta in list(document.findall(nodes.meta)):
        page.meta(meta)
    for formula in [*document.findall(nodes.math), *document.findall(nodes.math_block)]:
        page.formula(formula)
    for text in list(document.findall(nodes.Text)):
        page.words(text)


def scheme_of(address: str) -> str:
    """Return the scheme that a browser sees in an address, in small letters; `//` for an address on some host."""
    plain = _LEFT_OUT_OF_ADDRESSES.sub("", address)
    if re.match(r"[/\\]{2}", plain):
        return "//"
    found = _SCHEME.match(plain)
    return found[1].lower() if found else ""


class _ClosedPage:
    def __init__(self, app: Sphinx, document: nodes.document) -> None:
        self.app = app
        self.document = document
        self.root = Path(app.srcdir)
        self.file = Path(app.env.doc2path(app.env.docname))

    def tell(self, node: nodes.Node, message: str, instead: str) -> None:
        """Note something at the place of a node, or the nearest place around it."""
        at: nodes.Node | None = node
        while at is not None and not at.line:
            at = at.parent
        source = at.source if at is not None else None
        # What comes out of another file, such as a job's, has its own place there.
        file = Path(source) if source and Path(source).is_file() else self.file
        tell(file, at.line if at is not None and at.line else 1, message, instead)

    def raw(self, node: nodes.raw) -> None:
        box = _BOXES.get(" ".join(node.astext().split()))
        if box is not None:
            _replace(node, nodes.Text(f"{box}\u00a0"))
            return
        if not _COMMENTS.fullmatch(node.astext()):
            tag = _TAG.search(node.astext())
            what = f"a piece of HTML ('<{tag[1]}>')" if tag else "a piece of raw text"
            self.tell(node, f"{what} is off in a guide", "write it in Markdown")
        _take_out(node)

    def image(self, node: nodes.image) -> None:
        # With 'embed', the text of a drawing would become a part of the page.
        node.attributes.pop("loading", None)
        address = node["uri"]
        fault: tuple[str, str] | None = None
        if scheme_of(address) == "data":
            fault = ("it is in the page itself", "put it into images/ as a file")
        elif scheme_of(address) or "://" in address:
            fault = ("it would be fetched from elsewhere", "put it into images/ as a file")
        elif address.endswith(".*"):
            fault = ("its name has a star in it", "write its whole name")
        else:
            where = self.root if address[:1] in ("/", "\\") else self.file.parent
            try:
                examine(where / address.lstrip("/\\"), self.root)
            except BadPictureError as error:
                fault = (error.message, error.hint or "")
        if fault is not None:
            self.tell(node, f"picture '{_short(address)}' cannot be shown: {fault[0]}", fault[1])
            say_instead(node, self.app.config.language)

    def download(self, node: addnodes.download_reference) -> None:
        self.tell(
            node,
            f"the file '{_short(str(node.get('reftarget', '')))}' cannot be included",
            "put what it says in the page, or link to an https address",
        )
        _replace(node, *node.children)

    def link(self, node: nodes.reference) -> None:
        address = str(node.get("refuri", ""))
        if scheme_of(address) not in ("", *LINKS):
            self.tell(node, f"a link cannot lead to '{_short(address)}'", "link to an https address")
            _replace(node, *node.children)

    def contents(self, node: addnodes.toctree) -> None:
        for entry in list(node["entries"]):
            _, target = entry
            if "://" in str(target) and scheme_of(str(target)) not in LINKS:
                self.tell(node, f"a link cannot lead to '{_short(str(target))}'", "link to an https address")
                node["entries"].remove(entry)

    def meta(self, node: nodes.meta) -> None:
        if any(key.lower() in ("http-equiv", "refresh") for key in node.attributes):
            self.tell(node, "a page cannot control the browser ('http-equiv')", "take it out")
            _take_out(node)

    def formula(self, node: nodes.Element) -> None:
        # In HTML, the program that sets formulas would be fetched from the network.
        logger.warning(
            "a manual does not typeset formulas; this is printed as it is written: %s",
            " ".join(node.astext().split()),
            location=node,
            type="putback",
            subtype="math",
        )
        kind = nodes.literal if isinstance(node, nodes.math) else nodes.literal_block
        _replace(node, kind(node.astext(), node.astext()))

    def words(self, node: nodes.Text) -> None:
        for letter in node:
            if letter in TURNS or (unicodedata.category(letter) in ("Cc", "Cs") and letter not in "\t\n\r"):
                what = "reverses the order of the letters after it" if letter in TURNS else "cannot be seen"
                self.tell(node.parent, f"there is a character that {what} (U+{ord(letter):04X})", "remove it")
                kept = "".join(
                    "\ufffd" if sign in TURNS or unicodedata.category(sign) == "Cc" else sign for sign in node
                )
                node.parent.replace(node, nodes.Text(kept))
                return


def _take_out(node: nodes.Element) -> None:
    if node.parent is not None:
        node.parent.remove(node)


def _replace(node: nodes.Element, *others: nodes.Node) -> None:
    if node.parent is not None:
        node.replace_self(list(others))


def _short(address: str) -> str:
    shown = "".join(letter if letter.isprintable() else f"\\x{ord(letter):02x}" for letter in address)
    return shown if len(shown) <= 60 else f"{shown[:59]}…"
