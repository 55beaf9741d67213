"""A drawing as it goes into a page: what it needs of a style sheet is said there once, and its numbers are short.

A drawing stands alone as `Canvas` writes it. In a page there are many, and most of their bytes say again how
wide a line is and of what colour. `static/putback-drawings.css` of the extension says so for all of them: a plain
path is a thin black line, and a class of one or two letters says what is different.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from html import escape
from xml.etree import ElementTree

from putback.drawings.canvas import FAMILY, PAPER, number
from putback.drawings.pieces import DrawnPiece, gathered
from putback.drawings.shortpaths import joined, short

CLASS = "packed"
"""The class of a drawing that relies on the style sheet."""

USUAL = {
    "fill": "none", "stroke": "#000", "stroke-width": "0.25", "stroke-dasharray": "none", "stroke-linejoin": "round",
    "stroke-linecap": "butt", "font-size": "3", "font-weight": "400", "text-anchor": "middle",
}  # fmt: skip
"""What the style sheet says of a whole drawing."""
OF_TEXT = {"fill": "#000", "stroke": "none"}
"""What it says of words."""
OF_RECT = {"stroke-linejoin": "miter"}
"""What it says of rectangles."""

CLASSES: dict[str, tuple[str, str]] = {
    "p": ("fill", "#fff"), "k": ("fill", "#000"), "s": ("fill", "#e4e4e4"), "h": ("fill", "#c4c4c4"),
    "l": ("fill", "#a6a6a6"), "r": ("fill", "#8f8f8f"),
    "n": ("stroke", "none"), "sp": ("stroke", "#fff"), "ss": ("stroke", "#e4e4e4"), "sl": ("stroke", "#a6a6a6"),
    "sr": ("stroke", "#8f8f8f"),
    "w1": ("stroke-width", "0.15"), "w2": ("stroke-width", "0.18"), "w3": ("stroke-width", "0.2"),
    "w4": ("stroke-width", "0.35"), "w5": ("stroke-width", "0.5"), "w6": ("stroke-width", "0.54"),
    "w7": ("stroke-width", "0.7"), "w8": ("stroke-width", "1.4"), "w9": ("stroke-width", "1.7"),
    "c": ("stroke-linecap", "round"), "j": ("stroke-linejoin", "miter"),
    "b": ("font-weight", "700"), "a": ("text-anchor", "start"), "e": ("text-anchor", "end"),
    "t2": ("font-size", "2.9"), "t4": ("font-size", "3.1"), "t5": ("font-size", "3.3"), "t6": ("font-size", "3.6"),
}  # fmt: skip
"""What each class says."""
HALO, HALO_WIDE = "o", 0.22
"""The class of words with paper round their letters, and how wide that is, in parts of the size of type."""

_NAMES = {said: name for name, said in CLASSES.items()}
_FIRST = {
    "fill": "#000", "stroke": "none", "stroke-width": "1", "stroke-dasharray": "none", "stroke-linejoin": "miter",
    "stroke-linecap": "butt", "font-size": "16", "font-weight": "400", "text-anchor": "start",
}  # fmt: skip
"""What SVG says of what nobody says anything of (SVG 2, property index)."""
_LINED = ("stroke-width", "stroke-dasharray", "stroke-linejoin", "stroke-linecap")
_LETTERED = ("font-size", "font-weight", "text-anchor")
_SVG = "{http://www.w3.org/2000/svg}"

Look = Mapping[str, str]


class _CannotPackError(Exception):
    """A drawing has something that the style sheet does not know."""


@lru_cache(maxsize=128)
def packed(svg: str) -> str:
    """Return a drawing of `Canvas` for a page of HTML; one that cannot be packed as it is."""
    root = ElementTree.fromstring(svg)
    if root.get("font-family") != FAMILY:
        return svg
    try:
        drawn = _written(_above_ground(tuple(_pieces(root, _FIRST)), root))
    except _CannotPackError:
        return svg
    kept = "".join(f' {name}="{escape(root.get(name, ""))}"' for name in ("width", "height", "viewBox"))
    said = "".join(
        f"<{name}>{escape(part.text or '', quote=False)}</{name}>"
        for name in ("title", "desc")
        if (part := root.find(_SVG + name)) is not None
    )
    return f'<svg class="{CLASS}" role="img"{kept}>{said}{drawn}</svg>\n'


def _pieces(parent: ElementTree.Element, around: Look) -> Iterator[DrawnPiece]:
    """Yield what is in an element."""
    for element in parent:
        tag = element.tag.removeprefix(_SVG)
        if tag in ("title", "desc") and parent.tag == f"{_SVG}svg":
            continue
        look = {name: element.get(name, value) for name, value in around.items()}
        shape = {name: value for name, value in element.attrib.items() if name not in look and name != "class"}
        if tag == "g":
            inside = tuple(_pieces(element, look))
            if shape:
                yield DrawnPiece("g", shape, {}, inside=inside)
            else:
                yield from inside
        elif tag in ("path", "rect", "ellipse", "text") and not len(element):
            yield DrawnPiece(tag, shape, _different(tag, look), element.text or "")
        else:
            raise _CannotPackError(tag)


def _different(tag: str, look: Look) -> dict[str, str]:
    """Return what the style sheet does not say of an element anyway, without what cannot be seen."""
    if tag == "text" and look["stroke"] != "none":
        return {name: look[name] for name in ("fill", "stroke", "stroke-width", *_LETTERED)}
    usual = USUAL | (OF_TEXT if tag == "text" else {}) | (OF_RECT if tag == "rect" else {})
    unseen = {"stroke-linejoin"} if tag == "ellipse" else set()
    unseen |= {*_LINED} if look["stroke"] == "none" or look["stroke-width"] == "0" else set()
    unseen |= set() if tag == "text" else {*_LETTERED}
    look = {**look, "stroke": "none"} if look["stroke-width"] == "0" else look
    return {name: value for name, value in look.items() if name not in unseen and value != usual[name]}


def _above_ground(pieces: tuple[DrawnPiece, ...], root: ElementTree.Element) -> tuple[DrawnPiece, ...]:
    """Return pieces without the paper under the whole drawing, which the style sheet gives."""
    _, _, width, height = root.get("viewBox", "0 0 0 0").split()
    ground = DrawnPiece("rect", {"width": width, "height": height}, {"fill": PAPER, "stroke": "none"})
    return pieces[1:] if pieces[:1] == (ground,) else pieces


def _written(pieces: tuple[DrawnPiece, ...]) -> str:
    """Return pieces as text; those of one look have it said once, where they can be drawn one after the other."""
    return "".join(_run(list(_joined(run))) for run in gathered(_haloed(pieces), _kind))


def _kind(piece: DrawnPiece) -> tuple[str, str, str]:
    """Return what pieces must have in common to be in one group."""
    # Lines by themselves: they become one path. Words by themselves: what is inside lines is nothing to them.
    kind = piece.tag if piece.tag in ("g", "text") else "line" if piece.is_line else "figure"
    return kind, *_shared(piece)


def _shared(piece: DrawnPiece) -> tuple[str, str]:
    """Return what an element may have from the group round it, as classes and as attributes."""
    return _attributes({name: value for name, value in piece.look.items() if _passes(piece, name)})


def _passes(piece: DrawnPiece, name: str) -> bool:
    """Tell whether an element takes a look from the group round it: not what the style sheet says of its own kind."""
    return name not in (OF_TEXT if piece.tag == "text" else OF_RECT if piece.tag == "rect" else {})


def _run(pieces: list[DrawnPiece]) -> str:
    classes, others = _shared(pieces[0])
    around = (f' class="{classes}"' if classes else "") + others
    if len(pieces) == 1 or not around:
        return "".join(_element(piece, piece.look) for piece in pieces)
    bare = "".join(_element(piece, {n: v for n, v in piece.look.items() if not _passes(piece, n)}) for piece in pieces)
    return f"<g{around}>{bare}</g>"


def _attributes(look: Look) -> tuple[str, str]:
    """Return the classes of a look, and the attributes for what has none."""
    named = [_NAMES[pair] for pair in look.items() if pair in _NAMES]
    others = [f' {name}="{escape(value)}"' for name, value in look.items() if (name, value) not in _NAMES]
    return " ".join(named), "".join(others)


def _element(piece: DrawnPiece, look: Look) -> str:
    if piece.tag == "g":
        shape = "".join(f' {name}="{escape(value)}"' for name, value in piece.shape.items())
        return f"<g{shape}>{_written(piece.inside)}</g>"
    strange = [name for name, value in look.items() if not _passes(piece, name) and (name, value) not in _NAMES]
    if strange:
        raise _CannotPackError(strange)
    classes, others = _attributes(look)
    classes = " ".join(filter(None, (classes, HALO if piece.halo else "")))
    start = f"<{piece.tag}" + (f' class="{classes}"' if classes else "") + others
    for name, value in piece.shape.items():
        start += f' {name}="{short(value) if name == "d" else _length(value)}"'
    return f"{start}>{escape(piece.words, quote=False)}</text>" if piece.tag == "text" else f"{start}/>"


def _length(value: str) -> str:
    """Return a length without the zero before its point; anything else as it is."""
    bare = value.removeprefix("-")
    return escape(value.replace("0.", ".", 1) if bare.startswith("0.") else value)


def _haloed(pieces: tuple[DrawnPiece, ...]) -> Iterator[DrawnPiece]:
    """Yield pieces; words, and the paper round their letters that was drawn below them, are one piece."""
    below: DrawnPiece | None = None
    for piece in pieces:
        if below is not None:
            if replace(piece, look={n: v for n, v in piece.look.items() if n != "fill"}) != _over(below):
                raise _CannotPackError("halo")
            yield replace(piece, halo=True)
            below = None
        elif "stroke" in piece.look and piece.tag == "text":
            below = piece
        else:
            yield piece
    if below is not None:
        raise _CannotPackError("halo")


def _over(below: DrawnPiece) -> DrawnPiece | None:
    """Return the words that paper round letters is for; None when it is not as the style sheet has it."""
    size = float(below.look["font-size"])
    usual = {"fill": PAPER, "stroke": PAPER, "stroke-width": number(HALO_WIDE * size)}
    if usual.items() - below.look.items() or below.shape.get("aria-hidden") != "true":
        return None
    shape = {name: value for name, value in below.shape.items() if name != "aria-hidden"}
    look = {n: v for n, v in below.look.items() if n in _LETTERED and v != USUAL[n]}
    return DrawnPiece("text", shape, look, below.words)


def _joined(pieces: Iterable[DrawnPiece]) -> Iterator[DrawnPiece]:
    """Yield pieces; lines of one look that follow each other are one path."""
    last: DrawnPiece | None = None
    for piece in pieces:
        if last is not None and last.is_line and piece.is_line and last.look == piece.look:
            last = replace(last, shape={"d": joined(last.shape["d"], piece.shape["d"])})
            continue
        if last is not None:
            yield last
        last = piece
    if last is not None:
        yield last
