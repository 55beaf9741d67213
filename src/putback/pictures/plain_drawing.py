"""SVG drawings as they are published: what is drawn, and nothing else of the file.

Written anew from what `svg` reads, element by element. Comments, notes of the drawing program, links, programs and what
describes the file stay behind; photographs in the drawing are cleaned as others are. What is written must pass
`read_svg` in its turn.
"""

from __future__ import annotations

import base64
import re
from html import escape

from putback.pictures.elements import SVG, XLINK, XML
from putback.pictures.judged import BadPictureError
from putback.pictures.photograph import ALL, Crop, Published, clean_photograph
from putback.pictures.raster import kind_of
from putback.pictures.svg import DATA, NUMBER, Reading, as_text, read_svg
from putback.source.late import Late

PIXELS = {"": 1.0, "px": 1.0, "pt": 4 / 3, "pc": 16.0, "in": 96.0, "cm": 96 / 2.54, "mm": 96 / 25.4, "q": 96 / 101.6}
"""Pixels of CSS in one of a unit (CSS Values and Units, level 3)."""

_LENGTH = Late(rf"\s*({NUMBER})\s*([a-zA-Z]*)\s*")
_SHEET_COMMENT = Late(r"/\*.*?\*/", re.DOTALL)
_LEFT_BEHIND = frozenset({"metadata"})


def clean_drawing(data: bytes, crop: Crop = ALL, *, sized: bool = False) -> Published:
    """Return a drawing as it is published; the same bytes give the same bytes.

    With `sized`, or a crop, it must say how large it is: places in it would mean nothing. Raises `BadPictureError`.
    """
    text = as_text(data)
    writing = _Writing(ascii_only=text.isascii())
    writing.parse(text)
    writing.picture()
    wide, high = size_of(writing.root_attributes)
    if not wide and (sized or crop != ALL):
        raise BadPictureError("it does not say how large it is", "give its first element a viewBox")
    body = "".join(writing.out)
    if crop != ALL:
        body = _cropped(writing, crop, wide, high)
        wide, high = wide * (crop.right - crop.left), high * (crop.bottom - crop.top)
    written = body.encode()
    read_svg(written)
    return Published("SVG", written, wide, high)


def drawing_size(data: bytes) -> tuple[float, float]:
    """Return width and height of a drawing, in pixels of CSS; zeros when it does not say. Raises `BadPictureError`."""
    text = as_text(data)
    writing = _Writing(ascii_only=text.isascii())
    writing.parse(text)
    return size_of(writing.root_attributes)


def size_of(attributes: dict[str, str]) -> tuple[float, float]:
    """Return width and height of a drawing, in pixels of CSS; zeros when it does not say."""
    box = [float(part) for part in re.split(r"[\s,]+", attributes.get("viewBox", "").strip()) if part]
    shape = (box[2], box[3]) if len(box) == 4 else (0.0, 0.0)
    wide, high = _pixels(attributes.get("width", "")), _pixels(attributes.get("height", ""))
    if wide and high:
        return wide, high
    if not all(shape):
        return 0.0, 0.0
    if wide:
        return wide, wide * shape[1] / shape[0]
    return (high * shape[0] / shape[1], high) if high else shape


def _pixels(length: str) -> float:
    found = _LENGTH.fullmatch(length)
    return float(found[1]) * PIXELS.get(found[2].lower(), 0.0) if found else 0.0


def _cropped(writing: _Writing, crop: Crop, wide: float, high: float) -> str:
    """Return a drawing that shows a part of one: the whole stands in it at its own size, and the frame cuts."""
    box = (crop.left * wide, crop.top * high, wide * (crop.right - crop.left), high * (crop.bottom - crop.top))
    x, y, width, height = (f"{value:.4f}".rstrip("0").rstrip(".") for value in box)
    head = f'<svg xmlns="{SVG}" width="{width}" height="{height}" viewBox="{x} {y} {width} {height}">'
    inner = {"x": "0", "y": "0", "width": f"{wide:.4f}", "height": f"{high:.4f}"}
    whole = _tag("svg", writing.written_root | inner | {"xmlns:xlink": XLINK})
    return f"{head}{whole}{''.join(writing.out[1:])}</svg>"


def _tag(name: str, attributes: dict[str, str]) -> str:
    shown = "".join(f' {key}="{escape(value)}"' for key, value in attributes.items())
    return f"<{name}{shown}>"


class _Writing(Reading):
    """Reads a drawing, with all that is refused, and writes what is let through."""

    def __init__(self, *, ascii_only: bool) -> None:
        super().__init__(ascii_only=ascii_only)
        self.out: list[str] = []
        self.root_attributes: dict[str, str] = {}
        self.written_root: dict[str, str] = {}
        self.names: list[str] = []
        """Of each open element, what it is written as; empty for one that is left behind."""

    def start(self, name: str, attributes: dict[str, str]) -> None:
        namespace, _, tag = name.rpartition(" ")
        first, passed = not self.open, self.passed
        super().start(name, attributes)
        if passed or self.passed:
            return
        behind = namespace != SVG or tag in _LEFT_BEHIND or (bool(self.names) and not self.names[-1])
        self.names.append("" if behind else "g" if tag == "a" else tag)
        if behind:
            return
        kept = dict(self.kept(tag, attributes))
        if first:
            self.root_attributes, self.written_root = attributes, kept
            kept = {"xmlns": SVG, "xmlns:xlink": XLINK} | kept
        self.out.append(_tag(self.names[-1], kept))

    def kept(self, tag: str, attributes: dict[str, str]) -> list[tuple[str, str]]:
        """Return the attributes of an element that are written."""
        found = []
        for name, value in attributes.items():
            namespace, _, key = name.rpartition(" ")
            if namespace not in ("", XLINK, XML) or (not namespace and key.lower().startswith(("on", "data-"))):
                continue
            if tag == "a" and (namespace == XLINK or key in ("href", "target", "download", "ping", "rel", "type")):
                continue
            if namespace == XLINK and key != "href":
                continue
            if tag == "image" and key == "href":
                value = self.photograph(value.strip())
            prefix = {"": "", XLINK: "xlink:", XML: "xml:"}[namespace]
            found.append((prefix + key, value))
        return found

    def photograph(self, address: str) -> str:
        """Return a picture in the drawing as it is published."""
        data = DATA.match(address)
        if not data:
            return address
        packed = base64.b64decode(re.sub(r"\s+", "", address[data.end() :]))
        try:
            clean = clean_photograph(packed, kind_of(packed) or "")
        except BadPictureError as error:
            raise self.refuse(f"a picture in it is refused: {error.message}", error.hint) from None
        return f"data:image/{clean.kind.lower()};base64,{base64.b64encode(clean.data).decode()}"

    def end(self, name: str) -> None:
        passed = self.passed
        super().end(name)
        if not passed and (written := self.names.pop()):
            self.out.append(f"</{written}>")

    def words(self, text: str) -> None:
        super().words(text)
        if self.passed or not self.names[-1]:
            return
        if self.names[-1] == "style":
            return  # written at its end, when it is whole
        self.out.append(escape(text, quote=False))

    def sheet(self, words: str) -> None:
        super().sheet(words)
        if self.names[-1]:
            self.out.append(escape(_SHEET_COMMENT.sub("", words), quote=False))
