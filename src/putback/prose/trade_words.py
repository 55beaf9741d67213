"""Every text of a guide's own that is printed, with what the trade calls otherwise in it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.guide.record import Guide
from putback.model.said import Said, said_in
from putback.pictures import is_outside
from putback.prose.markdown import read_page
from putback.prose.pages import alternatives, passage_of
from putback.source.intake import NotReadError
from putback.source.late import Late
from putback.source.span import Span
from putback.trade.words import Misword, Side, slips
from putback.units import QuantityError, parse_any


class Told(NamedTuple):
    """A word that another side says, or nobody."""

    span: Span
    """Its place."""
    said: str
    """As it stands there."""
    slip: Misword
    """What it is, and what would be right."""
    named: bool = False
    """Whether it is the name of a thing in the file, printed since the thing has no other."""
    drawn: bool = False
    """Whether it stands in a picture; its place is where a step shows that."""


_NO_WORDS = frozenset({"number", "reason", "kind", "thread", "size", "image", "drive"})
"""Fields with numbers, names of people and of files, and what is not printed."""
_LIBRARY = ("hazards", "tools", "consumables", "equipment")
_REFERENCE = Late(r"\{[^{}\n]*\}")
_MARKED = Late(r"\{[^{}\s]*\}`[^`]*`|`[^`]*`|\]\([^)]*\)|<[^<>]*>|\bhttps?://\S+")
"""On a page: roles, code, targets of links, tags."""


_DRAWN = Late(r"<(?:text|tspan|title|desc)\b[^>]*>([^<]+)")
_SHOWN = Late(r"\bimages/([\w.-]+[.]svg)\b")
_LARGEST = 200_000
"""Bytes of a drawing that is read for its words."""


class OwnWords:
    """The printed texts of a guide itself."""

    def __init__(self, guide: Guide, texts: Iterable[tuple[str, Said]]) -> None:
        """`texts` are those of its jobs, blocks, machine, messages and cover, each with its field."""
        self.guide = guide
        self.texts = [said for field, said in texts if field not in _NO_WORDS]
        for name in _LIBRARY:
            for entry in getattr(guide.library, name).values():
                if entry.span.path.startswith(guide.shown):
                    self.texts += [said for field, said in said_in(entry) if field not in _NO_WORDS]
        cover = guide.cover
        if guide.machine and isinstance(guide.machine.kind, Said):  # that of a fastener is not printed
            self.texts.append(guide.machine.kind)
        nobody = {id(each) for each in (cover.licence, cover.edition, cover.date, *cover.authors)} if cover else set()
        self.texts = [said for said in self.texts if id(said) not in nobody]
        self.keys = list(_keys(guide))
        self.files = _plain("\n".join((*self.texts, *(name for _, _, name in self.keys))))
        self.drawn = list(_drawn(guide))
        self.pages = {
            path: "\n".join(" ".join(part.split()) for part in page.split("\n\n")) for path, page in guide.pages.items()
        }

    def may_say(self, side: Side) -> bool:
        """Tell quickly whether a word of the other side, or of nobody, may stand in them."""
        return any(slips(text, side) for text in (self.files, *self.pages.values(), *(text for _, text in self.drawn)))

    def told(self, side: Side) -> Iterator[Told]:
        """Yield what they say in words of the other side, or of nobody."""
        if slips(self.files, side):
            for said in self.texts:
                yield from _in_text(said, side)
            for span, key, name in self.keys:
                for slip in slips(name, side):
                    yield Told(span, key, slip, named=True)
        for path, page in self.guide.pages.items():
            if slips(self.pages[path], side):
                yield from _on_page(path, page, side)
        for span, text in self.drawn:
            for words, slip in {text[slip.start : slip.end].lower(): slip for slip in slips(text, side)}.items():
                yield Told(span, words, slip, drawn=True)


def _keys(guide: Guide) -> Iterator[tuple[Span, str, str]]:
    """Yield what is printed of a key of the machine file, since its thing has no name: place, key, as printed."""
    for thing in guide.machine.things.values() if guide.machine else ():
        if not any(field in ("name", "plural") for field, _ in said_in(thing)):
            yield thing.span, thing.key, thing.name


def _drawn(guide: Guide) -> Iterator[tuple[Span, str]]:
    """Yield the words of each drawing that a step or a page shows, a line for each text, with the place of its name."""
    images = {
        found[1]: _place(path, page, found) for path, page in guide.pages.items() for found in _SHOWN.finditer(page)
    }
    images |= reversed([step.figure.image for each in guide.sequences() for step in each.steps() if step.figure])
    for name, span in images.items():
        if name.lower().endswith(".svg") and not is_outside(name, guide.images):
            try:
                drawing = guide.store.read(guide.images / name, _LARGEST).decode("utf-8", "replace")
            except NotReadError:  # told where pictures are looked at
                continue
            yield span, "\n".join(" ".join(found[1].split()) for found in _DRAWN.finditer(drawing))


def _place(path: str, page: str, found: re.Match[str]) -> Span:
    """Return where a picture is named on a page."""
    line, column = page.count("\n", 0, found.start(1)) + 1, found.start(1) - page.rfind("\n", 0, found.start(1))
    return Span(path, line, column, line, column + len(found[1]))


def _in_text(said: Said, side: Side) -> Iterator[Told]:
    text = _plain(said)
    for slip in slips(text, side):
        if not (slip.nobody and _is_quantity(said)):
            yield Told(passage_of(said).span(slip.start, slip.end), text[slip.start : slip.end], slip)


def _plain(text: str) -> str:
    """Return a text with blanks for its references."""
    return _REFERENCE.sub(lambda found: " " * len(found[0]), text) if "{" in text else text


def _is_quantity(text: str) -> bool:
    """Tell whether a text is a quantity, which is printed in the units of the guide."""
    try:
        parse_any(text)
    except QuantityError:
        return False
    return True


def _on_page(path: str, page: str, side: Side) -> Iterator[Told]:
    prose, lines = read_page(path, page), page.split("\n")
    for passage in (*prose.passages, *alternatives(path, page), *(cell for row in prose.rows for cell in row.cells)):
        for slip in slips(passage.text, side):
            span = passage.span(slip.start, slip.end)
            if not _is_marked(lines[span.line - 1], span.column - 1):
                yield Told(span, passage.text[slip.start : slip.end], slip)


def _is_marked(line: str, place: int) -> bool:
    """Tell whether a place of a line lies in a role, in code, or in the target of a link."""
    return any(found.start() <= place < found.end() for found in _MARKED.finditer(line))
